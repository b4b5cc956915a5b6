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
import type { Knowledge, RevisionPlace } from "./knowledge.ts";
import { type LinksAt, laterThan, type Step, walk } from "./links.ts";
import { connectorsDiffer, type KnownFamily, type KnownPart, type PartReading } from "./merge.ts";
import type { NumberTable } from "./number-table.ts";
import { plainKnowledge } from "./plain-knowledge.ts";

export type { RevisionPlace } from "./knowledge.ts";
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

/** All catalogs, indexed. */
export interface CatalogIndex {
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
  /** Numbers, as printed, that a list or a part puts beside this one; it may be among them, and some more than once. */
  listedBeside(number: string): readonly string[];
  familiesByModel(number: string): readonly KnownFamily[];
  revisionsByBoard(number: string): readonly RevisionPlace[];
  /** Where a part is listed, disputed places left out. */
  revisionsOf(partId: string): readonly RevisionPlace[];
  /** Where one catalog lists a part and another one does not. */
  disputedPlacesOf(partId: string): readonly RevisionPlace[];
  /** Every number of the catalogs, canonical, each once: parts' numbers, then those only in lists. */
  numbers(): Iterable<string>;
  /** Every number of parts, lists, models and boards by spelling. Made when it is first asked for. */
  table(): NumberTable;
}

/** Indexes catalogs; the first one names what several describe. */
export function buildIndex(catalogs: readonly Catalog[]): CatalogIndex {
  return indexOver(plainKnowledge(catalogs));
}

/** The index of catalogs kept in any form. */
export function indexOver(knowledge: Knowledge): CatalogIndex {
  const { links } = knowledge;
  const differ: Differ = (a, b, succeeded = false) => unlike(a, b) || (!succeeded && placedApart(a, b, knowledge));
  const resolved = new Map<string, Resolution>();
  const resolveNumber = (number: string): Resolution => {
    const key = canonicalNumber(number);
    let found = resolved.get(key);
    if (found === undefined) {
      found = resolve(key, knowledge, differ);
      if (resolved.size >= RESOLUTIONS_KEPT) resolved.clear();
      resolved.set(key, found);
    }
    return found;
  };
  return {
    get families() {
      return knowledge.families();
    },
    get parts() {
      return knowledge.parts();
    },
    family: (id) => knowledge.family(id),
    part: (id) => knowledge.part(id),
    resolveNumber,
    serves: (offered, wanted) => serves(links, canonicalNumber(offered), canonicalNumber(wanted)),
    laterThan: (number) => laterThan(links, canonicalNumber(number)),
    related: (number) => relatedNumbers(links, canonicalNumber(number)),
    listedBeside: (number) => knowledge.listedBeside(canonicalNumber(number)),
    familiesByModel: (number) => knowledge.familiesByModel(canonicalNumber(number)),
    revisionsByBoard: (number) => knowledge.revisionsByBoard(canonicalNumber(number)),
    revisionsOf: (partId) => knowledge.placesOf(partId),
    disputedPlacesOf: (partId) => knowledge.disputedPlacesOf(partId),
    numbers: () => knowledge.numbers(),
    table: () => knowledge.table(),
  };
}

/** How many answers are remembered before the memory is emptied. */
const RESOLUTIONS_KEPT = 10_000;

function serves(links: LinksAt, offered: string, wanted: string): boolean {
  if (offered === "" || wanted === "") return false;
  return offered === wanted || withoutCycles(links, offered).steps.some((step) => step.number === wanted);
}

function relatedNumbers(links: LinksAt, number: string): string[] {
  const steps = [...walk(links, number, "to-later"), ...walk(links, number, "to-earlier")];
  return [...new Set(steps.map((step) => step.number))];
}

