/**
 * An order check for people: lines as table cells (for CSV and for the screen), the summary as sections (for the
 * screen and for paper), everything in one language.
 */
import type { Device } from "../formats/bench.ts";
import type { Words } from "../text/words.ts";
import { reasonText } from "../verdict/index.ts";
import type { OrderLine } from "./order-check.ts";
import type { OrderSummary, Sum } from "./order-tally.ts";
import { csvRecord } from "./sheet-text.ts";

/** Columns of the table, in order; headings are the messages `order_column_<name>`. */
export const sheetColumns = [
  "row",
  "number",
  "title",
  "pieces",
  "total",
  "currency",
  "job",
  "standing",
  "effect",
  "reason",
  "right",
  "elsewhere",
  "revisions",
] as const;

/** One block of the printed sheet. */
export interface SheetSection {
  readonly heading: string;
  /** Sentences before the table. */
  readonly text: readonly string[];
  readonly table: { readonly head: readonly string[]; readonly rows: readonly (readonly string[])[] } | null;
}

/** The heading row of the table. */
export function sheetHeading(words: Words): string[] {
  return sheetColumns.map((name) => words.say(`order_column_${name}`));
}

/**
 * One line as cells, in the order of {@link sheetColumns}.
 *
 * @param elsewhere rows that hold a right number, where they are known
 */
export function sheetCells(line: OrderLine, words: Words, elsewhere: readonly number[] = []): string[] {
  const { entry, standing, effect, verdicts, right, rightFor, revisions } = line;
  const decisive = verdicts[0];
  return [
    String(entry.row),
    entry.number,
    entry.title,
    String(entry.quantity),
    entry.total ?? "",
    entry.currency ?? "",
    verdicts.map(({ device }) => device).join(", "),
    words.say(`order_standing_${standing.replaceAll("-", "_")}`),
    effect === null ? "" : effectText(effect, words),
    [
      ...(decisive?.verdict.reasons.slice(0, MAX_REASONS).map((reason) => reasonText(reason, words)) ?? []),
      ...(rightFor.length > 0 ? [words.say("order_right_for", { jobs: rightFor })] : []),
    ].join(" "),
    right === null ? "" : right.dependsOnRevision ? words.say("order_depends") : right.numbers.join(", "),
    elsewhere.join(", "),
    revisions.join(", "),
  ];
}

/** Reasons shown with one line. */
const MAX_REASONS = 2;

/** The heading row or a line as one CSV record; see {@link csvRecord}. */
export function sheetRecord(cells: readonly string[], delimiter: string): string {
  return csvRecord(cells, delimiter);
}

function effectText(effect: string, words: Words): string {
  return words.say(`order_effect_${effect.replaceAll("-", "_")}`);
}

/** What the printed sheet is made from. */
export interface SheetSetup {
  readonly devices: readonly Device[];
  readonly words: Words;
  /** General cautions that the lines call for: key parts of `caution_<name>`. */
  readonly cautions: readonly string[];
}

/** The printed sheet: what is at risk, what is wrong and what would be right, what is double, what is missing. */
export function printedSheet(summary: OrderSummary, { devices, words, cautions }: SheetSetup): SheetSection[] {
  const nameOf = new Map(devices.map(({ id, name, job }) => [id, [name ?? id, job].filter(Boolean).join(" · ")]));
  const named = (id: string): string => nameOf.get(id) ?? id;
  const sections = [
    riskSection(summary.sums, words),
    wrongSection(summary, named, words),
    doubleSection(summary, named, words),
    missingSection(summary, named, words),
    section(
      "cautions",
      cautions.map((name) => words.say(`caution_${name.replaceAll("-", "_")}`)),
      [],
      [],
      words,
    ),
  ];
  return sections.filter((each) => each.text.length > 0 || (each.table?.rows.length ?? 0) > 0);
}

function section(
  name: string,
  text: readonly string[],
  head: readonly string[],
  rows: readonly (readonly string[])[],
  words: Words,
): SheetSection {
  return {
    heading: words.say(`order_section_${name}`),
    text,
    table: rows.length === 0 ? null : { head: head.map((each) => words.say(`order_column_${each}`)), rows },
  };
}

function riskSection(sums: readonly Sum[], words: Words): SheetSection {
  const rows = sums.map(({ standing, effect, currency, lines, total, linesWithoutPrice }) => [
    words.say(`order_standing_${standing.replaceAll("-", "_")}`),
    effect === null ? "" : effectText(effect, words),
    String(lines),
    currency === null ? total : words.money(total, currency),
    linesWithoutPrice === 0 ? "" : String(linesWithoutPrice),
  ]);
  return section("risk", [], ["standing", "effect", "lines", "total", "without_price"], rows, words);
}

function wrongSection({ wrong, wrongBeyond }: OrderSummary, named: (id: string) => string, words: Words): SheetSection {
  const rows = wrong.map((line) => [
    String(line.row),
    line.number,
    named(line.device),
    line.effect === null ? "" : effectText(line.effect, words),
    line.dependsOnRevision ? words.say("order_depends") : line.right.join(", "),
    line.elsewhere.join(", "),
    line.inStock.join(", "),
  ]);
  const more = wrongBeyond > 0 ? [words.say("order_more_wrong", { count: wrongBeyond })] : [];
  return section("wrong", more, ["row", "number", "job", "effect", "right", "elsewhere", "in_stock"], rows, words);
}

function doubleSection(summary: OrderSummary, named: (id: string) => string, words: Words): SheetSection {
  const repeated = summary.duplicates.map(({ device, partType, rows, pieces }) =>
    words.say("order_double", { job: named(device), type: partType, rows: rows.map(String), pieces }),
  );
  const contested = summary.contested.map(({ row, number, pieces, jobs }) =>
    words.say("order_contested", { row, number, pieces, jobs: jobs.map(named) }),
  );
  return section("double", [...repeated, ...contested], [], [], words);
}

function missingSection({ missing }: OrderSummary, named: (id: string) => string, words: Words): SheetSection {
  const rows = missing.map(({ device, partType, right, dependsOnRevision, inStock }) => [
    named(device),
    partType,
    dependsOnRevision ? words.say("order_depends") : right.join(", "),
    inStock.join(", "),
  ]);
  return section("missing", [], ["job", "type", "right", "in_stock"], rows, words);
}
