/** Packs the texts of catalog files: each entry is read once, checked, and let go. */
import { checkCatalog, checkEntry, type Family } from "../formats/catalog.ts";
import { type Outcome, readJson } from "../formats/common.ts";
import { type Growing, growing32 } from "../text/growing.ts";
import { NumberIndexBuilder } from "../text/number-index-builder.ts";
import { canonicalNumber } from "../text/part-number.ts";
import { capacityFor, Slots } from "../text/slots.ts";
import { isOdd, namesAsModels } from "./number-table.ts";
import {
  type Decode,
  idSpread,
  MAX_RECORDS,
  numberValue,
  type OnKind,
  type PackedCatalogs,
  type PackedList,
  PackedReader,
} from "./packed.ts";
import { packedKnowledge } from "./packed-knowledge.ts";
import { listNames, type SplitCatalog, splitCatalog } from "./split.ts";

/** How far an id may lie from its slot: farther, and the ids were made to collide. */
const MAX_ID_PROBES = 1_000;

/** How many entries are read at once. */
const READ_TOGETHER = 500;

/** How packing uses memory. */
export interface PackOptions {
  readonly decode: Decode;
  /** Gives memory, zeroed; threads can share it where it is a SharedArrayBuffer. */
  readonly allocate: (bytes: number) => ArrayBufferLike;
}

/**
 * Packs catalogs. The texts are kept, not copied.
 *
 * @param texts UTF-8, valid
 * @returns `null` where any of them is no catalog: whoever reads it whole can say why
 */
export function packCatalogs(texts: readonly Uint8Array[], options: PackOptions): PackedCatalogs | null {
  const splits: SplitCatalog[] = [];
  for (const text of texts) {
    const split = splitCatalog(text);
    if (split === null || !isFrame(text, split, options.decode)) return null;
    splits.push(split);
  }
  return new Packer(texts, splits, options).pack();
}

/** True where a catalog is well-formed but for what its lists hold. */
function isFrame(text: Uint8Array, { frame }: SplitCatalog, decode: Decode): boolean {
  const json = readJson(frame.map(([from, to]) => decode(text.subarray(from, to))).join(""));
  return json.ok && checkCatalog(json.value).ok;
}

class Packer {
  readonly #reader: PackedReader;
  readonly #splits: readonly SplitCatalog[];
  readonly #options: PackOptions;
  readonly #partIds: Slots;
  readonly #familyIds: Slots;
  readonly #numbers: NumberIndexBuilder;
  /** Parts and the families that list them, in pairs. */
  readonly #listings = growing32();
  #odd = false;

