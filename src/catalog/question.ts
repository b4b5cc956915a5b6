/**
 * The cheapest next question: which single check would tell the remaining revisions apart.
 *
 * People do not want to open a device to find out which one it is. So checks are ordered by what they cost: a
 * command that the machine answers itself, a label outside, something behind a door or flap, opening the
 * case. A check that decides comes before one that only narrows.
 */
import type { Device } from "../formats/bench.ts";
import type { Quantities } from "../formats/catalog.ts";
import type { SentenceValue } from "../formats/verdict.ts";
import { calendarDate, type DateInterval, intersects } from "../text/dates.ts";
import { canonicalNumber } from "../text/part-number.ts";
import type { CatalogIndex, KnownPart, KnownRevision } from "./index.ts";
import { buildInterval, builtIntervals, type ResolvedRevisions, revisionName, seriesCells } from "./resolve.ts";

/** What a check costs, cheapest first. */
const efforts = ["command", "label", "flap", "open"] as const;
/** What a check costs. */
export type Effort = (typeof efforts)[number];

/** What is looked at. */
export type Check =
  | "board-readout"
  | "battery-voltage"
  | "display-resolution"
  | "memory-type"
  | "part-readout"
  | "build-date"
  | "part-label"
  | "part-flap"
  | "part-inside"
  | "tell-by"
  | "board-inside";

/** Message that says what a check costs. */
export function effortKey(effort: Effort): string {
  return `question_effort_${effort}`;
}

/** Message that says whether a check decides. */
export function decidesKey(decides: Question["decides"]): string {
  return `question_decides_${decides}`;
}

/** One possible answer and what it would leave. */
export interface PossibleAnswer {
  /** What one would read: a number, volts, a span of dates. */
  readonly value: string;
  /** Ids of the revisions that it leaves. */
  readonly revisions: readonly string[];
  /** The same as they are called. */
  readonly names: readonly string[];
}

/** One check that would help. */
export interface Question {
  readonly check: Check;
  readonly effort: Effort;
  readonly partType: string | null;
  /** `yes`: every answer leaves one revision; `unless_changeover`: every date but those in a changeover; `no`: it only narrows. */
  readonly decides: "yes" | "unless_changeover" | "no";
  readonly answers: readonly PossibleAnswer[];
  /** The sentence that asks: message key and values. */
  readonly ask: { readonly key: string; readonly values: Readonly<Record<string, SentenceValue>> };
}

/** What the caller knows beyond device and catalog. */
export interface QuestionOptions {
  /** Whether the device can print facts about itself; guessed from its parts where left out. */
  readonly prints?: boolean;
  /** What a part type is called in the user's language. */
  readonly partName?: (type: string) => string;
}

/** Most answers that are listed for one check. */
const MAX_ANSWERS = 24;
/** Parts that only machines with an operating system have. */
const COMPUTER_PARTS: ReadonlySet<string> = new Set(["memory-module", "storage-module", "keyboard"]);
/** Parts whose number can be read without a tool, and those that lie behind a flap: common practice, no source. */
const OUTSIDE_PARTS: ReadonlySet<string> = new Set(["charger", "cable"]);
const FLAP_PARTS: ReadonlySet<string> = new Set(["battery", "memory-module", "storage-module", "belt", "print-head"]);
/** Parts that a machine reports by number. */
const REPORTED_PARTS: ReadonlySet<string> = new Set(["battery", "display-panel", "memory-module"]);

/** The check to make next, or `null` where the revision is pinned or nothing tells the rest apart. */
export function nextQuestion(
  device: Device,
  resolved: ResolvedRevisions,
  index: CatalogIndex,
  options: QuestionOptions = {},
): Question | null {
  return allQuestions(device, resolved, index, options)[0] ?? null;
}

/** Every check that would help, best first. */
export function allQuestions(
  device: Device,
  resolved: ResolvedRevisions,
  index: CatalogIndex,
  options: QuestionOptions = {},
): Question[] {
  const { revisions } = resolved;
  if (revisions.length < 2) return [];
  const prints = options.prints ?? canPrint(device, resolved, index);
  const partsByType = groupParts(revisions, index);
  const found = [
    ...(prints ? readouts(device, revisions, partsByType, options) : []),
    ...boardQuestions(device, revisions, prints),
    ...dateQuestions(device, revisions),
    ...numberQuestions(device, revisions, partsByType, options),
    ...tellByQuestions(revisions),
  ];
  return found.filter(({ answers }) => answers.some((each) => each.revisions.length < revisions.length)).sort(byWorth);
}

