/** `falsefit read --in chromium`: the same reader on a page that a browser shows, without a network. */

import { readdirSync } from "node:fs";
import { createServer } from "node:http";
import type { AddressInfo } from "node:net";
import { describe, expect, it } from "vitest";
import { findBrowser } from "../../src/headless/find-browser.mjs";
import { run, scratch } from "../headless/run-command.ts";

const file = scratch();
const browser = findBrowser("chromium");

const rows = ["PB-1840 battery", "PB-2240 battery", "PB-2241 battery", "PB-2242 battery"];
const list = (titles: readonly string[]): string =>
  titles
    .map(
      (title, i) =>
        `<li><a href="/i/${i}"><h3>${title} for Lark 20</h3></a><span>$${i + 10}.00</span><button>Add to basket</button></li>`,
    )
    .join("");
const page = (body: string): string =>
  `<!doctype html><html lang="en"><head><meta charset="utf-8"><title>Shop</title></head><body><main>${body}</main></body></html>`;

describe.skipIf(browser === null)("read --in chromium", () => {
  it("gives what jsdom gives for pages that need no script", async () => {
    const pages = readdirSync("fixtures/pages/open")
      .filter((name) => name.endsWith(".html"))
      .slice(0, 3)
      .map((name) => `fixtures/pages/open/${name}`);
    const shown = await run(["read", "--in", "chromium", ...pages]);
    const parsed = await run(["read", ...pages]);
    expect([shown.code, shown.err]).toEqual([0, ""]);
    expect(shown.lines.map((each) => each["title"])).toEqual(parsed.lines.map((each) => each["title"]));
    expect(shown.lines.map((each) => each["price"])).toEqual(parsed.lines.map((each) => each["price"]));
  });

  it("reads what scripts put there, which jsdom does not run", async () => {
    const path = file(
      "scripted.html",
      page(`<ul></ul><script>document.querySelector("ul").innerHTML = ${JSON.stringify(list(rows))};</script>`),
    );
    expect((await run(["read", "--in", "chromium", path])).lines).toHaveLength(4);
    expect((await run(["read", path])).lines).toHaveLength(0);
  });

  it("cannot be led astray by a page that changes built-in objects", async () => {
    const tamper =
      "<script>Array.prototype.map = () => []; JSON.stringify = () => 'fooled'; document.querySelectorAll = () => [];" +
      "Object.defineProperty(Node.prototype, 'textContent', { get: () => 'fooled' });</script>";
    const path = file("tampered.html", page(`${tamper}<ul>${list(rows)}</ul>`));
    const { lines } = await run(["read", "--in", "chromium", path]);
    expect(lines.map((each) => each["title"])).toEqual(rows.map((title) => `${title} for Lark 20`));
  });

  it("reaches no network", async () => {
    const asked: string[] = [];
    const server = createServer((request, response) => {
      asked.push(request.url ?? "");
      response.end();
    });
    await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
    const at = `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
    const calls = `fetch("${at}/fetch").catch(() => 0); new Image().src = "${at}/image"; navigator.sendBeacon("${at}/beacon"); new WebSocket("${at.replace("http", "ws")}/socket").onerror = () => 0;`;
    const path = file(
      "calling.html",
      page(`<ul>${list(rows)}</ul><script>${calls}</script><iframe src="${at}/frame"></iframe>`),
    );
    const { lines } = await run(["read", "--in", "chromium", "--url", `${at}/page`, path]);
    await new Promise((resolve) => server.close(resolve));
    expect(lines).toHaveLength(4);
    expect(asked).toEqual([]);
  });

  it("says so when the browser named is none", async () => {
    const path = file("page.html", page(`<ul>${list(rows)}</ul>`));
    const { code, out, err } = await run(["read", "--in", "chromium", "--browser", "/nonexistent", path]);
    expect([code, out]).toEqual([2, ""]);
    expect(err).toMatch(/--browser: \/nonexistent/);
  });
});
