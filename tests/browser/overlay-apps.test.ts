import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { browser, complaints, type OpenedExtension, openExtension, takeExample } from "./extension.ts";
import { buildApps } from "./pages/apps.ts";
import { openShop, type Shop } from "./pages/shop.ts";

type AppWindow = { recovered: string[]; hydrated?: boolean };

describe.skipIf(browser === null)("marks on apps that hydrate", () => {
  let extension: OpenedExtension;
  let shop: Shop;

  beforeAll(async () => {
    const [opened, started, files] = await Promise.all([openExtension(), openShop(), buildApps()]);
    extension = opened;
    shop = started;
    for (const [path, { body, type }] of files) shop.serve(path, body, type);
    await takeExample(extension);
  });
  afterAll(async () => {
    await extension?.close();
    await shop?.close();
  });

  it.each([
    ["React in strict mode", "/react"],
    ["React that owns the whole document", "/react-whole"],
    ["Preact with its debugging on", "/preact"],
  ])("%s hydrates without a word, works, and keeps its marks while it renders anew", async (_name, path) => {
    const page = await extension.context.newPage();
    const heard = complaints(page);
    await page.goto(shop.origin + path);
    const marks = page.locator(".mark:not([hidden])");
    await marks.first().waitFor();
    expect(await page.evaluate(() => (window as unknown as AppWindow).hydrated)).toBe(true);
    expect(await marks.count()).toBe(6);
    await page.locator("#more").click();
    await expect.poll(() => page.locator(".mark").count()).toBe(9);
    await page.locator("#sort").click();
    await expect
      .poll(async () => {
        const first = await page.locator(".card").first().textContent();
        const [label] = await page.locator(".mark").evaluateAll((all) => all.map((mark) => mark.ariaLabel ?? ""));
        return (
          first?.includes("(8)") &&
          page
            .locator(".mark")
            .count()
            .then((count) => `${count} ${label !== ""}`)
        );
      })
      .toBe("9 true");
    await page.waitForTimeout(400);
    const right = await page.evaluate(() => {
      const all = [
        ...(document.querySelector("falsefit-overlay")?.shadowRoot?.querySelectorAll(".mark:not([hidden])") ?? []),
      ];
      return all.every((mark) => {
        const number = /\((\d+)\)$/.exec(mark.getAttribute("aria-label") ?? "")?.[0] ?? "none";
        const card = [...document.querySelectorAll(".card")].find((each) => each.textContent?.includes(number));
        const [own, box] = [card?.getBoundingClientRect(), mark.getBoundingClientRect()];
        return own && box.left >= own.left && box.right <= own.right && box.bottom <= own.bottom;
      });
    });
    expect(right).toBe(true);
    expect(await page.evaluate(() => (window as unknown as AppWindow).recovered)).toEqual([]);
    expect(heard).toEqual([]);
    await page.close();
  });
});
