/** `falsefit order`: an order or stock list in, a judgement of each line or a summary out. */
import rules from "falsefit:rules";
import type { CsvPiece } from "../desks/csv-rows.ts";
import { sheetHeading, sheetRecord } from "../desks/order-sheet.ts";
import { summarize, tallier } from "../desks/order-tally.ts";
import { rightNumberFinder } from "../desks/right-numbers.ts";
import { indexOf } from "./catalogs.ts";
import { loadSetup, workersAsked } from "./check.ts";
import { csvFaultText, openList } from "./csv.ts";
import { exits, Stop } from "./exits.ts";
import { type JudgedRows, makeRowJudge, type OrderForm, type OrderLinesSetup, orderForms } from "./order-lines.ts";
import { mapInOrder, startPool } from "./pool.ts";
import type { Run, Shell } from "./shell.ts";
import { AHEAD_PER_THREAD } from "./worker-setup.ts";

/** Lists up to this many rows are judged without starting threads. */
const INLINE_ROWS = 2_000;

/** Runs `order`. */
export const order: Run = async (given, shell) => {
  const { words } = shell;
  const file = given.operands[0] ?? "-";
  const form = formOf(given.value("to") ?? "ndjson", shell);
  const workers = workersAsked(given, words);
  const { catalogs, devices } = loadSetup(given, words);
  const { shape, delimiter, rows } = await openList(file, given, shell);
  if (shape.columns.number === undefined && shape.columns.title === undefined) {
    throw new Stop(exits.usage, [`${file}: ${words.say("command_no_columns")}`]);
  }
  const judges = rowJudges({ catalogs, devices, shape, form, delimiter }, workers, shell);
  const tally = tallier();
  let bad = 0;
  let lastRow = 0;
  if (form === "csv") await shell.out.write(sheetRecord(sheetHeading(words), delimiter));
  try {
    await mapInOrder(
      rows,
      Math.max(1, workers) * AHEAD_PER_THREAD,
      async (piece) => ({ piece, judged: await judges.judge(piece) }),
      async ({ piece, judged }) => {
        for (const fault of piece.faults) shell.complain(csvFaultText(file, fault, shell));
        if (judged.text !== "") await shell.out.write(judged.text);
        if (form === "summary") tally.addTally(judged.tally);
        bad += piece.faults.length;
        lastRow = Math.max(lastRow, judged.row);
      },
    );
  } finally {
    await judges.end();
  }
  if (form === "summary") {
    const finder = rightNumberFinder(indexOf(catalogs));
    const summary = summarize(tally.tally(), { devices, finder, needs: "tried" });
    await shell.out.write(`${JSON.stringify(summary, null, 2)}\n`);
  }
  if (shell.signal.aborted) shell.complain(words.say("command_order_interrupted", { row: lastRow }));
  return bad > 0 ? exits.someBad : exits.done;
};

function formOf(text: string, { words }: Shell): OrderForm {
  const form = orderForms.find((each) => each === text);
  if (form !== undefined) return form;
  throw new Stop(exits.usage, [words.say("command_not_one_of", { option: "--to", value: text, known: orderForms })]);
}

/** Judges pieces of a list: here while it is short, in threads when it goes on. */
function rowJudges(
  setup: OrderLinesSetup,
  workers: number,
  { words, home }: Shell,
): { judge(piece: CsvPiece): Promise<JudgedRows>; end(): Promise<void> } {
  let inlineRowsLeft = workers === 0 ? Number.POSITIVE_INFINITY : INLINE_ROWS;
  let here: ReturnType<typeof makeRowJudge> | null = null;
  let pool: ReturnType<typeof startPool<CsvPiece["rows"], JudgedRows>> | null = null;
  return {
    async judge({ rows }) {
      if (inlineRowsLeft > 0) {
        inlineRowsLeft -= rows.length;
        here ??= makeRowJudge(setup, rules, words);
        return here(rows);
      }
      here = null;
      const { language } = words;
      pool ??= startPool(new URL("worker.mjs", home), workers, { kind: "order", setup, language });
      return pool.run(rows);
    },
    end: async () => pool?.end(),
  };
}
