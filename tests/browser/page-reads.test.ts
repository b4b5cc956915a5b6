/** The invented pages in a real Chromium: computed styles instead of clues, the same figures. */
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import type { Listing } from "../../src/formats/listing.ts";
import { addPage, emptyScore, figures, htmlOf, type PageSet, pagesOf, shares } from "../page/score.ts";
import { executable, ReadingBrowser } from "./reader.ts";

declare const reader: {
  pageWords: never;
  readPage(document: Document, options: { pageWords: never }): { listing: Listing }[];
};

describe.skipIf(executable === null)("reading the invented pages in Chromium", () => {
  let browser: ReadingBrowser;
  beforeAll(async () => {
    browser = await ReadingBrowser.open();
  });
  afterAll(() => browser.close());

  test.each<PageSet>(["open", "sealed", "strange"])("%s pages: found, title, price, decoys", async (set) => {
    const score = emptyScore();
    const wrong: string[] = [];
    const page = await browser.page();
    for (const one of pagesOf(set)) {
      await browser.show(page, htmlOf(one));
      const found = await page.evaluate(() =>
        reader.readPage(document, { pageWords: reader.pageWords }).map(({ listing }) => listing),
      );
      wrong.push(...addPage(score, one, found).map((line) => `${one.name}: ${line}`));
    }
    await page.close();
    console.log(`${set} pages in Chromium: ${figures(score)}`);
    const { precision, recall, title, price, decoys } = shares(score);
    expect(Math.min(precision, recall, title, price), wrong.slice(0, 20).join("\n")).toBeGreaterThanOrEqual(0.99);
    expect(decoys, wrong.slice(0, 20).join("\n")).toBeLessThanOrEqual(0.005);
  });

  test("what only a style sheet hides, strikes through or keeps for screen readers is not read", async () => {
    const page = await browser.page();
    const card = (n: number) =>
      `<div class="k${n}"><a href="/${n}"><h3>Part ${n} for Teal 5</h3></a><p class="q1">$9${n}.00</p><p class="q2">$5${n}.00</p>
       <p class="q3">$1.00</p><p class="q4">$2.00</p></div>`;
    await browser.show(
      page,
      `<html lang="en"><head><style>.q1{text-decoration:line-through} .q3{display:none}
       .q4{position:absolute;clip-path:inset(50%);width:1px;height:1px;overflow:hidden} .k4{display:none}</style></head>
       <body>${[1, 2, 3, 4].map(card).join("")}</body></html>`,
    );
    const found = await page.evaluate(() =>
      reader
        .readPage(document, { pageWords: reader.pageWords })
        .map(({ listing }) => [listing.title, listing.price?.amount]),
    );
    await page.close();
    expect(found).toEqual([
      ["Part 1 for Teal 5", "51.00"],
      ["Part 2 for Teal 5", "52.00"],
      ["Part 3 for Teal 5", "53.00"],
    ]);
  });

  // In a document that is not on show: the browser's own layout does not survive such depth.
  test("a list ten thousand levels deep is found", async () => {
    const page = await browser.page();
    await browser.show(page, '<html lang="en"><body></body></html>');
    const [count, ms] = await page.evaluate(() => {
      const deep = document.implementation.createHTMLDocument("deep");
      deep.documentElement.lang = "en";
      let at: Element = deep.body;
      for (let level = 0; level < 10_000; level++) at = at.appendChild(deep.createElement("div"));
      const item = (n: number) => `<li><a href="/p/${n}"><h3>Battery pack PB-${n}</h3></a><span>$${n}.00</span></li>`;
      at.innerHTML = `<ul>${[1, 2, 3, 4, 5].map(item).join("")}</ul>`;
      const started = performance.now();
      const found = reader.readPage(deep, { pageWords: reader.pageWords });
      return [found.length, performance.now() - started];
    });
    await page.close();
    expect(count).toBe(5);
    expect(ms).toBeLessThan(5_000);
  });

  test("reading changes nothing on the page", async () => {
    const page = await browser.page();
    const [first] = pagesOf("open");
    if (first === undefined) throw new Error("no pages");
    await browser.show(page, htmlOf(first));
    const [before, after] = await page.evaluate(() => {
      const html = () => document.documentElement.outerHTML;
      const start = html();
      reader.readPage(document, { pageWords: reader.pageWords });
      return [start, html()];
    });
    await page.close();
    expect(after).toBe(before);
  });
});
