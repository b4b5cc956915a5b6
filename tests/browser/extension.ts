/**
 * A real Chromium with the test build of the extension. The build is made once a run into `dist/chromium-test`; the
 * variable FALSEFIT_EXTENSION names another built folder instead.
 */
import { cpSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { BrowserContext, Page, Worker } from "playwright-core";
import { openChromium } from "../../fixtures/browser.mjs";
import { buildExtension } from "../../manifest/pack.mjs";
import { findBrowser } from "../../src/headless/find-browser.mjs";

/** The installed browser; tests that need one are skipped, and counted as skipped, without it. */
export const browser = findBrowser("chromium");

export interface OpenedExtension {
  readonly context: BrowserContext;
  readonly worker: Worker;
  readonly origin: string;
  close(): Promise<void>;
}

/** Opens the browser with a copy of the build, so that a later build cannot pull it from under the browser. */
export async function openExtension(size?: { width: number; height: number }): Promise<OpenedExtension> {
  if (browser === null) throw new Error("No browser is installed.");
  const built = process.env["FALSEFIT_EXTENSION"] ?? (await buildExtension("chromium", { test: true }));
  const folder = mkdtempSync(join(tmpdir(), "falsefit-built-"));
  cpSync(built, folder, { recursive: true });
  const opened = await openChromium({ browser, folder, headless: true, ...size });
  await switchedOn(opened.worker);
  return {
    context: opened.context,
    worker: opened.worker,
    origin: opened.extensionOrigin,
    async close() {
      await opened.close();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

/** Waits until the fresh install has switched the loopback sites on. */
async function switchedOn(worker: Worker): Promise<void> {
  for (let tries = 0; tries < 100; tries++) {
    const scripts = await worker.evaluate(() => chrome.scripting.getRegisteredContentScripts());
    if (scripts.length >= 2) return;
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
  throw new Error("The test build did not switch the loopback sites on.");
}

/** Puts the example on the bench, as a newcomer would: by the button of the popup. */
export async function takeExample({ context, origin }: OpenedExtension): Promise<void> {
  const popup = await context.newPage();
  await popup.goto(`${origin}/popup.html`);
  await popup.getByRole("button", { name: "Look at an example first" }).click();
  await popup.getByRole("radio").first().waitFor();
  await popup.close();
}

/** Tells the overlay of the page in front what a key or a menu would tell it. */
export async function tell({ worker }: OpenedExtension, page: Page, command: object): Promise<unknown> {
  await page.bringToFront();
  return worker.evaluate(async (message) => {
    const [tab] = await chrome.tabs.query({ active: true, lastFocusedWindow: true });
    return tab?.id === undefined ? null : chrome.tabs.sendMessage(tab.id, message, { frameId: 0 });
  }, command);
}

/** The bits of the browser's own namespace that tests use inside of the extension's worker. */
declare const chrome: {
  scripting: { getRegisteredContentScripts(): Promise<unknown[]> };
  tabs: {
    query(filter: object): Promise<{ id?: number }[]>;
    sendMessage(tab: number, message: object, options: object): Promise<unknown>;
  };
};

/** Collects what the page complains about. */
export function complaints(page: Page): string[] {
  const heard: string[] = [];
  page.on("pageerror", (error) => heard.push(error.message));
  page.on("console", (message) => {
    if (message.type() === "error" || message.type() === "warning") heard.push(message.text());
  });
  return heard;
}
