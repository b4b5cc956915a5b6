// @vitest-environment jsdom
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import type { Reply } from "../../src/background/messages.ts";
import type { Words } from "../../src/text/words.ts";
import { readPlace } from "../../src/workbench/route.ts";
import { TitleDesk } from "../../src/workbench/title/title-desk.tsx";
import type { Tools } from "../../src/workbench/tools.tsx";
import { type DeskPage, everyWords, openPage, usePlatformBlobs } from "./desk-page.tsx";
import { demoCatalog, memoryTools } from "./tools.ts";

let page: DeskPage | undefined;
beforeEach(usePlatformBlobs);
afterEach(() => {
  page?.close();
  vi.unstubAllGlobals();
});

async function openDesk(changes: Partial<Tools> = {}, hash = "#title", words?: Words): Promise<DeskPage> {
  const { tools } = memoryTools(changes);
  await tools.store.catalogs.save("demo", demoCatalog, { kind: "example" });
  page = openPage(tools, words);
  page.show(<TitleDesk place={readPlace(hash)} />);
  return page;
}

describe("one title", () => {
  it("is read for every revision, with the sign, the word and the reasons", async () => {
    const desk = await openDesk();
    await desk.sees("Who would buy this by mistake?");
    desk.fill("Title", "PB-1840 battery for PL-20");
    await desk.sees("Of 2 buyers: 1 is rightly told yes and 1 is rightly told no.");
    const rows = [...desk.root.querySelectorAll(".td-buyers tr[data-outcome]")].map((row) => [
      row.getAttribute("data-outcome"),
      row.querySelector("[data-pose]")?.getAttribute("data-pose"),
      row.querySelector("td:last-child")?.textContent !== "",
    ]);
    expect(rows).toEqual([
      ["told-yes", "aligned", true],
      ["told-no", "crossed", true],
    ]);
  });

  it("that names the model only leaves everybody guessing, and the part can be chosen", async () => {
    const desk = await openDesk();
    desk.fill("Title", "Battery for PL-20");
    await desk.sees("The text does not say which part is sold. Of 2 buyers: 2 are left guessing.");
    await desk.sees("Only the model is named (PL-20)");
    desk.press("Find another part");
    desk.fill("Number, name or model", "PB-2240");
    await desk.sees("PB-2240 · battery");
    desk.press("PB-2240 · battery");
    await desk.sees("The number PB-2240 is missing.");
    await desk.sees("Titles that nobody can misread");
  });

  it("that touches nothing says so, and so does a workbench without catalogs", async () => {
    const desk = await openDesk();
    desk.fill("Title", "Garden chair");
    await desk.sees("The text touches no device that the catalogs know");
    desk.close();
    page = openPage(memoryTools().tools);
    page.show(<TitleDesk place={readPlace("#title")} />);
    page.fill("Title", "Garden chair");
    await page.sees("No catalog is loaded");
  });

  it("is composed within the limit and in the language that are asked for", async () => {
    const desk = await openDesk();
    desk.fill("Title", "PB-1840 battery");
    await desk.sees("Copy title");
    desk.fill("Language of the titles", "pl");
    await vi.waitFor(() => expect(desk.root.querySelector(".td-title")?.getAttribute("lang")).toBe("pl"));
    desk.fill("Longest title", "25");
    await vi.waitFor(() => {
      const titles = [...desk.root.querySelectorAll(".td-title")].map((each) => [...(each.textContent ?? "")].length);
      expect(titles.length).toBeGreaterThan(0);
      expect(Math.max(...titles)).toBeLessThanOrEqual(25);
    });
    await desk.sees("Left out:");
  });

  it("is copied, or says that it could not be", async () => {
    const desk = await openDesk();
    desk.fill("Title", "PB-1840 battery");
    await desk.sees("Copy title");
    const writeText = vi.fn().mockResolvedValueOnce(undefined);
    vi.stubGlobal("navigator", { ...navigator, clipboard: { writeText } });
    desk.press("Copy title");
    await desk.sees("Copied.");
    expect(writeText).toHaveBeenCalledWith(desk.root.querySelector(".td-title")?.textContent);
    const errors = vi.spyOn(console, "error").mockImplementation(() => undefined);
    writeText.mockRejectedValueOnce(new Error("denied"));
    desk.press("Copy these lines");
    await desk.sees("The clipboard was not given free.");
    expect(errors).toHaveBeenCalledOnce();
    errors.mockRestore();
  });

  it("is taken over from a field, and written back only by the button for it", async () => {
    const asked: { kind: string }[] = [];
    const ask = async (request: { kind: string }): Promise<Reply<"take-text" | "write-back">> => {
      asked.push(request);
      const handed = { text: "PB-1840 battery\nfor PL-20", field: { tab: 7, frame: 0 } };
      return { ok: true, data: request.kind === "take-text" ? handed : null };
    };
    const desk = await openDesk({ ask: ask as Tools["ask"] });
    await desk.sees("Read from a field on a page.");
    expect(desk.field("Title").value).toBe("PB-1840 battery");
    expect(desk.field("Description").value).toBe("for PL-20");
    await desk.sees("Write into the field");
    expect(asked.map(({ kind }) => kind)).toEqual(["take-text"]);
    const text = desk.root.querySelector(".td-title")?.textContent;
    desk.press("Write into the field");
    await desk.sees("Written into the field on the page.");
    expect(asked[1]).toEqual({ kind: "write-back", tab: 7, frame: 0, text });
  });

  it("that cannot be read says why, and is tried again when told", async () => {
    const { tools } = memoryTools();
    const titleCheck = vi.fn().mockRejectedValue(new Error("the worker is gone"));
    const desk = await openDesk({ work: { ...tools.work, titleCheck } });
    desk.fill("Title", "PB-1840");
    await desk.sees("the worker is gone");
    desk.press("Try again");
    await vi.waitFor(() => expect(titleCheck).toHaveBeenCalledTimes(2));
  });
});

