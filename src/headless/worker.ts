/** What each thread of `check` runs: its own filter, batches in, judged lines out. */

import rules from "falsefit:rules";
import { parentPort, workerData } from "node:worker_threads";
import { makeLineJudge } from "./judge-lines.ts";
import type { WorkerSetup, WorkerTask } from "./pool.ts";
import { loadWords } from "./say.ts";

const { setup, language } = workerData as WorkerSetup;
const judgeLines = makeLineJudge(setup, rules, await loadWords(language));
parentPort?.on("message", ({ bytes, firstLine }: WorkerTask) => {
  parentPort?.postMessage(judgeLines(bytes, firstLine));
});
