/**
 * Structured data against sources from outside:
 *
 * - the vocabulary as the npm package schema-dts publishes it (generated from schema.org's own release): every
 *   property and type that the reader looks for exists there, on the type it is looked for;
 * - the shapes of schema.org's examples for Product, Offer and AggregateOffer (from memory of the published examples,
 *   and seen quoted in public repositories), with invented goods in them;
 * - the microdata value rules of the WHATWG HTML standard, section "Values: the content attribute and special
 *   elements" (from memory; the table is restated below), and the npm parser microdata-node as a second opinion,
 *   with its departures from that standard listed.
 */
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import fc from "fast-check";
import { JSDOM } from "jsdom";
import { describe, expect, test } from "vitest";
import { readMicrodata } from "../../src/page/microdata.ts";
import type { Thing } from "../../src/page/product.ts";
import { readStructured } from "../../src/page/structured.ts";

const BASE = "https://shop.example/";

const { toJson } = createRequire(import.meta.url)("microdata-node") as {
  toJson(html: string, options: { base: string }): { items: TheirItem[] };
};

function document(body: string, head = ""): Document {
  return new JSDOM(`<html lang="en"><head>${head}</head><body>${body}</body></html>`, { url: BASE }).window.document;
}

function jsonLd(...blocks: unknown[]): Document {
  const scripts = blocks.map((block) => (typeof block === "string" ? block : JSON.stringify(block)));
  return document("", scripts.map((text) => `<script type="application/ld+json">${text}</script>`).join(""));
}

describe("schema.org's vocabulary (schema-dts)", () => {
  const vocabulary = readFileSync(createRequire(import.meta.url).resolve("schema-dts/dist/schema.d.ts"), "utf8");
  const declares = (property: string) => vocabulary.includes(`"${property}"?: SchemaValue<`);
  const hasType = (type: string) => vocabulary.includes(`"@type": "${type}"`);

  test("every property that the reader looks for is one", () => {
    const sought =
      "name url offers hasVariant price priceCurrency lowPrice highPrice priceSpecification minPrice priceType " +
      "referenceQuantity billingDuration currency shippingDetails shippingRate value itemCondition description brand " +
      "manufacturer model color size material mpn sku productID additionalProperty unitText isAccessoryOrSparePartFor " +
      "isRelatedTo isSimilarTo isConsumableFor isVariantOf review itemReviewed seller itemListElement item";
    expect(sought.split(" ").filter((property) => !declares(property))).toEqual([]);
  });

  test("every type that it looks for is one", () => {
    const sought =
      "Product ProductGroup ProductModel IndividualProduct SomeProducts Vehicle Car ItemList OfferCatalog ListItem " +
      "CollectionPage SearchResultsPage Offer AggregateOffer UnitPriceSpecification";
    expect(sought.split(" ").filter((type) => !hasType(type))).toEqual([]);
  });

  test("the conditions and price types that it knows are members of their enumerations", () => {
    for (const member of [
      "NewCondition",
      "UsedCondition",
      "RefurbishedCondition",
      "DamagedCondition",
      "ListPrice",
      "MSRP",
      "SRP",
    ]) {
      expect(vocabulary, member).toContain(`https://schema.org/${member}`);
    }
  });
});

