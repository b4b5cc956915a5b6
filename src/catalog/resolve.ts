/**
 * Which revisions a device can be, from everything known about it (design section 4, the set R).
 *
 * Every piece of evidence leaves some revisions of the family possible, or says nothing. Where all of them
 * agree on something, that is R. Where two exclude each other, nothing is decided silently: the revisions of
 * both stay in R and the contradiction is named, for a part may have been swapped, a board replaced or a date
 * misread.
 */
import type { Device, FittedPart } from "../formats/bench.ts";
import type { Reason, SentenceValue } from "../formats/verdict.ts";
import { contains, type DateInterval, intersects, intervalOfDateText, yearInterval } from "../text/dates.ts";
import { canonicalNumber, oneCharacterApart } from "../text/part-number.ts";
import { seriesCells as cellsBetween } from "../text/quantity-check.ts";
import type { CatalogIndex, KnownFamily, KnownPart, KnownRevision } from "./index.ts";

/** What a piece of evidence is, strongest first: a battery may have been swapped, a board hardly ever. */
const evidenceKinds = ["stated", "board", "date", "part"] as const;
/** One kind of evidence. */
export type EvidenceKind = (typeof evidenceKinds)[number];

/** One thing known about the device, and what follows from it. */
export interface Evidence {
  readonly kind: EvidenceKind;
  /** The number, date or name as the device states it. */
  readonly value: string;
  /** Ids of the revisions that it leaves possible; `null` where it says nothing about them. */
  readonly leaves: readonly string[] | null;
  /** What it means, or why it means nothing. */
  readonly says: Reason;
}

/** What {@link resolveRevisions} finds. */
export interface ResolvedRevisions {
  /** The family, or `null` where no catalog tells it. */
  readonly family: KnownFamily | null;
  /** R: the revisions that the evidence leaves possible; all of the family without evidence; none without a family. */
  readonly revisions: readonly KnownRevision[];
  /** True when exactly one revision is possible and nothing contradicts it. */
  readonly pinned: boolean;
  /** Evidence that excludes other evidence, strongest pair first. */
  readonly contradictions: readonly Reason[];
  /** Every piece of evidence in the order of {@link evidenceKinds}, those that say nothing included. */
  readonly evidence: readonly Evidence[];
  /** How the family was found, or why not. */
  readonly familyBy: Reason;
  /** Where evidence contradicts itself: the ids that the strongest of it points at. A hint for display, never for a verdict. */
  readonly strongest: readonly string[];
}

/**
 * @param device a saved device
 * @param index the catalogs
 */
export function resolveRevisions(device: Device, index: CatalogIndex): ResolvedRevisions {
  const { family, reason } = findFamily(device, index);
  if (family === null) {
    return {
      family,
      revisions: [],
      pinned: false,
      contradictions: [],
      evidence: [],
      familyBy: reason,
      strongest: [],
    };
  }
  const evidence = [
    ...statedEvidence(device, family),
    ...boardEvidence(device, family, index),
    ...dateEvidence(device, family),
    ...device.fitted.flatMap((part) => fittedEvidence(part, family, index)),
  ];
  const telling = evidence.filter(tells);
  const possible = combine(telling, family);
  const contradictions = findContradictions(telling, family);
  const revisions = family.revisions.filter(({ id }) => possible.has(id));
  return {
    family,
    revisions,
    pinned: revisions.length === 1 && contradictions.length === 0,
    contradictions,
    evidence,
    familyBy: reason,
    strongest: telling[0]?.leaves ?? [],
  };
}

/** The interval that a device's build date covers; `null` for none, an unreadable one or one that ends before it starts. */
export function buildInterval(buildDate: Device["buildDate"]): DateInterval | null {
  if (buildDate === undefined) return null;
  if (typeof buildDate === "string") return intervalOfDateText(buildDate);
  const first = buildDate.from === undefined ? null : intervalOfDateText(buildDate.from);
  const last = buildDate.to === undefined ? null : intervalOfDateText(buildDate.to);
  if ((buildDate.from !== undefined && first === null) || (buildDate.to !== undefined && last === null)) return null;
  const from = first?.from ?? null;
  const to = last?.to ?? null;
  return from !== null && to !== null && from > to ? null : { from, to };
}

/** The days on which a revision was built, one interval a statement; none where nothing is said. */
export function builtIntervals(revision: KnownRevision): readonly DateInterval[] {
  const spans = revision.built.flatMap((span) => {
    const interval = buildInterval(span);
    return interval === null ? [] : [interval];
  });
  return spans.length > 0 ? spans : revision.years.map(yearInterval);
}

