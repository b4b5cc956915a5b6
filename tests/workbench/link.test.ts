import { describe, expect, it, vi } from "vitest";
import { breather, type Job } from "../../src/workbench/work/job.ts";
import { connect, nearby, type Port, serve, type WorkerPort } from "../../src/workbench/work/link.ts";

/** Two ends of a channel that copy what they carry, as a worker's do. */
function channel(): { page: WorkerPort; worker: Port; fallOver: (message: string) => void } {
  const toWorker = new Set<(event: MessageEvent) => void>();
  const toPage = new Set<(event: MessageEvent) => void>();
  const onError = new Set<(event: ErrorEvent) => void>();
  const post = (listeners: Set<(event: MessageEvent) => void>) => (message: unknown) => {
    const data = structuredClone(message);
    queueMicrotask(() => {
      for (const listener of listeners) listener({ data } as MessageEvent);
    });
  };
  return {
    page: {
      postMessage: post(toWorker),
      addEventListener(type: "message" | "error", listener: never) {
        if (type === "message") toPage.add(listener);
        else onError.add(listener);
      },
    },
    worker: { postMessage: post(toPage), addEventListener: (_type, listener) => toWorker.add(listener) },
    fallOver(message) {
      for (const listener of onError) listener({ message } as ErrorEvent);
    },
  };
}

const services = {
  double: async (value: number) => value * 2,
  fail: async () => {
    throw new RangeError("out of bounds");
  },
  count: async (to: number, job: Job) => {
    const breathe = breather(job, () => performance.now() + 1e6 * Math.random());
    for (let i = 1; i <= to; i++) {
      job.progress(i / to);
      await breathe();
    }
    return to;
  },
  never: () => new Promise<null>(() => undefined),
};

describe("calls to a worker", () => {
  it("bring back values and failures, each to its own call", async () => {
    const { page, worker } = channel();
    serve(worker, services);
    const remote = connect<typeof services>(page);
    const [two, failure, six] = await Promise.all([
      remote.double(1),
      remote.fail(undefined as never).catch((error: Error) => error.message),
      remote.double(3),
    ]);
    expect([two, failure, six]).toEqual([2, "out of bounds", 6]);
  });

  it("tell how far they are and stop when they are cancelled", async () => {
    const { page, worker } = channel();
    serve(worker, services);
    const remote = connect<typeof services>(page);
    const heard: number[] = [];
    expect(await remote.count(4, { onProgress: (done) => heard.push(done) })).toBe(4);
    expect(heard).toEqual([0.25, 0.5, 0.75, 1]);

    const stop = new AbortController();
    const late: number[] = [];
    const counting = remote.count(1e9, { signal: stop.signal, onProgress: (done) => late.push(done) });
    await new Promise((resolve) => setTimeout(resolve, 5));
    stop.abort(new Error("enough"));
    await expect(counting).rejects.toThrow("enough");
    const before = late.length;
    await new Promise((resolve) => setTimeout(resolve, 20));
    expect(late.length).toBe(before);
    await expect(remote.double(1, { signal: stop.signal })).rejects.toThrow("enough");
  });

  it("fail, rather than hang, when there is no such service or the worker falls over", async () => {
    const { page, worker, fallOver } = channel();
    serve(worker, services);
    const remote = connect<typeof services & { constructor: () => Promise<null> }>(page);
    await expect((remote as unknown as Record<string, () => Promise<null>>)["toString"]?.()).rejects.toThrow(
      'no "toString"',
    );
    const waiting = remote.never(undefined as never);
    fallOver("could not start");
    await expect(waiting).rejects.toThrow("could not start");
  });

  it("are the same without a worker", async () => {
    const progress = vi.fn();
    expect(await nearby(services).count(2, { onProgress: progress })).toBe(2);
    expect(progress).toHaveBeenLastCalledWith(1);
  });
});
