import rules from "falsefit:rules";
import { JSDOM } from "jsdom";
import { describe, expect, test } from "vitest";
import { pageShapeSchema } from "../../src/formats/page-shape.ts";
import { readPage } from "../../src/page/read.ts";
import { teachShape } from "../../src/page/teach.ts";

/** A page that the generic reader cannot know: the maker stands where titles stand, the title in small print. */
const MISLEADING = `<div class="deck">${[1, 2, 3]
  .map(
    (n) => `<div class="card c${n}"><h3><a href="/i/${n}">Pellworm genuine spare parts line ${n}</a></h3>
      <small class="nr">Pack PB-184${n}</small><em class="was2">$9${n}.00</em> <em class="cost">$3${n}.00</em></div>`,
  )
  .join("")}</div>`;

function page(body: string, url = "https://shop.example/list") {
  return new JSDOM(`<html lang="en"><body>${body}</body></html>`, { url }).window.document;
}

describe("teaching a page", () => {
  test("one title and one price make a shape that reads all records", () => {
    const document = page(MISLEADING);
    const outcome = teachShape(one(document, ".c2 .nr"), one(document, ".c2 .cost"));
    if (!outcome.ok) throw new Error(outcome.fault);
    expect(outcome.records).toBe(3);
    expect(pageShapeSchema.parse(outcome.shape)).toEqual(outcome.shape);
    const found = readPage(document, { pageWords: rules.pageWords, shapes: [outcome.shape] });
    expect(found.map(({ listing }) => [listing.title, listing.price?.amount])).toEqual([
      ["Pack PB-1841", "31.00"],
      ["Pack PB-1842", "32.00"],
      ["Pack PB-1843", "33.00"],
    ]);
  });

  test("the shape holds for another page of the site and not for another site", () => {
    const document = page(MISLEADING);
    const outcome = teachShape(one(document, ".c1 .nr"), one(document, ".c1 .cost"));
    if (!outcome.ok) throw new Error(outcome.fault);
    const options = { pageWords: rules.pageWords, shapes: [outcome.shape] };
    const titles = (url: string) => readPage(page(MISLEADING, url), options).map(({ listing }) => listing.title);
    expect(titles("https://shop.example/list?page=2")[0]).toBe("Pack PB-1841");
    expect(titles("https://other.example/list")[0]).toBe("Pellworm genuine spare parts line 1");
  });

  test("a title without a price can be taught", () => {
    const document = page(MISLEADING);
    const outcome = teachShape(one(document, ".c1 .nr"), null);
    expect(outcome).toMatchObject({ ok: true, records: 3 });
  });

  test("class names that need escaping are escaped", () => {
    const soup = MISLEADING.replaceAll('class="nr"', 'class="md:w-1/2 2xl:p-4"').replaceAll(
      'class="cost"',
      'class="text-[14px]"',
    );
    const document = page(soup);
    const parts = Array.from(document.querySelectorAll("small, em:last-child"));
    const outcome = teachShape(parts[0] as Element, parts[1] as Element);
    if (!outcome.ok) throw new Error(outcome.fault);
    const found = readPage(document, { pageWords: rules.pageWords, shapes: [outcome.shape] });
    expect(found.map(({ listing }) => listing.title)).toEqual(["Pack PB-1841", "Pack PB-1842", "Pack PB-1843"]);
  });

  test.each([
    ["an element that is gone", () => teachShape(page("").createElement("p"), null), "nothing-there"],
    [
      "title and price on opposite ends of the page",
      () => {
        const document = page(`<p class="a">Title</p><p class="b">$3</p>`);
        return teachShape(one(document, ".a"), one(document, ".b"));
      },
      "too-far-apart",
    ],
    [
      "a page without an address",
      () => {
        const document = new JSDOM(MISLEADING).window.document;
        return teachShape(one(document, ".nr"), null);
      },
      "no-address",
    ],
  ])("%s gives a fault, not a guess", (_name, teach, fault) => {
    expect(teach()).toEqual({ ok: false, fault });
  });
});

describe("shapes from outside", () => {
  const shape = {
    format: "falsefit-page-shape/1" as const,
    id: "x",
    host: "*.example",
    record: ".card",
    title: ".nr",
    origin: "shipped" as const,
  };

  test("a selector that no browser understands selects nothing and breaks nothing", () => {
    const broken = { ...shape, record: ".card:::(" };
    const found = readPage(page(MISLEADING), { pageWords: rules.pageWords, shapes: [broken] });
    expect(found).toHaveLength(3);
  });

  test("a shape that selects nothing leaves the page to the generic reader", () => {
    const stale = { ...shape, record: ".gone" };
    const found = readPage(page(MISLEADING), { pageWords: rules.pageWords, shapes: [stale] });
    expect(found[0]?.listing.title).toBe("Pellworm genuine spare parts line 1");
  });

  test("a taught shape outranks a shipped one", () => {
    const taught = { ...shape, title: "h3", origin: "taught" as const };
    const found = readPage(page(MISLEADING), { pageWords: rules.pageWords, shapes: [shape, taught] });
    expect(found[0]?.listing.title).toBe("Pellworm genuine spare parts line 1");
  });

  test("parts that a shape skips are not read, a named condition and shipping are", () => {
    const rich = MISLEADING.replaceAll(
      '<small class="nr">',
      '<i class="c">as found</i><b class="s">$2.50</b><small class="nr">',
    );
    const full = { ...shape, price: ".cost", condition: ".c", shipping: ".s", link: "h3 a", skip: [".was2"] };
    const [first] = readPage(page(rich), { pageWords: rules.pageWords, shapes: [full] });
    expect(first?.listing).toMatchObject({
      title: "Pack PB-1841",
      price: { amount: "31.00", currency: "USD" },
      condition: "as found",
      shipping: { amount: "2.50", currency: "USD" },
      url: "https://shop.example/i/1",
    });
  });
});

function one(document: Document, selector: string): Element {
  const element = document.querySelector(selector);
  if (element === null) throw new Error(`nothing at ${selector}`);
  return element;
}
