/**
 * What packed catalogs know. Parts and families are merged for the asking, each together with all that it could merge
 * with, so that the answers are those of {@link plainKnowledge}; what is asked often is remembered, within bounds.
 */
import type { Family, Part } from "../formats/catalog.ts";
import { openNumberIndex } from "../text/number-index.ts";
import { canonicalNumber } from "../text/part-number.ts";
import type { Knowledge, RevisionPlace } from "./knowledge.ts";
import { interchangeLink, type Link, partLink, supersessionLink } from "./links.ts";
import { type FamilyReading, type KnownFamily, type KnownPart, mergeFamilies, mergeParts, nameRule } from "./merge.ts";
import { type NumberTable, tableOver } from "./number-table.ts";
import {
  catalogOf,
  type Decode,
  MAX_RECORDS,
  type OnKind,
  onKinds,
  type PackedCatalogs,
  type PackedList,
  PackedReader,
} from "./packed.ts";

/** How many answers of a kind are remembered before the memory is emptied. */
const KEPT = 2_000;

/** The knowledge of packed catalogs, and the order of their families. */
export interface PackedKnowledge extends Knowledge {
  /** The record of the first description of a family. */
  order(family: KnownFamily): number;
}

/** Opens packed catalogs; nothing is rebuilt. */
export function packedKnowledge(packed: PackedCatalogs, decode: Decode): PackedKnowledge {
  const opened = new Opened(packed, decode);
  return {
    families: () => opened.allFamilies(),
    parts: () => opened.allParts(),
    family: (id) => opened.familyById(id),
    part: (id) => opened.partById(id),
    bearers: (number) => opened.bearers(number),
    links: (number) => opened.links(number),
    listedBeside: (number) => opened.listedBeside(number),
    familiesByModel: (number) => opened.familiesByModel(number),
    revisionsByBoard: (number) => opened.revisionsByBoard(number),
    placesOf: (partId) => opened.placesOf(partId).listed,
    disputedPlacesOf: (partId) => opened.placesOf(partId).disputed,
    reading: (family, catalog) => opened.reading(family, catalog),
    numbers: () => opened.eachNumber(),
    table: () => opened.table,
    order: (family) => opened.order(family),
  };
}

/** Where a number stands. */
interface On {
  readonly kind: OnKind;
  readonly record: number;
}

interface Places {
  readonly listed: readonly RevisionPlace[];
  readonly disputed: readonly RevisionPlace[];
}

/** Parts merged together, and what each record became. */
interface Company {
  readonly parts: readonly KnownPart[];
  readonly became: ReadonlyMap<number, readonly KnownPart[]>;
}

class Opened {
  readonly #reader: PackedReader;
  readonly #packed: PackedCatalogs;
  readonly #numbers;
  readonly #partName;
  readonly #familyName;
  readonly #partsOf = new Memory<number, readonly KnownPart[]>();
  readonly #bearersOf = new Memory<string, readonly KnownPart[]>();
  readonly #familyOf = new Memory<number, KnownFamily>();
  readonly #placesOf = new Memory<string, Places>();
  readonly #links = new Memory<number, readonly Link[]>();
  readonly #liveParts = new Live<KnownPart>();
  readonly #liveFamilies = new Live<KnownFamily>();
  readonly #readings = new WeakMap<KnownFamily, readonly FamilyReading[]>();
  readonly table: NumberTable;

