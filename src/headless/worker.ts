/** What each thread runs: its own judge, batches in, judged lines out. */

import rules from "falsefit:rules";
import { parentPort, workerData } from "node:worker_threads";
import type { CsvRow } from "../desks/csv-rows.ts";
import { makeLineJudge } from "./judge-lines.ts";
import { makeRowJudge } from "./order-lines.ts";
import { loadWords } from "./say.ts";
import type { CheckTask, WorkerSetup } from "./worker-setup.ts";

const work = workerData as WorkerSetup;
const words = await loadWords(work.language);
if (work.kind === "check") {
  const judgeLines = makeLineJudge(work.setup, rules, words);
  parentPort?.on("message", ({ bytes, firstLine }: CheckTask) => {
    const judged = judgeLines(bytes, firstLine);
    parentPort?.postMessage(judged, [judged.bytes.buffer]);
  });
} else {
  const judgeRows = makeRowJudge(work.setup, rules, words);
  parentPort?.on("message", (rows: readonly CsvRow[]) => {
    parentPort?.postMessage(judgeRows(rows));
  });
}
