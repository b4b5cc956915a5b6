import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { browser, complaints, type OpenedExtension, openExtension } from "./extension.ts";
import { openShop, type Shop } from "./pages/shop.ts";

const PAGES = join(import.meta.dirname, "../../fixtures/pages");
const NUMBER = /\b[A-Z]{2}-?\d{3,5}[A-Z]?\b/g;

/** One page of each markup shape (`name.locale.html`), and every page written by hand. */
function pages(): { name: string; html: string; titles: string[] }[] {
  const shapes = new Set<string>();
  return ["open", "strange"].flatMap((folder) =>
    readdirSync(join(PAGES, folder))
      .filter((file) => file.endsWith(".html"))
      .filter((file) => {
        const shape = `${folder}/${file.split(".")[0]}`;
        return !shapes.has(shape) && shapes.add(shape);
      })
      .map((file) => {
        const truth = readFileSync(join(PAGES, folder, file.replace(/\.html$/, ".ndjson")), "utf8");
        const lines = truth.split("\n").filter((line) => line !== "");
        return {
          name: `${folder}/${file}`,
          html: readFileSync(join(PAGES, folder, file), "utf8"),
          titles: lines.map((line) => String(JSON.parse(line).title ?? "")),
        };
      }),
  );
}

describe.skipIf(browser === null)("marks on the fixture pages", () => {
  let extension: OpenedExtension;
  let shop: Shop;
  const all = pages();

  beforeAll(async () => {
    [extension, shop] = await Promise.all([openExtension(), openShop()]);
    for (const { name, html } of all) shop.serve(`/${name}`, html);
    // A device for which every number on these pages is settled, so that as many listings as possible are marked.
    const numbers = [...new Set(all.flatMap(({ titles }) => titles.flatMap((title) => title.match(NUMBER) ?? [])))];
    const device = {
      id: "all",
      modelNumbers: ["ZZ-1"],
      fitted: [{ type: "battery", numbers: numbers.slice(0, 200), source: "label" }],
      accept: numbers.slice(0, 2_000).map((number) => ({ number })),
      refuse: [],
    };
    await extension.worker.evaluate(async (saved) => {
      const at = "2026-11-25T09:00:00Z";
      await chrome.storage.local.set({
        "device/all": { v: 1, at, value: { addedAt: at, device: saved } },
        "in-hand": { v: 1, at, value: { id: "all", recent: ["all"] } },
      });
    }, device);
  });
  afterAll(async () => {
    await extension?.close();
    await shop?.close();
  });

  it("shift nothing, change nothing, say nothing, on any of them", { timeout: 600_000 }, async () => {
    const page = await extension.context.newPage();
    // Some of these pages shift by themselves while they load; what counts is what moves once marks are there.
    await page.addInitScript(() => {
      const scope = window as unknown as { shifts: number };
      scope.shifts = 0;
      let since = Number.POSITIVE_INFINITY;
      new MutationObserver(() => {
        if (document.querySelector("falsefit-overlay")) since = Math.min(since, performance.now());
      }).observe(document, { childList: true, subtree: true });
      new PerformanceObserver((list) => {
        for (const entry of list.getEntries()) {
          if (entry.startTime >= since) scope.shifts += (entry as unknown as { value: number }).value;
        }
      }).observe({ type: "layout-shift", buffered: true });
    });
    const heard = complaints(page);
    const faults: string[] = [];
    let marked = 0;
    let marks = 0;
    for (const { name } of all) {
      await page.goto(`${shop.origin}/${encodeURI(name)}`, { waitUntil: "load" });
      const before = await page.evaluate(() => document.body.outerHTML);
      await page
        .locator(".mark:not([hidden])")
        .first()
        .waitFor({ timeout: 1_500 })
        .catch(() => undefined);
      await page.waitForTimeout(100);
      const { shifts, body, count } = await page.evaluate(() => ({
        shifts: (window as unknown as { shifts: number }).shifts,
        body: document.body.outerHTML,
        count: document.querySelector("falsefit-overlay")?.shadowRoot?.querySelectorAll(".mark").length ?? 0,
      }));
      if (shifts > 0) faults.push(`${name}: shifted by ${shifts}`);
      if (body !== before) faults.push(`${name}: the page was changed`);
      marks += count;
      marked += count > 0 ? 1 : 0;
    }
    const ours = heard.filter((text) => text.includes("alsefit"));
    console.log(`${marks} marks on ${marked} of ${all.length} fixture pages`);
    expect(faults).toEqual([]);
    expect(ours).toEqual([]);
    expect(marked).toBeGreaterThan(all.length / 3);
    await page.close();
  });
});

/** The bits of the browser's own namespace that tests use inside of the extension. */
declare const chrome: { storage: { local: { set(items: object): Promise<void> } } };
