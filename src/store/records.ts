/**
 * Versioned records in key-value storage.
 *
 * A stored value is `{ "v": version, "at": time of writing, "value": … }`. On reading it is brought up to date by
 * its kind's migrations, one version at a time, and then checked by the kind's schema. What fails either step is
 * never used and never lost: it is moved to a key of its own (`aside/…`) and reported, so that a person can
 * download it or throw it away.
 */
import * as z from "zod";
import { type Fault, isWellFormed } from "../formats/common.ts";
import type { Clock, KeyValueArea } from "./area.ts";

/** What a kind of record looks like today and how older ones become that. */
export interface RecordKind<T> {
  /** The version that is written, 1 or more. */
  readonly version: number;
  readonly schema: z.ZodType<T>;
  /** `migrations[n]` turns a value of version n into one of version n + 1. */
  readonly migrations: Readonly<Record<number, (old: unknown) => unknown>>;
}

/** A record as it was read. */
export interface Stored<T> {
  readonly key: string;
  /** When it was written, ISO 8601. */
  readonly at: string;
  readonly value: T;
}

/** A stored value that could not be read and was kept aside. */
export interface SetAside {
  /** The key it now stands under. */
  readonly id: string;
  /** The key it stood under. */
  readonly key: string;
  /** When it was moved, ISO 8601. */
  readonly at: string;
  readonly faults: readonly Fault[];
  /** The value as it was found. */
  readonly raw: unknown;
}

const ASIDE = "aside/";
const envelope = z.object({ v: z.number().int().min(1), at: z.string().max(40), value: z.unknown() });
const asideEntry = z.object({
  key: z.string(),
  at: z.string(),
  faults: z.array(z.object({ field: z.string(), message: z.string() })),
  raw: z.unknown(),
});

/** Reads, writes and keeps aside; every other part of the store goes through it. */
export class Records {
  readonly #area: KeyValueArea;
  readonly #now: Clock;

  constructor(area: KeyValueArea, now: Clock) {
    this.#area = area;
    this.#now = now;
  }

  /** The record of one key; `undefined` when there is none or it had to be kept aside. */
  async read<T>(key: string, kind: RecordKind<T>): Promise<Stored<T> | undefined> {
    const found = await this.#area.get([key]);
    return key in found ? this.#open(key, found[key], kind) : undefined;
  }

  /** Every readable record whose key begins with the prefix, in order of first writing, then key. */
  async list<T>(prefix: string, kind: RecordKind<T>): Promise<Stored<T>[]> {
    const all = await this.#area.get(null);
    const opened: Stored<T>[] = [];
    for (const key of Object.keys(all).sort()) {
      if (!key.startsWith(prefix)) continue;
      const one = await this.#open(key, all[key], kind);
      if (one !== undefined) opened.push(one);
    }
    return opened;
  }

  /**
   * Writes records, each whole. Values are checked first, so that nothing is stored that could not be read again.
   *
   * @throws RangeError naming the first fault when a value does not match its kind
   */
  async write<T>(entries: readonly { key: string; value: T }[], kind: RecordKind<T>): Promise<void> {
    const at = this.#now().toISOString();
    const items: Record<string, unknown> = {};
    for (const { key, value } of entries) {
      const checked = kind.schema.safeParse(value);
      if (!checked.success) throw new RangeError(`${key}: ${z.prettifyError(checked.error)}`);
      items[key] = { v: kind.version, at, value: checked.data };
    }
    await this.#area.set(items);
  }

  /** Removes keys; those that are not there are ignored. */
  async remove(keys: readonly string[]): Promise<void> {
    await this.#area.remove([...keys]);
  }

  /** What was kept aside, oldest first. */
  async setAside(): Promise<SetAside[]> {
    const all = await this.#area.get(null);
    const found: SetAside[] = [];
    for (const id of Object.keys(all).sort()) {
      if (!id.startsWith(ASIDE)) continue;
      const entry = asideEntry.safeParse(all[id]);
      found.push(
        entry.success ? { id, ...entry.data } : { id, key: id.slice(ASIDE.length), at: "", faults: [], raw: all[id] },
      );
    }
    return found;
  }

  /** Throws a value that was kept aside away for good. */
  async discardAside(id: string): Promise<void> {
    if (id.startsWith(ASIDE)) await this.#area.remove([id]);
  }

  async #open<T>(key: string, raw: unknown, kind: RecordKind<T>): Promise<Stored<T> | undefined> {
    const opened = openRecord(raw, kind);
    if (opened.ok) return { key, at: opened.at, value: opened.value };
    const at = this.#now().toISOString();
    // Two windows that meet the same damage at the same time keep it once.
    await this.#area.set({ [`${ASIDE}${key}#${digest(raw)}`]: { key, at, faults: opened.faults, raw } });
    await this.#area.remove([key]);
    return undefined;
  }
}

type Opened<T> = { ok: true; at: string; value: T } | { ok: false; faults: Fault[] };

/** Brings a stored value up to date and checks it. */
export function openRecord<T>(raw: unknown, kind: RecordKind<T>): Opened<T> {
  const wrapped = envelope.safeParse(raw);
  if (!wrapped.success) return refuse("", "The stored value is not one that this program wrote.");
  const { v, at, value } = wrapped.data;
  if (v > kind.version) {
    return refuse("v", `It was written by a later version of this program (${v}; this one knows ${kind.version}).`);
  }
  let current: unknown = value;
  for (let version = v; version < kind.version; version++) {
    const migrate = kind.migrations[version];
    if (migrate === undefined) return refuse("v", `There is no way from version ${version} to ${version + 1}.`);
    try {
      current = migrate(current);
    } catch (error) {
      return refuse("", `Version ${version} could not be brought up to date: ${plainMessage(error)}`);
    }
  }
  const checked = kind.schema.safeParse(current);
  if (checked.success) return { ok: true, at, value: checked.data };
  return {
    ok: false,
    faults: checked.error.issues
      .slice(0, 20)
      .map(({ path, message }) => ({ field: path.map(String).join("."), message })),
  };
}

function refuse(field: string, message: string): { ok: false; faults: Fault[] } {
  return { ok: false, faults: [{ field, message }] };
}

/** A short digest of a value (FNV-1a, 32 bits) that tells two values of one key apart. */
function digest(value: unknown): string {
  let hash = 0x811c9dc5;
  for (const unit of JSON.stringify(value) ?? "") hash = Math.imul(hash ^ unit.charCodeAt(0), 0x01000193);
  return (hash >>> 0).toString(16);
}

function plainMessage(error: unknown): string {
  const text = error instanceof Error ? error.message : String(error);
  return isWellFormed(text) ? text : "unreadable";
}
