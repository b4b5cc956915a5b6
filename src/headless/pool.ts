/**
 * Work on every core with results in order: batches go to worker threads, each of which holds its own judge. How far
 * the input runs ahead of the output is bounded, so memory stays flat however slow the reader of the output is.
 */
import { type TransferListItem, Worker } from "node:worker_threads";
import type { WorkerSetup } from "./worker-setup.ts";

/** Threads that turn tasks into results. */
export interface Pool<Task, Result> {
  /** @param handOver memory that the thread takes over; it is lost here */
  run(task: Task, handOver?: readonly TransferListItem[]): Promise<Result>;
  end(): Promise<void>;
}

interface Waiting<Result> {
  resolve(result: Result): void;
  reject(error: unknown): void;
}

interface Thread<Result> {
  readonly worker: Worker;
  /** Tasks sent and not yet answered; a worker answers in the order of asking. */
  readonly waiting: Waiting<Result>[];
}

/** Starts the threads; they load in parallel while the first batches are read. */
export function startPool<Task, Result>(script: URL, size: number, workerData: WorkerSetup): Pool<Task, Result> {
  const threads = Array.from({ length: size }, () => startThread<Result>(script, workerData));
  return {
    run(task, handOver = []) {
      const thread = threads.reduce((least, each) => (each.waiting.length < least.waiting.length ? each : least));
      return new Promise((resolve, reject) => {
        thread.waiting.push({ resolve, reject });
        thread.worker.postMessage(task, handOver);
      });
    },
    async end() {
      await Promise.all(threads.map(({ worker }) => worker.terminate()));
    },
  };
}

/** Room for what a thread makes and drops with every line, in MB: with less, it is tidied up too often. */
const YOUNG_MB = 32;

function startThread<Result>(script: URL, workerData: WorkerSetup): Thread<Result> {
  const worker = new Worker(script, { workerData, resourceLimits: { maxYoungGenerationSizeMb: YOUNG_MB } });
  const waiting: Waiting<Result>[] = [];
  const failAll = (error: unknown): void => {
    for (const each of waiting.splice(0)) each.reject(error);
  };
  worker.on("message", (result: Result) => waiting.shift()?.resolve(result));
  worker.on("error", failAll);
  worker.on("exit", (code) => failAll(new Error(`a worker thread ended early (code ${code})`)));
  return { worker, waiting };
}

/**
 * Maps items as they come, several at a time, and hands on the results in order.
 *
 * @param ahead how many items may be under way or waiting for their turn
 * @param give called with each result in order; reading waits for it
 */
export async function mapInOrder<Item, Result>(
  items: AsyncIterable<Item>,
  ahead: number,
  work: (item: Item) => Promise<Result>,
  give: (result: Result) => Promise<void>,
): Promise<void> {
  const queue: Promise<Result>[] = [];
  let ended = false;
  let failure: { readonly error: unknown } | null = null;
  let changed = (): void => undefined;
  const change = (): Promise<void> =>
    new Promise((resolve) => {
      changed = resolve;
    });

  const takeIn = async (): Promise<void> => {
    try {
      for await (const item of items) {
        if (failure) break;
        const result = work(item);
        // Failures are met in order by the giving side; until then they are no unhandled rejections.
        result.catch(() => undefined);
        queue.push(result);
        changed();
        while (queue.length >= ahead && !failure) await change();
      }
    } finally {
      ended = true;
      changed();
    }
  };
  const handOn = async (): Promise<void> => {
    try {
      while (queue.length > 0 || !ended) {
        const next = queue[0];
        if (!next) {
          await change();
          continue;
        }
        await give(await next);
        queue.shift();
        changed();
      }
    } catch (error) {
      failure = { error };
      changed();
      throw error;
    }
  };
  await Promise.all([takeIn(), handOn()]);
}
