// @ts-check
/**
 * The index of part numbers against its budgets: 1,000,000 numbers in at most 60 MB, opened in at most 100 ms; finding the
 * numbers of a title as a ratio to a bare character scan of the same titles; ten times the catalog.
 */
import { build } from "esbuild";

const { outputFiles } = await build({
  stdin: {
    contents: `
      export { openNumberIndex } from "./number-index.ts";
      export { buildNumberIndex } from "./number-index-builder.ts";
      export { numberCandidates, tokenise } from "./tokens.ts";
      export { foldVisible } from "./fold.ts";
    `,
    resolveDir: new URL("../../src/text", import.meta.url).pathname,
    loader: "ts",
  },
  bundle: true,
  format: "esm",
  minify: true,
  write: false,
});
const code = outputFiles[0]?.text ?? "";
const { buildNumberIndex, openNumberIndex, numberCandidates, tokenise, foldVisible } = await import(
  `data:text/javascript,${encodeURIComponent(code)}`
);

const LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ";
const WORDS = [
  "battery",
  "for",
  "Marlow 300",
  "new",
  "Ersatzakku",
  "11.1V",
  "5200mAh",
  "replacement",
  "2021",
  "in stock",
];

/** A small repeatable generator (a linear congruence), so that every run measures the same. */
function numbersFrom(/** @type {number} */ seed) {
  let state = seed;
  return () => {
    state = (Math.imul(state, 1_103_515_245) + 12_345) >>> 0;
    return state >>> 8;
  };
}

/** @returns {Generator<[string, number]>} */
function* invented(/** @type {number} */ count) {
  const next = numbersFrom(7);
  for (let i = 0; i < count; i++) {
    const letters = (LETTERS[next() % 24] ?? "") + (LETTERS[next() % 24] ?? "");
    yield [`${letters}${String(i).padStart(6, "0")}${i % 3 === 0 ? "" : (LETTERS[next() % 24] ?? "")}`, i];
  }
}

/** @param {() => unknown} work */
function milliseconds(work) {
  const start = performance.now();
  work();
  return performance.now() - start;
}

/** The fastest of some runs: what the machine can do when nothing else does. */
function best(/** @type {number} */ runs, /** @type {() => unknown} */ work) {
  return Math.min(...Array.from({ length: runs }, () => milliseconds(work)));
}

const print = (/** @type {string} */ name, /** @type {string} */ figure) => console.log(`${name.padEnd(58)} ${figure}`);

function titles(/** @type {number} */ count, /** @type {string[]} */ known) {
  const next = numbersFrom(11);
  return Array.from({ length: count }, (_, i) => {
    const words = Array.from({ length: 7 }, () => WORDS[next() % WORDS.length]);
    words.splice(next() % 7, 0, i % 2 === 0 ? known[next() % known.length] : `XQ${next() % 100_000}`);
    return words.join(" ");
  });
}

function scan(/** @type {string[]} */ all) {
  let sum = 0;
  for (const title of all) for (let i = 0; i < title.length; i++) sum += title.charCodeAt(i);
  return sum;
}

/** Every known number of every title: what matching pays for knowing many numbers. */
function findNumbers(/** @type {string[]} */ all, /** @type {any} */ index) {
  let found = 0;
  for (const title of all) {
    const { text } = foldVisible(title);
    const tokens = tokenise(text);
    for (let i = 0; i < tokens.length; i++) {
      if (!index.mayBegin(text, tokens[i]?.start ?? 0)) continue;
      for (const candidate of numberCandidates(text, tokens, i, index.longest))
        if (index.has(candidate.canonical)) found++;
    }
  }
  return found;
}

print("code of index, folding and tokens, minified", `${(code.length / 1000).toFixed(1)} kB`);
/** @type {Map<number, { index: any, known: string[] }>} */
const catalogs = new Map();
for (const count of [100_000, 1_000_000]) {
  const entries = [...invented(count)];
  /** @type {any} */
  let index;
  const built = milliseconds(() => {
    index = buildNumberIndex(entries);
  });
  const bytes = index.toBytes();
  const opened = best(5, () => openNumberIndex(bytes));
  print(`${count} numbers: built`, `${built.toFixed(0)} ms`);
  print(`${count} numbers: resident`, `${(bytes.byteLength / 1e6).toFixed(1)} MB`);
  print(`${count} numbers: opened`, `${opened.toFixed(2)} ms`);
  catalogs.set(count, { index, known: entries.map(([number]) => number) });
}

/** @type {Record<number, number>} */
const ratios = {};
for (const [count, { index, known }] of catalogs) {
  const all = titles(20_000, known);
  const bare = best(9, () => scan(all));
  const read = best(9, () => findNumbers(all, { has: () => false, mayBegin: () => false }));
  const matched = best(9, () => findNumbers(all, index));
  ratios[count] = matched;
  print(`${count} numbers: bare scan, a title`, `${((bare / all.length) * 1e6).toFixed(0)} ns`);
  print(`${count} numbers: folding and tokens alone`, `${(read / bare).toFixed(1)} × the scan`);
  print(`${count} numbers: with look-ups`, `${(matched / bare).toFixed(1)} × the scan`);
  const unknown = known.slice(0, 2000).map((number) => `Z${number}`);
  const near = best(3, () => {
    for (const number of unknown) index.nearest(number);
  });
  print(`${count} numbers: one character apart, a number`, `${((near / unknown.length) * 1000).toFixed(1)} µs`);
}
print("ten times the numbers, a title", `${((ratios[1_000_000] ?? 0) / (ratios[100_000] ?? 1)).toFixed(2)} ×`);
