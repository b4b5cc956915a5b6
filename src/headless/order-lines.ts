/** Rows of an order or stock list in, their judgement out: as text in the form asked for, and as a tally. */
import type { TableShape } from "../desks/columns.ts";
import type { CsvRow } from "../desks/csv-rows.ts";
import { entryListing } from "../desks/entries.ts";
import { type OrderLine, startOrderRun } from "../desks/order-check.ts";
import { sheetCells, sheetRecord } from "../desks/order-sheet.ts";
import { EMPTY_TALLY, type OrderTally, tallier } from "../desks/order-tally.ts";
import type { Device } from "../formats/bench.ts";
import type { RawRules } from "../formats/rules.ts";
import type { Words } from "../text/words.ts";
import { verdictLine } from "../verdict/index.ts";
import { indexOf, type ReadCatalogs } from "./catalogs.ts";

/** What `falsefit order` can write. */
export const orderForms = ["ndjson", "csv", "summary"] as const;
/** One of them. */
export type OrderForm = (typeof orderForms)[number];

/** What rows are judged against: can be sent to a worker. */
export interface OrderLinesSetup {
  readonly catalogs: ReadCatalogs;
  readonly devices: readonly Device[];
  readonly shape: TableShape;
  readonly form: OrderForm;
  readonly delimiter: string;
}

/** What came of a batch of rows. */
export interface JudgedRows {
  readonly text: string;
  /** Empty unless a summary was asked for. */
  readonly tally: OrderTally;
  /** The last row judged; 0 without one. */
  readonly row: number;
}

/** Judges batches of rows. */
export type RowJudge = (rows: readonly CsvRow[]) => JudgedRows;

/** Prepares the jobs once and gives the judge. */
export function makeRowJudge(setup: OrderLinesSetup, rules: RawRules, words: Words): RowJudge {
  const { devices, shape, form, delimiter } = setup;
  const run = startOrderRun({ devices, index: indexOf(setup.catalogs), rules, shape });
  return (rows) => {
    const lines = rows.flatMap(({ row, cells }) => run.take(cells, row) ?? []);
    return { text: textOf(lines, form, delimiter, words), tally: tallyOf(lines, form), row: rows.at(-1)?.row ?? 0 };
  };
}

function textOf(lines: readonly OrderLine[], form: OrderForm, delimiter: string, words: Words): string {
  if (form === "ndjson") return lines.map((line) => `${JSON.stringify(lineJson(line, words))}\n`).join("");
  if (form === "csv") return lines.map((line) => sheetRecord(sheetCells(line, words), delimiter)).join("");
  return "";
}

function tallyOf(lines: readonly OrderLine[], form: OrderForm): OrderTally {
  if (form !== "summary") return EMPTY_TALLY;
  const gathered = tallier();
  for (const line of lines) gathered.add(line);
  return gathered.tally();
}

/** A line as `falsefit order` writes it. */
function lineJson(line: OrderLine, words: Words): Record<string, unknown> {
  const { entry, standing, verdicts, effect, right, rightFor, revisions } = line;
  const listing = entryListing(entry);
  return {
    row: entry.row,
    number: entry.number,
    title: entry.title,
    quantity: entry.quantity,
    ...(entry.quantityRead ? {} : { quantityRead: false }),
    total: entry.total,
    currency: entry.currency,
    job: entry.job,
    standing,
    effect,
    verdicts: verdicts.map(({ verdict }) => {
      const { id: _id, price: _price, ...rest } = verdictLine(listing, entry.row, verdict, words);
      return rest;
    }),
    right,
    rightFor,
    revisions,
  };
}
