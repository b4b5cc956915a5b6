import rules from "falsefit:rules";
import { JSDOM } from "jsdom";
import { expect, test } from "vitest";
import { type FoundListing, readPage } from "../../src/page/read.ts";

/** Reads a page given as the inside of its body. */
function read(body: string, head = ""): FoundListing[] {
  const html = `<!doctype html><html lang="en"><head>${head}</head><body>${body}</body></html>`;
  return readPage(new JSDOM(html).window.document, { pageWords: rules.pageWords });
}

const card = (title: string, price: string, href: string) =>
  `<li><a href="${href}"><img src="i.jpg" alt=""><h2>${title}</h2><span class="price">${price}</span></a></li>`;

test("reads a grid of cards in document order, each with its title, price and address", () => {
  const found = read(
    `<ul>${card("Battery pack PB-1840", "<del>$40.00</del> <ins>$36.00</ins>", "/p/1")}
     ${card("Battery pack PB-2240", "$19.90 – $24.50", "/p/2")}${card("Charger 5 V", "From $9.00", "/p/3")}</ul>`,
  );
  expect(found.map((entry) => entry.listing)).toEqual([
    { title: "Battery pack PB-1840", price: { amount: "36.00", currency: "USD" }, url: "/p/1", language: "en" },
    {
      title: "Battery pack PB-2240",
      price: { amount: "19.90", max: "24.50", currency: "USD" },
      url: "/p/2",
      language: "en",
    },
    { title: "Charger 5 V", price: { amount: "9.00", from: true, currency: "USD" }, url: "/p/3", language: "en" },
  ]);
  expect(found.map((entry) => entry.anchor.localName)).toEqual(["h2", "h2", "h2"]);
});

test("finds nothing on a page of prose and menus", () => {
  expect(
    read(`<nav><ul><li><a href="/a">Batteries</a></li><li><a href="/b">Chargers</a></li></ul></nav>
      <main><h1>How packs age</h1><p>Some packs last long.</p><p>Others do not, even at $20 apiece.</p></main>`),
  ).toEqual([]);
});
