/** Work in short slices, so that the page answers while a long list is judged. */

/** Longest time that one slice takes, in milliseconds. */
const SLICE_MS = 4;

/**
 * Does the work for each item, giving the page its turn every few milliseconds. Stops when the signal is raised.
 * One item that fails is reported and does not stop the others.
 */
export async function inSlices<T>(items: Iterable<T>, signal: AbortSignal, work: (item: T) => void): Promise<void> {
  let until = performance.now() + SLICE_MS;
  for (const item of items) {
    if (signal.aborted) return;
    if (performance.now() >= until) {
      await nextTurn();
      until = performance.now() + SLICE_MS;
      if (signal.aborted) return;
    }
    try {
      work(item);
    } catch (error) {
      console.error("Falsefit: one listing could not be handled.", error);
    }
  }
}

/** Comes back after the browser has had time for input and drawing. */
function nextTurn(): Promise<void> {
  const { scheduler } = globalThis as { scheduler?: { yield?: () => Promise<void> } };
  if (scheduler?.yield) return scheduler.yield();
  return new Promise((resolve) => setTimeout(resolve));
}
