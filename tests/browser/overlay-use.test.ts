import type { Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { violations } from "./axe.ts";
import { browser, complaints, type OpenedExtension, openExtension, takeExample, tell } from "./extension.ts";
import { openShop, type Shop } from "./pages/shop.ts";

const OVERLAY = "falsefit-overlay";

describe.skipIf(browser === null)("using the overlay", () => {
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

  async function open(path: string): Promise<Page> {
    const page = await extension.context.newPage();
    await page.goto(shop.origin + path);
    await page.locator(".mark:not([hidden])").first().waitFor();
    return page;
  }

  /** Name and role of what has the focus inside of the overlay, as a screen reader hears it. */
  const focused = (page: Page) =>
    page.evaluate(() => {
      const active = document.querySelector("falsefit-overlay")?.shadowRoot?.activeElement;
      const labelled = active?.getAttribute("aria-labelledby");
      const label = labelled ? active?.querySelector(`#${labelled}`)?.textContent : active?.getAttribute("aria-label");
      return active ? `${active.getAttribute("role") ?? active.localName}: ${label ?? active.textContent}` : "nothing";
    });

  it("the whole walk needs no mouse: next, open, read, next, close, hide", async () => {
    const page = await open("/grid?n=40");
    await tell(extension, page, { kind: "move", to: "next" });
    await expect
      .poll(() => focused(page))
      .toBe("button: Other revision: Battery for Pellworm Lark 20 PL-20, PB-1840, new (0)");
    await page.keyboard.press("Enter");
    await expect.poll(() => focused(page)).toMatch(/^dialog: Other revision/);
    await page.keyboard.press("ArrowRight");
    await expect.poll(() => focused(page)).toMatch(/^dialog: Fits/);
    await page.keyboard.press("ArrowLeft");
    await expect.poll(() => focused(page)).toMatch(/^dialog: Other revision/);
    await page.keyboard.press("Tab");
    await expect.poll(() => focused(page)).toBe("button: Close");
    await page.keyboard.press("Escape");
    await expect.poll(() => focused(page)).toMatch(/^button: Other revision: .*\(0\)$/);
    await page.keyboard.press("ArrowRight");
    await expect.poll(() => focused(page)).toMatch(/^button: Fits: .*\(1\)$/);
    await tell(extension, page, { kind: "move", to: "previous" });
    await tell(extension, page, { kind: "move", to: "previous" });
    await expect.poll(() => focused(page)).toMatch(/\(38\)$/);
    expect(await page.evaluate(() => scrollY)).toBeGreaterThan(0);
    await page.close();
  });

  it("the page's own shortcuts do not answer keys that are typed into the overlay", async () => {
    const page = await open("/grid?n=8");
    await page.evaluate(() => {
      const scope = window as unknown as { heard: string[] };
      scope.heard = [];
      document.addEventListener("keydown", ({ key }) => scope.heard.push(key));
    });
    await tell(extension, page, { kind: "move", to: "next" });
    for (const key of ["ArrowRight", "Enter", "n", "Escape"]) await page.keyboard.press(key);
    expect(await page.evaluate(() => (window as unknown as { heard: string[] }).heard)).toEqual([]);
    await page.close();
  });

  it("one mark is in the page's tab order, and the panel is left as it was come to", async () => {
    const page = await open("/grid?n=8");
    expect(await page.locator('.mark[tabindex="0"]').count()).toBe(1);
    await page.locator(".mark").nth(2).click();
    expect(await page.locator('.mark[tabindex="0"]').count()).toBe(1);
    await page.locator(".panel").waitFor();
    expect(await page.locator(".mark").nth(2).getAttribute("aria-expanded")).toBe("true");
    await page.locator("h1").click();
    expect(await page.locator(".panel").count()).toBe(0);
    expect(await page.locator('.mark[aria-expanded="true"]').count()).toBe(0);
    await page.close();
  });

  it("an opened mark shows what differs, what would happen, what to look for, and the words it rests on", async () => {
    const page = await open("/grid?n=8");
    await page.locator('.mark[data-tier="stop"]').first().click();
    const panel = page.getByRole("dialog");
    expect(await panel.locator(".ff-hazard strong").first().textContent()).toBe("WARNING");
    expect(await panel.locator(".ff-caution").first().textContent()).toContain("maker");
    expect(await panel.locator("mark").allTextContents()).toContain("PB-1840");
    expect(await panel.locator(".ff-pair tr.ff-differs").count()).toBe(4);
    expect(await panel.locator(".ff-pair thead").textContent()).toContain("PB-2240");
    expect(await panel.locator(".ff-checks").textContent()).toContain("PB-2240");
    expect(await panel.locator(".ff-reasons li").count()).toBeGreaterThan(0);
    expect((await panel.textContent())?.match(/\[[a-z_]+\]|\{[A-Za-z]+\}/g)).toBeNull();
    const boxes = await page.evaluate(() => {
      const root = document.querySelector("falsefit-overlay")?.shadowRoot;
      const [panelBox, markBox] = [".panel", '.mark[aria-expanded="true"]'].map((each) =>
        root?.querySelector(each)?.getBoundingClientRect(),
      );
      return panelBox && markBox
        ? {
            inside:
              panelBox.left >= 0 && panelBox.top >= 0 && panelBox.right <= innerWidth && panelBox.bottom <= innerHeight,
            apart:
              panelBox.left >= markBox.right ||
              panelBox.right <= markBox.left ||
              panelBox.top >= markBox.bottom ||
              panelBox.bottom <= markBox.top,
          }
        : null;
    });
    expect(boxes).toEqual({ inside: true, apart: true });
    await page.close();
  });

  it("the strip goes to what fits, sorts, dims and folds; it gives way to the page's focus", async () => {
    const page = await open("/grid?n=40");
    const strip = page.getByRole("region", { name: "Falsefit: this page" });
    await strip.getByRole("button", { name: "Go to the first that fits" }).click();
    await expect.poll(() => focused(page)).toMatch(/^button: Fits/);
    await strip.getByRole("button", { name: "Sort" }).click();
    const rows = await strip.locator("li").evaluateAll((all) => all.map((row) => row.dataset["tone"]));
    expect(rows).toHaveLength(30);
    expect(rows).toEqual(
      [...rows].sort((a, b) => ["go", "check", "stop"].indexOf(a ?? "") - ["go", "check", "stop"].indexOf(b ?? "")),
    );
    await strip.locator("li button").last().click();
    await expect.poll(() => focused(page)).toMatch(/^button: Other revision/);
    await strip.getByRole("button", { name: "Dim" }).click();
    const veils = () => page.locator(".veil:not([hidden])").count();
    expect(await veils()).toBe(10);
    await strip.getByRole("button", { name: "Wrong ones dimmed" }).click();
    expect(await veils()).toBe(20);
    await strip.getByRole("button", { name: "All but fitting dimmed" }).click();
    expect(await veils()).toBe(0);
    await strip.getByRole("button", { name: "Fold" }).click();
    expect(await strip.getByRole("button").count()).toBe(1);
    await strip.getByRole("button").click();
    const covered = await page.evaluate(() => {
      const own = document
        .querySelector("falsefit-overlay")
        ?.shadowRoot?.querySelector(".strip")
        ?.getBoundingClientRect();
      const link = [...document.querySelectorAll("a")].find((each) => {
        const { left, top, right, bottom } = each.getBoundingClientRect();
        return own && left < own.right && right > own.left && top < own.bottom && bottom > own.top;
      });
      link?.focus({ preventScroll: true });
      return link !== undefined;
    });
    expect(covered).toBe(true);
    await expect.poll(() => strip.getByRole("button").count()).toBe(1);
    await page.close();
  });

  it("an unknown number can be settled by hand and is known from then on", async () => {
    const page = await extension.context.newPage();
    shop.serve(
      "/unknown",
      `<!doctype html><html lang="en"><title>Invented shop</title><body><main>${[1, 2, 3]
        .map(
          (i) =>
            `<article><h3><a href="/i/${i}">Battery QW-771${i} for Pellworm Lark 20 PL-20</a></h3><p>$2${i}.00</p></article>`,
        )
        .join("")}</main>`,
    );
    await page.goto(`${shop.origin}/unknown`);
    await page.locator(".mark:not([hidden])", { hasText: "Unknown number" }).first().click();
    await page.getByRole("button", { name: "I know that QW-7711 fits" }).click();
    await expect.poll(() => page.locator(".mark", { hasText: "Fits" }).count()).toBe(1);
    await page.close();
  });

  it("a selected text is judged in the window's corner, also where the site is not switched on", async () => {
    const page = await extension.context.newPage();
    await page.goto(`${shop.origin}/empty`);
    await page.waitForTimeout(300);
    await tell(extension, page, { kind: "check-text", text: "Battery PB-1840 for PL-20" });
    const panel = page.getByRole("dialog");
    await panel.waitFor();
    expect(await panel.textContent()).toContain("Other revision");
    expect(await violations(page, OVERLAY)).toEqual([]);
    await page.keyboard.press("Escape");
    expect(await panel.count()).toBe(0);
    await page.close();
  });

  it.each([
    ["light", "/grid?n=8", "light"],
    ["dark", "/grid?n=8&dark=1", "dark"],
  ] as const)("nothing in it fails axe-core, %s, in any state", async (_name, path, colorScheme) => {
    const page = await extension.context.newPage();
    await page.emulateMedia({ colorScheme });
    const heard = complaints(page);
    await page.goto(shop.origin + path);
    await page.locator(".mark:not([hidden])").first().waitFor();
    expect(await violations(page, OVERLAY)).toEqual([]);
    const strip = page.getByRole("region", { name: "Falsefit: this page" });
    await strip.getByRole("button", { name: "Sort" }).click();
    expect(await violations(page, OVERLAY)).toEqual([]);
    await strip.getByRole("button", { name: "Sort" }).click();
    for (const tier of ["stop", "check", "go"]) {
      await page.locator(`.mark[data-tier="${tier}"]`).first().click();
      expect(await violations(page, OVERLAY)).toEqual([]);
      await page.keyboard.press("Escape");
    }
    await strip.getByRole("button", { name: "Fold" }).click();
    expect(await violations(page, OVERLAY)).toEqual([]);
    expect(heard).toEqual([]);
    await page.close();
  });

  it("targets are at least 24 px", async () => {
    const page = await open("/grid?n=8");
    await page.locator(".mark").first().click();
    const small = await page.evaluate(() => {
      const root = document.querySelector("falsefit-overlay")?.shadowRoot;
      return [...(root?.querySelectorAll("button:not([hidden])") ?? [])]
        .filter((button) => {
          const { width, height } = button.getBoundingClientRect();
          return width > 0 && (width < 24 || height < 24);
        })
        .map((button) => button.textContent);
    });
    expect(small).toEqual([]);
    await page.close();
  });
});
