// @ts-check
/**
 * The page reader alone in a real Chromium: pages of 240 and 2,000 cards and one without listings, first reading
 * (nothing compiled yet) and later ones; the longest task of a sliced reading; script memory while a page moves.
 *
 * Times are also given as a ratio to a yardstick of the same run: one walk over all texts of the same page that tests
 * each against a short pattern. A shared machine stretches both alike.
 *
 *   npm run bench -- page                  a minute of changes
 *   FALSEFIT_BENCH_LONG=1 npm run bench -- page     ten minutes of changes
 */

import { fileURLToPath } from "node:url";
import { build } from "esbuild";
import { chromium } from "playwright-core";
import { gatherRules } from "../../manifest/rules-plugin.mjs";
import { findBrowser } from "../../src/headless/find-browser.mjs";

const found = findBrowser("chromium");
if (found === null) {
  console.log("skipped: no Chromium-family browser is installed");
  process.exit(0);
}

const LOADS = 7;
const CHANGING_MS = process.env["FALSEFIT_BENCH_LONG"] === "1" ? 600_000 : 60_000;

const built = await build({
  absWorkingDir: fileURLToPath(new URL("../..", import.meta.url)),
  stdin: {
    contents: `
      import { readPage } from "./src/page/read.ts";
      import { watchPage } from "./src/page/watch.ts";
      globalThis.reader = { readPage, watchPage };
    `,
    resolveDir: fileURLToPath(new URL("../..", import.meta.url)),
    loader: "ts",
  },
  bundle: true,
  write: false,
  minify: true,
  charset: "utf8",
  format: "iife",
});
const code = built.outputFiles?.[0]?.text ?? "";
const words = (gatherRules()["pageWords"] ?? []).filter(
  (/** @type {{ language: string }} */ one) => one.language === "en",
);
const script = `${code}\nreader.pageWords = ${JSON.stringify(words)};`;
console.log(`the reader, minified, without word lists: ${(Buffer.byteLength(code) / 1024).toFixed(1)} kB`);

/** @param {number} n */
const card = (n) =>
  `<li class="card"><a href="/p/${n}" class="l"><img src="data:," alt="Battery pack PB-${1000 + n}"><h2 class="t">Battery pack PB-${1000 + n} for Lark ${n % 40} late board</h2><span class="price">${n % 3 === 0 ? `<del>$99.00</del> <ins>$${20 + (n % 70)}.90</ins>` : `<span>$${20 + (n % 70)}.90</span>`}</span></a><p class="ship">+ $4.90 shipping</p><p class="cond">Used</p><a href="?add=${n}" class="button">Add to cart</a></li>`;
/** @param {string} main */
const frame = (main) =>
  `<!doctype html><html lang="en"><head><style>li.card{width:200px;float:left}</style></head><body><header><nav><ul>${Array.from({ length: 40 }, (_, n) => `<li><a href="/c/${n}">Category ${n}</a></li>`).join("")}</ul></nav><div>Basket $0.00</div></header><main>${main}</main><footer>${Array.from({ length: 30 }, (_, n) => `<a href="/f/${n}">Link ${n}</a>`).join(" ")}</footer></body></html>`;
/** @param {number} count */
const grid = (count) =>
  frame(`<h1>Batteries</h1><ul id="list">${Array.from({ length: count }, (_, n) => card(n)).join("")}</ul>`);
const article = frame(
  `<article><h1>How packs age</h1>${Array.from({ length: 150 }, (_, n) => `<p>Some <b>packs</b> last ${n} years and <a href="/x/${n}">others</a> do not; the reasons are many, and none is told here in full, however long the text.</p>`).join("")}</article>`,
);

const browser = await chromium.launch({
  executablePath: found.path,
  args: ["--no-sandbox", "--enable-precise-memory-info"],
});

/** @param {string} html */
async function open(html) {
  const page = await browser.newPage();
  await page.setContent(html);
  await page.addScriptTag({ content: script });
  await page.evaluate("document.body.offsetHeight");
  return page;
}

