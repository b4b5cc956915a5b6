/**
 * The catalogs as questions can be put to them: whose number is this, what does it serve for, which families
 * bear this model number, which revisions this board number.
 *
 * Numbers are asked for as printed or canonical; spelling (separators, case, width) makes no difference.
 * Building is linear in the catalogs; what a number serves for is worked out when it is first asked.
 */
import type { Catalog } from "../formats/catalog.ts";
import type { Reason } from "../formats/verdict.ts";
import { canonicalNumber } from "../text/part-number.ts";
import { buildLinks, type Links } from "./links.ts";
import {
  connectorsDiffer,
  type KnownFamily,
  type KnownPart,
  type KnownRevision,
  mergeCatalogs,
  type PartReading,
} from "./merge.ts";

export type { KnownFamily, KnownPart, KnownRevision, PartReading } from "./merge.ts";
export { sliceFor } from "./slice.ts";

/**
 * One thing that a number can stand for. Usually there is one; a number that two parts of one catalog bear,
 * or that a list ties to parts which cannot be the same, has several, and all of them must be right.
 */
export interface Candidate {
  /** The part that bears the number, or null when only lists tie the number to parts. */
  readonly own: KnownPart | null;
  /** Every part in whose place it serves, its own first. */
  readonly serves: readonly Served[];
}

/** A part in whose place a number serves, and how we know. */
export interface Served {
  readonly part: KnownPart;
  readonly via: "number" | "interchange" | "supersession";
  /** The numbers from the one asked for to one of the part's, canonical. */
  readonly path: readonly string[];
}

/** What the catalogs know of a number. */
export interface Resolution {
  readonly number: string;
  /** True when any catalog holds the number, if only in a list. */
  readonly known: boolean;
  readonly candidates: readonly Candidate[];
  /** Statements of the catalogs about this number that cannot both hold. */
  readonly disagreements: readonly Reason[];
}

/** A revision and the family it belongs to. */
export interface RevisionPlace {
  readonly family: KnownFamily;
  readonly revision: KnownRevision;
}

/** All catalogs, indexed. */
export interface CatalogIndex {
  readonly catalogs: readonly Catalog[];
  readonly families: readonly KnownFamily[];
  readonly parts: readonly KnownPart[];
  /** A family by its id in any of the catalogs. */
  family(id: string): KnownFamily | undefined;
  part(id: string): KnownPart | undefined;
  /** Parts, lists and supersessions that a number leads to; never throws, unknown numbers give no candidates. */
  resolveNumber(number: string): Resolution;
  /** True when `offered` serves where `wanted` did: the same, interchangeable, or later. */
  serves(offered: string, wanted: string): boolean;
  /** Numbers that are said to replace this one, directly or over several steps, canonical. */
  laterThan(number: string): readonly string[];
  /** The number itself, every number that serves where it does, and every number that it serves for, canonical. */
  related(number: string): readonly string[];
  familiesByModel(number: string): readonly KnownFamily[];
  revisionsByBoard(number: string): readonly RevisionPlace[];
  /** Where a part is listed, disputed places left out. */
  revisionsOf(partId: string): readonly RevisionPlace[];
  /** Where one catalog lists a part and another one does not. */
  disputedPlacesOf(partId: string): readonly RevisionPlace[];
  /** Every number of the catalogs, canonical, each once: parts' numbers, then those only in lists. */
  numbers(): Iterable<string>;
}

/** Indexes catalogs; the first one names what several describe. */
export function buildIndex(catalogs: readonly Catalog[]): CatalogIndex {
  const { parts, families } = mergeCatalogs(catalogs);
  const partsById = new Map(parts.map((part) => [part.id, part]));
  const familiesById = new Map(families.flatMap((family) => family.aliases.map((id) => [id, family] as const)));
  for (const family of families) familiesById.set(family.id, family);
  const bearers = gather(parts, (part) => part.numbers.map(canonicalNumber));
  const models = gather(families, (family) => family.modelNumbers.map(canonicalNumber));
  const places = families.flatMap((family) =>
    family.revisions.map((revision): RevisionPlace => ({ family, revision })),
  );
  const boards = gather(places, ({ revision }) => revision.boardNumbers.map(canonicalNumber));
  const listed = gather(places, ({ revision }) => revision.parts);
  const disputed = gather(places, ({ revision }) => revision.disputed);
  const links = buildLinks(catalogs, (number) => (bearers.get(number)?.length ?? 0) > 1);
  const familiesOf = (part: KnownPart): readonly KnownFamily[] =>
    [...(listed.get(part.id) ?? []), ...(disputed.get(part.id) ?? [])].map((place) => place.family);
  const differ: Differ = (a, b) => cannotBeSame(a, b, familiesOf, links, catalogs);
  const resolved = new Map<string, Resolution>();

  const resolveNumber = (number: string): Resolution => {
    const key = canonicalNumber(number);
    let found = resolved.get(key);
    if (found === undefined) {
      found = resolve(key, bearers, links, differ);
      if (resolved.size >= RESOLUTIONS_KEPT) resolved.clear();
      resolved.set(key, found);
    }
    return found;
  };
  return {
    catalogs,
    families,
    parts,
    family: (id) => familiesById.get(id),
    part: (id) => partsById.get(id),
    resolveNumber,
    serves: (offered, wanted) => serves(links, canonicalNumber(offered), canonicalNumber(wanted)),
    laterThan: (number) => links.laterThan(canonicalNumber(number)),
    related: (number) => relatedNumbers(links, canonicalNumber(number)),
    familiesByModel: (number) => models.get(canonicalNumber(number)) ?? [],
    revisionsByBoard: (number) => boards.get(canonicalNumber(number)) ?? [],
    revisionsOf: (partId) => listed.get(partId) ?? [],
    disputedPlacesOf: (partId) => disputed.get(partId) ?? [],
    numbers: () => allNumbers(bearers, catalogs),
  };
}

