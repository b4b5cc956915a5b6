/**
 * Saved devices that know the same share one preparation and one verdict a listing: the jobs of a shop differ in
 * name far more often than in what is known of them.
 */
import type { CatalogIndex } from "../catalog/index.ts";
import type { Device } from "../formats/bench.ts";
import type { Listing } from "../formats/listing.ts";
import type { RawRules } from "../formats/rules.ts";
import type { Verdict } from "../formats/verdict.ts";
import { judge, type PreparedDevice, prepareDevice } from "../verdict/index.ts";

/** A device with what it shares. */
export interface SharedDevice {
  readonly device: Device;
  /** The same object for devices that know the same. */
  readonly prepared: PreparedDevice;
}

/** Prepares devices, those that know the same once. */
export function shareDevices(devices: readonly Device[], index: CatalogIndex, rules: RawRules): SharedDevice[] {
  const known = new Map<string, PreparedDevice>();
  return devices.map((device) => {
    const key = knowledgeOf(device);
    const prepared = known.get(key) ?? prepareDevice(device, index, rules);
    known.set(key, prepared);
    return { device, prepared };
  });
}

/** Judges one listing for any number of devices; devices that share get the same verdict under their own id. */
export function sharedJudge(listing: Listing): (shared: SharedDevice) => Verdict {
  const judged = new Map<PreparedDevice, Verdict>();
  return ({ device, prepared }) => {
    const verdict = judged.get(prepared) ?? judge(listing, prepared);
    judged.set(prepared, verdict);
    return verdict.device === device.id ? verdict : { ...verdict, device: device.id };
  };
}

/** Everything that a verdict may rest on: the device without its names, notes and pictures. */
function knowledgeOf(device: Device): string {
  const { id: _id, name: _name, job: _job, note: _note, facts: _facts, picture: _picture, ...knowledge } = device;
  return JSON.stringify(knowledge);
}