/** @param {number[]} values */
const median = (values) => [...values].sort((a, b) => a - b)[values.length >> 1] ?? 0;

console.log(
  `\npage                 first ms: least, median   later ms: least, median   later / yardstick   longest task`,
);
for (const [name, html] of /** @type {const} */ ([
  ["no listing", article],
  ["240 cards", grid(240)],
  ["2,000 cards", grid(2_000)],
])) {
  const first = [];
  const later = [];
  const ratios = [];
  let longest = 0;
  for (let load = 0; load < LOADS; load++) {
    const page = await open(html);
    const run = /** @type {{ first: number, later: number[], yard: number[], longest: number }} */ (
      await page.evaluate(`(async () => {
        const timed = (task) => { const start = performance.now(); task(); return performance.now() - start; };
        const read = () => reader.readPage(document, { pageWords: reader.pageWords });
        const yardstick = () => {
          const walker = document.createTreeWalker(document.body, 4);
          let hits = 0;
          for (let node = walker.nextNode(); node !== null; node = walker.nextNode()) if (/[$€£]\\d/.test(node.data)) hits++;
          return hits;
        };
        const first = timed(read);
        const later = Array.from({ length: 10 }, () => timed(read));
        const yard = Array.from({ length: 5 }, () => timed(() => { for (let turn = 0; turn < 50; turn++) yardstick(); }) / 50);
        const tasks = [];
        new PerformanceObserver((list) => tasks.push(...list.getEntries().map((entry) => entry.duration))).observe({ type: "longtask" });
        const control = new AbortController();
        await new Promise((resolve) => {
          reader.watchPage(document, { pageWords: reader.pageWords }, control.signal, resolve);
          setTimeout(resolve, 3_000);
        });
        await new Promise((resolve) => setTimeout(resolve, 200));
        control.abort();
        return { first, later, yard, longest: Math.max(0, ...tasks) };
      })()`)
    );
    await page.close();
    first.push(run.first);
    later.push(...run.later);
    ratios.push(Math.min(...run.later) / Math.min(...run.yard));
    longest = Math.max(longest, run.longest);
  }
  const pair = (/** @type {number[]} */ values) => `${Math.min(...values).toFixed(1)}, ${median(values).toFixed(1)}`;
  console.log(
    `${name.padEnd(20)} ${pair(first).padEnd(26)} ${pair(later).padEnd(26)} ${median(ratios).toFixed(1).padEnd(19)} ${longest === 0 ? "under 50 ms" : `${longest.toFixed(0)} ms`}`,
  );
}

console.log(`\nmemory while 240 cards are replaced, scrolled in and dropped, ${CHANGING_MS / 1000} s`);
const page = await open(grid(240));
await page.evaluate(`{
  window.card = ${card.toString()};
  window.reports = 0;
  reader.watchPage(document, { pageWords: reader.pageWords }, new AbortController().signal, () => window.reports++);
  let turn = 240;
  window.beat = setInterval(() => {
    const list = document.getElementById("list");
    for (let n = 0; n < 12; n++) {
      list.firstElementChild?.remove();
      list.insertAdjacentHTML("beforeend", card(turn++));
    }
  }, 500);
}`);
const client = await page.context().newCDPSession(page);
const started = Date.now();
for (let sample = 0; sample <= 6; sample++) {
  await page.waitForTimeout(sample === 0 ? 2_000 : CHANGING_MS / 6);
  await client.send("HeapProfiler.collectGarbage");
  const { used, reports } = /** @type {{ used: number, reports: number }} */ (
    await page.evaluate("({ used: performance.memory.usedJSHeapSize, reports: window.reports })")
  );
  console.log(
    `${String(Math.round((Date.now() - started) / 1000)).padStart(5)} s  ${(used / 1e6).toFixed(1)} MB  ${reports} reports`,
  );
}
await browser.close();