/** How many answers are remembered before the memory is emptied. */
const RESOLUTIONS_KEPT = 10_000;

function gather<T>(things: readonly T[], keysOf: (thing: T) => readonly string[]): Map<string, T[]> {
  const found = new Map<string, T[]>();
  for (const thing of things) {
    for (const key of new Set(keysOf(thing))) {
      if (key === "") continue;
      const list = found.get(key);
      if (list === undefined) found.set(key, [thing]);
      else list.push(thing);
    }
  }
  return found;
}

function* allNumbers(bearers: ReadonlyMap<string, unknown>, catalogs: readonly Catalog[]): Generator<string> {
  yield* bearers.keys();
  const seen = new Set<string>();
  for (const { interchange, supersession } of catalogs) {
    for (const printed of [...interchange.flatMap((e) => e.numbers), ...supersession.flatMap((e) => [e.old, e.new])]) {
      const number = canonicalNumber(printed);
      if (number === "" || bearers.has(number) || seen.has(number)) continue;
      seen.add(number);
      yield number;
    }
  }
}

function serves(links: Links, offered: string, wanted: string): boolean {
  if (offered === "" || wanted === "") return false;
  return offered === wanted || withoutCycles(links, offered).steps.some((step) => step.number === wanted);
}

function relatedNumbers(links: Links, number: string): string[] {
  const steps = [...links.walk(number, "to-later"), ...links.walk(number, "to-earlier")];
  return [...new Set(steps.map((step) => step.number))];
}

function resolve(
  number: string,
  bearers: ReadonlyMap<string, readonly KnownPart[]>,
  links: Links,
  differ: Differ,
): Resolution {
  const own = bearers.get(number) ?? [];
  const known = own.length > 0 || links.has(number);
  if (!known || number === "") return { number, known: false, candidates: [], disagreements: [] };
  const { steps, disagreements } = withoutCycles(links, number);
  const served = servedParts(steps, bearers);
  const found = own.length > 0 ? own.map((part) => ownCandidate(part, served, differ)) : listCandidates(served, differ);
  const dropped = new Set(found.flatMap((each) => each.dropped.map(({ part }) => part)));
  for (const part of dropped) {
    disagreements.push(disagreement("lists-join-different-parts", { number, other: part.numbers[0] ?? part.id }));
  }
  for (const { part } of served) {
    if (readingsDiffer(part))
      disagreements.push(disagreement("catalogs-disagree", { number: part.numbers[0] ?? part.id }));
  }
  return { number, known, candidates: found.map((each) => each.candidate), disagreements };
}

function disagreement(code: string, values: Reason["values"]): Reason {
  return { code, values, spans: [] };
}

/** The walk to earlier numbers, leaving out supersessions that run in a circle (they contradict themselves). */
function withoutCycles(links: Links, number: string): { steps: ReturnType<Links["walk"]>; disagreements: Reason[] } {
  const steps = links.walk(number, "to-earlier");
  if (!steps.some((step) => step.superseded)) return { steps, disagreements: [] };
  const later = new Set(
    links
      .walk(number, "to-later")
      .filter((step) => step.superseded)
      .map((step) => step.number),
  );
  const mutual = new Set(links.walk(number, "none").map((step) => step.number));
  const circular = steps.filter((step) => step.superseded && later.has(step.number) && !mutual.has(step.number));
  const [first] = circular;
  if (first === undefined) return { steps, disagreements: [] };
  const dropped = new Set(circular.map((step) => step.number));
  const kept = steps.filter((step) => {
    if (step.from !== null && dropped.has(step.from)) dropped.add(step.number);
    return !dropped.has(step.number);
  });
  return { steps: kept, disagreements: [disagreement("supersession-in-circle", { number, other: first.number })] };
}

