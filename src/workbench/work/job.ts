/** Long work that runs beside the page: how far it is, and how it is told to stop. */

/** What a piece of long work is given. */
export interface Job {
  readonly signal: AbortSignal;
  /** Tells how far the work is, 0 to 1. */
  progress(done: number): void;
}

/** What whoever asks for long work may hand over. */
export interface JobRequest {
  readonly signal?: AbortSignal;
  readonly onProgress?: (done: number) => void;
}

/** How long work may go on before it lets messages in, in milliseconds. */
const SLICE_MS = 30;

/**
 * Lets messages in now and then, so that long work hears when it is cancelled.
 *
 * @param now a clock in milliseconds
 * @returns to be awaited inside of the loop; throws the signal's reason once the work is cancelled
 */
export function breather({ signal }: Job, now: () => number = () => performance.now()): () => Promise<void> {
  let since = now();
  return async () => {
    if (now() - since >= SLICE_MS) {
      await new Promise((resolve) => setTimeout(resolve, 0));
      since = now();
    }
    signal.throwIfAborted();
  };
}