describe("a list of titles", () => {
  const LIST = [
    "Title,MPN",
    "PB-1840 battery for PL-20 board PW-4410-2,PB-1840",
    "Battery for PL-20,",
    "Garden chair,",
    "PB-1840 battery fits all PL-20,",
  ].join("\n");

  it("shows those that need another title, the worst first, and opens any of them", async () => {
    const desk = await openDesk({}, "#title/list");
    desk.fill(/Paste listings/, LIST);
    desk.press("Read this list");
    await desk.sees("2 of 4 listings need another title.");
    const shown = () => [...desk.root.querySelectorAll(".td-listed .od-row-what")].map((each) => each.textContent);
    expect(shown()).toEqual(["PB-1840 battery fits all PL-20", "Battery for PL-20"]);
    desk.root.querySelector<HTMLInputElement>("input[type=checkbox]")?.click();
    await desk.sees("Garden chair");
    expect(shown()).toHaveLength(4);
    desk.root.querySelector<HTMLAnchorElement>(".td-listed")?.click();
    desk.show(<TitleDesk place={readPlace("#title")} />);
    expect(desk.field("Title").value).toBe("PB-1840 battery fits all PL-20");
  });

  it("needs a column of titles", async () => {
    const desk = await openDesk({}, "#title/list");
    desk.fill(/Paste listings/, "12\n13\n");
    desk.press("Read this list");
    await desk.sees("No column holds the titles.");
  });
});

describe("every sentence of the desk", () => {
  it.each(everyWords)("is there: %s", async (_name, words) => {
    const desk = await openDesk({}, "#title", words);
    desk.fill(words.say("title_desk_title"), "PB-1840 battery for PL-20, not PB-2240, fits all, 2019-2022, maybe");
    await desk.sees(words.say("title_desk_faults"));
    desk.fill(words.say("title_desk_part"), "pb-18");
    await desk.sees(words.say("title_desk_copy"));
    expect(desk.root.textContent).not.toMatch(/\[[a-z]+_[a-z_]+\]/);
    desk.show(<TitleDesk place={readPlace("#title/list")} />);
    await desk.sees(words.say("title_desk_list_lead"));
    expect(desk.root.textContent).not.toMatch(/\[[a-z]+_[a-z_]+\]/);
  });
});
