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

/** What {@link mergeCatalogs} gives. */
export interface Merged {
  readonly parts: readonly KnownPart[];
  readonly families: readonly KnownFamily[];
}

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
  readings: { catalog: number; family: Family }[];
}

/** Merges catalogs in their order; the first one names things. */
export function mergeCatalogs(catalogs: readonly Catalog[]): Merged {
  const parts = mergeParts(catalogs);
  const families = mergeFamilies(catalogs);
  return {
    parts: parts.drafts.map(finishPart),
    families: families.map((family) => finishFamily(family, parts.byId)),
  };
}

function mergeParts(catalogs: readonly Catalog[]): {
  drafts: PartDraft[];
  /** For each catalog: the drafts that an id of it became. */
  byId: Map<string, PartDraft[]>[];
} {
  const drafts: PartDraft[] = [];
  const byNumber = new Map<string, PartDraft[]>();
  const takenIds = new Set<string>();
  const byId: Map<string, PartDraft[]>[] = [];
  for (const [catalog, { parts }] of catalogs.entries()) {
    const ids = new Map<string, PartDraft[]>();
    byId.push(ids);
    for (const part of parts) {
      const keys = part.numbers.map(canonicalNumber);
      const same = catalog === 0 ? [] : sameParts(part, keys, catalog, byNumber);
      const into = same.length > 0 ? same : [newPart(part, takenIds)];
      if (same.length === 0) drafts.push(...into);
      for (const draft of into) addReading(draft, part, keys, catalog, into, byNumber);
      ids.set(part.id, into);
    }
  }
  return { drafts, byId };
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

function newPart(part: Part, takenIds: Set<string>): PartDraft {
  const id = freeId(part.id, takenIds);
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

function mergeFamilies(catalogs: readonly Catalog[]): FamilyDraft[] {
  const drafts: FamilyDraft[] = [];
  const takenIds = new Set<string>();
  const byModel = new Map<string, FamilyDraft[]>();
  const byOwnId = new Map<string, FamilyDraft[]>();
  for (const [catalog, { families }] of catalogs.entries()) {
    for (const family of families) {
      const models = family.modelNumbers.map(canonicalNumber).filter((model) => model !== "");
      let draft = sameFamily(family, models, catalog, byModel, byOwnId);
      if (draft === undefined) {
        draft = { id: freeId(family.id, takenIds), models: new Set(), revisions: [], readings: [] };
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
  }
  return drafts;
}

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

function finishFamily(draft: FamilyDraft, byId: readonly ReadonlyMap<string, readonly PartDraft[]>[]): KnownFamily {
  const maker = draft.readings.map(({ family }) => family.maker).find((text) => text !== undefined);
  const name = draft.readings.map(({ family }) => family.name).find((text) => text !== undefined);
  const placed = placesOfParts(draft, byId);
  return {
    id: draft.id,
    aliases: [...new Set(draft.readings.map(({ family }) => family.id))],
    modelNumbers: unique(draft.readings.flatMap(({ family }) => family.modelNumbers)),
    revisions: draft.revisions.map((revision) => finishRevision(revision, placed, byId)),
    ...(maker === undefined ? {} : { maker }),
    ...(name === undefined ? {} : { name }),
  };
}

/** Part id → catalog → the revisions of the family in which that catalog lists the part. */
type Places = ReadonlyMap<string, ReadonlyMap<number, ReadonlySet<RevisionDraft>>>;

function placesOfParts(family: FamilyDraft, byId: readonly ReadonlyMap<string, readonly PartDraft[]>[]): Places {
  const places = new Map<string, Map<number, Set<RevisionDraft>>>();
  for (const draft of family.revisions) {
    for (const { catalog, revision } of draft.readings) {
      for (const id of partIds(revision, catalog, byId)) {
        const byCatalog = places.get(id) ?? new Map<number, Set<RevisionDraft>>();
        places.set(id, byCatalog);
        const revisions = byCatalog.get(catalog) ?? new Set<RevisionDraft>();
        byCatalog.set(catalog, revisions.add(draft));
      }
    }
  }
  return places;
}

function finishRevision(
  draft: RevisionDraft,
  places: Places,
  byId: readonly ReadonlyMap<string, readonly PartDraft[]>[],
): KnownRevision {
  const listed = new Set(draft.readings.flatMap(({ catalog, revision }) => partIds(revision, catalog, byId)));
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

function partIds(
  revision: Revision,
  catalog: number,
  byId: readonly ReadonlyMap<string, readonly PartDraft[]>[],
): string[] {
  return revision.parts.flatMap((id) => (byId[catalog]?.get(id) ?? []).map((draft) => draft.id));
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
