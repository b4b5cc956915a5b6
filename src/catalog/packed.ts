/**
 * Big catalogs in few bytes: the text of their files as it is, where each part, family and list entry stands in it, one
 * index of all numbers, and tables of ids. Entries are read when they are asked for. All of it is plain memory that
 * threads can share.
 *
 *   number ─▶ NumberIndex ─▶ what it is on (kind and record) ─▶ span of the text ─▶ entry
 *   id     ─▶ Slots ─▶ record                 part record ─▶ families that list it
 */
import { type Catalog, checkEntry, type Family, type Part } from "../formats/catalog.ts";
import type { Outcome } from "../formats/common.ts";
import { hashOf, mix, Slots } from "../text/slots.ts";

/** What a number can stand on; the value of a number is kind × 2²⁹ + record. */
export const onKinds = ["part", "interchange", "supersession", "model", "board", "name"] as const;
/** One of them. `name` is a family's name that listings use like a model number. */
export type OnKind = (typeof onKinds)[number];

/** Most records of a kind. */
export const MAX_RECORDS = 2 ** 29;

/** Where a number stands, as the number index keeps it. */
export function numberValue(kind: OnKind, record: number): number {
  return onKinds.indexOf(kind) * MAX_RECORDS + record;
}

/** Entries of one kind of all catalogs, numbered through. */
export interface PackedList {
  /** First record of each catalog, then how many there are. */
  readonly first: readonly number[];
  /** Where each starts and ends in its catalog's text, in bytes, one after the other. */
  readonly spans: Uint32Array;
}

/** A table of ids, as {@link Slots} fills it. */
export interface PackedIds {
  readonly slots: Uint32Array;
  readonly tags: Uint8Array;
}

/** Everything about some catalogs; can be sent to a thread. */
export interface PackedCatalogs {
  /** The text of each file, UTF-8. */
  readonly texts: readonly Uint8Array[];
  readonly parts: PackedList;
  readonly families: PackedList;
  readonly interchange: PackedList;
  readonly supersession: PackedList;
  readonly partIds: PackedIds;
  readonly familyIds: PackedIds;
  /** The families that list each part, and where each part's start. */
  readonly listing: Uint32Array;
  readonly listingStart: Uint32Array;
  /** Bytes of the index of all numbers. */
  readonly numbers: Uint8Array;
  /** True where a number holds a letter outside ASCII. */
  readonly odd: boolean;
}

/** UTF-8 bytes, which may be shared memory, as text. */
export type Decode = (bytes: Uint8Array) => string;

/** The multiplier of the hash of ids. */
const ID_MULTIPLIER = 0x01000193;

/** Reads single entries of packed catalogs. */
export class PackedReader {
  readonly packed: PackedCatalogs;
  readonly #decode: Decode;
  readonly #partIds: Slots;
  readonly #familyIds: Slots;

  constructor(packed: PackedCatalogs, decode: Decode) {
    this.packed = packed;
    this.#decode = decode;
    this.#partIds = new Slots(packed.partIds.slots, packed.partIds.tags);
    this.#familyIds = new Slots(packed.familyIds.slots, packed.familyIds.tags);
  }

  get catalogs(): number {
    return this.packed.texts.length;
  }

  part(record: number): Part {
    return checked(checkEntry.parts(this.#entry(this.packed.parts, record)));
  }

  family(record: number): Family {
    return checked(checkEntry.families(this.#entry(this.packed.families, record)));
  }

  interchange(record: number): Catalog["interchange"][number] {
    return checked(checkEntry.interchange(this.#entry(this.packed.interchange, record)));
  }

  supersession(record: number): Catalog["supersession"][number] {
    return checked(checkEntry.supersession(this.#entry(this.packed.supersession, record)));
  }

  /** The record of a catalog's part with this id, or -1. */
  partRecord(catalog: number, id: string): number {
    return this.#find(this.#partIds, this.packed.parts, catalog, id);
  }

  /** The record of a catalog's family with this id, or -1. */
  familyRecord(catalog: number, id: string): number {
    return this.#find(this.#familyIds, this.packed.families, catalog, id);
  }

  #find(ids: Slots, list: PackedList, catalog: number, id: string): number {
    const from = list.first[catalog] ?? 0;
    const to = list.first[catalog + 1] ?? 0;
    const start = `{"id":${JSON.stringify(id)}`;
    return ids.find(idSpread(catalog, id), (record) => {
      if (record < from || record >= to) return false;
      const text = this.#text(list, record);
      // Most files write the id first; there it can be told without reading the rest.
      return text.startsWith(start) || (JSON.parse(text) as { id: string }).id === id;
    });
  }

  #entry(list: PackedList, record: number): unknown {
    return JSON.parse(this.#text(list, record));
  }

  #text(list: PackedList, record: number): string {
    const text = this.packed.texts[catalogOf(list, record)] ?? new Uint8Array();
    return this.#decode(text.subarray(list.spans[record * 2] ?? 0, list.spans[record * 2 + 1] ?? 0));
  }
}

/** An entry that was found good when it was packed. */
function checked<T>(entry: Outcome<T>): T {
  if (entry.ok) return entry.value;
  throw new Error(`a packed entry has changed: ${entry.faults[0]?.message ?? ""}`);
}

/** Hash of an id of a catalog. */
export function idSpread(catalog: number, id: string): number {
  return mix(hashOf(id, ID_MULTIPLIER) ^ Math.imul(catalog, 0x9e3779b1));
}

/** The catalog that a record belongs to. */
export function catalogOf({ first }: PackedList, record: number): number {
  let catalog = 0;
  while (record >= (first[catalog + 1] ?? Number.POSITIVE_INFINITY)) catalog++;
  return catalog;
}
