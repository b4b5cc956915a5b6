import type { Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { browser, complaints, type OpenedExtension, openExtension, takeExample, tell } from "./extension.ts";
import { card, openShop, type Shop, TITLES } from "./pages/shop.ts";

const MARKED = TITLES.filter(({ tier }) => tier !== "none").length / TITLES.length;

describe.skipIf(browser === null)("marks on a page", () => {
  let extension: OpenedExtension;
  let shop: Shop;

  beforeAll(async () => {
    [extension, shop] = await Promise.all([openExtension(), openShop()]);
    await takeExample(extension);
  });
  afterAll(async () => {
    await extension?.close();
    await shop?.close();
  });

  /** Opens a page and waits for its marks. */
  async function open(path: string, width = 1280): Promise<Page> {
    const page = await extension.context.newPage();
    await page.setViewportSize({ width, height: 800 });
    await page.goto(shop.origin + path);
    await page.locator(".mark:not([hidden])").first().waitFor();
    return page;
  }

  /** Where marks and their cards are, as the page's own listings number them. */
  const places = (page: Page) =>
    page.evaluate(() => {
      const marks = [...(document.querySelector("falsefit-overlay")?.shadowRoot?.querySelectorAll(".mark") ?? [])];
      const cards = [...document.querySelectorAll(".card")];
      return marks.flatMap((mark) => {
        const number = /\((\d+)\)$/.exec(mark.getAttribute("aria-label") ?? "")?.[1];
        const card = cards.find((each) => each.textContent?.includes(`(${number})`));
        const box = mark.getBoundingClientRect();
        if (card === undefined || box.width === 0) return [];
        const own = card.getBoundingClientRect();
        const middle = { x: (box.left + box.right) / 2, y: (box.top + box.bottom) / 2 };
        const style = getComputedStyle(mark);
        const range = document.createRange();
        const texts = document.createTreeWalker(card, NodeFilter.SHOW_TEXT);
        let covers = "";
        while (texts.nextNode() !== null) {
          range.selectNodeContents(texts.currentNode);
          for (const text of range.getClientRects()) {
            const apart =
              text.right <= box.left || text.left >= box.right || text.bottom <= box.top || text.top >= box.bottom;
            if (!apart && text.width > 0) covers += texts.currentNode.nodeValue;
          }
        }
        return {
          tier: mark.getAttribute("data-tier"),
          title: mark.getAttribute("aria-label"),
          on: middle.x > own.left && middle.x < own.right && middle.y >= own.top - 14 && middle.y < own.bottom,
          seen: style.visibility === "visible",
          height: box.height,
          covers,
        };
      });
    });

  it("stand on every judged listing with its verdict, and on nothing else", async () => {
    const page = await open("/grid?n=12");
    const marks = page.locator(".mark");
    expect(await marks.count()).toBe(12 * MARKED);
    const found = await places(page);
    expect(found.every(({ on }) => on)).toBe(true);
    for (const { title, tier } of found) {
      expect(TITLES.find((each) => title?.includes(each.title.slice(0, 30)))?.tier).toBe(tier);
    }
    expect(await page.locator(".mark", { hasText: "hose" }).count()).toBe(0);
    await page.close();
  });

  it("are joined by one sentence that names both prices and what the cheap one would do", async () => {
    const page = await open("/grid?n=12");
    const said = (await page.locator(".sentence").textContent()) ?? "";
    expect(said).toContain("$36.00");
    expect(said).toContain("early board");
    expect(said).toContain("$54.00: $18.00 more");
    expect(said).toContain("supply");
    await page.close();
  });

  it("are not drawn, and nothing of ours is in the page, where there is no listing", async () => {
    const page = await extension.context.newPage();
    for (const path of ["/empty", "/grid?n=0"]) {
      await page.goto(shop.origin + path);
      await page.waitForTimeout(800);
      expect(await page.locator("falsefit-overlay").count()).toBe(0);
    }
    await page.close();
  });

  it.each([
    ["a grid", "/grid?n=24", 1280],
    ["a list", "/list?n=24", 1280],
    ["a table", "/table?n=24", 1280],
    ["a page from right to left", "/grid?n=24&dir=rtl", 1280],
    ["a dark page", "/grid?n=24&dark=1", 1280],
    ["a narrow window", "/grid?n=24", 360],
    ["cards in front of everything", "/grid?n=12&css=front", 1280],
    ["turned and shrunk cards", "/grid?n=12&css=turned", 1280],
    ["rules that count children", "/grid?n=12&css=counted", 1280],
    ["a page that unsets everything", "/grid?n=8&css=hostile", 1280],
    ["a page that hides what it does not know", "/grid?n=8&css=bare", 1280],
    ["a page that allows no styles", "/grid?n=8&policy=strict", 1280],
  ])("stand right and shift nothing: %s", async (_name, path, width) => {
    const page = await extension.context.newPage();
    await page.setViewportSize({ width, height: 800 });
    await page.addInitScript(() => {
      const scope = window as unknown as { shifts: number };
      scope.shifts = 0;
      new PerformanceObserver((list) => {
        for (const entry of list.getEntries()) scope.shifts += (entry as unknown as { value: number }).value;
      }).observe({ type: "layout-shift", buffered: true });
    });
    const boxesOf = () =>
      page.evaluate(() =>
        [...document.querySelectorAll("body, .card, .card *")].map((each) => {
          const { left, top, width: wide, height } = each.getBoundingClientRect();
          return [left, top, wide, height, getComputedStyle(each).backgroundColor].join(" ");
        }),
      );
    await page.goto(shop.origin + path, { waitUntil: "domcontentloaded" });
    const before = await boxesOf();
    await page.locator(".mark:not([hidden])").first().waitFor();
    await page.waitForTimeout(300);
    expect(await boxesOf()).toEqual(before);
    expect(await page.evaluate(() => (window as unknown as { shifts: number }).shifts)).toBe(0);
    const found = await places(page);
    const inWindow = await page.evaluate(() => innerHeight);
    expect(found.length).toBeGreaterThan(0);
    expect(inWindow).toBe(800);
    expect(found.filter(({ on }) => !on)).toEqual([]);
    expect(found.some(({ seen }) => seen)).toBe(true);
    if (!path.includes("turned")) expect(found.filter(({ covers }) => covers !== "")).toEqual([]);
    if (!path.includes("turned")) expect(found.every(({ height }) => height >= 24)).toBe(true);
    expect(await page.evaluate(() => document.documentElement.scrollWidth > innerWidth)).toBe(false);
    await page.close();
  });

  it("hide while a header lies over their card and come back after it", async () => {
    const page = await open("/grid?n=40&css=sticky");
    // So far that the marks of the first row come to lie under the header.
    const [first] = await page
      .locator(".mark")
      .evaluateAll((marks) => marks.map((mark) => mark.getBoundingClientRect().top));
    await page.evaluate((top) => scrollTo(0, top - 100), first ?? 0);
    await page.waitForTimeout(300);
    const covered = await page.evaluate(() => {
      const root = document.querySelector("falsefit-overlay")?.shadowRoot;
      return [...(root?.querySelectorAll<HTMLElement>(".mark:not([hidden])") ?? [])]
        .filter((mark) => {
          const { top, bottom } = mark.getBoundingClientRect();
          return bottom > 0 && bottom < 220 && top > -24;
        })
        .map((mark) => getComputedStyle(mark).visibility);
    });
    expect(covered.length).toBeGreaterThan(0);
    expect(new Set(covered)).toEqual(new Set(["hidden"]));
    await page.evaluate(() => scrollTo(0, 0));
    await page.waitForTimeout(300);
    expect((await places(page)).filter(({ seen }) => seen).length).toBeGreaterThan(0);
    await page.close();
  });

  it("move with a box that scrolls inside of the page, and hide at its edge", async () => {
    const page = await open("/grid?n=40&css=inner");
    await page.evaluate(() => document.querySelector("main")?.scrollBy(0, 240));
    await page.waitForTimeout(300);
    const seen = (await places(page)).filter((each) => each.seen);
    expect(seen.length).toBeGreaterThan(0);
    expect(seen.every(({ on }) => on)).toBe(true);
    const outside = await page.evaluate(() => {
      const edge = document.querySelector("main")?.getBoundingClientRect();
      const root = document.querySelector("falsefit-overlay")?.shadowRoot;
      return [...(root?.querySelectorAll<HTMLElement>(".mark:not([hidden])") ?? [])].filter((mark) => {
        const { top, bottom } = mark.getBoundingClientRect();
        const out = edge && bottom > 0 && top < innerHeight && (bottom < edge.top || top > edge.bottom);
        return out && getComputedStyle(mark).visibility === "visible";
      }).length;
    });
    expect(outside).toBe(0);
    await page.close();
  });

  it("follow the page: added listings are marked, removed ones lose their mark", async () => {
    const page = await open("/grid?n=4&js=more");
    expect(await page.locator(".mark").count()).toBe(3);
    await page.evaluate(
      (html) => (window as unknown as { more(html: string): void }).more(html),
      [20, 21, 22].map(card).join(""),
    );
    await expect.poll(() => page.locator(".mark").count()).toBe(6);
    await page.evaluate(() => document.querySelector(".card")?.remove());
    await expect.poll(() => page.locator(".mark").count()).toBe(5);
    await page.close();
  });

  it("give up when the page keeps taking them away, and the page stays usable", async () => {
    const page = await extension.context.newPage();
    await page.goto(`${shop.origin}/grid?n=8&js=fights`);
    await expect.poll(() => page.title()).toBe("removed 11");
    await page.waitForTimeout(500);
    expect(await page.title()).toBe("removed 11");
    expect(await page.locator("falsefit-overlay").count()).toBe(0);
    await page.close();
  });

  it("leave no trace that a page's script could read, and take no orders from it", async () => {
    const page = await open("/grid?n=8");
    const names = await page.evaluate(() =>
      Object.getOwnPropertyNames(window).filter((name) => /falsefit/i.test(name)),
    );
    const symbols = await page.evaluate(() =>
      Object.getOwnPropertySymbols(window)
        .map(String)
        .filter((name) => /falsefit/i.test(name)),
    );
    expect([...names, ...symbols]).toEqual([]);
    await page.evaluate(() => {
      window.postMessage({ kind: "toggle-marks" }, "*");
      document.dispatchEvent(new CustomEvent("toggle-marks"));
    });
    await page.waitForTimeout(300);
    expect((await places(page)).some(({ seen }) => seen)).toBe(true);
    await page.close();
  });

  it("print as words behind the titles, and the page is as it was afterwards", async () => {
    const page = await open("/grid?n=4");
    const before = await page.evaluate(() => document.body.innerHTML);
    await page.evaluate(() => {
      const scope = window as unknown as { printed: string };
      window.addEventListener("beforeprint", () => {
        scope.printed = document.querySelector("main")?.textContent ?? "";
      });
    });
    await page.pdf();
    const printed = await page.evaluate(() => (window as unknown as { printed: string }).printed);
    expect(printed).toContain("[Other revision]");
    expect(printed).toContain("[Fits]");
    expect(await page.evaluate(() => document.body.innerHTML)).toBe(before);
    await page.close();
  });

  it("can be hidden and shown; the badge counts those to keep off", async () => {
    const page = await open("/grid?n=8");
    const badge = () =>
      extension.worker.evaluate(async () => {
        const [tab] = await chrome.tabs.query({ active: true, lastFocusedWindow: true });
        return chrome.action.getBadgeText(tab?.id === undefined ? {} : { tabId: tab.id });
      });
    await page.bringToFront();
    await expect.poll(badge).toBe("2");
    await tell(extension, page, { kind: "toggle-marks" });
    expect((await places(page)).filter(({ seen }) => seen)).toEqual([]);
    await expect.poll(badge).toBe("");
    await tell(extension, page, { kind: "toggle-marks" });
    await expect.poll(badge).toBe("2");
    await page.close();
  });

  it("go away with the device's mind: another device in hand, other verdicts at once", async () => {
    const page = await open("/grid?n=8");
    const heard = complaints(page);
    const popup = await extension.context.newPage();
    await popup.goto(`${extension.origin}/popup.html`);
    await popup.getByRole("radio", { name: /Hall vacuum/ }).check();
    await expect.poll(() => page.locator(".mark").count()).toBe(0);
    await popup.getByRole("radio", { name: /My Lark 20/ }).check();
    await expect.poll(() => page.locator(".mark").count()).toBe(6);
    expect(heard).toEqual([]);
    await popup.close();
    await page.close();
  });
});

/** The bits of the browser's own namespace that tests use inside of the extension's worker. */
declare const chrome: {
  tabs: { query(filter: object): Promise<{ id?: number }[]> };
  action: { getBadgeText(details: { tabId?: number }): Promise<string> };
};