  constructor(texts: readonly Uint8Array[], splits: readonly SplitCatalog[], options: PackOptions) {
    this.#splits = splits;
    this.#options = options;
    const [families, parts, interchange, supersession] = listNames.map((name) => packedList(name, splits, options));
    // Most parts of big catalogs bear one or two numbers.
    this.#numbers = new NumberIndexBuilder((parts?.first.at(-1) ?? 0) * 2);
    const empty = { first: [0], spans: new Uint32Array() };
    this.#partIds = idTable(parts ?? empty, options);
    this.#familyIds = idTable(families ?? empty, options);
    const none = new Uint8Array();
    this.#reader = new PackedReader(
      {
        texts,
        parts: parts ?? empty,
        families: families ?? empty,
        interchange: interchange ?? empty,
        supersession: supersession ?? empty,
        partIds: this.#partIds,
        familyIds: this.#familyIds,
        listing: new Uint32Array(),
        listingStart: new Uint32Array(),
        numbers: none,
        odd: false,
      },
      options.decode,
    );
  }

  pack(): PackedCatalogs | null {
    for (const catalog of this.#splits.keys()) if (!this.#take(catalog)) return null;
    const { parts } = this.#reader.packed;
    const { listing, listingStart } = byPart(this.#listings, parts.first.at(-1) ?? 0, this.#options);
    const packed = { ...this.#reader.packed, listing, listingStart, ...this.#index() };
    if (this.#splits.length === 1) return packed;
    // Several catalogs may name a family together; only the merged families tell.
    const { families, order } = packedKnowledge(packed, this.#options.decode);
    for (const family of families()) this.#addNames(family, order(family));
    return { ...packed, ...this.#index() };
  }

  #index(): Pick<PackedCatalogs, "numbers" | "odd"> {
    const index = this.#numbers.finish({ foldWhile: "one-number", allocate: this.#options.allocate });
    return { numbers: index.toBytes(), odd: this.#odd };
  }

  /** Takes one catalog in; false where an entry has a fault. Parts come first: families name them. */
  #take(catalog: number): boolean {
    const { parts, families, interchange, supersession } = this.#reader.packed;
    return (
      this.#each(parts, catalog, checkEntry.parts, (part, record) => {
        for (const number of part.numbers) this.#add(number, "part", record);
        return this.#addId(this.#partIds, this.#reader.partRecord(catalog, part.id), catalog, part.id, record);
      }) &&
      this.#each(interchange, catalog, checkEntry.interchange, (entry, record) => {
        for (const number of entry.numbers) this.#add(number, "interchange", record);
        return true;
      }) &&
      this.#each(supersession, catalog, checkEntry.supersession, (entry, record) => {
        const [old, later] = [canonicalNumber(entry.old), canonicalNumber(entry.new)];
        if (old === later || old === "" || later === "") return true;
        this.#add(old, "supersession", record);
        this.#add(later, "supersession", record);
        return true;
      }) &&
      this.#each(families, catalog, checkEntry.families, (family, record) => {
        const known = this.#reader.familyRecord(catalog, family.id);
        return (
          this.#addId(this.#familyIds, known, catalog, family.id, record) && this.#takeFamily(family, catalog, record)
        );
      })
    );
  }

  #takeFamily(family: Family, catalog: number, record: number): boolean {
    for (const number of family.modelNumbers) this.#add(number, "model", record);
    if (this.#splits.length === 1) this.#addNames(family, record);
    if (new Set(family.revisions.map(({ id }) => id)).size < family.revisions.length) return false;
    const listed = new Set<number>();
    for (const { boardNumbers, parts } of family.revisions) {
      for (const number of boardNumbers) this.#add(number, "board", record);
      for (const id of parts) listed.add(this.#reader.partRecord(catalog, id));
    }
    if (listed.has(-1)) return false;
    for (const part of listed) {
      this.#listings.push(part);
      this.#listings.push(record);
    }
    return true;
  }

  #each<T>(
    list: PackedList,
    catalog: number,
    check: (value: unknown) => Outcome<T>,
    take: (entry: T, record: number) => boolean,
  ): boolean {
    const end = list.first[catalog + 1] ?? 0;
    if (end > MAX_RECORDS) return false;
    for (let from = list.first[catalog] ?? 0; from < end; from += READ_TOGETHER) {
      const values = this.#read(list, catalog, from, Math.min(from + READ_TOGETHER, end));
      if (values === null) return false;
      for (const [i, value] of values.entries()) {
        const entry = check(value);
        if (!entry.ok || !take(entry.value, from + i)) return false;
      }
    }
    return true;
  }

  /** Entries that stand one behind the other, commas between them, read as one list. */
  #read({ spans }: PackedList, catalog: number, from: number, to: number): unknown[] | null {
    const text = this.#reader.packed.texts[catalog] ?? new Uint8Array();
    const together = text.subarray(spans[from * 2] ?? 0, spans[to * 2 - 1] ?? 0);
    const json = readJson(`[${this.#options.decode(together)}]`);
    return json.ok && Array.isArray(json.value) && json.value.length === to - from ? json.value : null;
  }

  /** Keeps the id of an entry; false where an entry before it has the same. */
  #addId(ids: Slots, known: number, catalog: number, id: string, record: number): boolean {
    if (known >= 0) return false;
    ids.add(idSpread(catalog, id), record);
    return ids.farthest <= MAX_ID_PROBES;
  }

  #addNames(family: Parameters<typeof namesAsModels>[0], record: number): void {
    for (const name of namesAsModels(family)) this.#add(name, "name", record);
  }

  #add(number: string, kind: OnKind, record: number): void {
    const canonical = canonicalNumber(number);
    this.#odd ||= isOdd(canonical);
    this.#numbers.add(canonical, numberValue(kind, record));
  }
}

function packedList(
  name: (typeof listNames)[number],
  splits: readonly SplitCatalog[],
  { allocate }: PackOptions,
): PackedList {
  const first = [0];
  for (const { lists } of splits) first.push((first.at(-1) ?? 0) + lists[name].length / 2);
  const spans = new Uint32Array(allocate((first.at(-1) ?? 0) * 8));
  for (const [catalog, { lists }] of splits.entries()) spans.set(lists[name], (first[catalog] ?? 0) * 2);
  return { first, spans };
}

function idTable({ first }: PackedList, { allocate }: PackOptions): Slots {
  const capacity = capacityFor(first.at(-1) ?? 0);
  return new Slots(new Uint32Array(allocate(capacity * 4)), new Uint8Array(allocate(capacity)));
}

/** Pairs of part and family, by part. */
function byPart(
  pairs: Growing<Uint32Array>,
  parts: number,
  { allocate }: PackOptions,
): Pick<PackedCatalogs, "listing" | "listingStart"> {
  const listingStart = new Uint32Array(allocate((parts + 1) * 4));
  for (let i = 0; i < pairs.length; i += 2) listingStart[pairs.at(i) + 1] = (listingStart[pairs.at(i) + 1] ?? 0) + 1;
  for (let part = 0; part < parts; part++)
    listingStart[part + 1] = (listingStart[part + 1] ?? 0) + (listingStart[part] ?? 0);
  const next = listingStart.slice();
  const listing = new Uint32Array(allocate(pairs.length * 2));
  for (let i = 0; i < pairs.length; i += 2) {
    const at = next[pairs.at(i)] ?? 0;
    listing[at] = pairs.at(i + 1);
    next[pairs.at(i)] = at + 1;
  }
  return { listing, listingStart };
}
