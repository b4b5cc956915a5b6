import type { Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { violations } from "./axe.ts";
import { longestTask, longTasks, noteLongTasks } from "./desk-lists.ts";
import { browser, complaints, type OpenedExtension, openExtension, takeExample } from "./extension.ts";
import { openShop, type Shop } from "./pages/shop.ts";

describe.skipIf(browser === null)("the title desk", () => {
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

  async function openDesk(place = "title", colorScheme: "light" | "dark" = "light"): Promise<Page> {
    const page = await extension.context.newPage();
    await page.emulateMedia({ colorScheme, reducedMotion: "reduce" });
    await noteLongTasks(page);
    await page.goto(`${extension.origin}/workbench.html#${place}`);
    await page.getByRole("heading", { level: 1 }).waitFor();
    return page;
  }
  const title = (page: Page) => page.getByLabel("Title", { exact: true });

  it("reads a title as it is typed, names what to change, and composes one that everybody reads rightly", async () => {
    const page = await openDesk();
    const heard = complaints(page);
    await title(page).focus();
    await page.keyboard.type("Battery for PL-20 2020-2022", { delay: 5 });
    await page.getByText("Only the model is named (PL-20)").waitFor();
    await page.getByText("The text does not say which part is sold.").waitFor();
    await title(page).fill("PB-1840 battery for PL-20");
    await page.getByRole("heading", { name: "1 is rightly told yes and 1 is rightly told no" }).waitFor();
    const composed = page.locator(".td-title").first();
    await composed.waitFor();
    const text = (await composed.textContent()) ?? "";
    expect(text).toContain("PB-1840");
    expect([...text].length).toBeLessThanOrEqual(80);

    await page.getByRole("button", { name: "Read this one" }).first().click();
    expect(await title(page).inputValue()).toBe(text);
    await page.getByRole("heading", { name: "1 is rightly told yes and 1 is rightly told no" }).waitFor();
    await page.getByLabel("Language of the titles").selectOption("de");
    await page.locator(".td-title[lang=de]", { hasText: "Akku" }).first().waitFor();
    await page.getByLabel("Longest title, in characters").fill("30");
    await expect.poll(async () => [...((await composed.textContent()) ?? "")].length).toBeLessThanOrEqual(30);
    expect(await page.getByText("Left out:").first().textContent()).toContain("PW-4410-2");
    const warning = page.getByRole("region", { name: "For the description" });
    expect(await warning.textContent()).toMatch(/PW-4410-5.*(WARNING|WARNUNG)/);
    expect(heard).toEqual([]);
    await page.close();
  });

  it("keeps the page quick while somebody types fast", async () => {
    const page = await openDesk();
    await title(page).fill("");
    await title(page).focus();
    await longTasks(page);
    const longest_ms = await longestTask(page, async () => {
      await page.keyboard.type("Pellworm PB-1840 battery for PL-20 board PW-4410-2, not for PW-4410-5", { delay: 15 });
      await page.locator(".td-title").first().waitFor();
    });
    console.log("typing:", JSON.stringify({ longest_ms, byClock_ms: await longTasks(page) }));
    expect(longest_ms).toBeLessThanOrEqual(50);
    await page.close();
  });

  it("lets the seller choose the part by keyboard where the text names none", async () => {
    const page = await openDesk();
    await title(page).fill("Battery for PL-20");
    await page.getByRole("button", { name: "Find another part" }).focus();
    await page.keyboard.press("Enter");
    await page.getByLabel("Number, name or model").fill("PB-22");
    const offer = page.getByRole("button", { name: /PB-2240 · battery/ });
    await offer.focus();
    await page.keyboard.press("Enter");
    await page.getByText("The number PB-2240 is missing.").waitFor();
    expect(await page.getByLabel("Part that is sold").inputValue()).toBe("pb-22");
    await page.close();
  });

  it.each(["light", "dark"] as const)("gives axe nothing to say, empty, full and listed, %s", async (scheme) => {
    const page = await openDesk("title", scheme);
    await title(page).fill("");
    await page.getByText("Who would buy this by mistake?").waitFor();
    const found: Record<string, string[]> = { empty: await violations(page) };
    await title(page).fill("Akku PB-1840 passend für alle PL-20");
    await page.getByText("Fields and description").click();
    await page.getByRole("button", { name: "Find another part" }).click();
    await page.locator(".td-title").first().waitFor();
    found["full"] = await violations(page);
    await title(page).fill("Garden chair");
    await page.getByText("The text touches no device").waitFor();
    found["nobody"] = await violations(page);
    await page.getByRole("link", { name: "A list" }).click();
    await page.getByLabel(/Paste listings/).waitFor();
    found["list-empty"] = await violations(page);
    await page
      .getByLabel(/Paste listings/)
      .fill("Title,MPN\nBattery for PL-20 2021,\nPB-1840 battery for PL-20,PB-1840\n");
    await page.getByRole("button", { name: "Read this list" }).click();
    await page.getByRole("heading", { name: "1 of 2 listings needs another title." }).waitFor();
    found["list"] = await violations(page);
    await page.getByRole("list", { name: "Listings" }).getByRole("link").first().click();
    await page.getByText("Only the model is named").waitFor();
    expect(await title(page).inputValue()).toBe("Battery for PL-20 2021");
    for (const [state, faults] of Object.entries(found)) expect(faults, state).toEqual([]);
    await page.close();
  });

  it("takes a title over from a page's field and writes back only on the click that says so", async () => {
    const page = await extension.context.newPage();
    shop.serve("/sell", '<!doctype html><title>Invented form</title><label>Title <input id="title"></label>');
    await page.goto(`${shop.origin}/sell`);
    const field = page.locator("#title");
    await field.fill("PB-1840 battery for PL-20, fits all");
    await field.focus();
    const opening = extension.context.waitForEvent("page");
    await page.bringToFront();
    await extension.worker.evaluate(async () => {
      const [tab] = await chrome.tabs.query({ active: true, lastFocusedWindow: true });
      chrome.contextMenus.onClicked.dispatch({ menuItemId: "read-title", frameId: 0 }, tab);
    });
    const desk = await opening;
    await desk.getByText("Read from a field on a page.").waitFor();
    expect(await title(desk).inputValue()).toBe("PB-1840 battery for PL-20, fits all");
    await desk.getByText("It claims to fit everything").waitFor();
    expect(await field.inputValue()).toBe("PB-1840 battery for PL-20, fits all");
    const best = (await desk.locator(".td-title").first().textContent()) ?? "";
    await desk.getByRole("button", { name: "Write into the field" }).first().click();
    await desk.getByText("Written into the field on the page.").waitFor();
    expect(await field.inputValue()).toBe(best);
    await page.close();
    await desk.getByRole("button", { name: "Write into the field" }).first().click();
    await desk.getByText("The field is no longer there.").waitFor();
    await desk.close();
  });
});

/** The bits of the browser's own namespace that are used inside of the extension's worker. */
declare const chrome: {
  tabs: { query(filter: object): Promise<{ id?: number }[]> };
  contextMenus: { onClicked: { dispatch(info: object, tab: object | undefined): void } };
};