function byWorth(a: Question, b: Question): number {
  const worth = ({ decides }: Question): number => (decides === "no" ? 1 : 0);
  const doubt = ({ decides }: Question): number => (decides === "yes" ? 0 : 1);
  return worth(a) - worth(b) || efforts.indexOf(a.effort) - efforts.indexOf(b.effort) || doubt(a) - doubt(b);
}

function canPrint(device: Device, { family }: ResolvedRevisions, index: CatalogIndex): boolean {
  if (device.facts?.some(({ source }) => source.startsWith("SMBIOS") || source === "EDID")) return true;
  const ids = family?.revisions.flatMap((revision) => revision.parts) ?? [];
  return ids.some((id) => COMPUTER_PARTS.has(index.part(id)?.type ?? ""));
}

/** Part types of the revisions, each with the parts that each revision has. */
type PartsByType = ReadonlyMap<string, ReadonlyMap<KnownRevision, readonly KnownPart[]>>;

function groupParts(revisions: readonly KnownRevision[], index: CatalogIndex): PartsByType {
  const groups = new Map<string, Map<KnownRevision, KnownPart[]>>();
  for (const revision of revisions) {
    for (const id of revision.parts) {
      const part = index.part(id);
      if (!part) continue;
      const group = groups.get(part.type) ?? new Map<KnownRevision, KnownPart[]>();
      groups.set(part.type, group);
      const list = group.get(revision);
      if (list === undefined) group.set(revision, [part]);
      else list.push(part);
    }
  }
  return groups;
}

// Commands

function readouts(
  device: Device,
  revisions: readonly KnownRevision[],
  parts: PartsByType,
  options: QuestionOptions,
): Question[] {
  const open = [...parts].filter(([type]) => REPORTED_PARTS.has(type) && !isRead(device, type));
  return open.flatMap(([type, group]) => {
    const told = toldBySoftware(type);
    const values = told === null ? [] : answersBy(revisions, group, (part) => quantityWords(part, told.read));
    const byQuantity =
      told === null ? [] : question(told.check, "command", type, revisions, values, `question_${told.check}`, options);
    const numbers = answersBy(revisions, group, numberWords);
    return [
      ...byQuantity,
      ...question("part-readout", "command", type, revisions, numbers, "question_part_readout", options),
    ];
  });
}

/** A fitted part of this type that was read off the device already answers the question. */
function isRead(device: Device, type: string): boolean {
  return device.fitted.some(
    (part) =>
      part.type === type && part.source !== "assumed" && (part.numbers.length > 0 || part.quantities !== undefined),
  );
}

function toldBySoftware(type: string): { check: Check; read: (quantities: Quantities) => string | null } | null {
  if (type === "battery") return { check: "battery-voltage", read: voltageWords };
  if (type === "display-panel") return { check: "display-resolution", read: resolutionWords };
  if (type === "memory-module") return { check: "memory-type", read: memoryWords };
  return null;
}

/** Volts stand for their cell count: 11.1 V and 11.4 V are one answer. */
function voltageWords(quantities: Quantities): string | null {
  const volts = quantities["nominalVoltage_V"];
  if (typeof volts !== "number") return null;
  const cells = seriesCells(volts);
  return cells === null ? `${volts} V` : `${round(cells * 3.6)}–${round(cells * 3.85)} V`;
}

function resolutionWords(quantities: Quantities): string | null {
  const [width, height] = [quantities["width_px"], quantities["height_px"]];
  return typeof width === "number" && typeof height === "number" ? `${width} × ${height}` : null;
}

function memoryWords(quantities: Quantities): string | null {
  const volts = quantities["supplyVoltage_V"];
  const type = quantities["generation"];
  if (typeof type === "string") return typeof volts === "number" ? `${type}, ${volts} V` : type;
  return typeof volts === "number" ? `${volts} V` : null;
}

function round(volts: number): number {
  return Math.round(volts * 10) / 10;
}

function quantityWords(part: KnownPart, read: (quantities: Quantities) => string | null): string[] {
  const words = part.readings.map(({ part: reading }) => read(reading.quantities ?? {}));
  return [...new Set(words.filter((word): word is string => word !== null))];
}

function numberWords(part: KnownPart): string[] {
  return part.numbers[0] === undefined ? [] : [part.numbers[0]];
}

// Boards, dates, numbers, and what the catalog says

function boardQuestions(device: Device, revisions: readonly KnownRevision[], prints: boolean): Question[] {
  if (device.boardNumber !== undefined) return [];
  const answers = collect(
    revisions,
    revisions.flatMap((revision) => revision.boardNumbers.map((number) => ({ value: number, revision }))),
  );
  const inside = question("board-inside", "open", null, revisions, answers, "question_board_inside", {});
  return prints
    ? [...question("board-readout", "command", null, revisions, answers, "question_board_readout", {}), ...inside]
    : inside;
}

