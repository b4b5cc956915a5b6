/**
 * The page reader in an installed Chromium: the page is rendered, its scripts run, nothing is loaded from anywhere
 * but the saved file and, for a page without an address, the files beside it. The reader runs in a world of its own
 * that the page cannot reach, as it does in the extension.
 */
import { readFileSync } from "node:fs";
import { dirname } from "node:path";
import { fileURLToPath } from "node:url";
import { type Browser, chromium, type Page, type Route } from "playwright-core";
import { exits, Stop } from "./exits.ts";
import { browserAt, findBrowser, QUIET_CHROMIUM, sandboxFlags } from "./find-browser.mjs";
import type { PageReader, SavedPage } from "./read.ts";
import type { Shell } from "./shell.ts";

/** A page may take this long to load and to be read, in milliseconds. */
const LOAD_MS = 30_000;
const READ_MS = 60_000;
/** How long a page's scripts get to finish what they show, in milliseconds. */
const SETTLE_MS = 300;

/** Starts the browser and makes the reader. */
export async function chromiumReader(browserPath: string | undefined, { words, home }: Shell): Promise<PageReader> {
  const script = readFileSync(new URL("page-reader.js", home), "utf8");
  const browser = await start(pathOf(browserPath, words.say("command_no_browser")));
  return {
    read: (page) => readIn(browser, page, script),
    end: () => browser.close(),
  };
}

function pathOf(given: string | undefined, noBrowser: string): string {
  if (given === undefined) {
    const found = findBrowser("chromium");
    if (found === null) throw new Stop(exits.usage, [noBrowser]);
    return found.path;
  }
  try {
    return browserAt(given).path;
  } catch (error) {
    throw new Stop(exits.usage, [`--browser: ${error instanceof Error ? error.message : String(error)}`]);
  }
}

async function start(executablePath: string): Promise<Browser> {
  try {
    return await chromium.launch({ executablePath, headless: true, args: [...QUIET_CHROMIUM, ...sandboxFlags()] });
  } catch (error) {
    const [first = ""] = (error instanceof Error ? error.message : String(error)).split("\n");
    throw new Stop(exits.usage, [`${executablePath}: ${first}`]);
  }
}

async function readIn(browser: Browser, saved: SavedPage, script: string): Promise<string> {
  const context = await browser.newContext({ offline: true, serviceWorkers: "block", acceptDownloads: false });
  try {
    const page = await context.newPage();
    page.on("dialog", (dialog) => {
      dialog.dismiss().catch(() => undefined); // the page may be gone already
    });
    await context.route("**/*", (route) => answer(route, saved));
    await page.goto(saved.url, { waitUntil: "load", timeout: LOAD_MS });
    await page.waitForTimeout(SETTLE_MS);
    return await evaluateApart(page, `${script}\n;falsefitReader.readDocument()`);
  } finally {
    await context.close();
  }
}

/** The saved page itself, files beside it, and nothing else. */
async function answer(route: Route, saved: SavedPage): Promise<void> {
  const url = route.request().url();
  if (route.request().isNavigationRequest() && url === saved.url) {
    return route.fulfill({ body: saved.bytes, contentType: saved.contentType });
  }
  return isBeside(url, saved.url) ? route.continue() : route.abort("blockedbyclient");
}

function isBeside(url: string, page: string): boolean {
  if (!url.startsWith("file:") || !page.startsWith("file:")) return false;
  const folder = dirname(fileURLToPath(page));
  return fileURLToPath(url).startsWith(`${folder}/`);
}

/** Evaluates in an isolated world: the page's own changes to built-in objects do not reach it. */
async function evaluateApart(page: Page, expression: string): Promise<string> {
  const session = await page.context().newCDPSession(page);
  const { frameTree } = await session.send("Page.getFrameTree");
  const { executionContextId } = await session.send("Page.createIsolatedWorld", {
    frameId: frameTree.frame.id,
    worldName: "falsefit",
  });
  const { result, exceptionDetails } = await session.send("Runtime.evaluate", {
    expression,
    contextId: executionContextId,
    returnByValue: true,
    timeout: READ_MS,
  });
  if (exceptionDetails) throw new Error(exceptionDetails.exception?.description ?? exceptionDetails.text);
  return String(result.value ?? "");
}
