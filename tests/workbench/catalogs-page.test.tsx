// @vitest-environment jsdom
import { render } from "preact";
import { act } from "preact/test-utils";
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { readCatalog } from "../../src/formats/catalog.ts";
import { choose, field, goTo, hand, offers, openWorkbench, press, said, settled, turn, type } from "./page.tsx";
import { demoCatalog, demoDevices, type MemoryTools, memoryTools } from "./tools.ts";

let made: MemoryTools;
beforeEach(() => {
  made = memoryTools();
});
afterEach(() => {
  for (const root of document.body.children) render(null, root);
});

const addDemo = () => made.tools.work.catalogAdd({ id: "demo", text: demoCatalog, origin: { kind: "example" } });
const notes = () => made.tools.store.catalogs.list();
async function stored(id: string) {
  const read = readCatalog((await made.tools.store.catalogs.text(id)) ?? "");
  if (!read.ok) throw new Error(JSON.stringify(read.faults));
  return read.value;
}

describe("without a catalog", () => {
  it("says what one is for and makes one by hand: a family with revisions, a part with pins, a replacement", async () => {
    await openWorkbench(made.tools, "#catalogs");
    expect(said()).toContain("Get a first catalog");
    await press("By handStart with an empty one and fill it in yourself.");
    const id = (await notes())[0]?.id ?? "";
    expect(said()).toContain("My catalog, 2026-11-25");

    await press("Add a family");
    await press("Save");
    expect(said()).toContain("Type the model number, or at least a name.");
    expect(said()).toContain("Give the revision a name or a board number.");
    await type("Name of the family", "Torrel 5");
    await type("Model number", "T-500");
    await type("Name", "first board");
    await type("Board numbers", "TB-1");
    await type("Built from", "2019-06");
    await type("Built until", "2020");
    expect(document.querySelector(".ff-dates")?.textContent).toContain("Jun 2019 to Dec 2020");
    await press("Save");

    await press("Add a part");
    await type("Numbers on the part", "TT-1, TT-1A");
    await type("Positions", "2");
    await press("Pin 1: not set");
    await press("Save");
    expect(said()).toContain("Set every pin, or none.");
    document.querySelector<HTMLInputElement>('input[value="ground"]')?.click();
    await settled();
    await press("Pin 2: not set");
    expect(offers("Pin 2: ground")).toBe(true);
    await press("Pin 2: ground");
    await type("Name, if it has one", "chassis");
    await press("Pin 2: not set");
    await turn("first board");
    await press("Save");

    await type("Numbers, separated by commas", "TT-1; XX-9");
    document.querySelector<HTMLFormElement>(".wb-link-form")?.requestSubmit();
    await settled();
    expect(await stored(id)).toMatchObject({
      families: [
        {
          id: "torrel-5",
          modelNumbers: ["T-500"],
          revisions: [
            { id: "first-board", boardNumbers: ["TB-1"], built: { from: "2019-06", to: "2020" }, parts: ["tt-1"] },
          ],
        },
      ],
      parts: [
        {
          id: "tt-1",
          type: "battery",
          numbers: ["TT-1", "TT-1A"],
          connector: { positions: 2, pins: ["supply", "ground:chassis"] },
        },
      ],
      interchange: [{ numbers: ["TT-1", "XX-9"] }],
    });
    await press("Undo");
    expect((await stored(id)).interchange).toEqual([]);
  });
});