function resolve(number: string, { bearers, links }: Knowledge, differ: Differ): Resolution {
  const own = bearers(number);
  const known = own.length > 0 || links(number).length > 0;
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
function withoutCycles(links: LinksAt, number: string): { steps: Step[]; disagreements: Reason[] } {
  const steps = walk(links, number, "to-earlier");
  if (!steps.some((step) => step.superseded)) return { steps, disagreements: [] };
  const later = new Set(
    walk(links, number, "to-later")
      .filter((step) => step.superseded)
      .map((step) => step.number),
  );
  const mutual = new Set(walk(links, number, "none").map((step) => step.number));
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
function servedParts(steps: readonly Step[], bearers: Knowledge["bearers"]): (Served & { superseded: boolean })[] {
  const byNumber = new Map(steps.map((step) => [step.number, step]));
  const found = new Map<KnownPart, Served & { superseded: boolean }>();
  for (const [i, step] of steps.entries()) {
    for (const part of bearers(step.number)) {
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

/** True when two parts cannot serve for each other; parts that one later number `succeeded` may be of different revisions. */
type Differ = (a: KnownPart, b: KnownPart, succeeded?: boolean) => boolean;
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

/**
 * For a number that only lists know: one candidate for each group of parts that can be alike. The parts that it is
 * interchangeable with tell what it is; what these took the place of goes with them.
 */
function listCandidates(served: readonly (Served & { superseded: boolean })[], differ: Differ): Found[] {
  const alike = served.filter(({ superseded }) => !superseded);
  const groups = grouped(alike.length > 0 ? alike : served, differ, alike.length === 0);
  const earlier = alike.length > 0 ? served.filter(({ superseded }) => superseded) : [];
  return groups.map((group, i) => ({
    candidate: {
      own: null,
      serves: [...group, ...earlier.filter(({ part }) => !group.some((other) => differ(other.part, part)))],
    },
    // Each of the groups contradicts the first one once.
    dropped: i === 0 ? [] : group.slice(0, 1),
  }));
}

function grouped<T extends Served>(served: readonly T[], differ: Differ, succeeded: boolean): T[][] {
  const groups: T[][] = [];
  for (const each of served) {
    const group = groups.find((others) => others.every((other) => !differ(other.part, each.part, succeeded)));
    if (group === undefined) groups.push([each]);
    else group.push(each);
  }
  return groups;
}

/** True when two parts cannot serve for each other whatever a list says: another type, another connector. */
function unlike(a: KnownPart, b: KnownPart): boolean {
  if (a.type !== b.type) return true;
  return a.readings.some((left) =>
    b.readings.some((right) => connectorsDiffer(left.part.connector, right.part.connector)),
  );
}

/** True where a catalog gives two parts to different revisions of one family and does not itself tie them together. */
function placedApart(a: KnownPart, b: KnownPart, knowledge: Knowledge): boolean {
  const both = new Set(familiesOf(b, knowledge));
  const shared = [...new Set(familiesOf(a, knowledge))].filter((family) => both.has(family));
  for (const left of a.readings) {
    for (const right of b.readings) {
      if (left.catalog !== right.catalog) continue;
      if (shared.some((family) => keptApart(left, right, family, knowledge))) return true;
    }
  }
  return false;
}

function familiesOf({ id }: KnownPart, { placesOf, disputedPlacesOf }: Knowledge): KnownFamily[] {
  return [...placesOf(id), ...disputedPlacesOf(id)].map(({ family }) => family);
}

function keptApart(left: PartReading, right: PartReading, family: KnownFamily, { links, reading }: Knowledge): boolean {
  const own = reading(family, left.catalog);
  const inLeft = own?.revisions.map(({ parts }) => parts.includes(left.part.id)) ?? [];
  const inRight = own?.revisions.map(({ parts }) => parts.includes(right.part.id)) ?? [];
  const apart = inLeft.includes(true) && inRight.includes(true) && !inLeft.some((yes, i) => yes && inRight[i] === true);
  if (!apart) return false;
  const rights = new Set(right.part.numbers.map(canonicalNumber));
  return !left.part.numbers.some((number) => {
    const start = canonicalNumber(number);
    const tied = (direction: "to-earlier" | "to-later"): boolean =>
      walk(links, start, direction, left.catalog).some((step) => rights.has(step.number));
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