/** Parts met on the walk, each once, nearest first. A number that several parts bear says nothing further on. */
function servedParts(
  steps: ReturnType<Links["walk"]>,
  bearers: ReadonlyMap<string, readonly KnownPart[]>,
): (Served & { superseded: boolean })[] {
  const byNumber = new Map(steps.map((step) => [step.number, step]));
  const found = new Map<KnownPart, Served & { superseded: boolean }>();
  for (const [i, step] of steps.entries()) {
    for (const part of bearers.get(step.number) ?? []) {
      if (found.has(part)) continue;
      const via = i === 0 ? "number" : step.superseded ? "supersession" : "interchange";
      found.set(part, { part, via, path: pathTo(step.number, byNumber), superseded: step.superseded });
    }
  }
  return [...found.values()];
}

function pathTo(number: string, steps: ReadonlyMap<string, { from: string | null }>): string[] {
  const path: string[] = [];
  for (let at: string | null = number; at !== null; at = steps.get(at)?.from ?? null) path.unshift(at);
  return path;
}

type Differ = (a: KnownPart, b: KnownPart) => boolean;
interface Found {
  readonly candidate: Candidate;
  readonly dropped: readonly Served[];
}

/** The part that bears the number, and the parts it serves for unless they cannot be alike. */
function ownCandidate(own: KnownPart, served: readonly Served[], differ: Differ): Found {
  const itself: Served = { part: own, via: "number", path: served.find(({ part }) => part === own)?.path ?? [] };
  const others = served.filter(({ part, via }) => part !== own && via !== "number");
  const dropped = others.filter(({ part }) => differ(own, part));
  return { candidate: { own, serves: [itself, ...others.filter((each) => !dropped.includes(each))] }, dropped };
}

/** For a number that only lists know: one candidate for each group of parts that can be alike. */
function listCandidates(served: readonly Served[], differ: Differ): Found[] {
  const groups: Served[][] = [];
  for (const each of served) {
    const group = groups.find((others) => others.every((other) => !differ(other.part, each.part)));
    if (group === undefined) groups.push([each]);
    else group.push(each);
  }
  return groups.map((serves) => ({
    candidate: { own: null, serves },
    dropped: groups.length > 1 ? served.filter((each) => !serves.includes(each)) : [],
  }));
}

/**
 * True when two parts cannot serve for each other whatever a list says: another type, another connector, or
 * a catalog that gives them to different revisions of one family and does not itself tie them together.
 */
function cannotBeSame(
  a: KnownPart,
  b: KnownPart,
  familiesOf: (part: KnownPart) => readonly KnownFamily[],
  links: Links,
  catalogs: readonly Catalog[],
): boolean {
  if (a.type !== b.type) return true;
  const both = new Set(familiesOf(b));
  const shared = [...new Set(familiesOf(a))].filter((family) => both.has(family));
  for (const left of a.readings) {
    for (const right of b.readings) {
      if (connectorsDiffer(left.part.connector, right.part.connector)) return true;
      if (left.catalog !== right.catalog) continue;
      if (shared.some((family) => keptApart(left, right, family, links, catalogs))) return true;
    }
  }
  return false;
}

function keptApart(
  left: PartReading,
  right: PartReading,
  { aliases }: KnownFamily,
  links: Links,
  catalogs: readonly Catalog[],
): boolean {
  const family = catalogs[left.catalog]?.families.find(({ id }) => aliases.includes(id));
  const inLeft = family?.revisions.map(({ parts }) => parts.includes(left.part.id)) ?? [];
  const inRight = family?.revisions.map(({ parts }) => parts.includes(right.part.id)) ?? [];
  const apart = inLeft.includes(true) && inRight.includes(true) && !inLeft.some((yes, i) => yes && inRight[i] === true);
  if (!apart) return false;
  const rights = new Set(right.part.numbers.map(canonicalNumber));
  return !left.part.numbers.some((number) => {
    const start = canonicalNumber(number);
    const tied = (direction: "to-earlier" | "to-later"): boolean =>
      links.walk(start, direction, left.catalog).some((step) => rights.has(step.number));
    return tied("to-earlier") || tied("to-later");
  });
}

/** True when two catalogs describe one part differently. */
function readingsDiffer({ readings }: KnownPart): boolean {
  const first = readings[0]?.part;
  return readings.slice(1).some(({ part }) => {
    if (connectorsDiffer(first?.connector, part.connector)) return true;
    return Object.entries(part.quantities ?? {}).some(([name, value]) => {
      const other = first?.quantities?.[name];
      return other !== undefined && other !== value;
    });
  });
}
