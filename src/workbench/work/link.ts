/**
 * Calls from the page to the worker. Services are plain objects of asynchronous functions; the last argument of each
 * is the {@link Job}, which the worker's end supplies. Values are copied by structured clone.
 */
import type { Job, JobRequest } from "./job.ts";

/** What runs in the worker: functions that take one plain value and a job. */
export type Services = Record<string, (input: never, job: Job) => Promise<unknown>>;

/** The same functions as the page sees them. */
export type Remote<S extends Services> = {
  readonly [K in keyof S]: (input: Parameters<S[K]>[0], job?: JobRequest) => ReturnType<S[K]>;
};

/** An end of a message channel, as a worker and its global scope both are. */
export interface Port {
  postMessage(message: unknown): void;
  addEventListener(type: "message", listener: (event: MessageEvent) => void): void;
}

/** The page's end, which also hears when the worker falls over. */
export interface WorkerPort extends Port {
  addEventListener(type: "message", listener: (event: MessageEvent) => void): void;
  addEventListener(type: "error", listener: (event: ErrorEvent) => void): void;
}

type ToWorker = { call: number; service: string; input: unknown } | { cancel: number };
type ToPage =
  | { done: number; value: unknown }
  | { failed: number; message: string }
  | { progress: number; part: number };

/** Answers calls that come in at a port. */
export function serve(port: Port, services: Services): void {
  const running = new Map<number, AbortController>();
  const reply = (message: ToPage) => port.postMessage(message);
  port.addEventListener("message", ({ data }: MessageEvent<ToWorker>) => {
    if ("cancel" in data) {
      running.get(data.cancel)?.abort();
      return;
    }
    const { call, service, input } = data;
    const stop = new AbortController();
    running.set(call, stop);
    const job: Job = { signal: stop.signal, progress: (part) => reply({ progress: call, part }) };
    perform(services, service, input, job)
      .then(
        (value) => reply({ done: call, value }),
        (error: unknown) => reply({ failed: call, message: error instanceof Error ? error.message : String(error) }),
      )
      .finally(() => running.delete(call));
  });
}

async function perform(services: Services, service: string, input: unknown, job: Job): Promise<unknown> {
  const work = Object.hasOwn(services, service) ? services[service] : undefined;
  if (work === undefined) throw new Error(`The worker has no "${service}".`);
  return work(input as never, job);
}

interface Waiting {
  readonly resolve: (value: unknown) => void;
  readonly reject: (reason: unknown) => void;
  readonly onProgress: ((done: number) => void) | undefined;
}

/** The services behind a port. A call whose signal is aborted rejects at once with the signal's reason. */
export function connect<S extends Services>(port: WorkerPort): Remote<S> {
  const waiting = new Map<number, Waiting>();
  let calls = 0;
  const take = (call: number): Waiting | undefined => {
    const found = waiting.get(call);
    waiting.delete(call);
    return found;
  };
  port.addEventListener("message", ({ data }: MessageEvent<ToPage>) => {
    if ("done" in data) take(data.done)?.resolve(data.value);
    else if ("failed" in data) take(data.failed)?.reject(new Error(data.message));
    else if ("progress" in data) waiting.get(data.progress)?.onProgress?.(data.part);
  });
  // A worker that could not start, or that fell over outside of any call, answers nobody.
  port.addEventListener("error", ({ message }) => {
    for (const call of [...waiting.keys()]) take(call)?.reject(new Error(message));
  });
  const send = (message: ToWorker) => port.postMessage(message);
  const callService = (service: string, input: unknown, { signal, onProgress }: JobRequest = {}) =>
    new Promise<unknown>((resolve, reject) => {
      if (signal?.aborted) return reject(signal.reason);
      const call = ++calls;
      waiting.set(call, { resolve, reject, onProgress });
      signal?.addEventListener("abort", () => {
        if (take(call) === undefined) return;
        send({ cancel: call });
        reject(signal.reason);
      });
      send({ call, service, input });
    });
  return new Proxy({} as Remote<S>, {
    get: (_, service) => (input: unknown, job?: JobRequest) => callService(String(service), input, job),
  });
}

/** The services in the page itself, for tests and for browsers that start no worker. */
export function nearby<S extends Services>(services: S): Remote<S> {
  const job = ({ signal, onProgress }: JobRequest = {}): Job => ({
    signal: signal ?? new AbortController().signal,
    progress: (part) => onProgress?.(part),
  });
  const calls = Object.entries(services).map(([name, work]) => [
    name,
    (input: never, asked?: JobRequest) => work(input, job(asked)),
  ]);
  return Object.fromEntries(calls) as Remote<S>;
}
