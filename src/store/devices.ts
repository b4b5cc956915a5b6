/**
 * The saved devices: one record each (`device/<id>`), so that two open windows cannot overwrite each other's
 * devices; the picture, which may be large, lies apart in the database. `in-hand` names the one in use.
 */
import * as z from "zod";
import { benchSchema, type Device } from "../formats/bench.ts";
import { identifier } from "../formats/common.ts";
import type { Database } from "./database.ts";
import type { RecordKind, Records, Stored } from "./records.ts";

/** One saved device as it lies in the store. */
export interface SavedDevice {
  readonly device: Device;
  /** When it was first saved, ISO 8601; devices are listed in this order. */
  readonly addedAt: string;
  /** When it was last written, ISO 8601. */
  readonly changedAt: string;
}

const PREFIX = "device/";
const IN_HAND = "in-hand";
const deviceSchema = benchSchema.shape.devices.unwrap().element;

const deviceKind: RecordKind<{ addedAt: string; device: Device }> = {
  version: 1,
  schema: z.object({ addedAt: z.string().max(40), device: deviceSchema }),
  migrations: {},
};
const inHandKind: RecordKind<{ id: string | null; recent: string[] }> = {
  version: 1,
  schema: z.object({ id: identifier.nullable(), recent: z.array(identifier).max(5) }),
  migrations: {},
};

/** The saved devices. */
export class DeviceStore {
  readonly #records: Records;
  readonly #database: Database;
  readonly #now: () => Date;

  constructor(records: Records, database: Database, now: () => Date) {
    this.#records = records;
    this.#database = database;
    this.#now = now;
  }

  /** All devices without their pictures, oldest first. */
  async list(): Promise<SavedDevice[]> {
    const all = await this.#records.list(PREFIX, deviceKind);
    return all.map(savedDevice).sort((a, b) => order(a.addedAt, b.addedAt) || order(a.device.id, b.device.id));
  }

  /** One device without its picture. */
  async get(id: string): Promise<SavedDevice | undefined> {
    const one = await this.#records.read(PREFIX + id, deviceKind);
    return one && savedDevice(one);
  }

  /** A device's picture as a data address. */
  async picture(id: string): Promise<string | undefined> {
    const found = await this.#database.get("pictures", id);
    return typeof found === "string" ? found : undefined;
  }

  /** Takes a device's picture away. */
  async removePicture(id: string): Promise<void> {
    await this.#database.remove("pictures", id);
  }

  /**
   * Adds devices or replaces those of the same id. A `picture` in the device is stored; a device without one
   * keeps the picture that it has.
   *
   * @throws RangeError when a device does not match the bench format
   */
  async save(...devices: readonly Device[]): Promise<void> {
    const now = this.#now().toISOString();
    const entries = [];
    for (const [i, { picture, ...device }] of devices.entries()) {
      const before = await this.get(device.id);
      if (picture !== undefined) await this.#database.put("pictures", device.id, picture);
      entries.push({ key: PREFIX + device.id, value: { addedAt: before?.addedAt ?? laterBy(now, i), device } });
    }
    await this.#records.write(entries, deviceKind);
  }

  /** Takes devices off the bench and gives them back whole, for undo. Unknown ids are ignored. */
  async remove(...ids: readonly string[]): Promise<Device[]> {
    const removed: Device[] = [];
    for (const id of ids) {
      const saved = await this.get(id);
      if (saved === undefined) continue;
      const picture = await this.picture(id);
      removed.push(picture === undefined ? saved.device : { ...saved.device, picture });
    }
    await this.#records.remove(removed.map(({ id }) => PREFIX + id));
    for (const { id } of removed) await this.#database.remove("pictures", id);
    const hand = await this.#hand();
    const gone = new Set(removed.map(({ id }) => id));
    const recent = hand.recent.filter((id) => !gone.has(id));
    if (hand.id !== null && gone.has(hand.id)) await this.#writeHand({ id: recent[0] ?? null, recent });
    return removed;
  }

  /** The device in hand, or `undefined` when none is chosen or it is no longer there. */
  async inHand(): Promise<SavedDevice | undefined> {
    const { id } = await this.#hand();
    return id === null ? undefined : this.get(id);
  }

  /** Takes a device in hand; the last five are remembered for quick switching. */
  async takeInHand(id: string | null): Promise<void> {
    const { recent } = await this.#hand();
    const next = id === null ? recent : [id, ...recent.filter((other) => other !== id)].slice(0, 5);
    await this.#writeHand({ id, recent: next });
  }

  /** Ids of the devices last in hand, latest first. */
  async recent(): Promise<readonly string[]> {
    return (await this.#hand()).recent;
  }

  /**
   * Settles a number by hand: `accept` and `refuse` exclude each other, the later word wins; `forget` takes the
   * number out of both lists.
   */
  async settle(id: string, number: string, as: "accept" | "refuse" | "forget"): Promise<Device | undefined> {
    const saved = await this.get(id);
    if (saved === undefined) return undefined;
    const others = (list: Device["accept"]) => list.filter((each) => each.number !== number);
    const entry = { number, date: this.#now().toISOString().slice(0, 10) };
    const device: Device = {
      ...saved.device,
      accept: as === "accept" ? [...others(saved.device.accept), entry] : others(saved.device.accept),
      refuse: as === "refuse" ? [...others(saved.device.refuse), entry] : others(saved.device.refuse),
    };
    await this.save(device);
    return device;
  }

  async #hand(): Promise<{ id: string | null; recent: string[] }> {
    const stored = await this.#records.read(IN_HAND, inHandKind);
    return stored?.value ?? { id: null, recent: [] };
  }

  async #writeHand(value: { id: string | null; recent: string[] }): Promise<void> {
    await this.#records.write([{ key: IN_HAND, value }], inHandKind);
  }
}

function savedDevice({ value, at }: Stored<{ addedAt: string; device: Device }>): SavedDevice {
  return { device: value.device, addedAt: value.addedAt, changedAt: at };
}

/** Times that keep the order of a batch: the n-th device counts as added n milliseconds later. */
function laterBy(time: string, milliseconds: number): string {
  return new Date(Date.parse(time) + milliseconds).toISOString();
}

function order(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}
