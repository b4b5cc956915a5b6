import { createServer } from "node:http";
import type { AddressInfo } from "node:net";
import { describe, expect, it } from "vitest";
import { listingSchema } from "../../src/formats/listing.ts";
import { isNestedDeeper } from "../../src/headless/nesting.ts";
import { BENCH, CATALOG, run, scratch } from "./run-command.ts";

const file = scratch();

const card = (title: string, price: string): string =>
  `<li class="card"><a href="/item/${title.length}"><h3>${title}</h3></a><p class="price">${price}</p><button>Add to basket</button></li>`;
const page = (cards: readonly string[], head = '<meta charset="utf-8">'): string =>
  `<!doctype html><html lang="en"><head>${head}<title>Shop</title></head><body><main><ul>${cards.join("\n")}</ul></main></body></html>`;

const cards = [
  card("PB-1840 battery for Lark 20", "$12.10"),
  card("PB-2240 battery for Lark 20", "$36.00"),
  card("Garden chair, green", "$19.00"),
  card("Battery for PL-20", "$9.50"),
];

describe("read", () => {
  it("gives one listing line a listing, in document order", async () => {
    const { code, lines, err } = await run(["read", file("shop.html", page(cards))]);
    expect([code, err]).toEqual([0, ""]);
    expect(lines.map((each) => each["title"])).toEqual([
      "PB-1840 battery for Lark 20",
      "PB-2240 battery for Lark 20",
      "Garden chair, green",
      "Battery for PL-20",
    ]);
    expect(lines[0]?.["price"]).toEqual({ amount: "12.10", currency: "USD" });
    for (const each of lines) expect(listingSchema.safeParse(each).success).toBe(true);
  });

  it("pipes into check", async () => {
    const read = await run(["read", file("shop.html", page(cards))]);
    const { code, lines } = await run(
      ["check", "--catalog", CATALOG, "--bench", BENCH, "--device", "demo-lark-late", "-"],
      read.out,
    );
    expect(code).toBe(0);
    expect(lines.map((each) => each["verdict"])).toEqual(["other-revision", "fits", "unrelated", "ambiguous"]);
    expect(lines[1]?.["price"]).toEqual({ amount: "36.00", currency: "USD" });
  });

  it("reads standard input, and several pages one after the other", async () => {
    const one = await run(["read", "-"], page(cards));
    expect(one.lines).toHaveLength(4);
    const path = file("shop.html", page(cards));
    const two = await run(["read", path, path]);
    expect(two.out).toBe(one.out + one.out);
  });

  it("takes links from the address that the page was saved from", async () => {
    const asked = await run(["read", "--url", "https://shop.example/list?page=2", file("shop.html", page(cards))]);
    expect(asked.lines[0]?.["url"]).toBe("https://shop.example/item/27");
    const noted = `<!-- saved from url=(0024)https://other.example/a/ -->\n${page(cards)}`;
    const { lines } = await run(["read", file("noted.html", noted)]);
    expect(lines[0]?.["url"]).toBe("https://other.example/item/27");
    const wrong = await run(["read", "--url", "shop", file("shop.html", page(cards))]);
    expect([wrong.code, wrong.out]).toEqual([2, ""]);
  });

  it("says what cannot be read and reads the rest", async () => {
    const path = file("shop.html", page(cards));
    const { code, lines, err } = await run(["read", "/nonexistent.html", path]);
    expect(code).toBe(1);
    expect(lines).toHaveLength(4);
    expect(err).toMatch(/^\/nonexistent\.html: There is no such file/);
    expect((await run(["read", "/nonexistent.html"])).code).toBe(2);
    expect(await run(["read"])).toMatchObject({ code: 2, out: "" });
    expect(await run(["read", "--in", "lynx", path])).toMatchObject({ code: 2, out: "" });
  });

  it("gives nothing for a page without listings, or an empty one", async () => {
    expect(await run(["read", file("empty.html", "")])).toMatchObject({ code: 0, out: "", err: "" });
    const text = "<!doctype html><title>x</title><p>Words about batteries, none for sale.</p>";
    expect(await run(["read", file("text.html", text)])).toMatchObject({ code: 0, out: "" });
  });
});