/** A date helps where some day belongs to fewer revisions than are left. */
function dateQuestions(device: Device, revisions: readonly KnownRevision[]): Question[] {
  const known = buildInterval(device.buildDate);
  const isExact = known !== null && known.from !== null && known.to !== null && known.to - known.from <= 31;
  const spans = revisions.map((revision) => ({ revision, spans: builtIntervals(revision) }));
  if (isExact || spans.some((each) => each.spans.length === 0)) return [];
  const answers = spans.map(({ revision, spans: own }) => answer(own.map(spanWords).join(", "), [revision]));
  const overlap = spans.some((one, i) =>
    spans.slice(i + 1).some((other) => one.spans.some((a) => other.spans.some((b) => intersects(a, b)))),
  );
  const same = new Set(answers.map(({ value }) => value)).size === 1;
  if (same) return [];
  const ask = { key: "question_build_date", values: {} };
  const decides = overlap ? "unless_changeover" : "yes";
  return [{ check: "build-date", effort: "label", partType: null, decides, answers, ask }];
}

function spanWords({ from, to }: DateInterval): string {
  const month = (day: number | null): string => {
    if (day === null) return "…";
    const { year, month: ofYear } = calendarDate(day);
    return `${year}-${String(ofYear).padStart(2, "0")}`;
  };
  return `${month(from)} – ${month(to)}`;
}

function numberQuestions(
  device: Device,
  revisions: readonly KnownRevision[],
  parts: PartsByType,
  options: QuestionOptions,
): Question[] {
  return [...parts].flatMap(([type, group]) => {
    const known = device.fitted.some((part) => part.type === type && part.numbers.length > 0);
    if (known) return [];
    const effort: Effort = OUTSIDE_PARTS.has(type) ? "label" : FLAP_PARTS.has(type) ? "flap" : "open";
    const check = effort === "label" ? "part-label" : effort === "flap" ? "part-flap" : "part-inside";
    const answers = answersBy(revisions, group, numberWords);
    return question(check, effort, type, revisions, answers, `question_${check.replaceAll("-", "_")}`, options);
  });
}

/** What the catalog itself says: each revision by its own mark. One without a mark is what is left. */
function tellByQuestions(revisions: readonly KnownRevision[]): Question[] {
  const marked = revisions.flatMap((revision) =>
    revision.tellBy === undefined ? [] : [{ value: revision.tellBy, revision }],
  );
  if (marked.length < revisions.length - 1) return [];
  return question("tell-by", "flap", null, revisions, collect(revisions, marked), "question_tell_by", {});
}

function question(
  check: Check,
  effort: Effort,
  partType: string | null,
  revisions: readonly KnownRevision[],
  answers: readonly PossibleAnswer[],
  key: string,
  { partName }: QuestionOptions,
): Question[] {
  if (answers.length < 2 && check !== "tell-by") return [];
  const covered = new Set(answers.flatMap((each) => each.revisions));
  // A revision that the answers leave out is what remains when none of them is read; two would be one too many.
  const missing = revisions.length - covered.size;
  const decides = answers.every((each) => each.revisions.length === 1) && missing <= 1 ? "yes" : "no";
  const part = partType === null ? {} : { part: partName?.(partType) ?? partType.replaceAll("-", " ") };
  const ask = { key: key.replaceAll("-", "_"), values: part };
  return [{ check, effort, partType, decides, answers: answers.slice(0, MAX_ANSWERS), ask }];
}

function answersBy(
  revisions: readonly KnownRevision[],
  group: ReadonlyMap<KnownRevision, readonly KnownPart[]>,
  words: (part: KnownPart) => readonly string[],
): PossibleAnswer[] {
  const read = revisions.flatMap((revision) =>
    (group.get(revision) ?? []).flatMap((part) => words(part).map((value) => ({ value, revision }))),
  );
  return collect(revisions, read);
}

/** The same words read off several revisions are one answer that leaves them all. */
function collect(
  order: readonly KnownRevision[],
  read: readonly { value: string; revision: KnownRevision }[],
): PossibleAnswer[] {
  const byValue = new Map<string, { value: string; revisions: Set<KnownRevision> }>();
  for (const { value, revision } of read) {
    const key = canonicalNumber(value) || value;
    const known = byValue.get(key);
    if (known === undefined) byValue.set(key, { value, revisions: new Set([revision]) });
    else known.revisions.add(revision);
  }
  return [...byValue.values()].map(({ value, revisions }) =>
    answer(
      value,
      order.filter((revision) => revisions.has(revision)),
    ),
  );
}

function answer(value: string, revisions: readonly KnownRevision[]): PossibleAnswer {
  return { value, revisions: revisions.map(({ id }) => id), names: revisions.map(revisionName) };
}
