import type { Page } from "playwright-core";
import { afterAll, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { violations } from "./axe.ts";
import { browser, type OpenedExtension, openExtension, takeExample } from "./extension.ts";
import { openShop, type Shop } from "./pages/shop.ts";

interface Look {
  readonly name: string;
  readonly path?: string;
  readonly width?: number;
  readonly height?: number;
  readonly media?: Parameters<Page["emulateMedia"]>[0];
  readonly settings?: object;
}

/** 200 % zoom halves the window in CSS pixels. */
const LOOKS: readonly Look[] = [
  {
    name: "right to left, on a page from right to left",
    path: "/grid?n=8&dir=rtl",
    settings: { language: "qps-plocm" },
  },
  { name: "right to left, on a page from left to right", settings: { language: "qps-plocm" } },
  { name: "forced colours", media: { forcedColors: "active" } },
  { name: "a window of 360 px", width: 360, height: 740 },
  { name: "200 % zoom", width: 640, height: 400 },
  { name: "a window of 320 px", width: 320, height: 256 },
  { name: "German", settings: { language: "de" } },
  { name: "Polish", settings: { language: "pl" } },
  { name: "more contrast", settings: { contrast: "more" } },
  { name: "signs alone", settings: { marks: "signs" } },
  { name: "a dark page with a light system", path: "/grid?n=8&dark=1", media: { colorScheme: "light" } },
  { name: "no motion", media: { reducedMotion: "reduce" } },
];

describe.skipIf(browser === null)("every look", () => {
  let extension: OpenedExtension;
  let shop: Shop;
  let tab: number;

  beforeAll(async () => {
    [extension, shop] = await Promise.all([openExtension(), openShop()]);
    await takeExample(extension);
  });
  afterAll(async () => {
    await extension?.close();
    await shop?.close();
  });
  beforeEach(() => set({}));

  const set = (value: object) =>
    extension.worker.evaluate(
      (settings) => chrome.storage.local.set({ settings: { v: 1, at: "2026-11-25", value: settings } }),
      value,
    );

  async function open({
    path = "/grid?n=8",
    width = 1280,
    height = 800,
    media = {},
    settings = {},
  }: Look): Promise<Page> {
    await set(settings);
    const page = await extension.context.newPage();
    await page.setViewportSize({ width, height });
    await page.emulateMedia(media);
    await page.goto(shop.origin + path);
    await page.locator(".mark:not([hidden])").first().waitFor();
    tab = await extension.worker.evaluate(
      async () => (await chrome.tabs.query({ url: "http://127.0.0.1/*" }))[0]?.id ?? -1,
    );
    return page;
  }

  /** The pseudo-language is no language that a rule could know; everything else about it must be right. */
  const faults = async (page: Page, within?: string) =>
    (await violations(page, within)).filter(
      (fault) => !/^(?:html-lang-valid|valid-lang) /.test(fault) || !fault.includes("qps"),
    );

  it.each(LOOKS)("the overlay keeps inside of the window, whole and without a fault: $name", async (look) => {
    const page = await open(look);
    const inside = () =>
      page.evaluate(() => {
        const root = document.querySelector("falsefit-overlay")?.shadowRoot;
        const boxes = [...(root?.querySelectorAll(".strip, .pill, .panel, .mark:not([hidden])") ?? [])].map((each) =>
          each.getBoundingClientRect(),
        );
        const cut = [...(root?.querySelectorAll<HTMLElement>(".act, .panel h2, .sentence p, .ff-half") ?? [])].filter(
          (each) => each.scrollWidth > each.clientWidth + 1 && each.clientWidth > 0,
        );
        return {
          outside: boxes.filter(({ left, right, width }) => width > 0 && (left < -0.5 || right > innerWidth + 0.5))
            .length,
          cut: cut.map((each) => each.textContent),
          overflow: document.documentElement.scrollWidth > innerWidth,
        };
      });
    const right = { outside: 0, cut: [], overflow: false };
    expect(await inside()).toEqual(right);
    expect(await faults(page, "falsefit-overlay")).toEqual([]);
    await page.locator('.mark[data-tier="stop"]:not([hidden])').first().click();
    await page.locator(".panel").waitFor();
    expect(await inside()).toEqual(right);
    expect(await faults(page, "falsefit-overlay")).toEqual([]);
    const panel = await page.locator(".panel").boundingBox();
    expect(panel && panel.y >= 0 && panel.y + panel.height <= (look.height ?? 800)).toBe(true);
    const words = await page.locator(".panel").textContent();
    expect(words?.match(/\[[a-z]+_[a-z_]+\]/g)).toBeNull();
    await page.keyboard.press("Escape");
    await page.close();
  });

  it("speaks its own language in its own direction, whatever the page's", async () => {
    const page = await open({ name: "", settings: { language: "qps-plocm" } });
    const layers = await page.evaluate(() =>
      [
        ...(document.querySelector("falsefit-overlay")?.shadowRoot?.querySelectorAll<HTMLElement>(".ff-root") ?? []),
      ].map(({ dir, lang }) => `${dir} ${lang}`),
    );
    expect(layers).toEqual(["rtl qps-plocm", "rtl qps-plocm"]);
    await page.locator(".mark").first().focus();
    await page.keyboard.press("ArrowLeft");
    const label = () =>
      page.evaluate(() => document.querySelector("falsefit-overlay")?.shadowRoot?.activeElement?.ariaLabel);
    expect(await label()).toMatch(/\(1\)$/);
    await page.keyboard.press("ArrowRight");
    expect(await label()).toMatch(/\(0\)$/);
    await page.close();
  });

  it("shows signs alone where that is wished, and still says the words", async () => {
    const page = await open({ name: "", settings: { marks: "signs" } });
    const mark = page.locator(".mark").first();
    expect(await mark.locator(".word").isVisible()).toBe(false);
    expect(await mark.getAttribute("aria-label")).toMatch(/^Other revision: /);
    expect((await mark.boundingBox())?.width).toBe(24);
    await page.close();
  });

  it.each(LOOKS)("the popup reflows and has no fault: $name", async (look) => {
    const page = await open(look);
    const popup = await extension.context.newPage();
    await popup.setViewportSize({ width: look.width === undefined ? 372 : 320, height: 600 });
    await popup.emulateMedia(look.media ?? {});
    await popup.goto(`${extension.origin}/popup.html?tab=${tab}`);
    await popup.getByRole("radio").first().waitFor();
    await popup.getByRole("textbox").fill("Battery PB-1840 for PL-20");
    await popup.locator(".verdict").waitFor();
    expect(await faults(popup)).toEqual([]);
    const { wide, dir } = await popup.evaluate(() => ({
      wide: document.documentElement.scrollWidth > innerWidth,
      dir: document.documentElement.dir,
    }));
    expect(wide).toBe(false);
    expect(dir).toBe(JSON.stringify(look.settings ?? {}).includes("qps") ? "rtl" : "ltr");
    await popup.close();
    await page.close();
  });
});

/** The bits of the browser's own namespace that tests use inside of the extension. */
declare const chrome: {
  storage: { local: { set(items: object): Promise<void> } };
  tabs: { query(filter: object): Promise<{ id?: number }[]> };
};