/** A build date as a person reads it: `2021-W20`, `2021-05 – 2021-07`, `… – 2021-07`. */
export function dateWords(date: NonNullable<Device["buildDate"]>): string {
  return typeof date === "string" ? date : `${date.from ?? "…"} – ${date.to ?? "…"}`;
}

/** What a revision is called in sentences. */
export function revisionName(revision: KnownRevision): string {
  return revision.name ?? revision.id;
}

type Telling = Evidence & { readonly leaves: readonly string[] };

function tells(evidence: Evidence): evidence is Telling {
  return evidence.leaves !== null && evidence.leaves.length > 0;
}

function reasonOf(code: string, values: Readonly<Record<string, SentenceValue>>): Reason {
  return { code, values, spans: [] };
}

// Which family

function findFamily(device: Device, index: CatalogIndex): { family: KnownFamily | null; reason: Reason } {
  const stated = device.family === undefined ? undefined : index.family(device.family);
  if (stated) return { family: stated, reason: reasonOf("resolver-family-stated", { family: familyName(stated) }) };
  const byModel = unique(device.modelNumbers.flatMap((number) => index.familiesByModel(number)));
  const byBoard = unique(boardPlaces(device, index).map((place) => place.family));
  const narrowed = byModel.length > 1 ? byModel.filter((family) => byBoard.includes(family)) : byModel;
  const found = narrowed.length > 0 ? narrowed : byModel.length > 0 ? byModel : byBoard;
  if (found.length === 0) return byFittedParts(device, index);
  if (found.length > 1)
    return { family: null, reason: reasonOf("resolver-several-families", { families: found.map(familyName) }) };
  const family = found[0] ?? null;
  const code = byModel.length > 0 ? "resolver-family-by-model" : "resolver-family-by-board";
  return { family, reason: reasonOf(code, { family: family === null ? "" : familyName(family) }) };
}

/** With neither model nor board known: the one family that all fitted numbers belong to. */
function byFittedParts(device: Device, index: CatalogIndex): { family: KnownFamily | null; reason: Reason } {
  const sets = device.fitted.flatMap((fitted) =>
    fitted.numbers.flatMap((number) => {
      const families = partsServed(number, fitted.type, index).flatMap((part) =>
        index.revisionsOf(part.id).map((place) => place.family),
      );
      return families.length === 0 ? [] : [unique(families)];
    }),
  );
  const shared = (sets[0] ?? []).filter((family) => sets.every((set) => set.includes(family)));
  const only = shared.length === 1 ? (shared[0] ?? null) : null;
  if (only) return { family: only, reason: reasonOf("resolver-family-by-part", { family: familyName(only) }) };
  const named = device.family ?? device.modelNumbers[0];
  return {
    family: null,
    reason: named === undefined ? reasonOf("resolver-no-model", {}) : reasonOf("resolver-no-family", { model: named }),
  };
}

function familyName(family: KnownFamily): string {
  return family.name ?? family.id;
}

function boardPlaces(device: Device, index: CatalogIndex): ReturnType<CatalogIndex["revisionsByBoard"]> {
  return device.boardNumber === undefined ? [] : index.revisionsByBoard(device.boardNumber);
}

// One piece of evidence at a time

/** The person says which one it is. */
function statedEvidence(device: Device, family: KnownFamily): Evidence[] {
  if (device.revision === undefined) return [];
  const revision = family.revisions.find(({ id }) => id === device.revision);
  if (!revision) {
    const says = reasonOf("resolver-stated-unknown", { revision: device.revision, family: familyName(family) });
    return [{ kind: "stated", value: device.revision, leaves: null, says }];
  }
  const name = revisionName(revision);
  return [
    { kind: "stated", value: name, leaves: [revision.id], says: reasonOf("resolver-stated-says", { revision: name }) },
  ];
}

function boardEvidence(device: Device, family: KnownFamily, index: CatalogIndex): Evidence[] {
  const number = device.boardNumber;
  if (number === undefined || canonicalNumber(number) === "") return [];
  const places = index.revisionsByBoard(number);
  const here = places.filter((place) => place.family === family).map((place) => place.revision);
  if (here.length > 0) {
    const says = reasonOf("resolver-board-says", { number, revisions: here.map(revisionName) });
    return [{ kind: "board", value: number, leaves: here.map(({ id }) => id), says }];
  }
  return [{ kind: "board", value: number, leaves: null, says: strangeBoard(number, family, places[0]?.family) }];
}