describe("the shapes of schema.org's examples (from memory, with invented goods)", () => {
  test("one offer", () => {
    const { main } = readStructured(
      jsonLd({
        "@context": "https://schema.org",
        "@type": "Product",
        name: "Control board CB-70",
        description: "Board &amp; cable",
        mpn: "CB-70-B",
        brand: { "@type": "Brand", name: "Hebron" },
        offers: {
          "@type": "Offer",
          availability: "https://schema.org/InStock",
          itemCondition: "https://schema.org/UsedCondition",
          price: "55.00",
          priceCurrency: "USD",
        },
        review: [{ "@type": "Review", itemReviewed: { "@type": "Product", name: "Another" }, author: "E." }],
      }),
    );
    expect(main).toMatchObject({
      name: "Control board CB-70",
      description: "Board & cable",
      price: { amount: "55.00", currency: "USD" },
      condition: "used",
      specifics: { Brand: "Hebron", MPN: "CB-70-B" },
    });
  });

  test("several sellers' offers in an aggregate, as microdata with signs in the amounts", () => {
    const { main } = readStructured(
      document(`<div itemscope itemtype="https://schema.org/Product"><img itemprop="image" src="a.jpg">
        <span itemprop="name">Display panel 30"</span>
        <div itemprop="aggregateRating" itemscope itemtype="https://schema.org/AggregateRating"><span itemprop="ratingValue">87</span></div>
        <div itemprop="offers" itemscope itemtype="https://schema.org/AggregateOffer">
          <span itemprop="lowPrice">$1,250</span> to <span itemprop="highPrice">$1,495</span>
          <meta itemprop="priceCurrency" content="USD"><span itemprop="offerCount">8</span> sellers
          <div itemprop="offers" itemscope itemtype="https://schema.org/Offer"><a itemprop="url" href="/x">Shop</a></div>
        </div></div>`),
    );
    expect(main?.price).toEqual({ amount: "1250.00", max: "1495.00", currency: "USD" });
  });

  test("the same as RDFa Lite, the amount in content", () => {
    const { main } = readStructured(
      document(`<div vocab="https://schema.org/" typeof="Product"><span property="name">Charger</span>
        <div property="offers" typeof="Offer"><span property="priceCurrency" content="USD">$</span><span
        property="price" content="1000.00">1,000.00</span><link property="availability" href="https://schema.org/InStock"></div></div>`),
    );
    expect(main).toMatchObject({ name: "Charger", price: { amount: "1000.00", currency: "USD" } });
  });

  test("a list of products is no product page", () => {
    const item = (n: number) => ({
      "@type": "ListItem",
      position: n,
      item: {
        "@type": "Product",
        name: `Pack ${n}`,
        url: `/p/${n}`,
        offers: { "@type": "Offer", price: n, priceCurrency: "EUR" },
      },
    });
    const { main, products, currency } = readStructured(
      jsonLd({ "@context": "https://schema.org", "@type": "ItemList", itemListElement: [item(1), item(2)] }),
    );
    expect(main).toBeNull();
    expect(products.map((product) => [product.name, product.price?.amount])).toEqual([
      ["Pack 1", "1.00"],
      ["Pack 2", "2.00"],
    ]);
    expect(currency).toBe("EUR");
  });

  test("variants of a group: lowest to highest, their names kept", () => {
    const variant = (name: string, price: number) => ({
      "@type": "Product",
      name,
      offers: { "@type": "Offer", price, priceCurrency: "GBP" },
    });
    const { main } = readStructured(
      jsonLd({ "@type": "ProductGroup", name: "Pack", hasVariant: [variant("6 cells", 29.5), variant("7 cells", 35)] }),
    );
    expect(main).toMatchObject({
      price: { amount: "29.50", max: "35.00", currency: "GBP" },
      specifics: { Variants: "6 cells, 7 cells" },
    });
  });

  test("a spare part names what it is for", () => {
    const { main } = readStructured(
      jsonLd({
        "@type": "Product",
        name: "Seal",
        isAccessoryOrSparePartFor: [
          { "@type": "Product", name: "Hebron W7" },
          { "@type": "Product", model: "W9" },
        ],
      }),
    );
    expect(main?.specifics["Spare part for"]).toBe("Hebron W7, W9");
  });
});

describe("wrong but common shapes (common practice, no source)", () => {
  const offer = (fields: object) =>
    readStructured(jsonLd({ "@type": "Product", name: "Pack", offers: fields })).main?.price;

  test.each<[string, object, object]>([
    ["a number", { price: 19.9, priceCurrency: "EUR" }, { amount: "19.90", currency: "EUR" }],
    ["a comma", { price: "19,90", priceCurrency: "EUR" }, { amount: "19.90", currency: "EUR" }],
    [
      "sign and thousands in the text",
      { price: "EUR 1.299,00", priceCurrency: "EUR" },
      { amount: "1299.00", currency: "EUR" },
    ],
    ["a sign for a code", { price: "5", priceCurrency: "€" }, { amount: "5.00", currency: "EUR" }],
    ["a code in lower case", { price: "5", priceCurrency: "eur" }, { amount: "5.00", currency: "EUR" }],
    [
      "an array of one",
      [{ "@type": "Offer", price: "7", priceCurrency: "JPY" }] as object,
      { amount: "7", currency: "JPY" },
    ],
    [
      "the amount in a price specification, the list price beside it",
      {
        priceSpecification: [
          { price: "30", priceCurrency: "USD", priceType: "https://schema.org/ListPrice" },
          { price: "20", priceCurrency: "USD" },
        ],
      },
      { amount: "20.00", currency: "USD" },
    ],
    [
      "a low price alone",
      { "@type": "AggregateOffer", lowPrice: "9", priceCurrency: "USD" },
      { amount: "9.00", from: true, currency: "USD" },
    ],
  ])("%s", (_name, fields, expected) => expect(offer(fields)).toEqual(expected));

  test("no currency, nothing, zero: no price", () => {
    expect(offer({ price: "5" })).toBeNull();
    expect(offer({ price: "", priceCurrency: "USD" })).toBeNull();
    expect(offer({ price: "0.00", priceCurrency: "USD" })).toBeNull();
  });

  test("an mpn that is the shop's own number is no part number", () => {
    const specifics = (fields: object) =>
      readStructured(jsonLd({ "@type": "Product", name: "Pack", ...fields })).main?.specifics;
    expect(specifics({ mpn: 4711, sku: "A" })?.["MPN"]).toBeUndefined();
    expect(specifics({ mpn: "REF-1", sku: "REF-1" })?.["MPN"]).toBeUndefined();
    expect(specifics({ mpn: "PB-1840", sku: "REF-1" })?.["MPN"]).toBe("PB-1840");
  });

  test("a broken block is left out alone; comments, trailing commas and line breaks are forgiven; @id is followed", () => {
    const { main } = readStructured(
      jsonLd(
        '{ "@type": "Product", "name": ',
        '<!-- {"@graph":[{"@type":"Product","@id":"#p","name":"Pack\nPB","offers":{"@id":"#o"},},{"@type":"Offer","@id":"#o","price":"4","priceCurrency":"USD"}]} -->',
      ),
    );
    expect(main).toMatchObject({ name: "Pack PB", price: { amount: "4.00", currency: "USD" } });
  });

  test("products that another one only refers to are not the page's", () => {
    const { products } = readStructured(
      jsonLd({ "@type": "Product", name: "Pack", isRelatedTo: { "@type": "Product", name: "Other" } }),
    );
    expect(products.map((product) => product.name)).toEqual(["Pack"]);
  });
});

