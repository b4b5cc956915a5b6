import { describe, expect, it } from "vitest";
import type { Catalog } from "../../src/formats/catalog.ts";
import { benchOf } from "../../src/workbench/bench/back-up.tsx";
import { backupServices } from "../../src/workbench/work/backup-services.ts";
import { blobLines } from "../../src/workbench/work/blob-lines.ts";
import { CatalogKeeper } from "../../src/workbench/work/catalog-keeper.ts";
import { demoCatalog, demoDevices, memoryTools } from "./tools.ts";

async function withDemo() {
  const made = memoryTools();
  const { work, store } = made.tools;
  await work.catalogAdd({ id: "demo", text: demoCatalog, origin: { kind: "example" } });
  await store.devices.save(...demoDevices);
  return { ...made, work, store };
}

describe("devices and catalogs together", () => {
  it("tell how each device stands, and again after a catalog was switched off", async () => {
    const { work, store } = await withDemo();
    const ask = { devices: demoDevices, language: "en" };
    expect((await work.standings(ask)).map(({ word }) => word)).toEqual(["pinned", "pinned", "open", "pinned"]);
    await store.catalogs.setActive("demo", false);
    expect((await work.standings(ask)).map(({ word }) => word)).toEqual(["unknown", "unknown", "unknown", "unknown"]);
  });

  it("tell everything about one: evidence, questions, parts, and what could not be read", async () => {
    const { work } = await withDemo();
    const sedge = demoDevices.find(({ id }) => id === "demo-sedge");
    if (!sedge) throw new Error("no device");
    const study = await work.study({ device: sedge, language: "de" });
    expect(study.standing.word).toBe("open");
    expect(study.questions[0]?.effort).toBe("command");
    expect(
      study.parts.filter(({ type }) => type === "display-panel").map(({ numbers, revisions }) => [numbers, revisions]),
    ).toEqual([
      [["QD133-40F"], ["board A"]],
      [["QD133-30F"], ["board B"]],
    ]);
    expect(study.unreadable).toEqual([]);
    expect(await work.familiesFor(["qs 13"])).toMatchObject([
      { id: "sedge-13", name: "Quillon Sedge 13 notebook", revisions: [{ id: "a" }, { id: "b" }] },
    ]);
  });

  it("read dumps and files without changing anything", async () => {
    const { work } = await withDemo();
    const uevent =
      "POWER_SUPPLY_NAME=BAT0\nPOWER_SUPPLY_TYPE=Battery\nPOWER_SUPPLY_MODEL_NAME=QB-4410\nPOWER_SUPPLY_VOLTAGE_MIN_DESIGN=11400000\n";
    const readout = await work.readDumps({ inputs: [uevent, "nothing here"], today: 20_000 });
    expect(readout.facts).toMatchObject([{ field: "fitted", type: "battery", numbers: ["QB-4410"] }]);
    expect(readout.messages.length).toBeGreaterThan(0);
    const bad = await work.readBench('{"format":"falsefit-bench/1","devices":[{"id":7}]}');
    expect(bad.ok ? [] : bad.faults.map(({ field }) => field)).toEqual(["devices[0].id"]);
  });
});

describe("changing catalogs", () => {
  it("names the faults and changes nothing when the result could not be read", async () => {
    const { work, store } = await withDemo();
    const before = await store.catalogs.text("demo");
    const refused = await work.catalogChange({
      id: "demo",
      change: { kind: "put-part", before: "pb-18", part: { id: "pb-22", type: "battery", numbers: [] } },
    });
    expect(refused.ok ? [] : refused.faults.map(({ field }) => field)).toContain("parts[1].id");
    expect(await store.catalogs.text("demo")).toBe(before);
    expect((await work.catalogChange({ id: "gone", change: { kind: "remove-part", id: "x" } })).ok).toBe(false);
  });

  it("can be taken back: edits, additions, removals, and whether it was switched on", async () => {
    const { work, store } = await withDemo();
    await store.catalogs.setActive("demo", false);
    const edited = await work.catalogChange({ id: "demo", change: { kind: "remove-family", id: "w7" } });
    expect((await work.catalogFind({ id: "demo", text: "", most: 9 }))?.families.found).toBe(3);
    if (!edited.ok) throw new Error("refused");
    await work.catalogUndo(edited.value.undo);
    expect((await work.catalogFind({ id: "demo", text: "", most: 9 }))?.families.found).toBe(4);
    const removed = await work.catalogRemove("demo");
    expect(await store.catalogs.list()).toEqual([]);
    await work.catalogUndo(removed?.undo ?? -1);
    expect((await store.catalogs.list()).map(({ id, active }) => [id, active])).toEqual([["demo", false]]);
    const added = await work.catalogAdd({ id: "two", text: demoCatalog, origin: { kind: "made" }, active: false });
    expect((await store.catalogs.list()).find(({ id }) => id === "two")?.active).toBe(false);
    if (!added.ok) throw new Error("refused");
    await work.catalogUndo(added.value.undo);
    await work.catalogUndo(added.value.undo);
    expect((await store.catalogs.list()).map(({ id }) => id)).toEqual(["demo"]);
  });

  it("are told to every window", async () => {
    const { work, tools } = await withDemo();
    const heard: string[] = [];
    tools.onChange((keys) => heard.push(...keys));
    await work.catalogChange({ id: "demo", change: { kind: "head", head: { title: "T" } } });
    expect(heard).toContain("catalogs-changed");
  });

  it("compare, merge and name what the catalogs disagree on", async () => {
    const { work } = await withDemo();
    const other: Catalog = JSON.parse(demoCatalog);
    const battery = other.parts.find(({ id }) => id === "pb-18");
    if (battery) battery.quantities = { nominalVoltage_V: 7.4 };
    const text = JSON.stringify(other);
    const diff = await work.catalogCompare({ id: "demo", text });
    expect(diff.ok && diff.value.entries.map(({ name }) => name)).toEqual(["PB-1840"]);
    await work.catalogAdd({ id: "other", text, origin: { kind: "file", name: "other.json" } });
    const merged = await work.catalogMerge(["demo", "other"]);
    expect(merged.ok && merged.value.disagreements).toEqual([
      { kind: "quantity", at: "pb-18", what: "nominalVoltage_V" },
    ]);
    expect((await work.catalogMerge(["demo", "gone"])).ok).toBe(false);
  });
});