/** A board number that is no revision's of this family: another family's, nearly one of ours, or simply unknown. */
function strangeBoard(number: string, family: KnownFamily, elsewhere: KnownFamily | undefined): Reason {
  if (elsewhere) return reasonOf("resolver-board-other-family", { number, family: familyName(elsewhere) });
  const asked = canonicalNumber(number);
  const near = family.revisions
    .flatMap((revision) => revision.boardNumbers)
    .filter((known) => oneCharacterApart(canonicalNumber(known), asked));
  const known = near[0];
  return known === undefined
    ? reasonOf("resolver-board-unknown", { number })
    : reasonOf("resolver-board-near", { number, known });
}

/** A date inside a changeover leaves both sides; a revision without dates is never excluded by one. */
function dateEvidence(device: Device, family: KnownFamily): Evidence[] {
  if (device.buildDate === undefined) return [];
  const date = dateWords(device.buildDate);
  const interval = buildInterval(device.buildDate);
  const evidence = (leaves: readonly string[] | null, says: Reason): Evidence[] => [
    { kind: "date", value: date, leaves, says },
  ];
  if (interval === null) return evidence(null, reasonOf("resolver-date-unreadable", { date }));
  const dated = family.revisions.filter((revision) => builtIntervals(revision).length > 0);
  if (dated.length === 0) return evidence(null, reasonOf("resolver-date-silent", { date }));
  const fitting = dated.filter((revision) => builtIntervals(revision).some((built) => intersects(built, interval)));
  const undated = family.revisions.filter((revision) => !dated.includes(revision));
  const left = family.revisions.filter((revision) => fitting.includes(revision) || undated.includes(revision));
  if (left.length === 0) return evidence(null, reasonOf("resolver-date-outside", { date }));
  const names = left.map(revisionName);
  const ids = left.map(({ id }) => id);
  if (left.length === 1) return evidence(ids, reasonOf("resolver-date-says", { date, revisions: names }));
  const inChangeover = fitting.length > 1 && fitting.every((revision) => coversWhole(revision, interval));
  return evidence(
    ids,
    reasonOf(inChangeover ? "resolver-date-changeover" : "resolver-date-leaves", { date, revisions: names }),
  );
}

function coversWhole(revision: KnownRevision, interval: DateInterval): boolean {
  return builtIntervals(revision).some((built) => contains(built, interval));
}

function fittedEvidence(fitted: FittedPart, family: KnownFamily, index: CatalogIndex): Evidence[] {
  const byNumber = fitted.numbers.map((number) => numberEvidence(number, fitted.type, family, index));
  if (byNumber.some(tells)) return byNumber;
  return [...byNumber, ...cellEvidence(fitted, family, index)];
}

function numberEvidence(number: string, type: string, family: KnownFamily, index: CatalogIndex): Evidence {
  const parts = partsServed(number, type, index);
  const evidence = (leaves: readonly string[] | null, says: Reason): Evidence => ({
    kind: "part",
    value: number,
    leaves,
    says,
  });
  if (parts.length === 0) return evidence(null, reasonOf("resolver-part-unknown", { number }));
  const ids = new Set(parts.map(({ id }) => id));
  const left = family.revisions.filter((revision) =>
    [...revision.parts, ...revision.disputed].some((id) => ids.has(id)),
  );
  if (left.length === 0)
    return evidence(null, reasonOf("resolver-part-elsewhere", { number, family: familyName(family) }));
  const all = left.length === family.revisions.length;
  const says = reasonOf(all ? "resolver-part-everywhere" : "resolver-part-says", {
    number,
    revisions: left.map(revisionName),
  });
  return evidence(
    left.map(({ id }) => id),
    says,
  );
}

/**
 * Parts of the type in whose place a number serves, or that a later number of it serves for: an old part that
 * a later one replaces was built into the same revisions.
 */
function partsServed(number: string, type: string, index: CatalogIndex): KnownPart[] {
  const numbers = [number, ...index.laterThan(number)];
  const parts = numbers.flatMap((each) =>
    index.resolveNumber(each).candidates.flatMap((candidate) => candidate.serves.map((served) => served.part)),
  );
  return unique(parts).filter((part) => part.type === type);
}

