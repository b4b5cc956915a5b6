/**
 * Work on every core with results in order: batches go to worker threads, each of which holds its own filter. How
 * far the input runs ahead of the output is bounded, so memory stays flat however slow the reader of the output is.
 */
import { Worker } from "node:worker_threads";
import type { JudgedLines, JudgeSetup } from "./judge-lines.ts";

/** What a worker is started with. */
export interface WorkerSetup {
  readonly setup: JudgeSetup;
  readonly language: string;
}

/** One batch for a worker. */
export interface WorkerTask {
  readonly bytes: Uint8Array;
  readonly firstLine: number;
}

/** Threads that judge. */
export interface Pool {
  judge(task: WorkerTask): Promise<JudgedLines>;
  end(): Promise<void>;
}

interface Waiting {
  resolve(result: JudgedLines): void;
  reject(error: unknown): void;
}

interface Thread {
  readonly worker: Worker;
  /** Tasks sent and not yet answered; a worker answers in the order of asking. */
  readonly waiting: Waiting[];
}

/** Starts the threads; they load in parallel while the first batches are read. */
export function startPool(script: URL, size: number, workerData: WorkerSetup): Pool {
  const threads = Array.from({ length: size }, () => startThread(script, workerData));
  return {
    judge(task) {
      const thread = threads.reduce((least, each) => (each.waiting.length < least.waiting.length ? each : least));
      // A copy: what is handed to the thread is lost here, and a Buffer shares its memory with others.
      const own = new Uint8Array(task.bytes);
      return new Promise((resolve, reject) => {
        thread.waiting.push({ resolve, reject });
        thread.worker.postMessage({ ...task, bytes: own }, [own.buffer]);
      });
    },
    async end() {
      await Promise.all(threads.map(({ worker }) => worker.terminate()));
    },
  };
}

function startThread(script: URL, workerData: WorkerSetup): Thread {
  const worker = new Worker(script, { workerData });
  const waiting: Waiting[] = [];
  const failAll = (error: unknown): void => {
    for (const each of waiting.splice(0)) each.reject(error);
  };
  worker.on("message", (result: JudgedLines) => waiting.shift()?.resolve(result));
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