describe("a catalog", () => {
  beforeEach(addDemo);

  it("is searched, switched off, exported, deleted and taken back", async () => {
    await openWorkbench(made.tools, "#catalogs/demo");
    await type("Search this catalog", "qd133");
    expect(said()).toContain("Families (0)");
    expect(said()).toContain("QD133-40Fdisplay panel40 positions · pins not known · in 1 revision");
    await turn("Consult this catalog");
    expect((await notes())[0]?.active).toBe(false);
    await press("Export");
    expect(made.files.get("demonstration-catalog-invented-makers-and-numbers.catalog.json")).toBe(demoCatalog);
    await press("Delete");
    expect(await notes()).toEqual([]);
    await press("Undo");
    expect((await notes()).map(({ active }) => active)).toEqual([false]);
  });

  it("has its parts picked by number, and a deleted family taken back", async () => {
    await openWorkbench(made.tools, "#catalogs/demo/:family/w7");
    const search = [...document.querySelectorAll("label")].filter(
      (each) => each.textContent === "Add a part of this catalog",
    );
    const input = document.getElementById(search[0]?.htmlFor ?? "") as HTMLInputElement;
    await act(() => {
      input.value = "pc 0520";
      input.dispatchEvent(new Event("input", { bubbles: true }));
    });
    await settled();
    await press("PC-0520charger");
    await press("Save");
    expect((await stored("demo")).families[3]?.revisions[0]?.parts).toEqual(["hc-1", "hp-1", "pc-05"]);
    await goTo("#catalogs/demo/:family/w7");
    await press("Delete");
    expect((await stored("demo")).families).toHaveLength(3);
    await press("Undo");
    expect((await stored("demo")).families).toHaveLength(4);
  });

  it("that can no longer be read says why and can be exported", async () => {
    await made.tools.store.catalogs.save("bad", demoCatalog, { kind: "made" });
    const { store } = made.tools;
    const text = store.catalogs.text.bind(store.catalogs);
    store.catalogs.text = async (id) => (id === "bad" ? "{ damaged" : text(id));
    await openWorkbench(made.tools, "#catalogs/bad");
    expect(said()).toContain("This catalog can no longer be read.");
    expect(said()).toContain("Not valid JSON");
    await press("Export");
    expect([...made.files.values()]).toEqual(["{ damaged"]);
  });
});

describe("a catalog file", () => {
  it("with faults names them by field and keeps nothing", async () => {
    await openWorkbench(made.tools, "#catalogs/:import");
    await hand(
      "bad.json",
      demoCatalog.replace('"pb-18",\n      "type"', '"pb-22",\n      "type"').replace("2019-W06", "spring"),
    );
    expect(said()).toContain("bad.json cannot be used. Nothing was changed.");
    expect(said()).toContain("families[0].revisions[0].built.from");
    expect(await notes()).toEqual([]);
  });

  it("is shown before it is kept; one of the same title shows what it would change", async () => {
    await openWorkbench(made.tools, "#catalogs/:import");
    await hand("demo.json", demoCatalog);
    expect(said()).toContain("Families: 4. Revisions: 8. Parts: 17.");
    await press("Keep this catalog");
    expect(await notes()).toHaveLength(1);
    await goTo("#catalogs/:import");
    await hand("newer.json", demoCatalog.replace('"PB1840-R"', '"PB1840-S"'));
    expect(said()).toContain("You have a catalog with the title Demonstration catalog");
    expect(said()).toContain("Changed (1)part PB-1840");
    expect(document.querySelector("ins")?.textContent).toBe("PB-1840, PB1840-S");
    await press("Keep this catalog");
    expect(await notes()).toHaveLength(1);
    await press("Undo");
    expect(await made.tools.store.catalogs.text((await notes())[0]?.id ?? "")).toBe(demoCatalog);
  });
});

describe("a catalog by address", () => {
  const address = "https://catalogs.example/demo.catalog.json";
  const serve = (text: string) => vi.fn(async () => new Response(text));

  it("is never fetched before the person asks, and not without the permission", async () => {
    const fetch = serve(demoCatalog);
    const ask = vi.fn(async () => false);
    made = memoryTools({ fetch, permissions: { has: async () => false, ask, drop: async () => undefined } });
    await openWorkbench(made.tools, "#catalogs/:address");
    await type("Address", "http://catalogs.example/x");
    await press("Fetch");
    expect(said()).toContain("Only https addresses are fetched");
    await type("Address", address);
    expect(ask).not.toHaveBeenCalled();
    await press("Fetch");
    expect(ask).toHaveBeenCalledWith("https://catalogs.example/*");
    expect(fetch).not.toHaveBeenCalled();
    expect(said()).toContain("Without that permission nothing is fetched.");
  });

  it("is shown with its fingerprint, and a changed one with what differs before it is used", async () => {
    let text = demoCatalog;
    made = memoryTools({ fetch: async () => new Response(text) });
    await openWorkbench(made.tools, "#catalogs/:address");
    await type("Address", address);
    await press("Fetch");
    expect(said()).toContain("This came");
    await press("Keep this catalog");
    const [note] = await notes();
    expect(note?.origin).toMatchObject({ kind: "address", address });
    await press("Look for a newer version");
    expect(field("Address").value).toBe(address);
    await press("Fetch");
    expect(said()).toContain("Nothing has changed since it was kept");
    expect(offers("Use this version")).toBe(false);
    text = demoCatalog.replace('"nominalVoltage_V": 3.7', '"nominalVoltage_V": 7.4');
    await press("Fetch");
    expect(said()).toContain("A different version of Demonstration catalog");
    expect(said()).toContain("nominal voltage: 3.7 7.4");
    await press("Keep the old version");
    expect(await made.tools.store.catalogs.text(note?.id ?? "")).toBe(demoCatalog);
    await press("Fetch");
    await press("Use this version");
    expect(await made.tools.store.catalogs.text(note?.id ?? "")).toBe(text);
    expect(await notes()).toHaveLength(1);
  });

  it("gives a permission back that was asked for this fetch, and no other", async () => {
    for (const had of [false, true]) {
      const drop = vi.fn(async () => undefined);
      const permissions = { has: async () => had, ask: async () => true, drop };
      made = memoryTools({ fetch: serve(demoCatalog), permissions });
      await openWorkbench(made.tools, "#catalogs/:address");
      await type("Address", address);
      await press("Fetch");
      expect(said()).toContain("This came");
      expect(drop.mock.calls).toEqual(had ? [] : [["https://catalogs.example/*"]]);
    }
  });

  it("says what came instead of a catalog", async () => {
    made = memoryTools({ fetch: async () => new Response("<html>") });
    await openWorkbench(made.tools, "#catalogs/:address");
    await type("Address", address);
    await press("Fetch");
    expect(said()).toContain("What came is no catalog. Nothing was kept.");
    expect(await notes()).toEqual([]);
  });
});

