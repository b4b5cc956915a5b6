/**
 * Several catalogs read as one.
 *
 * A part is known by its numbers: parts of two catalogs that share a number and the type are one part with
 * two *readings*. A family is known by its model numbers, a revision by its id or a board number. Nothing
 * is thrown away: where two readings disagree, both are kept and the stricter one decides (design section 3).
 */
import type { Catalog, Connector, DateSpanText, Family, Part, Revision } from "../formats/catalog.ts";
import { canonicalNumber } from "../text/part-number.ts";

/** A part as one or more catalogs describe it. */
export interface KnownPart {
  /** Id in the first catalog that lists it, made unique among all parts. */
  readonly id: string;
  readonly type: string;
  readonly name?: string;
  /** Numbers as printed, of all readings. */
  readonly numbers: readonly string[];
  /** What each catalog says of it, in the order of the catalogs. */
  readonly readings: readonly PartReading[];
}

/** One catalog's description of a part. */
export interface PartReading {
  /** Place of the catalog among those loaded. */
  readonly catalog: number;
  readonly part: Part;
}

/** A production variant as one or more catalogs describe it. */
export interface KnownRevision {
  readonly id: string;
  readonly name?: string;
  readonly tellBy?: string;
  /** As printed. */
  readonly boardNumbers: readonly string[];
  /** One span a catalog; the revision was possibly built in any of them. None: nothing is said. */
  readonly built: readonly DateSpanText[];
  /** Model years, of all catalogs; empty: nothing is said. */
  readonly years: readonly number[];
  /** Ids of {@link KnownPart} that every catalog knowing both part and revision puts together. */
  readonly parts: readonly string[];
  /** Ids of {@link KnownPart} that one catalog puts here and another one elsewhere in this family. */
  readonly disputed: readonly string[];
}

/** A device family as one or more catalogs describe it. */
export interface KnownFamily {
  /** Id in the first catalog that lists it, made unique among all families. */
  readonly id: string;
  /** Ids in all catalogs. */
  readonly aliases: readonly string[];
  readonly maker?: string;
  readonly name?: string;
  readonly modelNumbers: readonly string[];
  readonly revisions: readonly KnownRevision[];
}

/** One catalog's description of a family. */
export interface FamilyReading {
  /** Place of the catalog among those loaded. */
  readonly catalog: number;
  readonly family: Family;
}

/** The id by which a part or family of a catalog is known, given the id that the catalog uses. */
export type NameRule = (catalog: number, id: string) => string;

interface PartDraft {
  id: string;
  type: string;
  name: string | undefined;
  numbers: string[];
  keys: Set<string>;
  readings: PartReading[];
}

interface RevisionDraft {
  id: string;
  boards: Set<string>;
  readings: { catalog: number; revision: Revision }[];
}

interface FamilyDraft {
  id: string;
  models: Set<string>;
  revisions: RevisionDraft[];
  readings: FamilyReading[];
}

/** What {@link mergeCatalogs} gives. */
export interface Merged {
  readonly parts: readonly KnownPart[];
  readonly families: readonly KnownFamily[];
  /** What each family was merged from. */
  readonly readings: ReadonlyMap<KnownFamily, readonly FamilyReading[]>;
}

/** Merges catalogs in their order; the first one names things. Linear in their size. */
export function mergeCatalogs(catalogs: readonly Catalog[]): Merged {
  const partsOf = catalogs.map(({ parts }) => new Map(parts.map((part) => [part.id, part])));
  const familyIds = catalogs.map(({ families }) => new Set(families.map(({ id }) => id)));
  const { parts, became } = mergeParts(
    [...catalogs.entries()].flatMap(([catalog, { parts: own }]) => own.map((part) => ({ catalog, part }))),
    nameRule(catalogs.length, (catalog, id) => partsOf[catalog]?.has(id) === true),
  );
  const merged = mergeFamilies(
    [...catalogs.entries()].flatMap(([catalog, { families: own }]) => own.map((family) => ({ catalog, family }))),
    nameRule(catalogs.length, (catalog, id) => familyIds[catalog]?.has(id) === true),
    (catalog, id) => {
      const part = partsOf[catalog]?.get(id);
      return part === undefined ? [] : (became.get(part) ?? []).map((known) => known.id);
    },
  );
  const families = merged.map(({ family }) => family);
  return { parts, families, readings: new Map(merged.map(({ family, readings }) => [family, readings])) };
}