  constructor(packed: PackedCatalogs, decode: Decode) {
    this.#packed = packed;
    this.#reader = new PackedReader(packed, decode);
    const numbers = openNumberIndex(packed.numbers);
    if (numbers === null) throw new Error("the packed catalogs hold no index of numbers");
    this.#numbers = numbers;
    const { catalogs } = this.#reader;
    this.#partName = nameRule(catalogs, (catalog, id) => this.#reader.partRecord(catalog, id) >= 0);
    this.#familyName = nameRule(catalogs, (catalog, id) => this.#reader.familyRecord(catalog, id) >= 0);
    this.table = tableOver(numbers, packed.odd, (place) => {
      const kinds = new Set(this.#onAt(place).map(({ kind }) => kind));
      return {
        part: kinds.has("part") || kinds.has("interchange") || kinds.has("supersession"),
        model: kinds.has("model") || kinds.has("name"),
        board: kinds.has("board"),
      };
    });
  }

  allParts(): readonly KnownPart[] {
    const all = new Set<KnownPart>();
    const count = this.#packed.parts.first.at(-1) ?? 0;
    for (let record = 0; record < count; record++) for (const part of this.#parts(record)) all.add(part);
    return [...all];
  }

  allFamilies(): readonly KnownFamily[] {
    const all = new Set<KnownFamily>();
    const count = this.#packed.families.first.at(-1) ?? 0;
    for (let record = 0; record < count; record++) all.add(this.#family(record));
    return [...all];
  }

  partById(id: string): KnownPart | undefined {
    for (const raw of [id, id.replace(/~\d{1,9}$/, "")]) {
      for (let catalog = 0; catalog < this.#reader.catalogs; catalog++) {
        const record = this.#reader.partRecord(catalog, raw);
        const found = record < 0 ? undefined : this.#parts(record).find((part) => part.id === id);
        if (found !== undefined) return found;
      }
    }
    return undefined;
  }

  familyById(id: string): KnownFamily | undefined {
    const alike: KnownFamily[] = [];
    for (const raw of [id, id.replace(/~\d{1,9}$/, "")]) {
      for (let catalog = 0; catalog < this.#reader.catalogs; catalog++) {
        const record = this.#reader.familyRecord(catalog, raw);
        if (record < 0) continue;
        const family = this.#family(record);
        if (family.id === id) return family;
        if (family.aliases.includes(id)) alike.push(family);
      }
    }
    return this.#ordered(alike).at(-1);
  }

  bearers(number: string): readonly KnownPart[] {
    return this.#bearersOf.get(number, () => {
      const records = this.#on(number, "part");
      const [first] = records;
      if (first === undefined) return [];
      // Parts of several catalogs that bear one number were merged together: the first one's company has them in order.
      const parts =
        this.#reader.catalogs === 1 ? records.flatMap((record) => this.#parts(record)) : this.#company(first).parts;
      return parts.filter(({ numbers }) => numbers.some((each) => canonicalNumber(each) === number));
    });
  }

  links(number: string): readonly Link[] {
    const links = this.#stated(number).flatMap(({ kind, record, catalog }) =>
      this.#links.get(onKinds.indexOf(kind) * MAX_RECORDS + record, () => this.#link(kind, record, catalog)),
    );
    // A number that several parts bear is left out of their links.
    return links.filter(({ numbers }) => numbers.includes(number));
  }

  listedBeside(number: string): readonly string[] {
    const rank = (kind: OnKind): number => (kind === "part" ? onKinds.length : onKinds.indexOf(kind));
    const stated = this.#stated(number).sort((a, b) => a.catalog - b.catalog || rank(a.kind) - rank(b.kind));
    return stated.flatMap(({ kind, record }) => {
      if (kind === "interchange") return this.#reader.interchange(record).numbers;
      if (kind === "part") return [this.#reader.part(record).numbers].filter(({ length }) => length > 1).flat();
      const { old, new: later } = this.#reader.supersession(record);
      return [old, later];
    });
  }

  familiesByModel(number: string): readonly KnownFamily[] {
    return this.#ordered(this.#on(number, "model").map((record) => this.#family(record)));
  }

  revisionsByBoard(number: string): readonly RevisionPlace[] {
    const families = this.#ordered(this.#on(number, "board").map((record) => this.#family(record)));
    return placesIn(families, ({ boardNumbers }) => boardNumbers.some((board) => canonicalNumber(board) === number));
  }

  placesOf(partId: string): Places {
    return this.#placesOf.get(partId, () => {
      const readings = this.partById(partId)?.readings ?? [];
      const records = readings.map(({ catalog, part }) => this.#reader.partRecord(catalog, part.id));
      const { listing, listingStart } = this.#packed;
      const families = this.#ordered(
        records.flatMap((record) =>
          Array.from(listing.subarray(listingStart[record], listingStart[record + 1]), (each) => this.#family(each)),
        ),
      );
      return {
        listed: placesIn(families, ({ parts }) => parts.includes(partId)),
        disputed: placesIn(families, ({ disputed }) => disputed.includes(partId)),
      };
    });
  }

