/**
 * What concerns several lines of a list at once. The tally is plain data (it can be stored and gone on with); the
 * summary is made from it at any time.
 */
import type { Device } from "../formats/bench.ts";
import type { Effect } from "../formats/verdict.ts";
import { effectWords } from "../formats/verdict.ts";
import { addDecimal } from "../text/decimal.ts";
import { canonicalNumber } from "../text/part-number.ts";
import { lineNumberKey, type OrderLine, type Standing } from "./order-check.ts";
import type { RightNumberFinder } from "./right-numbers.ts";

/** Lines that are wrong are kept up to this many; beyond it they are only counted. */
const MAX_WRONG_KEPT = 20_000;
/** Rows remembered for one number, and for one job and part type. */
const ROWS_KEPT = 20;

/** Money of one kind: how many lines, and their sum where a price is stated. */
export interface Sum {
  readonly standing: Standing;
  /** Worst effect of these lines, or null. */
  readonly effect: Effect | null;
  /** ISO 4217 code, or null where the list states none. */
  readonly currency: string | null;
  readonly lines: number;
  /** Decimal text: the sum of the totals that are stated. */
  readonly total: string;
  readonly linesWithoutPrice: number;
}

/** A line that is wrong, kept for the summary. */
export interface WrongLine {
  readonly row: number;
  readonly number: string;
  readonly device: string;
  readonly partType: string | null;
  readonly effect: Effect | null;
  /** Numbers that would be right, as printed. */
  readonly right: readonly string[];
  readonly dependsOnRevision: boolean;
}

/** Everything remembered after some rows. JSON-able. */
export interface OrderTally {
  /** The last row taken. */
  readonly row: number;
  readonly lines: number;
  readonly sums: Readonly<Record<string, Sum>>;
  readonly wrong: readonly WrongLine[];
  readonly wrongBeyond: number;
  /** Canonical number → rows that hold it. */
  readonly rowsOfNumber: Readonly<Record<string, readonly number[]>>;
  /** `device part-type` → rows that are right for it, with their pieces. */
  readonly served: Readonly<Record<string, Served>>;
  /** `device part-type` of lines that are for it, right or not. */
  readonly tried: Readonly<Record<string, true>>;
  /** Rows with fewer pieces than jobs that they would serve. */
  readonly contested: readonly Contested[];
}

/** Rows that serve one job's need. */
export interface Served {
  readonly device: string;
  readonly partType: string;
  readonly rows: readonly number[];
  readonly pieces: number;
}

/** One part for several jobs. */
export interface Contested {
  readonly row: number;
  readonly number: string;
  readonly pieces: number;
  readonly jobs: readonly string[];
}

/** Gathers lines; `tally` may be read after any of them. */
export interface OrderTallier {
  add(line: OrderLine): void;
  /** Adds the tally of later rows, gathered elsewhere. */
  addTally(later: OrderTally): void;
  tally(): OrderTally;
}

/** A tally before the first row. */
export const EMPTY_TALLY: OrderTally = {
  row: 0,
  lines: 0,
  sums: {},
  wrong: [],
  wrongBeyond: 0,
  rowsOfNumber: {},
  served: {},
  tried: {},
  contested: [],
};

