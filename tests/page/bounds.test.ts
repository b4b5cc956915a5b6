/** However large, deep or hostile a page is, it is read in bounded time or left alone; nothing throws. */
import rules from "falsefit:rules";
import fc from "fast-check";
import { JSDOM } from "jsdom";
import { describe, expect, test } from "vitest";
import { MAX_JSON_LD_BLOCK, MAX_LISTINGS, MAX_NODES } from "../../src/page/limits.ts";
import { readPage } from "../../src/page/read.ts";
import { readStructured } from "../../src/page/structured.ts";

function parse(body: string, head = ""): Document {
  return new JSDOM(`<html lang="en"><head>${head}</head><body>${body}</body></html>`).window.document;
}

function read(document: Document) {
  const started = performance.now();
  const found = readPage(document, { pageWords: rules.pageWords });
  return { found, ms: performance.now() - started };
}

const card = (n: number) =>
  `<li><a href="/p/${n}"><h3>Battery pack PB-${n}</h3></a><span>$${(n % 90) + 1}.00</span></li>`;
const grid = (count: number) => `<ul>${Array.from({ length: count }, (_, n) => card(n)).join("")}</ul>`;
/** Generous: jsdom on a machine that runs other tests; a hang or a square of the size takes minutes. */
const PATIENCE_MS = 30_000;

describe("large pages", () => {
  test("five thousand cards are read, and more are left unread", () => {
    const { found, ms } = read(parse(grid(5_000)));
    expect(found).toHaveLength(5_000);
    expect(ms).toBeLessThan(PATIENCE_MS);
    expect(MAX_LISTINGS).toBe(5_000);
  });

  test("past the last node that is walked, the page is read as far as it goes", () => {
    const filler = "<p>x</p>".repeat(MAX_NODES / 2);
    const { found, ms } = read(parse(`${grid(3)}${filler}${grid(3)}`));
    expect(found).toHaveLength(3);
    expect(ms).toBeLessThan(PATIENCE_MS);
  });

  test("twenty thousand nodes of links and numbers without a listing", () => {
    const cells = Array.from({ length: 5_000 }, (_, n) => `<td><a href="/${n}">${n}</a> 3.${n} V</td>`);
    const { found, ms } = read(parse(`<table><tr>${cells.join("</tr><tr>")}</tr></table>`));
    expect(found).toEqual([]);
    expect(ms).toBeLessThan(PATIENCE_MS);
  });

  test("ten megabytes of JSON-LD in one block or in many are not parsed whole", () => {
    const item = {
      "@type": "Product",
      name: "Pack".repeat(20),
      offers: { "@type": "Offer", price: 1, priceCurrency: "EUR" },
    };
    const block = (megabytes: number) => JSON.stringify(Array.from({ length: megabytes * 6_000 }, () => item));
    const script = (text: string) => `<script type="application/ld+json">${text}</script>`;
    const whole = block(10);
    expect(whole.length).toBeGreaterThan(MAX_JSON_LD_BLOCK);
    const started = performance.now();
    expect(readStructured(parse("", script(whole))).products).toEqual([]);
    const many = readStructured(parse("", script(block(1)).repeat(10)));
    expect(many.products.length).toBeGreaterThan(0);
    expect(many.products.length).toBeLessThanOrEqual(5_000);
    expect(performance.now() - started).toBeLessThan(PATIENCE_MS);
  });
});

describe("deep pages", () => {
  // jsdom itself is overcome near ten thousand levels; the browser tests go that deep.
  test("two thousand levels, with the list at the bottom", () => {
    const document = parse("");
    let at: Element = document.body;
    for (let level = 0; level < 2_000; level++) at = at.appendChild(document.createElement("div"));
    at.innerHTML = grid(5);
    const { found, ms } = read(document);
    expect(found).toHaveLength(5);
    expect(ms).toBeLessThan(PATIENCE_MS);
  });

  test("structured data nested a hundred thousand levels deep, and items inside items", () => {
    const deep = `${"[".repeat(100_000)}${"]".repeat(100_000)}`;
    const items = `${'<div itemprop="offers" itemscope itemtype="Offer">'.repeat(500)}`;
    const document = parse(
      `<div itemscope itemtype="Product"><b itemprop="name">X</b>${items}`,
      `<script type="application/ld+json">${deep}</script>`,
    );
    expect(readStructured(document).products.map((product) => product.name)).toEqual(["X"]);
  });
});

describe("hostile and broken pages", () => {
  test("listing fields never take a name that objects have of their own", () => {
    const rows = ["__proto__", "constructor", "toString"].map((name) => `<tr><th>${name}</th><td>x</td></tr>`).join("");
    const { found } = read(parse(`<h1>Pack PB-1</h1><p>$5.00</p><button>Add to cart</button><table>${rows}</table>`));
    expect(Object.keys(found[0]?.listing.specifics ?? {})).toEqual(["toString"]);
    expect(({} as Record<string, unknown>)["x"]).toBeUndefined();
  });

  test("a page without a body, without a language, with a base that is none", () => {
    const document = parse(grid(3), '<base href="::::">');
    document.documentElement.setAttribute("lang", "klingon!!");
    expect(read(document).found).toHaveLength(3);
    document.body.remove();
    expect(read(document).found).toEqual([]);
  });

  test("addresses that run scripts or are broken are no addresses", () => {
    const { found } = read(
      parse(
        `<ul>${["javascript:alert(1)", "#", "http://[", "data:text/html,x"]
          .map((href, n) => `<li><a href="${href}"><h3>Battery pack PB-${n}</h3></a><b>$3.00</b></li>`)
          .join("")}</ul>`,
      ),
    );
    expect(found.map(({ listing }) => listing.url)).toEqual([undefined, undefined, "http://[", undefined]);
  });

  const word = fc.constantFrom(
    "Pack",
    "$5.00",
    "19,90 €",
    "Used",
    "from",
    "Add to cart",
    "{{x}}",
    "\u202e",
    "\ud800",
    "",
    " ",
    "1.234",
    "%",
  );
  const tag = fc.constantFrom(
    "div",
    "span",
    "a",
    "li",
    "ul",
    "h2",
    "td",
    "tr",
    "table",
    "dl",
    "dt",
    "b",
    "del",
    "button",
    "img",
    "select",
  );
  const attribute = fc.constantFrom(
    "",
    ' href="/x"',
    ' class="price old"',
    ' itemscope itemtype="Product"',
    ' itemprop="price"',
    " hidden",
    ' style="display:none"',
  );
  const markup: fc.Arbitrary<string> = fc.letrec<{ node: string }>((tie) => ({
    node: fc.oneof(
      { maxDepth: 5 },
      word,
      fc
        .tuple(tag, attribute, fc.array(tie("node"), { maxLength: 4 }))
        .map(([name, more, inner]) => `<${name}${more}>${inner.join("")}</${name}>`),
    ),
  })).node;

  test("whatever the markup, reading ends, changes nothing, and every listing has a title in the page's order", () => {
    fc.assert(
      fc.property(fc.array(markup, { minLength: 1, maxLength: 6 }), fc.integer({ min: 1, max: 4 }), (nodes, times) => {
        const document = parse(nodes.join("").repeat(times));
        const before = document.documentElement.outerHTML;
        const { found } = read(document);
        expect(document.documentElement.outerHTML).toBe(before);
        for (const { listing, card: element, anchor } of found) {
          expect(listing.title.trim()).not.toBe("");
          expect(element.isConnected && anchor.isConnected).toBe(true);
        }
      }),
      { numRuns: 200 },
    );
  });
});