  reading(family: KnownFamily, catalog: number): Family | undefined {
    return this.#readings.get(family)?.find((reading) => reading.catalog === catalog)?.family;
  }

  *eachNumber(): Generator<string> {
    const isBorne = (place: number): boolean => this.#onAt(place).some(({ kind }) => kind === "part");
    for (let place = 0; place < this.#numbers.size; place++) if (isBorne(place)) yield this.#numbers.numberAt(place);
    for (let place = 0; place < this.#numbers.size; place++) {
      const kinds = this.#onAt(place).map(({ kind }) => kind);
      const isListed = kinds.includes("interchange") || kinds.includes("supersession");
      if (isListed && !kinds.includes("part")) yield this.#numbers.numberAt(place);
    }
  }

  order(family: KnownFamily): number {
    const first = this.#readings.get(family)?.[0];
    return first === undefined ? 0 : this.#reader.familyRecord(first.catalog, first.family.id);
  }

  /** Each family once, in order. */
  #ordered(families: readonly KnownFamily[]): KnownFamily[] {
    const all = [...new Set(families)];
    if (all.length < 2) return all;
    const orders = new Map(all.map((family) => [family, this.order(family)]));
    return all.sort((a, b) => (orders.get(a) ?? 0) - (orders.get(b) ?? 0));
  }

