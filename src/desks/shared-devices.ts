/**
 * Saved devices that know the same share one preparation and one verdict a listing: the jobs of a shop differ in
 * name far more often than in what is known of them.
 */
import type { CatalogIndex } from "../catalog/index.ts";
import type { Device } from "../formats/bench.ts";
import type { Listing } from "../formats/listing.ts";
import type { RawRules } from "../formats/rules.ts";
import type { Verdict } from "../formats/verdict.ts";
import { judge, ListingJudge, type PreparedDevice, prepareDevice, SharedSieve } from "../verdict/index.ts";

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

/** A device with a verdict. */
export interface DeviceVerdict {
  readonly device: Device;
  readonly verdict: Verdict;
}

/** Judges one listing for one of the devices. */
export function judgeFor(listing: Listing, { device, prepared }: SharedDevice): DeviceVerdict {
  return named(device, judge(listing, prepared));
}

/**
 * Judges listings for all devices at once: one sieve finds those that a listing may concern, and what these have in common
 * is worked out once.
 *
 * @returns for a listing the verdicts that are not `unrelated`, in the order of the devices
 */
export function judgeForAll(devices: readonly SharedDevice[]): (listing: Listing) => DeviceVerdict[] {
  const places = new Map<PreparedDevice, number[]>();
  for (const [i, { prepared }] of devices.entries()) {
    const known = places.get(prepared);
    if (known === undefined) places.set(prepared, [i]);
    else known.push(i);
  }
  const groups = [...places];
  const sieve = new SharedSieve(groups.map(([{ needles }]) => needles));
  return (listing) => {
    const judge = new ListingJudge(listing);
    const found: (readonly [place: number, DeviceVerdict])[] = [];
    for (const group of sieve.find(listing)) {
      const [prepared, members] = groups[group] ?? [];
      if (prepared === undefined) continue;
      const verdict = judge.judgeSifted(prepared);
      if (verdict.verdict === "unrelated") continue;
      for (const place of members ?? []) {
        const device = devices[place]?.device;
        if (device !== undefined) found.push([place, named(device, verdict)]);
      }
    }
    return found.sort(([a], [b]) => a - b).map(([, each]) => each);
  };
}

function named(device: Device, verdict: Verdict): DeviceVerdict {
  return { device, verdict: verdict.device === device.id ? verdict : { ...verdict, device: device.id } };
}

/** Everything that a verdict may rest on: the device without its names, notes and pictures. */
function knowledgeOf(device: Device): string {
  const { id: _id, name: _name, job: _job, note: _note, facts: _facts, picture: _picture, ...knowledge } = device;
  return JSON.stringify(knowledge);
}
