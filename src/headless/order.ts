/** `falsefit order`: an order or stock list in, a judgement of each line or a summary out. */
import rules from "falsefit:rules";
import { buildIndex } from "../catalog/index.ts";
import { entryListing } from "../desks/entries.ts";
import { type OrderLine, startOrderRun } from "../desks/order-check.ts";
import { sheetCells, sheetHeading, sheetRecord } from "../desks/order-sheet.ts";
import { summarize, tallier } from "../desks/order-tally.ts";
import { rightNumberFinder } from "../desks/right-numbers.ts";
import type { Words } from "../text/words.ts";
import { verdictLine } from "../verdict/index.ts";
import { loadSetup } from "./check.ts";
import { csvFaultText, openList } from "./csv.ts";
import { exits, Stop } from "./exits.ts";
import type { Run, Shell } from "./shell.ts";

const forms = ["ndjson", "csv", "summary"] as const;

/** Runs `order`. */
export const order: Run = async (given, shell) => {
  const file = given.operands[0] ?? "-";
  const form = given.value("to") ?? "ndjson";
  if (!forms.some((each) => each === form)) {
    throw new Stop(exits.usage, [shell.words.say("command_not_one_of", { option: "--to", value: form, known: forms })]);
  }
  const { catalogs, devices } = loadSetup(given, shell.words);
  const index = buildIndex(catalogs);
  const list = await openList(file, given, shell);
  if (list.shape.columns.number === undefined && list.shape.columns.title === undefined) {
    throw new Stop(exits.usage, [`${file}: ${shell.words.say("command_no_columns")}`]);
  }
  const run = startOrderRun({ devices, index, rules, shape: list.shape });
  const tally = tallier();
  let bad = 0;
  if (form === "csv") await shell.out.write(sheetRecord(sheetHeading(shell.words), list.delimiter));
  for await (const { rows, faults } of list.rows) {
    for (const fault of faults) shell.complain(csvFaultText(file, fault, shell));
    bad += faults.length;
    let text = "";
    for (const { row, cells } of rows) {
      const line = run.take(cells, row);
      if (line === null) continue;
      tally.add(line);
      if (form === "ndjson") text += `${JSON.stringify(lineJson(line, shell.words))}\n`;
      if (form === "csv") text += sheetRecord(sheetCells(line, shell.words), list.delimiter);
    }
    if (text !== "") await shell.out.write(text);
  }
  if (form === "summary") {
    const summary = summarize(tally.tally(), { devices, finder: rightNumberFinder(index), needs: "tried" });
    await shell.out.write(`${JSON.stringify(summary, null, 2)}\n`);
  }
  if (shell.signal.aborted) tellInterruption(tally.tally().row, shell);
  return bad > 0 ? exits.someBad : exits.done;
};

function tellInterruption(row: number, shell: Shell): void {
  shell.complain(shell.words.say("command_order_interrupted", { row }));
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
