/** The invented pages in jsdom, as `falsefit read` sees a saved page. */
import rules from "falsefit:rules";
import { JSDOM } from "jsdom";
import { describe, expect, test } from "vitest";
import { writePages } from "../../fixtures/pages/generate.mjs";
import { readPage } from "../../src/page/read.ts";
import { addPage, emptyScore, figures, htmlOf, type PageSet, pagesOf, shares, truthOf } from "./score.ts";

describe("the invented pages", () => {
  test("are what the generator writes, byte for byte", () => {
    const written = writePages();
    const differing = written.filter((page) => {
      const onDisk = { name: page.name, set: page.set, decoys: page.decoys, locale: page.locale };
      return htmlOf(onDisk) !== page.html || truthOf(onDisk).length !== page.truth.split("\n").length - 1;
    });
    expect(differing.map((page) => page.name)).toEqual([]);
    expect(pagesOf("open").length).toBeGreaterThanOrEqual(60);
    expect(pagesOf("sealed").length).toBeGreaterThanOrEqual(pagesOf("open").length / 3);
    expect(new Set(written.map((page) => page.locale)).size).toBeGreaterThanOrEqual(10);
  });

  test.each<PageSet>(["open", "sealed", "strange"])("%s pages: found, title, price, decoys", (set) => {
    const score = emptyScore();
    const wrong: string[] = [];
    for (const page of pagesOf(set)) {
      const { window } = new JSDOM(htmlOf(page));
      const found = readPage(window.document, { pageWords: rules.pageWords }).map(({ listing }) => listing);
      wrong.push(...addPage(score, page, found).map((line) => `${page.name}: ${line}`));
      window.close();
    }
    console.log(`${set} pages in jsdom: ${figures(score)}`);
    const { precision, recall, title, price, decoys, related } = shares(score);
    expect(Math.min(precision, recall, title, price, related), wrong.slice(0, 20).join("\n")).toBeGreaterThanOrEqual(
      0.99,
    );
    expect(decoys, wrong.slice(0, 20).join("\n")).toBeLessThanOrEqual(0.005);
  });
});