/** Goes on from a tally. The given one is not changed. */
export function tallier(from: OrderTally = EMPTY_TALLY): OrderTallier {
  const sums = new Map(Object.entries(from.sums));
  const wrong = [...from.wrong];
  const rowsOfNumber = new Map(Object.entries(from.rowsOfNumber));
  const served = new Map(Object.entries(from.served));
  const tried = new Map(Object.entries(from.tried));
  const contested = [...from.contested];
  let { row, lines, wrongBeyond } = from;
  return {
    add(line) {
      row = line.entry.row;
      lines++;
      addSum(sums, line);
      const key = lineNumberKey(line);
      if (key !== "") rowsOfNumber.set(key, kept(rowsOfNumber.get(key) ?? [], row));
      addServed(served, tried, line);
      const fight = contestedBy(line);
      if (fight && contested.length < MAX_WRONG_KEPT) contested.push(fight);
      const bad = wrongLine(line);
      if (bad && wrong.length < MAX_WRONG_KEPT) wrong.push(bad);
      else if (bad) wrongBeyond++;
    },
    addTally(later) {
      row = Math.max(row, later.row);
      lines += later.lines;
      for (const [key, sum] of Object.entries(later.sums)) sums.set(key, addedSum(sums.get(key), sum));
      for (const [key, rows] of Object.entries(later.rowsOfNumber)) {
        rowsOfNumber.set(key, [...(rowsOfNumber.get(key) ?? []), ...rows].slice(0, ROWS_KEPT));
      }
      for (const [key, need] of Object.entries(later.served)) {
        const before = served.get(key);
        const rows = [...(before?.rows ?? []), ...need.rows].slice(0, ROWS_KEPT);
        served.set(key, { ...need, rows, pieces: need.pieces + (before?.pieces ?? 0) });
      }
      for (const key of Object.keys(later.tried)) tried.set(key, true);
      contested.push(...later.contested.slice(0, MAX_WRONG_KEPT - contested.length));
      const room = MAX_WRONG_KEPT - wrong.length;
      wrong.push(...later.wrong.slice(0, room));
      wrongBeyond += later.wrongBeyond + Math.max(0, later.wrong.length - room);
    },
    tally: () => ({
      row,
      lines,
      sums: Object.fromEntries(sums),
      wrong: [...wrong],
      wrongBeyond,
      rowsOfNumber: Object.fromEntries(rowsOfNumber),
      served: Object.fromEntries(served),
      tried: Object.fromEntries(tried),
      contested: [...contested],
    }),
  };
}

function kept(rows: readonly number[], row: number): readonly number[] {
  return rows.length < ROWS_KEPT ? [...rows, row] : rows;
}

function addSum(sums: Map<string, Sum>, { standing, effect, entry }: OrderLine): void {
  const key = [standing, effect ?? "", entry.currency ?? ""].join(" ");
  const before = sums.get(key) ?? {
    standing,
    effect,
    currency: entry.currency,
    lines: 0,
    total: "0",
    linesWithoutPrice: 0,
  };
  sums.set(key, {
    ...before,
    lines: before.lines + 1,
    total: entry.total === null ? before.total : (addDecimal(before.total, entry.total) ?? before.total),
    linesWithoutPrice: before.linesWithoutPrice + (entry.total === null ? 1 : 0),
  });
}

function addedSum(before: Sum | undefined, later: Sum): Sum {
  if (before === undefined) return later;
  return {
    ...before,
    lines: before.lines + later.lines,
    total: addDecimal(before.total, later.total) ?? before.total,
    linesWithoutPrice: before.linesWithoutPrice + later.linesWithoutPrice,
  };
}

function addServed(served: Map<string, Served>, tried: Map<string, true>, { verdicts, entry }: OrderLine): void {
  for (const { device, verdict } of verdicts) {
    if (verdict.partType === null || verdict.tier === "none") continue;
    const key = `${device} ${verdict.partType}`;
    tried.set(key, true);
    if (verdict.tier !== "go") continue;
    const before = served.get(key) ?? { device, partType: verdict.partType, rows: [], pieces: 0 };
    served.set(key, { ...before, rows: kept(before.rows, entry.row), pieces: before.pieces + entry.quantity });
  }
}

function contestedBy({ verdicts, entry, jobKnown }: OrderLine): Contested | null {
  const jobs = verdicts.filter(({ verdict }) => verdict.tier === "go").map(({ device }) => device);
  if (jobKnown || jobs.length <= entry.quantity || jobs.length < 2) return null;
  return { row: entry.row, number: entry.number, pieces: entry.quantity, jobs };
}

function wrongLine({ standing, entry, verdicts, effect, right }: OrderLine): WrongLine | null {
  const [decisive] = verdicts;
  if ((standing !== "wrong" && standing !== "other-job") || decisive === undefined) return null;
  return {
    row: entry.row,
    number: entry.number,
    device: decisive.device,
    partType: decisive.verdict.partType,
    effect,
    right: right?.numbers ?? [],
    dependsOnRevision: right?.dependsOnRevision ?? false,
  };
}