  /** Records of one kind that a number stands on, ascending. */
  #on(number: string, kind: OnKind): number[] {
    return this.#onAt(this.#numbers.placeOf(number)).flatMap((on) => (on.kind === kind ? on.record : []));
  }

  #onAt(place: number): On[] {
    return this.#numbers.valuesAt(place).flatMap((value) => {
      const kind = onKinds[Math.floor(value / MAX_RECORDS)];
      return kind === undefined ? [] : [{ kind, record: value % MAX_RECORDS }];
    });
  }

  /** Entries that may tie a number to others, in the order of the catalogs. */
  #stated(number: string): { kind: "part" | "interchange" | "supersession"; record: number; catalog: number }[] {
    const stated = this.#onAt(this.#numbers.placeOf(number)).flatMap(({ kind, record }) =>
      kind === "part" || kind === "interchange" || kind === "supersession"
        ? [{ kind, record, catalog: catalogOf(this.#listOf(kind), record) }]
        : [],
    );
    return stated.sort((a, b) => a.catalog - b.catalog);
  }

  #listOf(kind: "part" | "interchange" | "supersession"): PackedList {
    return kind === "part" ? this.#packed.parts : this.#packed[kind];
  }

  #link(kind: "part" | "interchange" | "supersession", record: number, catalog: number): Link[] {
    if (kind === "interchange") return [interchangeLink(this.#reader.interchange(record), catalog)];
    if (kind === "supersession") return [...supersessionLink(this.#reader.supersession(record), catalog)];
    return [...partLink(this.#reader.part(record), catalog, (number) => this.#isShared(number))];
  }

  /** True where several parts bear a number. */
  #isShared(number: string): boolean {
    const records = this.#on(number, "part");
    return records.length > 1 && (this.#reader.catalogs === 1 || this.bearers(number).length > 1);
  }

  /** What a part of a catalog is known as. */
  #parts(record: number): readonly KnownPart[] {
    return this.#partsOf.get(record, () => {
      const { became } = this.#company(record);
      for (const [each, parts] of became) this.#partsOf.set(each, parts);
      return became.get(record) ?? [];
    });
  }

  /** A part with all parts that share numbers with it over any number of steps, merged, in order. */
  #company(record: number): Company {
    const records = this.#reader.catalogs === 1 ? [record] : this.#joined(record, (each) => this.#sharing(each));
    const raw = new Map<number, Part>(records.map((each) => [each, this.#reader.part(each)]));
    const { parts, became } = mergeParts(
      [...raw].map(([each, part]) => ({ catalog: catalogOf(this.#packed.parts, each), part })),
      this.#partName,
    );
    const live = new Map(parts.map((part) => [part, this.#liveParts.sameAs(part)]));
    return {
      parts: [...live.values()],
      became: new Map(
        [...raw].map(([each, part]) => [each, (became.get(part) ?? []).flatMap((made) => live.get(made) ?? [])]),
      ),
    };
  }

  /** Parts that share a number with a part. */
  #sharing(record: number): number[] {
    return this.#reader.part(record).numbers.flatMap((number) => this.#on(canonicalNumber(number), "part"));
  }

  #family(record: number): KnownFamily {
    return this.#familyOf.get(record, () => {
      const records = this.#reader.catalogs === 1 ? [record] : this.#joined(record, (each) => this.#namesakes(each));
      const raw = records.map((each) => ({
        catalog: catalogOf(this.#packed.families, each),
        family: this.#reader.family(each),
      }));
      const merged = mergeFamilies(raw, this.#familyName, (catalog, id) => this.#partIds(catalog, id));
      let found: KnownFamily | undefined;
      for (const { family, readings } of merged) {
        const live = this.#liveFamilies.sameAs(family);
        if (live === family) this.#readings.set(family, readings);
        if (readings.some((reading) => reading.family === raw[records.indexOf(record)]?.family)) found = live;
      }
      if (found === undefined) throw new Error("a family was lost while merging");
      return found;
    });
  }

  /** Families that a family may be one with: of its model numbers or its id. */
  #namesakes(record: number): number[] {
    const { id, modelNumbers } = this.#reader.family(record);
    const found = modelNumbers.flatMap((model) => this.#on(canonicalNumber(model), "model"));
    for (let catalog = 0; catalog < this.#reader.catalogs; catalog++) {
      const same = this.#reader.familyRecord(catalog, id);
      if (same >= 0) found.push(same);
    }
    return found;
  }

  #partIds(catalog: number, id: string): readonly string[] {
    // Parts of the first catalog are never merged into others.
    if (catalog === 0) return [id];
    const record = this.#reader.partRecord(catalog, id);
    return record < 0 ? [] : this.#parts(record).map((part) => part.id);
  }

  /** A record with all that are next to it over any number of steps, ascending. */
  #joined(record: number, next: (record: number) => readonly number[]): number[] {
    const found = new Set([record]);
    for (const each of found) for (const other of next(each)) found.add(other);
    return [...found].sort((a, b) => a - b);
  }
}

/** Revisions of some families that pass. */
function placesIn(
  families: readonly KnownFamily[],
  passes: (revision: KnownFamily["revisions"][number]) => boolean,
): RevisionPlace[] {
  return families.flatMap((family) =>
    family.revisions.filter(passes).map((revision): RevisionPlace => ({ family, revision })),
  );
}

/** The last answers. */
class Memory<K, V> {
  readonly #known = new Map<K, V>();

  get(key: K, make: () => V): V {
    const known = this.#known.get(key);
    if (known !== undefined) return known;
    const made = make();
    this.set(key, made);
    return made;
  }

  set(key: K, value: V): void {
    if (this.#known.size >= KEPT) this.#known.clear();
    this.#known.set(key, value);
  }
}

/** Things by id that somebody still holds: what is made again is the same object then. */
class Live<T extends { readonly id: string }> {
  readonly #held = new Map<string, WeakRef<T>>();
  #sweepAt = KEPT;

  /** The object with this one's id that is still held; without one, this one. */
  sameAs(made: T): T {
    const held = this.#held.get(made.id)?.deref();
    if (held !== undefined) return held;
    this.#held.set(made.id, new WeakRef(made));
    if (this.#held.size >= this.#sweepAt) this.#sweep();
    return made;
  }

  #sweep(): void {
    for (const [id, reference] of this.#held) if (reference.deref() === undefined) this.#held.delete(id);
    this.#sweepAt = Math.max(KEPT, this.#held.size * 2);
  }
}
