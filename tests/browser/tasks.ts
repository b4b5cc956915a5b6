/** How long the tasks of a page's main thread take, by the thread's own clock: a busy machine does not count. */
import type { Page } from "playwright-core";

interface TraceEvent {
  readonly name: string;
  readonly ph: string;
  readonly pid: number;
  readonly tid: number;
  /** Microseconds of wall time and of the thread's own time. */
  readonly dur?: number;
  readonly tdur?: number;
  readonly args?: { readonly name?: string };
}

/**
 * Traces a page while something is done.
 *
 * @returns the thread times of its tasks in milliseconds, longest first
 */
export async function tracedTasks(page: Page, act: () => Promise<void>): Promise<number[]> {
  const session = await page.context().newCDPSession(page);
  const events: TraceEvent[] = [];
  session.on("Tracing.dataCollected", ({ value }) => {
    events.push(...(value as unknown as TraceEvent[]));
  });
  await session.send("Tracing.start", {
    transferMode: "ReportEvents",
    traceConfig: { includedCategories: ["toplevel", "disabled-by-default-devtools.timeline", "devtools.timeline"] },
  });
  await act();
  // A mark of the page's own thread: its process is the one to look at.
  await page.evaluate(() => console.timeStamp("own thread"));
  const done = new Promise((resolve) => session.once("Tracing.tracingComplete", resolve));
  await session.send("Tracing.end");
  await done;
  await session.detach();
  const own = events.find(({ name }) => name === "TimeStamp");
  return events
    .filter(({ name, pid, tid }) => name === "RunTask" && pid === own?.pid && tid === own?.tid)
    .map(({ tdur, dur }) => Math.round((tdur ?? dur ?? 0) / 100) / 10)
    .sort((a, b) => b - a);
}
