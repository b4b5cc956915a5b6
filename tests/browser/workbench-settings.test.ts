import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { violations } from "./axe.ts";
import { browser, type OpenedExtension, openExtension, takeExample } from "./extension.ts";

describe.skipIf(browser === null)("the settings", () => {
  let extension: OpenedExtension;
  let folder: string;

  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), "falsefit-settings-"));
    extension = await openExtension();
    await takeExample(extension);
  });
  afterAll(async () => {
    await extension?.close();
    rmSync(folder, { recursive: true, force: true });
  });

  async function open(place: string, scheme: "light" | "dark" = "light"): Promise<Page> {
    const page = await extension.context.newPage();
    await page.emulateMedia({ colorScheme: scheme, reducedMotion: "reduce" });
    await page.goto(`${extension.origin}/workbench.html#${place}`);
    await page.locator("main").waitFor();
    return page;
  }

  it.each(["light", "dark"] as const)("give axe nothing to say, %s", async (scheme) => {
    const page = await open("settings", scheme);
    await page.getByText("Cautions").waitFor();
    await page.getByText("http://127.0.0.1").waitFor();
    expect(await violations(page)).toEqual([]);
    await page.goto(`${extension.origin}/workbench.html#settings/:restore`);
    await page.getByText("Choose a file").waitFor();
    expect(await violations(page)).toEqual([]);
    await page.close();
  });

  it("change language, look and contrast of the page at once, in every window", async () => {
    const page = await open("settings");
    const other = await open("bench");
    await page.getByLabel("Language", { exact: true }).selectOption("pl");
    await page.getByRole("heading", { name: "Ustawienia" }).waitFor();
    await other.getByRole("heading", { name: "Warsztat", exact: true }).waitFor();
    expect(await page.evaluate(() => document.documentElement.lang)).toBe("pl");
    await page.getByLabel("Ciemny").check();
    await expect.poll(() => page.evaluate(() => getComputedStyle(document.documentElement).colorScheme)).toBe("dark");
    await page.getByLabel("Mocniejszy kontrast").check();
    await expect.poll(() => page.evaluate(() => document.documentElement.dataset["contrast"])).toBe("more");
    expect(await violations(page)).toEqual([]);
    await page.getByLabel("Język", { exact: true }).selectOption("auto");
    await page.getByLabel("As the system has it").check();
    await page.getByLabel("Stronger contrast").uncheck();
    await page.close();
    await other.close();
  });

  it("speak from right to left, with nothing cut off at 360 pixels and 200 percent", async () => {
    const page = await open("settings");
    await page.evaluate(() => {
      const value = { v: 1, at: "", value: { language: "qps-plocm" } };
      return (
        globalThis as unknown as { chrome: { storage: { local: { set(items: object): Promise<void> } } } }
      ).chrome.storage.local.set({
        settings: value,
      });
    });
    await expect.poll(() => page.evaluate(() => document.documentElement.dir)).toBe("rtl");
    const tooWide: string[] = [];
    for (const size of [
      { width: 360, height: 740 },
      { width: 640, height: 430 },
    ]) {
      await page.setViewportSize(size);
      for (const place of [
        "bench",
        "bench/demo-sedge",
        "bench/demo-marlow-six/:edit",
        "catalogs",
        "catalogs/example",
        "catalogs/example/:part/pb-18",
        "catalogs/example/:family/lark-20",
        "settings",
      ]) {
        await page.goto(`${extension.origin}/workbench.html#${place}`);
        await page.locator("main[data-desk] h1").first().waitFor({ state: "attached" });
        await page.waitForTimeout(250);
        const { wide, room } = await page.evaluate(() => ({
          wide: Math.max(document.documentElement.scrollWidth, document.querySelector(".wb-side")?.scrollWidth ?? 0),
          room: document.documentElement.clientWidth,
        }));
        if (wide > room) tooWide.push(`${place} at ${size.width}: ${wide}`);
      }
    }
    expect(tooWide).toEqual([]);
    // The pseudo-language's own tag is none that a rule knows; the desk is what is looked at.
    expect(await violations(page, "#desk")).toEqual([]);
    await page.evaluate(() =>
      (
        globalThis as unknown as { chrome: { storage: { local: { remove(key: string): Promise<void> } } } }
      ).chrome.storage.local.remove("settings"),
    );
    await page.close();
  });

  it("put everything into one file and bring it back", async () => {
    const page = await open("settings");
    const [download] = await Promise.all([
      page.waitForEvent("download"),
      page.getByRole("button", { name: "Back up everything" }).click(),
    ]);
    const file = join(folder, download.suggestedFilename());
    await download.saveAs(file);
    await page.getByRole("button", { name: "Throw the example away" }).click();
    await page.getByRole("button", { name: "Put the example on the bench" }).waitFor();
    await page.getByRole("link", { name: "Restore from a backup" }).click();
    await page.getByLabel("Choose a file").setInputFiles(file);
    await page.getByText("4 devices would be added.").waitFor();
    await page.getByRole("button", { name: "Restore", exact: true }).click();
    await page.getByRole("list", { name: "Devices" }).getByText("Pinned: late board").waitFor();
    await page.close();
  });
});
