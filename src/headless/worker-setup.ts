/** What a worker thread is started with, and how much work goes where. */
import type { JudgeSetup } from "./judge-lines.ts";
import type { OrderLinesSetup } from "./order-lines.ts";

/** The work of a thread; sent once, when it starts. */
export type WorkerSetup =
  | { readonly kind: "check"; readonly setup: JudgeSetup; readonly language: string }
  | { readonly kind: "order"; readonly setup: OrderLinesSetup; readonly language: string };

/** One batch of lines for a thread of `check`. */
export interface CheckTask {
  readonly bytes: Uint8Array;
  readonly firstLine: number;
}

/** Batches under way or waiting for their turn, for each thread. */
export const AHEAD_PER_THREAD = 4;
/** Most threads that may be asked for. */
export const MAX_WORKERS = 64;