/** A wrong line with the rows of the same list, or of the stock, that hold a right number. */
export interface WrongLineWithRemedy extends WrongLine {
  readonly elsewhere: readonly number[];
  readonly inStock: readonly number[];
}

/** A job's need that no line serves. */
export interface Missing {
  readonly device: string;
  readonly partType: string;
  /** Numbers that would be right, as printed. */
  readonly right: readonly string[];
  readonly dependsOnRevision: boolean;
  /** Rows of the stock that hold a right number. */
  readonly inStock: readonly number[];
}

/** The list as a whole. */
export interface OrderSummary {
  readonly lines: number;
  /** Worst first: by standing, then by effect. */
  readonly sums: readonly Sum[];
  readonly wrong: readonly WrongLineWithRemedy[];
  readonly wrongBeyond: number;
  /** Needs that several lines serve. */
  readonly duplicates: readonly Served[];
  readonly contested: readonly Contested[];
  readonly missing: readonly Missing[];
}

/** What else is known when the summary is made. */
export interface SummarySetup {
  readonly devices: readonly Device[];
  readonly finder: RightNumberFinder;
  /** Tally of the stock list, where one was read: right numbers are looked for there as well. */
  readonly stock?: OrderTally;
  /** `tried`: needs for which the list holds some line; `all`: every part type that the catalog knows of a job. */
  readonly needs: "tried" | "all";
}

const STANDING_ORDER: readonly Standing[] = ["wrong", "other-job", "ask", "no-job", "right"];

/** Sums up a tally. */
export function summarize(tally: OrderTally, { devices, finder, stock, needs }: SummarySetup): OrderSummary {
  const rows = new Map(Object.entries(tally.rowsOfNumber));
  const stockRows = new Map(Object.entries(stock?.rowsOfNumber ?? {}));
  return {
    lines: tally.lines,
    sums: Object.values(tally.sums).sort(bySeverity),
    wrong: tally.wrong.map((line) => ({
      ...line,
      elsewhere: rowsHolding(line.right, rows).filter((row) => row !== line.row),
      inStock: rowsHolding(line.right, stockRows),
    })),
    wrongBeyond: tally.wrongBeyond,
    duplicates: Object.values(tally.served).filter(({ rows: of }) => of.length > 1),
    contested: tally.contested,
    missing: devices.flatMap((device) => missingFor(device, tally, stockRows, finder, needs)),
  };
}

function bySeverity(a: Sum, b: Sum): number {
  const byStanding = STANDING_ORDER.indexOf(a.standing) - STANDING_ORDER.indexOf(b.standing);
  return byStanding !== 0 ? byStanding : effectRank(a.effect) - effectRank(b.effect);
}

function effectRank(effect: Effect | null): number {
  return effect === null ? effectWords.length : effectWords.indexOf(effect);
}

function rowsHolding(numbers: readonly string[], rows: ReadonlyMap<string, readonly number[]>): number[] {
  const found = new Set(numbers.flatMap((number) => rows.get(canonicalNumber(number)) ?? []));
  return [...found].sort((a, b) => a - b);
}

function missingFor(
  device: Device,
  tally: OrderTally,
  stockRows: ReadonlyMap<string, readonly number[]>,
  finder: RightNumberFinder,
  needs: "tried" | "all",
): Missing[] {
  return finder.partTypesOf(device).flatMap((partType) => {
    const key = `${device.id} ${partType}`;
    const wanted = needs === "all" || Object.hasOwn(tally.tried, key);
    if (!wanted || Object.hasOwn(tally.served, key)) return [];
    const { numbers, dependsOnRevision } = finder.rightFor(device, partType);
    return [
      { device: device.id, partType, right: numbers, dependsOnRevision, inStock: rowsHolding(numbers, stockRows) },
    ];
  });
}