describe("several catalogs", () => {
  it("are merged with every disagreement shown; the old ones stay", async () => {
    await addDemo();
    const other = JSON.parse(demoCatalog);
    other.title = "Other";
    other.parts[0].quantities.energy_Wh = 20;
    await made.tools.work.catalogAdd({ id: "other", text: JSON.stringify(other), origin: { kind: "made" } });
    await openWorkbench(made.tools, "#catalogs/:merge");
    for (const title of ["Demonstration catalog (invented makers and numbers)", "Other"]) await turn(title);
    await press("Show what comes of it");
    expect(said()).toContain("They disagree on 1 thing");
    expect(said()).toContain("pb-18: energy differs and is left out.");
    await press("Keep it as a new catalog");
    expect((await notes()).map(({ title }) => title)).toContain(
      "Demonstration catalog (invented makers and numbers) + Other",
    );
    expect(await notes()).toHaveLength(3);
  });
});

describe("a catalog of devices seen", () => {
  it("is a proposal that is switched off until it is accepted", async () => {
    await made.tools.store.devices.save(...demoDevices);
    await openWorkbench(made.tools, "#catalogs/:seen");
    await press("Or learn from 2 devices on the bench");
    expect(said()).toContain("A proposal from 2 devices");
    await turn("MV300");
    await press("Keep it for editing");
    const [note] = await notes();
    expect(note).toMatchObject({ families: 1, active: false });
    expect((await stored(note?.id ?? "")).families[0]?.modelNumbers).toEqual(["PL-20"]);
  });
});

describe("a spreadsheet", () => {
  const sheet = "Ref;Fits what;Kind\nPB-1;M-1;Akku\nPB-2;M-2;unheard of\n";

  it("has its columns put right, is tried row by row, and kept", async () => {
    await openWorkbench(made.tools, "#catalogs/:sheet");
    const input = document.querySelector<HTMLInputElement>('input[type="file"]');
    const content = new (await import("node:buffer")).File([sheet], "vendor.csv");
    Object.defineProperty(input, "files", { value: [content], configurable: true });
    input?.dispatchEvent(new Event("change", { bubbles: true }));
    await settled();
    expect(said()).toContain("How vendor.csv is read");
    const selects = [...document.querySelectorAll<HTMLSelectElement>(".wb-table select")];
    for (const [i, value] of ["number", "model", "partType"].entries()) {
      const select = [...document.querySelectorAll<HTMLSelectElement>(".wb-table select")][i];
      await act(() => {
        if (select) select.value = value;
        select?.dispatchEvent(new Event("change", { bubbles: true }));
      });
    }
    expect(selects).toHaveLength(3);
    await choose("Rows above the entries", "1");
    await press("Try it");
    expect(said()).toContain("2 rows were read");
    expect(said()).toContain("1 thing could not be used");
    expect(said()).toContain("Row 3What kind of part this is cannot be told: “unheard of”.");
    await press("Keep this catalog");
    expect((await notes())[0]).toMatchObject({ title: "vendor", families: 1, parts: 1 });
  });
});
