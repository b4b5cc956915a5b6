import { readFileSync } from "node:fs";
import { parse } from "csv-parse/sync";
import type { Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { violations } from "./axe.ts";
import { germanOrder, longestTask, longFile, longTasks, noteLongTasks } from "./desk-lists.ts";
import { browser, complaints, type OpenedExtension, openExtension, takeExample } from "./extension.ts";

const LINES = 100_000;
/** What the browser calls a long task begins here, and so does what a person feels. */
const LONG_TASK_MS = 50;

describe.skipIf(browser === null)("the order desk", () => {
  let extension: OpenedExtension;

  beforeAll(async () => {
    extension = await openExtension();
    await takeExample(extension);
  });
  afterAll(() => extension?.close());

  async function openDesk(place = "order", colorScheme: "light" | "dark" = "light"): Promise<Page> {
    const page = await extension.context.newPage();
    await page.emulateMedia({ colorScheme, reducedMotion: "reduce" });
    await noteLongTasks(page);
    await page.goto(`${extension.origin}/workbench.html#${place}`);
    await page.getByRole("heading", { level: 1 }).waitFor();
    return page;
  }
  /** Takes away what an earlier test has left. */
  async function emptied(page: Page): Promise<void> {
    const remove = page.getByRole("button", { name: "Take the list away" });
    const choose = page.getByText("Choose a file");
    await remove.or(choose).first().waitFor();
    if (await remove.isVisible()) await remove.click();
    await choose.waitFor();
  }
  async function checkPasted(page: Page, list: string): Promise<void> {
    await emptied(page);
    await page.getByLabel(/Paste the list/).fill(list);
    await page.getByRole("button", { name: "Read this list" }).click();
    await page.getByRole("button", { name: "Check this list" }).click();
    await page.locator(".od-row-mark").first().waitFor();
  }
  async function startFile(page: Page, file: string): Promise<void> {
    await emptied(page);
    await page.getByLabel("Choose a file").setInputFiles(file);
    await page.getByRole("button", { name: "Check this list" }).click();
  }

  it("leads by keyboard alone from a pasted list to an opened line and back", async () => {
    const page = await openDesk();
    const heard = complaints(page);
    await emptied(page);
    const paste = page.getByLabel(/Paste the list/);
    await paste.focus();
    await page.keyboard.insertText(germanOrder);
    await page.keyboard.press("Tab");
    await page.keyboard.press("Enter");
    await page.getByRole("heading", { name: /How .* is read/ }).waitFor();
    expect(await page.getByLabel("Teile-Nr.").inputValue()).toBe("number");
    await page.getByRole("button", { name: "Check this list" }).focus();
    await page.keyboard.press("Enter");
    await page.getByRole("heading", { name: "1 of 6 lines is wrong for its job. At stake: €24.20." }).waitFor();
    const first = page.locator("[data-row='0']");
    await first.waitFor();
    await first.focus();
    const focused = () => page.evaluate(() => document.activeElement?.getAttribute("data-row"));
    await page.keyboard.press("ArrowDown");
    await expect.poll(focused).toBe("1");
    await page.keyboard.press("Home");
    await expect.poll(focused).toBe("0");
    await page.keyboard.press("Enter");
    const line = page.getByRole("article", { name: "PB-1840" });
    await line.getByText("WARNING").waitFor();
    expect(await page.evaluate(() => document.activeElement?.textContent)).toBe("PB-1840");
    expect(await line.textContent()).toContain("Right would be PB-2240");
    expect(await line.textContent()).toContain("Lithium packs");
    await page.getByRole("link", { name: "Close this line" }).focus();
    await page.keyboard.press("Enter");
    await line.waitFor({ state: "detached" });
    expect(heard).toEqual([]);
    await page.close();
  });

  it.each(["light", "dark"] as const)("gives axe nothing to say, from intake to sheet, %s", async (scheme) => {
    const page = await openDesk("order", scheme);
    await emptied(page);
    const found: Record<string, string[]> = { intake: await violations(page) };
    await page.getByLabel(/Paste the list/).fill(germanOrder);
    await page.getByRole("button", { name: "Read this list" }).click();
    await page.getByText("Read as UTF-8").click();
    found["preview"] = await violations(page);
    await page.getByRole("button", { name: "Check this list" }).click();
    await page.locator(".od-row-mark").first().waitFor();
    found["results"] = await violations(page);
    await page.locator("[data-row='0']").click();
    await page.locator(".ff-explained").waitFor();
    found["line"] = await violations(page);
    await page.getByRole("link", { name: "Sheet to print" }).click();
    await page.locator(".od-sheet table").first().waitFor();
    found["sheet"] = await violations(page);
    await page.goto(`${extension.origin}/workbench.html#order/stock`);
    await page.getByRole("link", { name: "Stock" }).waitFor();
    found["stock"] = await violations(page);
    for (const [state, faults] of Object.entries(found)) expect(faults, state).toEqual([]);
    await page.close();
  });

  it("remembers how a list was read once it has been put right", async () => {
    const page = await openDesk();
    const list = "Foo;Bar;Baz\nPB-1840;Battery;9";
    await emptied(page);
    await page.getByLabel(/Paste the list/).fill(`Job;Part number;Remark\n17;Battery for PL-20;PB-1840\n`);
    await page.getByRole("button", { name: "Read this list" }).click();
    await page.getByLabel("Part number").selectOption("title");
    await page.getByLabel("Remark").selectOption("number");
    await page.getByRole("button", { name: "Check this list" }).click();
    await page.locator(".od-row-mark").first().waitFor();
    await emptied(page);
    await page.getByLabel(/Paste the list/).fill(`Job;Part number;Remark\n18;Battery;PB-2240\n`);
    await page.getByRole("button", { name: "Read this list" }).click();
    await page.getByText("As you read such a list before.").waitFor();
    expect(await page.getByLabel("Remark").inputValue()).toBe("number");
    await page.getByRole("button", { name: "Back" }).click();
    await page.getByLabel(/Paste the list/).fill(list);
    await page.getByRole("button", { name: "Read this list" }).click();
    await page.getByRole("button", { name: "Check this list" }).waitFor();
    expect(await page.getByText("As you read such a list before.").count()).toBe(0);
    await page.close();
  });

  it("writes a CSV that another parser reads, and takes a list back that was taken away", async () => {
    const page = await openDesk();
    await checkPasted(page, germanOrder);
    const [download] = await Promise.all([
      page.waitForEvent("download"),
      page.getByRole("button", { name: "Save as CSV" }).click(),
    ]);
    expect(download.suggestedFilename()).toBe("Pasted list.falsefit.csv");
    const text = readFileSync(await download.path(), "utf8");
    const rows: string[][] = parse(text, { delimiter: ";", bom: true });
    expect(rows).toHaveLength(7);
    expect(rows[2]?.slice(0, 4)).toEqual(["3", "PB-1840", "Akku für PL-20", "2"]);
    expect(rows[2]).toContain("My Lark 20 (example)");

    await page.getByRole("button", { name: "Take the list away" }).click();
    await page.getByText("Choose a file").waitFor();
    await page.getByRole("button", { name: "Undo" }).click();
    await page.getByRole("heading", { name: /1 of 6 lines is wrong/ }).waitFor();
    await page.close();
  });

  it("refuses what is no list of text, and says what to do", async () => {
    const page = await openDesk();
    await emptied(page);
    const buffer = Buffer.from([0x50, 0x4b, 0x03, 0x04, 0, 0]);
    await page.getByLabel("Choose a file").setInputFiles({ name: "order.xlsx", mimeType: "", buffer });
    await page.getByRole("alert").getByText("Save it as CSV").waitFor();
    await page.close();
  });

  it("can be cancelled, goes on where it was, and goes on by itself after a reload", async () => {
    const page = await openDesk();
    await startFile(page, longFile(20_000));
    await page.getByText(/lines so far/).waitFor();
    await expect.poll(() => page.locator("progress").getAttribute("value")).not.toBe("0");
    await page.getByRole("button", { name: "Cancel" }).click();
    const stopped = page.getByText(/Stopped after .* lines/);
    await stopped.waitFor();
    const kept = Number(/after ([\d,]+)/.exec((await stopped.textContent()) ?? "")?.[1]?.replace(",", ""));
    expect(kept).toBeGreaterThan(0);
    expect(kept).toBeLessThan(20_000);
    expect(await page.locator(".od-of").textContent()).toContain(`${kept.toLocaleString("en")} lines`);

    await page.getByRole("button", { name: "Go on" }).click();
    await page.getByText(/lines so far/).waitFor();
    await page.reload();
    await page.locator(".od-of").waitFor({ timeout: 120_000 });
    expect(await page.locator(".od-of").textContent()).toContain("20,000 lines");
    expect(await page.getByText(/Stopped after/).count()).toBe(0);
    const places = await page.locator(".od-filter b").allTextContents();
    const [all = 0, ...each] = places.map((text) => Number(text.replace(",", "")));
    expect(all).toBe(20_000);
    expect(each.reduce((sum, count) => sum + count, 0)).toBe(20_000);
    await page.close();
  });

  it(`checks ${LINES} lines while the page never stands still, and moves through them at once`, async () => {
    const file = longFile(LINES);
    const page = await openDesk();
    await emptied(page);
    await longTasks(page);
    let seconds = 0;
    const longest_ms = await longestTask(page, async () => {
      const start = performance.now();
      await startFile(page, file);
      await page.locator(".od-of").waitFor({ timeout: 300_000 });
      seconds = (performance.now() - start) / 1000;
      await page.locator(".od-row-mark").first().waitFor();
      await page.locator("[data-row='0']").focus();
      for (const key of ["PageDown", "PageDown", "End", "Home"]) await page.keyboard.press(key);
      const list = page.locator(".wb-links");
      for (let step = 1; step <= 20; step++) {
        await list.evaluate((box, part) => box.scrollTo(0, box.scrollHeight * part), step / 21);
        await page.waitForTimeout(50);
      }
      await page.locator(".od-filter").nth(1).click();
      await page.getByLabel("Order of the lines").selectOption("as-listed");
      await page.waitForTimeout(500);
    });
    const byClock_ms = await longTasks(page);
    console.log(`${LINES} lines:`, JSON.stringify({ seconds, longest_ms, byClock_ms }));
    expect(await page.locator(".od-of").textContent()).toContain("100,000 lines");
    expect(await page.locator("[data-row]").count()).toBeLessThan(60);
    expect(longest_ms).toBeLessThanOrEqual(LONG_TASK_MS);
    await page.close();
  }, 600_000);
});
