import type { Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { browser, type OpenedExtension, openExtension, takeExample } from "./extension.ts";
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
  tabs: { query(filter: object): Promise<{ id?: number }[]> };
  contextMenus: { onClicked: { dispatch(info: object, tab: object | undefined): void } };
  commands: { onCommand: { dispatch(name: string): void } };
};