describe("microdata by the WHATWG rules", () => {
  const value = (element: string) => plain(readMicrodata(document(`<div itemscope>${element}</div>`))[0])["p"]?.[0];

  test.each([
    ['<meta itemprop="p" content="c">', "c"],
    ['<meta itemprop="p">', ""],
    ['<img itemprop="p" src="a.jpg">', `${BASE}a.jpg`],
    ['<video itemprop="p" src="a.webm"></video>', `${BASE}a.webm`],
    ['<a itemprop="p" href="/x">text</a>', `${BASE}x`],
    ['<a itemprop="p">text</a>', ""],
    ['<link itemprop="p" href="https://schema.org/UsedCondition">', "https://schema.org/UsedCondition"],
    ['<object itemprop="p" data="a.swf"></object>', `${BASE}a.swf`],
    ['<data itemprop="p" value="19.90">19,90</data>', "19.90"],
    ['<meter itemprop="p" value="0.5">half</meter>', "0.5"],
    ['<time itemprop="p" datetime="2021-05">May</time>', "2021-05"],
    ['<time itemprop="p">2021-05</time>', "2021-05"],
    ['<span itemprop="p">20</span>', "20"],
    // The W3C note of 2017 lets content win on any element; the living standard does not, and it is what we follow.
    ['<span itemprop="p" content="19.9">20</span>', "20"],
  ])("%s", (html, expected) => expect(value(html)).toBe(expected));

  test("two names take one value, itemref brings distant properties in, an item inside itself has no value", () => {
    const body = `<div itemscope id="a" itemref="far a"><b itemprop="mpn sku">X1</b></div><i id="far" itemprop="p">far</i>`;
    expect(plain(readMicrodata(document(body))[0])).toEqual({ mpn: ["X1"], sku: ["X1"], p: ["far"] });
    const loop = '<div itemscope><div itemprop="p" itemscope id="l" itemref="l"></div></div>';
    expect(plain(readMicrodata(document(loop))[0])["p"]).toHaveLength(1);
  });
});

describe("microdata-node as a second opinion", () => {
  /**
   * Departures of the package from the living standard, left out of the generated pages: `content` wins on any
   * element, `data` and `meter` give numbers, `time` without `datetime` gives nothing.
   */
  const leaf = fc.constantFrom(
    '<span itemprop="a">one</span>',
    '<b itemprop="a b">two</b>',
    '<meta itemprop="b" content="three">',
    '<a itemprop="c" href="/four">x</a>',
    '<link itemprop="c" href="https://schema.org/InStock">',
    '<img itemprop="d" src="five.jpg">',
    '<time itemprop="d" datetime="2021-05-17">then</time>',
    "<p>no property</p>",
  );
  const item: fc.Arbitrary<string> = fc.letrec<{ item: string; node: string }>((tie) => ({
    item: fc.array(tie("node"), { maxLength: 4 }).map((nodes) => nodes.join("")),
    node: fc.oneof(
      { maxDepth: 4 },
      leaf,
      tie("item").map((inner) => `<div itemprop="e" itemscope itemtype="https://schema.org/Offer">${inner}</div>`),
      tie("item").map((inner) => `<section>${inner}</section>`),
    ),
  })).item;

  test("reads the same items, properties and order from generated markup", () => {
    fc.assert(
      fc.property(fc.array(item, { minLength: 1, maxLength: 3 }), (items) => {
        const body = items
          .map((inner) => `<div itemscope itemtype="https://schema.org/Product">${inner}</div>`)
          .join("");
        const theirs = toJson(`<html><body>${body}</body></html>`, { base: BASE }).items.map(plainTheirs);
        expect(readMicrodata(document(body)).map(plain)).toEqual(theirs);
      }),
      { numRuns: 200 },
    );
  });
});

type Plain = { [name: string]: (string | Plain)[] };

function plain(thing: Thing | undefined): Plain {
  if (thing === undefined) return {};
  return Object.fromEntries(
    [...thing.properties].map(([name, values]) => [
      name,
      values.map((value) => (typeof value === "string" ? value : plain(value))),
    ]),
  );
}

interface TheirItem {
  readonly properties: Readonly<Record<string, readonly (string | TheirItem)[]>>;
}

function plainTheirs(item: TheirItem): Plain {
  return Object.fromEntries(
    Object.entries(item.properties).map(([name, values]) => [
      name,
      values.map((value) => (typeof value === "string" ? value : plainTheirs(value))),
    ]),
  );
}