/**
 * Merges parts, given in the order of the catalogs.
 *
 * @returns the merged parts in order, and for each given one what it became part of
 */
export function mergeParts(
  readings: Iterable<PartReading>,
  nameOf: NameRule,
): { parts: KnownPart[]; became: ReadonlyMap<Part, readonly KnownPart[]> } {
  const drafts: PartDraft[] = [];
  const byNumber = new Map<string, PartDraft[]>();
  const became = new Map<Part, PartDraft[]>();
  for (const { catalog, part } of readings) {
    const keys = part.numbers.map(canonicalNumber);
    const same = catalog === 0 ? [] : sameParts(part, keys, catalog, byNumber);
    const into = same.length > 0 ? same : [newPart(part, nameOf(catalog, part.id))];
    if (same.length === 0) drafts.push(...into);
    for (const draft of into) addReading(draft, part, keys, catalog, into, byNumber);
    became.set(part, into);
  }
  const finished = new Map(drafts.map((draft) => [draft, finishPart(draft)]));
  return {
    parts: [...finished.values()],
    became: new Map([...became].map(([part, into]) => [part, into.flatMap((draft) => finished.get(draft) ?? [])])),
  };
}

/** Parts of earlier catalogs that share a number and the type with this one. */
function sameParts(
  part: Part,
  keys: readonly string[],
  catalog: number,
  byNumber: ReadonlyMap<string, readonly PartDraft[]>,
): PartDraft[] {
  const found = new Set<PartDraft>();
  for (const key of keys) {
    for (const draft of byNumber.get(key) ?? []) {
      if (draft.type === part.type && draft.readings.every((reading) => reading.catalog !== catalog)) found.add(draft);
    }
  }
  return [...found];
}

function newPart(part: Part, id: string): PartDraft {
  return { id, type: part.type, name: part.name, numbers: [], keys: new Set(), readings: [] };
}

/** A number that only one of several joined parts bore before stays with that one. */
function addReading(
  draft: PartDraft,
  part: Part,
  keys: readonly string[],
  catalog: number,
  joined: readonly PartDraft[],
  byNumber: Map<string, PartDraft[]>,
): void {
  draft.name ??= part.name;
  for (const [i, key] of keys.entries()) {
    if (key === "" || draft.keys.has(key)) continue;
    if (joined.some((other) => other !== draft && other.keys.has(key))) continue;
    draft.keys.add(key);
    draft.numbers.push(part.numbers[i] ?? key);
    const bearers = byNumber.get(key);
    if (bearers === undefined) byNumber.set(key, [draft]);
    else bearers.push(draft);
  }
  draft.readings.push({ catalog, part });
}

function finishPart(draft: PartDraft): KnownPart {
  const { id, type, name, numbers, readings } = draft;
  return { id, type, numbers, readings, ...(name === undefined ? {} : { name }) };
}

/**
 * Merges families, given in the order of the catalogs.
 *
 * @param partIds what a part of a catalog is known by once merged
 * @returns the merged families in order, each with what it was merged from
 */