describe("making catalogs", () => {
  const sheet =
    "Part number;Model;Board;Part type;Interchange\nPB-1;M-1;B-1;battery;PB-9\nPB-2;M-1;B-2;Akku;\n;M-1;;;\n";

  it("of a spreadsheet, with a fault for each row that could not be used", async () => {
    const { work } = memoryTools().tools;
    const content = new Blob([sheet]);
    const look = await work.listLook({ content });
    const { encoding, delimiter, shape } = look;
    const done: number[] = [];
    const converted = await work.sheetConvert(
      { content, reading: { encoding, delimiter }, shape, title: "Vendor list" },
      { onProgress: (part) => done.push(part) },
    );
    expect(converted.info).toMatchObject({
      families: 1,
      revisions: 2,
      parts: 2,
      links: 1,
      head: { title: "Vendor list" },
    });
    expect(converted.faults).toEqual([{ row: 4, kind: "no-number", text: "" }]);
    expect([converted.rows, converted.beyond, done.at(-1)]).toEqual([3, 0, 1]);
  });

  it("of a spreadsheet can be cancelled", async () => {
    const { work } = memoryTools().tools;
    const content = new Blob(["Part number;Model;Part type\n", "PB-1;M-1;battery\n".repeat(200_000)]);
    const { encoding, delimiter, shape } = await work.listLook({ content });
    const stop = new AbortController();
    const asked = { content, reading: { encoding, delimiter }, shape, title: "" };
    const going = work.sheetConvert(asked, { signal: stop.signal, onProgress: () => stop.abort(new Error("enough")) });
    await expect(going).rejects.toThrow("enough");
  });

  it("of devices seen is a draft with notes, and bad lines are named", async () => {
    const { work } = memoryTools().tools;
    const seen = (board: string, name: string, volts: number, built: string) =>
      JSON.stringify({ model: "M-1", board, built, battery: { name, designVoltage_mV: volts } });
    const lines = [
      ...Array.from({ length: 8 }, (_, i) => seen("B-100A", "XB-3000", 11_400, `2018-0${(i % 6) + 1}-05`)),
      "not json",
      ...Array.from({ length: 8 }, (_, i) => seen("B-100B", "XB-4000", 15_200, `2020-0${(i % 6) + 1}-05`)),
    ];
    const learned = await work.learn({ content: new Blob([lines.join("\n")]), language: "en" });
    expect(learned.observations).toBe(16);
    expect(learned.faults.map(({ line }) => line)).toEqual([9]);
    expect(learned.draft.families[0]?.revisions.map(({ boardNumbers }) => boardNumbers)).toEqual([
      ["B-100A"],
      ["B-100B"],
    ]);
    expect(learned.notes.some(({ says }) => says.code === "learn-changeover")).toBe(true);
  });
});