/**
 * A battery whose number no catalog knows still tells its cells in series, and a pack of another cell count
 * does not run in the place of the right one. Taken from readings only, never from what was assumed.
 */
function cellEvidence(fitted: FittedPart, family: KnownFamily, index: CatalogIndex): Evidence[] {
  const volts = fitted.quantities?.["nominalVoltage_V"];
  if (fitted.type !== "battery" || fitted.source === "assumed" || typeof volts !== "number") return [];
  const cells = seriesCells(volts);
  if (cells === null) return [];
  const left = family.revisions.filter((revision) => {
    const known = cellCounts(revision, index);
    return known.size === 0 || known.has(cells);
  });
  if (left.length === 0 || left.length === family.revisions.length) return [];
  const says = reasonOf("resolver-cells-say", { cells, volts, revisions: left.map(revisionName) });
  return [{ kind: "part", value: `${volts} V`, leaves: left.map(({ id }) => id), says }];
}

function cellCounts(revision: KnownRevision, index: CatalogIndex): Set<number> {
  const counts = new Set<number>();
  for (const id of [...revision.parts, ...revision.disputed]) {
    const part = index.part(id);
    if (part?.type !== "battery") continue;
    for (const { part: reading } of part.readings) {
      const volts = reading.quantities?.["nominalVoltage_V"];
      const cells = typeof volts === "number" ? seriesCells(volts) : null;
      if (cells !== null) counts.add(cells);
    }
  }
  return counts;
}

/**
 * Lithium-ion cells in series from nominal volts: the one count n for which volts / n lies within 3.55–3.90 V
 * (nominal 3.6–3.85 V a cell); `null` for other chemistries, for values that fit none and for those that fit two.
 */
export function seriesCells(nominalVoltage_V: number): number | null {
  return cellsBetween(nominalVoltage_V, 3.55, 3.9);
}

// All evidence together

/** Ids left by all evidence; where some of it excludes other, all that the contradicting ones leave. */
function combine(telling: readonly Telling[], family: KnownFamily): Set<string> {
  const everything = family.revisions.map(({ id }) => id);
  const agreed = meet(everything, telling);
  if (agreed.length > 0) return new Set(agreed);
  const pairs = telling.filter((one) => telling.some((other) => excludes(one, other)));
  const quarrel = pairs.length > 0 ? pairs : telling;
  const union = new Set(quarrel.flatMap((each) => each.leaves));
  const rest = telling.filter((each) => !quarrel.includes(each));
  const narrowed = meet([...union], rest);
  return new Set(narrowed.length > 0 ? narrowed : union);
}

function meet(ids: readonly string[], evidence: readonly Telling[]): string[] {
  return ids.filter((id) => evidence.every(({ leaves }) => leaves.includes(id)));
}

function excludes(one: Telling, other: Telling): boolean {
  return !one.leaves.some((id) => other.leaves.includes(id));
}

/** The sentence for each pair of kinds, the stronger one first. */
const againstCodes: Readonly<Record<string, string>> = {
  "stated board": "resolver-stated-against-board",
  "stated date": "resolver-stated-against-date",
  "stated part": "resolver-stated-against-part",
  "board date": "resolver-board-against-date",
  "board part": "resolver-board-against-part",
  "date part": "resolver-date-against-part",
  "part part": "resolver-part-against-part",
};

/** Most contradictions that are named; a device with more has one cause behind them. */
const MAX_CONTRADICTIONS = 8;

function findContradictions(telling: readonly Telling[], family: KnownFamily): Reason[] {
  const nameOf = (ids: readonly string[]): string[] =>
    family.revisions.filter(({ id }) => ids.includes(id)).map(revisionName);
  const found: Reason[] = [];
  for (const [i, one] of telling.entries()) {
    for (const other of telling.slice(i + 1)) {
      if (found.length >= MAX_CONTRADICTIONS) return found;
      if (!excludes(one, other)) continue;
      found.push(
        reasonOf(againstCodes[`${one.kind} ${other.kind}`] ?? "resolver-all-against", {
          first: one.value,
          firstRevisions: nameOf(one.leaves),
          second: other.value,
          secondRevisions: nameOf(other.leaves),
        }),
      );
    }
  }
  if (found.length === 0 && telling.length > 2 && meet(telling[0]?.leaves ?? [], telling).length === 0) {
    found.push(reasonOf("resolver-all-against", { values: telling.map(({ value }) => value) }));
  }
  return found;
}

function unique<T>(things: readonly T[]): T[] {
  return [...new Set(things)];
}