export function mergeFamilies(
  readings: Iterable<FamilyReading>,
  nameOf: NameRule,
  partIds: PartIds,
): { family: KnownFamily; readings: readonly FamilyReading[] }[] {
  const drafts: FamilyDraft[] = [];
  const byModel = new Map<string, FamilyDraft[]>();
  const byOwnId = new Map<string, FamilyDraft[]>();
  for (const { catalog, family } of readings) {
    const models = family.modelNumbers.map(canonicalNumber).filter((model) => model !== "");
    let draft = sameFamily(family, models, catalog, byModel, byOwnId);
    if (draft === undefined) {
      draft = { id: nameOf(catalog, family.id), models: new Set(), revisions: [], readings: [] };
      drafts.push(draft);
    }
    for (const model of models) {
      if (!draft.models.has(model)) push(byModel, model, draft);
      draft.models.add(model);
    }
    push(byOwnId, family.id, draft);
    draft.readings.push({ catalog, family });
    for (const revision of family.revisions) addRevision(draft, revision, catalog);
  }
  return drafts.map((each) => ({ family: finishFamily(each, partIds), readings: each.readings }));
}

/** Ids of the merged parts that a part of a catalog became. */
export type PartIds = (catalog: number, id: string) => readonly string[];

function sameFamily(
  family: Family,
  models: readonly string[],
  catalog: number,
  byModel: ReadonlyMap<string, readonly FamilyDraft[]>,
  byOwnId: ReadonlyMap<string, readonly FamilyDraft[]>,
): FamilyDraft | undefined {
  const open = (draft: FamilyDraft): boolean => draft.readings.every((reading) => reading.catalog !== catalog);
  for (const model of models) {
    const draft = byModel.get(model)?.find(open);
    if (draft !== undefined) return draft;
  }
  const sameMaker = (draft: FamilyDraft): boolean =>
    draft.models.size === 0 ||
    models.length === 0 ||
    draft.readings.some(
      ({ family: { maker } }) =>
        maker !== undefined &&
        family.maker !== undefined &&
        maker.trim().toLowerCase() === family.maker.trim().toLowerCase(),
    );
  return byOwnId.get(family.id)?.find((draft) => open(draft) && sameMaker(draft));
}

function addRevision(family: FamilyDraft, revision: Revision, catalog: number): void {
  const boards = revision.boardNumbers.map(canonicalNumber);
  const open = family.revisions.filter((draft) => draft.readings.every((reading) => reading.catalog !== catalog));
  let draft =
    open.find((each) => each.id === revision.id) ?? open.find((each) => boards.some((b) => each.boards.has(b)));
  if (draft === undefined) {
    const taken = new Set(family.revisions.map((each) => each.id));
    draft = { id: freeId(revision.id, taken), boards: new Set(), readings: [] };
    family.revisions.push(draft);
  }
  for (const board of boards) draft.boards.add(board);
  draft.readings.push({ catalog, revision });
}

function finishFamily(draft: FamilyDraft, partIds: PartIds): KnownFamily {
  const maker = draft.readings.map(({ family }) => family.maker).find((text) => text !== undefined);
  const name = draft.readings.map(({ family }) => family.name).find((text) => text !== undefined);
  const placed = placesOfParts(draft, partIds);
  return {
    id: draft.id,
    aliases: [...new Set(draft.readings.map(({ family }) => family.id))],
    modelNumbers: unique(draft.readings.flatMap(({ family }) => family.modelNumbers)),
    revisions: draft.revisions.map((revision) => finishRevision(revision, placed, partIds)),
    ...(maker === undefined ? {} : { maker }),
    ...(name === undefined ? {} : { name }),
  };
}

/** Part id → catalog → the revisions of the family in which that catalog lists the part. */
type Places = ReadonlyMap<string, ReadonlyMap<number, ReadonlySet<RevisionDraft>>>;

function placesOfParts(family: FamilyDraft, partIds: PartIds): Places {
  const places = new Map<string, Map<number, Set<RevisionDraft>>>();
  for (const draft of family.revisions) {
    for (const { catalog, revision } of draft.readings) {
      for (const id of idsOf(revision, catalog, partIds)) {
        const byCatalog = places.get(id) ?? new Map<number, Set<RevisionDraft>>();
        places.set(id, byCatalog);
        const revisions = byCatalog.get(catalog) ?? new Set<RevisionDraft>();
        byCatalog.set(catalog, revisions.add(draft));
      }
    }
  }
  return places;
}