describe("lines of a file", () => {
  const read = async (content: Blob, most = 20) => {
    const lines = [];
    for await (const { line, text, cut } of blobLines(content, most)) lines.push([line, text, cut]);
    return lines;
  };

  it("keep their numbers, whatever ends them and wherever pieces of the file end", async () => {
    expect(await read(new Blob(["a\r\n\nb\nc"]))).toEqual([
      [1, "a", false],
      [3, "b", false],
      [4, "c", false],
    ]);
    const long = `${"é".repeat(9)}\n`.repeat(40_000);
    const lines = await read(new Blob([long]));
    expect([lines.length, lines.every(([, text]) => text === "é".repeat(9))]).toEqual([40_000, true]);
  });

  it("that never end are cut, and the next one is whole again", async () => {
    expect(await read(new Blob(["x".repeat(700_000), "\nnext"]))).toEqual([
      [1, "", true],
      [2, "next", false],
    ]);
    expect(await read(new Blob(["x".repeat(30), "\nnext"]))).toEqual([
      [1, "x".repeat(20), true],
      [2, "next", false],
    ]);
  });
});

describe("a backup of everything", () => {
  it("brings bench, catalogs and settings back on an empty browser", async () => {
    const { store, work } = await withDemo();
    const picture = "data:image/png;base64,AA==";
    await store.devices.save({ id: "p", modelNumbers: ["X-1"], fitted: [], accept: [], refuse: [], picture });
    await store.settings.change({ language: "pl" });
    const bench = await benchOf(store);
    const settings = await store.settings.get();
    const { content, leftOut } = await work.backUp({
      savedAt: "2026",
      bench,
      settings,
      sites: ["https://a.example"],
      serialPatterns: [{ model: "PL20", pattern: "??YYWW*" }],
    });
    expect(leftOut).toEqual([]);

    const fresh = memoryTools().tools;
    const found = await fresh.work.readBackup(content);
    if (!found.ok) throw new Error(JSON.stringify(found.faults));
    expect(found.value.bench).toEqual(bench);
    expect(found.value.settings.language).toBe("pl");
    expect(found.value.sites).toEqual(["https://a.example"]);
    expect(found.value.serialPatterns).toEqual([{ model: "PL20", pattern: "??YYWW*" }]);
    expect(found.value.catalogs).toMatchObject([{ id: "demo", here: false, info: { parts: 17 } }]);
    expect(await fresh.store.catalogs.list()).toEqual([]);
    const { undo } = await fresh.work.restoreCatalogs(["demo"]);
    expect((await fresh.store.catalogs.list()).map(({ id, origin }) => [id, origin.kind])).toEqual([
      ["demo", "example"],
    ]);
    await fresh.work.catalogUndo(undo ?? -1);
    expect(await fresh.store.catalogs.list()).toEqual([]);
  });

  it("takes a bench file for a backup of the bench, and says by field what is wrong with others", async () => {
    const { work } = memoryTools().tools;
    const faultsOf = async (text: string) => {
      const read = await work.readBackup(new Blob([text]));
      return read.ok ? [] : read.faults.map(({ field }) => field);
    };
    const bench = await work.readBackup(new Blob(['{"format":"falsefit-bench/1","devices":[]}']));
    expect(bench.ok && [bench.value.catalogs, bench.value.savedAt]).toEqual([[], ""]);
    const whole = {
      format: "falsefit-backup/1",
      savedAt: "x",
      bench: { format: "falsefit-bench/1", devices: [{ id: 1 }] },
      catalogs: [
        { id: "c", origin: { kind: "made" }, active: true, catalog: { format: "falsefit-catalog/1", parts: 3 } },
      ],
      settings: {},
      sites: [],
    };
    expect(await faultsOf(JSON.stringify(whole))).toEqual(["bench.devices[0].id", "catalogs[0].catalog.parts"]);
    expect(await faultsOf('{"format":"falsefit-backup/2"}')).toEqual(["format"]);
    expect(await faultsOf(demoCatalog)).toEqual(["format"]);
    expect(await faultsOf(JSON.stringify(whole).slice(0, 99))).toEqual([""]);
    expect(
      (await work.readBench(JSON.stringify({ ...whole, bench: { format: "falsefit-bench/1" }, catalogs: [] }))).ok,
    ).toBe(true);
  });

  it("leaves out what can no longer be read, and names it", async () => {
    const { work, store } = await withDemo();
    await work.catalogAdd({
      id: "two",
      text: demoCatalog.replace("Demonstration", "Second"),
      origin: { kind: "made" },
    });
    // Another program's hand: the text is damaged behind the store's back.
    const damaged = Object.assign(Object.create(store.catalogs), {
      open: async (id: string) => (id === "two" ? { ok: false, faults: [] } : store.catalogs.open(id)),
      list: () => store.catalogs.list(),
    });
    const services = backupServices(damaged, new CatalogKeeper(store.catalogs));
    const settings = await store.settings.get();
    const made = await services.backUp({
      savedAt: "x",
      bench: await benchOf(store),
      settings,
      sites: [],
      serialPatterns: [],
    });
    expect(made.leftOut).toEqual(["Second catalog (invented makers and numbers)"]);
  });
});