describe("encodings of saved pages", () => {
  const polish = [
    card("Akumulator PB-1840, część oryginalna żółta", "39,90 zł"),
    card("Akumulator PB-2240, część oryginalna żółta", "49,90 zł"),
    card("Akumulator PB-2241, część oryginalna żółta", "59,90 zł"),
  ];
  const titles = (lines: readonly Record<string, unknown>[]): unknown => lines[0]?.["title"];
  const expected = "Akumulator PB-1840, część oryginalna żółta";
  /** The letters of the test in windows-1250. */
  const windows1250: Readonly<Record<string, number>> = { ę: 0xea, ś: 0x9c, ć: 0xe6, ż: 0xbf, ó: 0xf3, ł: 0xb3 };
  const in1250 = (text: string): Uint8Array =>
    Uint8Array.from(Array.from(text, (character) => windows1250[character] ?? character.charCodeAt(0)));

  it.each([
    ["UTF-8 that says so", Buffer.from(page(polish))],
    ["UTF-8 that does not say so", Buffer.from(page(polish, ""))],
    ["UTF-8 with a byte order mark", Buffer.from(`\ufeff${page(polish, "")}`)],
    ["UTF-16 with a byte order mark", Buffer.from(`\ufeff${page(polish, "")}`, "utf16le")],
    ["windows-1250 by meta charset", in1250(page(polish, '<meta charset="windows-1250">'))],
    [
      "windows-1250 by http-equiv",
      in1250(page(polish, '<meta http-equiv="Content-Type" content="text/html; charset=windows-1250">')),
    ],
  ])("%s", async (_name, bytes) => {
    const { lines } = await run(["read", file("polish.html", bytes)]);
    expect(lines).toHaveLength(3);
    expect(titles(lines)).toBe(expected);
  });
});

describe("trust", () => {
  it("runs no script of the page and asks no server for anything", async () => {
    const asked: string[] = [];
    const server = createServer((request, response) => {
      asked.push(request.url ?? "");
      response.end();
    });
    await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
    const at = `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
    const hostile = page([
      ...cards,
      `<img src="${at}/image"><iframe src="${at}/frame"></iframe><script src="${at}/script"></script>`,
      `<link rel="stylesheet" href="${at}/style"><script>document.querySelector("ul").innerHTML = "";</script>`,
      "<script>for (;;) {}</script>",
    ]);
    const { code, lines } = await run(["read", "--url", `${at}/page`, file("hostile.html", hostile)]);
    await new Promise((resolve) => server.close(resolve));
    expect(code).toBe(0);
    expect(lines).toHaveLength(4);
    expect(asked).toEqual([]);
  });

  it("a page of absurd depth is named, one of absurd width is read", async () => {
    const deep = await run(["read", file("deep.html", `${"<div>".repeat(100_000)}x`)]);
    expect([deep.code, deep.out]).toEqual([2, ""]);
    expect(deep.err).toMatch(/deep\.html: This page cannot be read \(more than 2,000 elements/);
    const wide = page(Array.from({ length: 1_000 }, (_, i) => card(`PB-1840 battery number ${i}`, "$1.00")));
    expect((await run(["read", file("wide.html", wide)])).lines).toHaveLength(1_000);
  });
});

describe("nesting told from the text", () => {
  it.each([
    ["elements inside one another", "<div><b><i>x", 2, true],
    ["elements beside one another", "<div></div>".repeat(9), 1, false],
    ["elements whose end may be left out", "<ul><li>a<li>b<li>c<p>d<p>e<br><img>", 1, false],
    ["comments and scripts", `<!-- <b><b><b> --><script>"<b><b><b>"</script><b>x`, 1, false],
    ["upper case", "<DIV><DIV><DIV>", 2, true],
    ["no markup", "a < b << c", 1, false],
  ])("%s", (_what, html, most, deeper) => {
    expect(isNestedDeeper(html, most)).toBe(deeper);
  });

  it("takes one pass over hostile text", () => {
    const before = performance.now();
    for (const piece of ["<!--", "<script>", "<", "</", "<a"]) isNestedDeeper(piece.repeat(200_000), 1e9);
    expect(performance.now() - before).toBeLessThan(20_000);
  });
});
