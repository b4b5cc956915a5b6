// @ts-check
/**
 * What the extension adds to a page in a real Chromium: script time on pages of 240 and 2,000 listings and on a page
 * without any, the longest task, layout shift, and how soon the popup answers. Figures come from the browser's own
 * trace: time of function calls and evaluations whose script is the extension's.
 */
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { openChromium } from "../../fixtures/browser.mjs";
import { buildExtension } from "../../manifest/pack.mjs";
import { findBrowser } from "../../src/headless/find-browser.mjs";
import { load } from "./load.mjs";

const RUNS = 5;
const browser = findBrowser("chromium");
if (browser === null) {
  console.log("skipped: no Chromium-family browser is installed");
  process.exit(0);
}

const { openShop } = await load('export { openShop } from "./tests/browser/pages/shop.ts";');
const folder = process.env["FALSEFIT_EXTENSION"] ?? (await buildExtension("chromium", { test: true }));
const { context, extensionOrigin, close } = await openChromium({ browser, folder, headless: true });
const shop = await openShop();

const popup = await context.newPage();
await popup.goto(`${extensionOrigin}/popup.html`);
await popup.getByRole("button", { name: "Look at an example first" }).click();
await popup.getByRole("radio").first().waitFor();

console.log(
  `page                     script ms: least, median   longest task ms: least, median   marks   shift   (${RUNS} loads)`,
);
for (const [name, path] of /** @type {const} */ ([
  ["no listing", "/empty"],
  ["240 listings", "/grid?n=240"],
  ["2,000 listings", "/grid?n=2000"],
])) {
  /** @type {Record<string, number>[]} */
  const runs = [];
  for (let i = 0; i < RUNS; i++) runs.push(await measure(path));
  const all = (/** @type {string} */ key) => runs.map((run) => run[key] ?? 0);
  const times = ["script_ms", "longest_ms"].flatMap((key) => [Math.min(...all(key)), median(all(key))]);
  const row = [...times.map((value) => value.toFixed(1)), median(all("marks")), median(all("shift"))];
  console.log(name.padEnd(24), row.map((value) => String(value).padStart(9)).join("  "));
}

const answers = [];
for (let i = 0; i < RUNS; i++) {
  await popup.reload();
  await popup.getByRole("radio").first().waitFor();
  answers.push(
    await popup.evaluate(() => performance.getEntriesByName("falsefit-interactive")[0]?.startTime ?? Number.NaN),
  );
}
console.log(`popup answers after ${median(answers).toFixed(0)} ms (median of ${RUNS}), from navigation to drawn`);
await shop.close();
await close();

/**
 * @param {string} path
 * @returns {Promise<Record<string, number>>}
 */
async function measure(path) {
  const page = await context.newPage();
  await page.addInitScript(() => {
    const scope = /** @type {any} */ (window);
    scope.shift = 0;
    new PerformanceObserver((list) => {
      for (const entry of list.getEntries()) scope.shift += /** @type {any} */ (entry).value;
    }).observe({ type: "layout-shift", buffered: true });
  });
  const folder = mkdtempSync(join(tmpdir(), "falsefit-trace-"));
  const session = await context.newCDPSession(page);
  /** @type {any[]} */
  const events = [];
  session.on("Tracing.dataCollected", ({ value }) => events.push(...value));
  await session.send("Tracing.start", {
    transferMode: "ReportEvents",
    traceConfig: { includedCategories: ["devtools.timeline", "disabled-by-default-v8.cpu_profiler", "v8.execute"] },
  });
  await page.goto(shop.origin + path);
  if (path !== "/empty") await page.locator(".mark:not([hidden])").first().waitFor();
  await page.waitForTimeout(path.includes("2000") ? 3_000 : 1_200);
  const done = new Promise((resolve) => session.once("Tracing.tracingComplete", resolve));
  await session.send("Tracing.end");
  await done;
  const marks = await page.locator(".mark").count();
  const shift = await page.evaluate(() => /** @type {any} */ (window).shift);
  await page.close();
  rmSync(folder, { recursive: true });
  return { ...scriptTimes(events, extensionOrigin), marks, shift };
}

/**
 * Outermost script events of the extension on the page's main thread.
 *
 * @param {any[]} events
 * @param {string} origin
 */
function scriptTimes(events, origin) {
  const ours = events
    .filter(({ name, ph, args, dur }) => ph === "X" && dur !== undefined && isOurs(name, args, origin))
    .sort((a, b) => a.ts - b.ts);
  let total = 0;
  let longest = 0;
  let end = 0;
  for (const { ts, dur, tdur } of ours) {
    if (ts < end) continue;
    end = ts + dur;
    // The thread's own time, where the trace has it: a busy machine does not count against the page.
    const spent = tdur ?? dur;
    total += spent;
    longest = Math.max(longest, spent);
  }
  return { script_ms: total / 1000, longest_ms: longest / 1000 };
}

/**
 * @param {string} name
 * @param {any} args
 * @param {string} origin
 */
function isOurs(name, args, origin) {
  if (!["FunctionCall", "EvaluateScript", "v8.compile"].includes(name)) return false;
  return String(args?.data?.url ?? "").startsWith(`${origin}/`);
}

/** @param {number[]} values */
function median(values) {
  return [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? Number.NaN;
}
