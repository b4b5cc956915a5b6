/** Lists for the browser tests of the desks, and what the browser says of long tasks. */
import { writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Page } from "playwright-core";

/** An order in German with a semicolon and decimal commas: right, wrong, doubtful, double, for no job. */
export const germanOrder = [
  "Auftrag;Teile-Nr.;Bezeichnung;Menge;Einzelpreis (EUR)",
  "demo-lark-late;PB-2240;Akku für PL-20;1;36,00",
  "demo-lark-late;PB-1840;Akku für PL-20;2;12,10",
  "demo-lark-late;;Akku für PL-20;1;9,00",
  "demo-marlow-six;OF-B216;Akku;1;41,90",
  "demo-marlow-six;OF-B216;Akku;1;41,90",
  ";;Gartenstuhl;1;5,00",
].join("\r\n");

const PARTS = ["PB-1840", "PB-2240", "OF-B216", "OF-B257", "QD-4031", "HC-0611-B", "ZZ-9999"];

/** A file of so many lines, every third one for a job. */
export function longFile(lines: number): string {
  const rows = Array.from({ length: lines }, (_, i) => {
    const part = PARTS[i % PARTS.length];
    return `${i % 3 === 0 ? "demo-lark-late" : ""};${part};Battery pack ${part}, lot ${i};1;${10 + (i % 90)},50`;
  });
  const file = join(tmpdir(), `falsefit-order-${lines}.csv`);
  writeFileSync(file, `Job;Part number;Description;Qty;Unit price EUR\r\n${rows.join("\r\n")}\r\n`);
  return file;
}

/** Has the page note its long tasks (those over 50 ms by the clock) from its start. */
export async function noteLongTasks(page: Page): Promise<void> {
  await page.addInitScript(() => {
    const noted: number[] = [];
    Object.assign(globalThis, { noted });
    new PerformanceObserver((list) => {
      for (const { duration } of list.getEntries()) noted.push(Math.round(duration));
    }).observe({ type: "longtask", buffered: true });
  });
}

/** Durations of the long tasks noted since the last question, in milliseconds. */
export function longTasks(page: Page): Promise<number[]> {
  return page.evaluate(() => (globalThis as unknown as { noted: number[] }).noted.splice(0));
}

/**
 * The longest task of any page's main thread while something is done, in milliseconds of processor time. The clock
 * also counts the time in which the machine does something else; on a machine that does nothing else the two agree.
 */
export async function longestTask(page: Page, work: () => Promise<void>): Promise<number> {
  const session = await page.context().newCDPSession(page);
  const events: TraceEvent[] = [];
  session.on("Tracing.dataCollected", ({ value }) => events.push(...(value as unknown as TraceEvent[])));
  const ended = new Promise((resolve) => session.once("Tracing.tracingComplete", resolve));
  const traceConfig = {
    includedCategories: ["toplevel", "__metadata"],
    recordMode: "recordAsMuchAsPossible" as const,
  };
  await session.send("Tracing.start", { transferMode: "ReportEvents", traceConfig });
  await work();
  await session.send("Tracing.end");
  await ended;
  const threadOf = ({ pid, tid }: TraceEvent) => `${pid}/${tid}`;
  const named = events.filter(({ name, args }) => name === "thread_name" && args.name === "CrRendererMain");
  const mainThreads = new Set(named.map(threadOf));
  const tasks = events.filter((event) => /RunTask$/.test(event.name) && mainThreads.has(threadOf(event)));
  if (tasks.length === 0) throw new Error("The browser told of no task.");
  return tasks.reduce((longest, { tdur = 0 }) => Math.max(longest, tdur), 0) / 1000;
}

/** As the browser's tracing tells it; `tdur` is processor time in microseconds. */
interface TraceEvent {
  readonly name: string;
  readonly pid: number;
  readonly tid: number;
  readonly tdur?: number;
  readonly args: { readonly name?: string };
}
