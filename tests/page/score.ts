/** Compares what was read from the invented pages with their truth files, and adds up figures. */
import { readdirSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import type { Listing } from "../../src/formats/listing.ts";

/** `open` pages may be tuned on, `sealed` ones are held back, `strange` ones were written by hand afterwards. */
export type PageSet = "open" | "sealed" | "strange";

/** One page of the index that the generator writes. */
export interface IndexedPage {
  readonly name: string;
  readonly set: PageSet;
  readonly decoys: number;
  readonly locale: string;
}

/** Folder of the invented pages. */
const PAGES = fileURLToPath(new URL("../../fixtures/pages/", import.meta.url));

/** Every page of a set. */
export function pagesOf(set: PageSet): IndexedPage[] {
  if (set === "strange") return strangePages();
  const index = JSON.parse(readFileSync(`${PAGES}index.json`, "utf8")) as IndexedPage[];
  return index.filter((page) => page.set === set);
}

function strangePages(): IndexedPage[] {
  return readdirSync(`${PAGES}strange`)
    .filter((file) => file.endsWith(".html"))
    .sort()
    .map((file) => ({ name: file.slice(0, -".html".length), set: "strange", decoys: 0, locale: "" }));
}

/** The page's HTML. */
export function htmlOf(page: IndexedPage): string {
  return readFileSync(`${PAGES}${page.set}/${page.name}.html`, "utf8");
}

/** The listings that the page's generator wrote. */
export function truthOf(page: IndexedPage): Listing[] {
  const text = readFileSync(`${PAGES}${page.set}/${page.name}.ndjson`, "utf8");
  return text
    .split("\n")
    .filter((line) => line !== "")
    .map((line) => JSON.parse(line) as Listing);
}

/** Figures over one or many pages. */
export interface Score {
  truth: number;
  found: number;
  matched: number;
  title: number;
  price: number;
  shipping: number;
  condition: number;
  related: number;
  specifics: number;
  decoys: number;
  decoysTaken: number;
}

/** A score of nothing. */
export function emptyScore(): Score {
  return {
    truth: 0,
    found: 0,
    matched: 0,
    title: 0,
    price: 0,
    shipping: 0,
    condition: 0,
    related: 0,
    specifics: 0,
    decoys: 0,
    decoysTaken: 0,
  };
}

/** Adds one page to the score; gives back what was wrong, a line each. */
export function addPage(score: Score, page: IndexedPage, found: readonly Listing[]): string[] {
  const truth = truthOf(page);
  const wrong: string[] = [];
  score.truth += truth.length;
  score.found += found.length;
  score.decoys += page.decoys;
  const free = [...found];
  let lastAt = -1;
  for (const wanted of truth) {
    const at = free.findIndex((listing) => isSameItem(listing, wanted));
    if (at < 0) {
      wrong.push(`missing ${wanted.title}`);
      continue;
    }
    const [got] = free.splice(at, 1) as [Listing];
    score.matched++;
    const order = found.indexOf(got);
    if (order < lastAt) wrong.push(`out of order ${wanted.title}`);
    lastAt = order;
    compareFields(score, wanted, got, wrong);
  }
  score.decoysTaken += free.length;
  for (const extra of free) wrong.push(`extra ${JSON.stringify(extra)}`);
  return wrong;
}

function isSameItem(got: Listing, wanted: Listing): boolean {
  return wanted.url !== undefined ? got.url === wanted.url : got.title === wanted.title;
}

function compareFields(score: Score, wanted: Listing, got: Listing, wrong: string[]): void {
  const same = (name: keyof Listing) => text(wanted[name]) === text(got[name]);
  const differ = (name: keyof Listing) => wrong.push(`${name}: ${text(got[name])} instead of ${text(wanted[name])}`);
  for (const name of ["title", "price", "shipping", "condition", "related"] as const) {
    if (same(name)) score[name]++;
    else differ(name);
  }
  if (!same("price") && got.price !== undefined) score.decoysTaken++;
  if (Object.entries(wanted.specifics ?? {}).every(([name, value]) => got.specifics?.[name] === value))
    score.specifics++;
  else differ("specifics");
}

function text(value: unknown): string {
  if (typeof value !== "object" || value === null) return JSON.stringify(value ?? null);
  return JSON.stringify(Object.fromEntries(Object.entries(value).sort(([a], [b]) => (a < b ? -1 : 1))));
}

/** The figures as shares. */
export function shares(score: Score) {
  const of = (part: number, whole: number) => (whole === 0 ? 1 : part / whole);
  return {
    precision: of(score.matched, score.found),
    recall: of(score.matched, score.truth),
    title: of(score.title, score.matched),
    price: of(score.price, score.matched),
    shipping: of(score.shipping, score.matched),
    condition: of(score.condition, score.matched),
    related: of(score.related, score.matched),
    specifics: of(score.specifics, score.matched),
    decoys: score.decoys === 0 ? 0 : score.decoysTaken / score.decoys,
  };
}

/** The figures in one line. */
export function figures(score: Score): string {
  return Object.entries(shares(score))
    .map(([name, share]) => `${name} ${(share * 100).toFixed(2)} %`)
    .join(" · ");
}