function finishRevision(draft: RevisionDraft, places: Places, partIds: PartIds): KnownRevision {
  const listed = new Set(draft.readings.flatMap(({ catalog, revision }) => idsOf(revision, catalog, partIds)));
  const isDisputed = (id: string): boolean =>
    draft.readings.some(({ catalog }) => places.get(id)?.get(catalog)?.has(draft) === false);
  const name = draft.readings.map(({ revision }) => revision.name).find((text) => text !== undefined);
  const tellBy = draft.readings.map(({ revision }) => revision.tellBy).find((text) => text !== undefined);
  return {
    id: draft.id,
    boardNumbers: unique(draft.readings.flatMap(({ revision }) => revision.boardNumbers)),
    built: draft.readings.flatMap(({ revision }) => (revision.built === undefined ? [] : [revision.built])),
    years: [...new Set(draft.readings.flatMap(({ revision }) => revision.years ?? []))].sort((a, b) => a - b),
    parts: [...listed].filter((id) => !isDisputed(id)),
    disputed: [...listed].filter(isDisputed),
    ...(name === undefined ? {} : { name }),
    ...(tellBy === undefined ? {} : { tellBy }),
  };
}

function idsOf(revision: Revision, catalog: number, partIds: PartIds): string[] {
  return revision.parts.flatMap((id) => partIds(catalog, id));
}

/** Printed numbers, those that differ only in spelling once. */
function unique(numbers: readonly string[]): string[] {
  const seen = new Map<string, string>();
  for (const number of numbers) {
    const key = canonicalNumber(number);
    if (key !== "" && !seen.has(key)) seen.set(key, number);
  }
  return [...seen.values()];
}

function freeId(wanted: string, taken: Set<string>): string {
  let id = wanted;
  for (let n = 2; taken.has(id); n++) id = `${wanted}~${n}`;
  taken.add(id);
  return id;
}

/**
 * Keeps ids of several catalogs apart: where an earlier catalog uses an id too, the later one's is `id~2`, then `id~3`.
 *
 * @param count how many catalogs there are
 * @param uses whether a catalog uses an id
 */
export function nameRule(count: number, uses: (catalog: number, id: string) => boolean): NameRule {
  const used = (id: string): boolean => {
    for (let catalog = 0; catalog < count; catalog++) if (uses(catalog, id)) return true;
    return false;
  };
  return (catalog, id) => {
    let name = id;
    let n = 1;
    for (let earlier = 0; earlier < catalog; earlier++) {
      if (!uses(earlier, id)) continue;
      do name = `${id}~${++n}`;
      while (used(name));
    }
    return name;
  };
}

function push<K, V>(into: Map<K, V[]>, key: K, value: V): void {
  const list = into.get(key);
  if (list === undefined) into.set(key, [value]);
  else if (!list.includes(value)) list.push(value);
}

/**
 * True when two connectors cannot both be right for one part: another family, another number of positions,
 * or another word on a pin that both state.
 */
export function connectorsDiffer(a: Connector | undefined, b: Connector | undefined): boolean {
  if (a === undefined || b === undefined) return false;
  if (a.positions !== undefined && b.positions !== undefined && a.positions !== b.positions) return true;
  if (a.family !== undefined && b.family !== undefined && plain(a.family) !== plain(b.family)) return true;
  const pins = Math.min(a.pins?.length ?? 0, b.pins?.length ?? 0);
  for (let i = 0; i < pins; i++) {
    if (plain(a.pins?.[i] ?? "") !== plain(b.pins?.[i] ?? "")) return true;
  }
  return false;
}

function plain(text: string): string {
  return text.trim().toLowerCase().replace(/\s+/g, " ");
}
