import type { Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { violations } from "./axe.ts";
import { browser, complaints, type OpenedExtension, openExtension } from "./extension.ts";
import { openShop, type Shop } from "./pages/shop.ts";

describe.skipIf(browser === null)("the popup", () => {
  let extension: OpenedExtension;
  let shop: Shop;
  let page: Page;
  let tab: number;

  beforeAll(async () => {
    [extension, shop] = await Promise.all([openExtension(), openShop()]);
    page = await extension.context.newPage();
    await page.goto(`${shop.origin}/grid?n=8`);
    tab = await extension.worker.evaluate(async () => {
      const [found] = await chrome.tabs.query({ url: "http://127.0.0.1/*" });
      return found?.id ?? -1;
    });
  });
  afterAll(async () => {
    await extension?.close();
    await shop?.close();
  });

  async function openPopup(colorScheme: "light" | "dark" = "light"): Promise<Page> {
    const popup = await extension.context.newPage();
    await popup.setViewportSize({ width: 372, height: 600 });
    await popup.emulateMedia({ colorScheme });
    await popup.goto(`${extension.origin}/popup.html?tab=${tab}`);
    await popup.getByRole("main").waitFor();
    return popup;
  }

  it("leads a newcomer to a saved device by keyboard alone, and says what is wrong on the way", async () => {
    const popup = await openPopup();
    const heard = complaints(popup);
    expect(await violations(popup)).toEqual([]);
    await popup.keyboard.press("Enter");
    const model = popup.getByLabel("Model number");
    expect(await model.getAttribute("aria-invalid")).toBe("true");
    expect(await popup.getByText("Type the model number that is on the case.").isVisible()).toBe(true);
    expect(await violations(popup)).toEqual([]);
    await model.focus();
    await popup.keyboard.type("PL-20");
    await popup.keyboard.press("Tab");
    await popup.keyboard.type("My own handheld");
    await popup.keyboard.press("Tab");
    await popup.keyboard.press("Tab");
    await popup.keyboard.type("spring");
    await popup.keyboard.press("Enter");
    expect(await popup.getByText("Write a year, month or week").first().isVisible()).toBe(true);
    await popup.getByLabel("Build date").fill("2021-W20");
    await popup.keyboard.press("Enter");
    const own = popup.getByRole("radio", { name: /My own handheld/ });
    await own.waitFor();
    expect(await own.isChecked()).toBe(true);
    expect(heard).toEqual([]);
    await popup.close();
  });

  it("offers the example, switches devices in two keys, and the page follows", async () => {
    const popup = await openPopup();
    await popup.evaluate(() => chrome.runtime.sendMessage({ kind: "add-example" }));
    const lark = popup.getByRole("radio", { name: /My Lark 20/ });
    await lark.waitFor();
    expect(await lark.isChecked()).toBe(true);
    await expect.poll(() => page.locator(".mark").count()).toBe(6);
    await popup.getByText("cheaper").first().waitFor();
    await lark.focus();
    await popup.keyboard.press("ArrowDown");
    expect(await popup.getByRole("radio", { name: /Hall vacuum/ }).isChecked()).toBe(true);
    await expect.poll(() => page.locator(".mark").count()).toBe(0);
    await popup.keyboard.press("ArrowUp");
    await expect.poll(() => page.locator(".mark").count()).toBe(6);
    await popup.close();
  });

  it("says the page's one sentence and switches its site off and on again", async () => {
    const popup = await openPopup();
    await popup.getByText("$36.00").first().waitFor();
    await popup.getByRole("button", { name: "Stop marking this site" }).click();
    await expect.poll(() => page.locator("falsefit-overlay").count()).toBe(0);
    await popup.getByText("Listings on 127.0.0.1 are not marked.").waitFor();
    expect(await popup.getByText(/nothing leaves this browser/).isVisible()).toBe(true);
    expect(await violations(popup)).toEqual([]);
    await page.reload();
    await page.waitForTimeout(600);
    expect(await page.locator("falsefit-overlay").count()).toBe(0);
    await popup.getByRole("button", { name: "This page only, once" }).click();
    await expect.poll(() => page.locator(".mark").count()).toBe(6);
    await popup.getByRole("button", { name: "Mark listings on this site" }).click();
    await popup.getByRole("button", { name: "Stop marking this site" }).waitFor();
    await page.reload();
    await expect.poll(() => page.locator(".mark").count()).toBe(6);
    await popup.close();
  });

  it("judges one pasted title for the device in hand", async () => {
    const popup = await openPopup();
    await popup.getByLabel("Paste a title from anywhere").fill("Battery PB-1840 for PL-20");
    await popup.getByRole("heading", { name: /Other revision/ }).waitFor();
    expect(await popup.locator(".ff-pair tr.ff-differs").count()).toBe(4);
    expect((await popup.locator("main").textContent())?.match(/\[[a-z_]+\]|\{[A-Za-z]+\}/g)).toBeNull();
    expect(await violations(popup)).toEqual([]);
    await popup.getByLabel("Paste a title from anywhere").fill("");
    await expect.poll(() => popup.locator(".verdict").count()).toBe(0);
    await popup.close();
  });

  it("reports a damaged value and goes on with the rest", async () => {
    await extension.worker.evaluate(() => chrome.storage.local.set({ "device/broken": { v: 1, at: "x", value: 3 } }));
    const popup = await openPopup();
    await popup.getByText("One saved value could not be read.").waitFor();
    expect(await popup.getByRole("radio").count()).toBe(5);
    await popup.close();
  });

  it("throws the example away, and takes that back", async () => {
    const popup = await openPopup();
    await popup.getByRole("button", { name: "Throw the example away" }).click();
    await popup.getByText("The example is gone.").waitFor();
    expect(await popup.getByRole("radio").count()).toBe(1);
    expect(await violations(popup)).toEqual([]);
    await popup.getByRole("button", { name: "Undo" }).click();
    await expect.poll(() => popup.getByRole("radio").count()).toBe(5);
    await popup.close();
  });

  it("finds a device among many", async () => {
    const popup = await openPopup();
    await extension.worker.evaluate(async () => {
      const items: Record<string, unknown> = {};
      for (let i = 0; i < 1000; i++) {
        const device = { id: `j${i}`, name: `Job ${i}`, modelNumbers: ["QS13"], fitted: [], accept: [], refuse: [] };
        items[`device/j${i}`] = {
          v: 1,
          at: "2026-01-01T00:00:00Z",
          value: { addedAt: "2026-01-01T00:00:00Z", device },
        };
      }
      await chrome.storage.local.set(items);
    });
    await popup.reload();
    await popup.getByRole("button", { name: "All 1,005 devices" }).click();
    await popup.getByLabel("Find a device").fill("job 777");
    await popup.getByRole("radio", { name: /Job 777/ }).check();
    await popup.getByLabel("Find a device").fill("no such thing");
    expect(await popup.getByText("No device has that").isVisible()).toBe(true);
    expect(await violations(popup)).toEqual([]);
    await popup.close();
  });

  it("fails no rule of axe-core in the dark either", async () => {
    const popup = await openPopup("dark");
    await popup.getByLabel("Paste a title from anywhere").fill("Display 30 pin for QS13");
    await popup.locator(".verdict").waitFor();
    expect(await violations(popup)).toEqual([]);
    await popup.close();
  });
});

/** The bits of the browser's own namespace that tests use inside of the extension. */
declare const chrome: {
  runtime: { sendMessage(message: object): Promise<unknown> };
  storage: { local: { set(items: object): Promise<void> } };
  tabs: { query(filter: object): Promise<{ id?: number }[]> };
};
