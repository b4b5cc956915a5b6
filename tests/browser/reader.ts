/** The page reader alone, bundled and put into pages of a real Chromium. */
import { fileURLToPath } from "node:url";
import { build } from "esbuild";
import { type Browser, chromium, type Page } from "playwright-core";
import { gatherRules } from "../../manifest/rules-plugin.mjs";
import { findBrowser } from "../../src/headless/find-browser.mjs";

/** The installed browser; tests that need one are skipped, and counted as skipped, without it. */
export const executable = findBrowser("chromium");

const ROOT = fileURLToPath(new URL("../..", import.meta.url));
const ENTRY = `
  import { readPage } from "./src/page/read.ts";
  import { watchPage } from "./src/page/watch.ts";
  globalThis.reader = { readPage, watchPage };
`;

/** A browser whose pages can be read. */
export class ReadingBrowser {
  readonly #browser: Browser;
  readonly #code: string;

  private constructor(browser: Browser, code: string) {
    this.#browser = browser;
    this.#code = code;
  }

  static async open(): Promise<ReadingBrowser> {
    if (executable === null) throw new Error("No browser is installed.");
    const built = await build({
      absWorkingDir: ROOT,
      stdin: { contents: ENTRY, resolveDir: ROOT, loader: "ts" },
      bundle: true,
      write: false,
      minify: true,
      charset: "utf8",
      format: "iife",
    });
    const args = ["--no-sandbox", "--disable-background-networking", "--disable-component-update", "--no-first-run"];
    const browser = await chromium.launch({ executablePath: executable.path, args });
    const words = JSON.stringify(gatherRules()["pageWords"]);
    return new ReadingBrowser(browser, `${built.outputFiles[0]?.text}\nreader.pageWords = ${words};`);
  }

  async page(): Promise<Page> {
    return this.#browser.newPage();
  }

  /** Shows a page and makes it readable. */
  async show(page: Page, html: string): Promise<void> {
    await page.setContent(html);
    await page.addScriptTag({ content: this.#code });
  }

  async close(): Promise<void> {
    await this.#browser.close();
  }
}
