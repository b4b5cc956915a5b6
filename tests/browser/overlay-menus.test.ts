import type { Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { violations } from "./axe.ts";
import { browser, type OpenedExtension, openExtension, takeExample, tell } from "./extension.ts";
import { openShop, type Shop } from "./pages/shop.ts";

describe.skipIf(browser === null)("menus, keys and an extension that goes away", () => {
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

  /** Lets the browser's own menu event arrive, as if the entry had been chosen on the page. */
  const choose = async (page: Page, menuItemId: string, selectionText = "") => {
    await page.bringToFront();
    await extension.worker.evaluate(
      async (info) => {
        const [tab] = await chrome.tabs.query({ active: true, lastFocusedWindow: true });
        chrome.contextMenus.onClicked.dispatch(info, tab);
      },
      { menuItemId, selectionText, frameId: 0 },
    );
  };
  const press = async (page: Page, command: string) => {
    await page.bringToFront();
    await extension.worker.evaluate((name) => chrome.commands.onCommand.dispatch(name), command);
  };

  it("a selection is judged where it stands, and the page is not marked for it", async () => {
    const page = await extension.context.newPage();
    await page.goto(`${shop.origin}/empty`);
    await choose(page, "check-selection", "Battery PB-2240 for PL-20");
    await page.getByRole("dialog").waitFor();
    expect(await page.getByRole("heading", { level: 2 }).textContent()).toContain("Fits");
    expect(await page.locator(".mark").count()).toBe(0);
    await page.close();
  });

  it("a title in a text field goes to the workbench, and comes back only when told", async () => {
    const page = await extension.context.newPage();
    shop.serve("/form", '<!doctype html><title>Invented form</title><label>Title <input id="title"></label>');
    await page.goto(`${shop.origin}/form`);
    const field = page.locator("#title");
    await field.fill("Battery for PL-20");
    await field.focus();
    const opened = extension.context.waitForEvent("page");
    await choose(page, "read-title");
    const workbench = await opened;
    expect(workbench.url()).toBe(`${extension.origin}/workbench.html#title-check`);
    const ask = (message: object) =>
      extension.context
        .pages()
        .find((each) => each.url().startsWith(extension.origin))
        ?.evaluate((request) => chrome.runtime.sendMessage(request), message);
    const tab = await extension.worker.evaluate(async () => {
      const [found] = await chrome.tabs.query({ url: "http://127.0.0.1/form" });
      return found?.id ?? (await chrome.tabs.query({ url: "http://127.0.0.1/*" }))[0]?.id;
    });
    expect(await field.inputValue()).toBe("Battery for PL-20");
    await ask({ kind: "write-back", tab, frame: 0, text: "Battery PB-2240 for PL-20, late board" });
    expect(await field.inputValue()).toBe("Battery PB-2240 for PL-20, late board");
    await workbench.close();
    await page.close();
  });

  it("keys go to the page in front", async () => {
    const page = await extension.context.newPage();
    await page.goto(`${shop.origin}/grid?n=8`);
    await page.locator(".mark:not([hidden])").first().waitFor();
    await press(page, "next-mark");
    await expect
      .poll(() => page.evaluate(() => document.querySelector("falsefit-overlay")?.shadowRoot?.activeElement?.ariaLabel))
      .toMatch(/\(0\)$/);
    await press(page, "toggle-marks");
    await expect.poll(() => page.locator(".mark").first().isVisible()).toBe(false);
    await page.close();
  });

  it("a page that goes on without loading anew is looked at again", async () => {
    const page = await extension.context.newPage();
    await page.goto(`${shop.origin}/empty`);
    await page.waitForTimeout(500);
    const html = await (await fetch(`${shop.origin}/grid?n=8`)).text();
    await page.evaluate((text) => {
      history.pushState(null, "", "/search");
      document.body.replaceChildren(...new DOMParser().parseFromString(text, "text/html").body.children);
    }, html);
    await expect.poll(() => page.locator(".mark").count()).toBe(6);
    await page.close();
  });

  it("a person teaches a page by pointing, sees what would be read, and the shape is kept for its host", async () => {
    const page = await extension.context.newPage();
    await page.goto(`${shop.origin}/grid?n=12`);
    await page.locator(".mark:not([hidden])").first().waitFor();
    const lesson = page.getByRole("dialog", { name: "Teach this page" });
    await tell(extension, page, { kind: "teach" });
    await lesson.getByText("Point at the title of one listing.").waitFor();
    const address = page.url();
    await page.locator(".card h3 a").nth(1).click();
    await lesson.getByText("Now point at its price.").waitFor();
    expect(page.url()).toBe(address);
    await page.locator(".card .price").nth(1).click();
    await lesson.getByText("12 listings are read this way").waitFor();
    expect(await page.locator(".outline[data-kind=sure]").count()).toBe(24);
    expect(await violations(page, "falsefit-overlay")).toEqual([]);
    await page.keyboard.press("Escape");
    expect(await lesson.count()).toBe(0);
    expect(await page.locator(".outline").count()).toBe(0);

    // The same by keyboard alone, and kept.
    await tell(extension, page, { kind: "teach" });
    for (const key of ["ArrowDown", "ArrowDown", "Enter", "ArrowDown", "Enter"]) await page.keyboard.press(key);
    await lesson.getByText("12 listings are read this way").waitFor();
    await page.keyboard.press("Tab");
    await page.keyboard.press("Enter");
    const kept = () =>
      extension.worker.evaluate(async () => {
        const all = await chrome.storage.local.get(null);
        return Object.keys(all).filter((key) => key.startsWith("shape/"));
      });
    await expect.poll(kept).toEqual(["shape/127.0.0.1/taught-127.0.0.1"]);
    await expect.poll(() => page.locator(".mark:not([hidden])").count()).toBe(9);
    await page.close();
  });

  it("what is drawn goes away as soon as somebody touches a page whose extension is no longer there", async () => {
    const page = await extension.context.newPage();
    await page.goto(`${shop.origin}/grid?n=8`);
    await page.locator(".mark:not([hidden])").first().waitFor();
    await extension.worker.evaluate(() => chrome.runtime.reload()).catch(() => undefined);
    await page.waitForTimeout(1500);
    await page.mouse.click(5, 5);
    await expect.poll(() => page.locator("falsefit-overlay").count()).toBe(0);
    await page.close();
  });
});

/** The bits of the browser's own namespace that tests use inside of the extension. */
declare const chrome: {
  runtime: { sendMessage(message: object): Promise<unknown>; reload(): void };
  storage: { local: { get(keys: null): Promise<Record<string, unknown>> } };
  tabs: { query(filter: object): Promise<{ id?: number }[]> };
  contextMenus: { onClicked: { dispatch(info: object, tab: object | undefined): void } };
  commands: { onCommand: { dispatch(name: string): void } };
};
