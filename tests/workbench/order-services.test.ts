import { describe, expect, it, vi } from "vitest";
import { ListStore } from "../../src/store/lists.ts";
import { longList, memoryLocks, startList, startWorker, tellBench, untilState } from "./order-ground.ts";

const ORDER = [
  "Auftrag;Teile-Nr.;Bezeichnung;Menge;Einzelpreis (EUR)",
  "demo-lark-late;PB-2240;Akku;1;36,00",
  "demo-lark-late;PB-1840;Akku;2;12,10",
  "demo-lark-late;;Akku für PL-20;1;9,00",
  "demo-marlow-six;OF-B216;Akku;1;41,90",
  "demo-marlow-six;OF-B216;Akku;1;41,90",
  ";;Gartenstuhl;1;5,00",
].join("\r\n");

describe("a list", () => {
  it("is looked at before it is checked: encoding, separator, columns, first rows", async () => {
    const { desk } = startWorker();
    const utf16 = new Blob([new Uint8Array([0xff, 0xfe]), new Uint16Array([...ORDER].map((c) => c.charCodeAt(0)))]);
    const look = await desk.listLook({ content: utf16 });
    expect(look).toMatchObject({ encoding: "utf-16le", delimiter: ";" });
    expect(look.shape).toMatchObject({ decimalMark: ",", currency: "EUR", skip: 1, language: "de" });
    expect(look.shape.columns).toMatchObject({ job: 0, number: 1, title: 2, quantity: 3, unitPrice: 4 });
    expect(look.heading[1]).toBe("Teile-Nr.");
    expect(look.rows).toHaveLength(7);
  });

  it("is judged line by line and summed up", async () => {
    const { desk } = startWorker();
    await tellBench(desk);
    await startList(desk, "order", new Blob([ORDER]));
    const state = await untilState(desk, "order");
    expect(state).toMatchObject({ phase: "done", stale: false, lines: 6, done: 1 });
    expect(state.counts).toEqual({ right: 3, ask: 1, wrong: 1, "other-job": 0, "no-job": 1 });
    expect(state.cautions).toContain("lithium");

    const summary = await desk.listSummary({ slot: "order", needs: "tried" });
    expect(summary?.sums[0]).toMatchObject({ standing: "wrong", total: "24.20", currency: "EUR", lines: 1 });
    expect(summary?.duplicates.map(({ device, rows }) => [device, rows])).toEqual([["demo-marlow-six", [5, 6]]]);

    const places = await desk.listPlaces({ slot: "order", standings: ["wrong"], order: "as-listed" });
    expect([...places]).toEqual([1]);
    const [wrong, none] = await desk.listLines({ slot: "order", places: [1, 99] });
    expect(wrong).toMatchObject({ standing: "wrong", elsewhere: [2], places: ["Lark 20 handheld, early board"] });
    expect(wrong?.right?.numbers).toContain("PB-2240");
    expect(none).toBeNull();
  });

  it("shows the worst lines first, and within them keeps the order of the list", async () => {
    const { desk } = startWorker();
    await tellBench(desk);
    await startList(desk, "order", new Blob([ORDER]));
    await untilState(desk, "order");
    const standings = ["right", "ask", "wrong", "other-job", "no-job"] as const;
    const worst = await desk.listPlaces({ slot: "order", standings, order: "worst-first" });
    expect([...worst]).toEqual([1, 2, 5, 0, 3, 4]);
    const listed = await desk.listPlaces({ slot: "order", standings, order: "as-listed" });
    expect([...listed]).toEqual([0, 1, 2, 3, 4, 5]);
  });

  it("finds lines by number however it is written, by words and by job", async () => {
    const { desk } = startWorker();
    await tellBench(desk);
    await startList(desk, "order", new Blob([ORDER]));
    await untilState(desk, "order");
    const standings = ["right", "ask", "wrong", "other-job", "no-job"] as const;
    const find = async (text: string) => [
      ...(await desk.listPlaces({ slot: "order", standings, order: "as-listed", text })),
    ];
    expect(await find("pb 1840")).toEqual([1]);
    expect(await find("GARTEN")).toEqual([5]);
    expect(await find("demo-marlow")).toEqual([3, 4]);
    expect(await find("  ")).toHaveLength(6);
    expect(await find("nowhere")).toEqual([]);
  });

  it("is explained for one job with the words that matter, the pins and the caution", async () => {
    const { desk } = startWorker();
    await tellBench(desk);
    await startList(desk, "order", new Blob([ORDER]));
    await untilState(desk, "order");
    const explained = await desk.listExplain({ slot: "order", place: 1, device: "demo-lark-late" });
    expect(explained?.tier).toBe("stop");
    expect(explained?.hazards[0]?.signal).toBe("WARNING");
    expect(explained?.hazards[0]?.cautions).not.toHaveLength(0);
    expect(explained?.pins).not.toBeNull();
    expect(await desk.listExplain({ slot: "order", place: 1, device: "gone" })).toBeNull();
  });

  it("names rows of the stock that hold a right number", async () => {
    const { desk } = startWorker();
    await tellBench(desk);
    await startList(desk, "stock", new Blob(["Part number,Description\nPB-2240,Battery\nOF-FAN-9,Fan\n"]), "stock.csv");
    await untilState(desk, "stock");
    const order = ["Job,Part number,Description", "demo-lark-late,PB-1840,Battery"].join("\n");
    await startList(desk, "order", new Blob([order]));
    await untilState(desk, "order");
    const [line] = await desk.listLines({ slot: "order", places: [0] });
    expect(line).toMatchObject({ standing: "wrong", inStock: [2], elsewhere: [] });
    const missing = (await desk.listSummary({ slot: "order", needs: "tried" }))?.missing;
    expect(missing?.map(({ device, partType, inStock }) => [device, partType, inStock])).toEqual([
      ["demo-lark-late", "battery", [2]],
    ]);
  });

  it("is written as CSV that a spreadsheet cannot take for formulas", async () => {
    const { desk } = startWorker();
    await tellBench(desk);
    await startList(desk, "order", new Blob(["Part number,Description\nPB-1840,=1+1 battery\n"]), "a.b.csv");
    await untilState(desk, "order");
    const progress: number[] = [];
    const file = await desk.listExport({ slot: "order" }, { onProgress: (done) => progress.push(done) });
    expect(file?.name).toBe("a.b.falsefit.csv");
    expect(progress).toEqual([1]);
    const text = (await file?.content.text()) ?? "";
    const [heading, row, end] = text.split("\r\n");
    expect(heading).toContain("Row,Number,");
    expect(row).toContain(",'=1+1 battery,");
    expect(row).toContain("My Lark 20 (example)");
    expect(end).toBe("");
  });

  it("is printed in sections that name what is at stake", async () => {
    const { desk } = startWorker();
    await tellBench(desk);
    await startList(desk, "order", new Blob([ORDER]));
    await untilState(desk, "order");
    const sheet = await desk.listSheet({ slot: "order", needs: "tried" });
    expect(sheet?.map(({ heading }) => heading)).toEqual(
      expect.arrayContaining(["What is at stake", "Lines that are wrong"]),
    );
  });

  it("of a stock is printed by what each part fits, and by what the jobs lack", async () => {
    const { desk } = startWorker();
    await tellBench(desk);
    await startList(desk, "stock", new Blob(["Part number,Description\nPB-2240,Battery\nPC-0520,Charger\n"]));
    await untilState(desk, "stock");
    const sheet = await desk.listSheet({ slot: "stock", needs: "all" });
    expect(sheet?.map(({ heading }) => heading)).toEqual(["Stock", "Missing for the jobs"]);
    expect(sheet?.[0]?.table?.rows[0]).toEqual(["2", "PB-2240", "Battery", "1", "Lark 20 handheld, late board"]);
    expect(sheet?.[1]?.table?.rows.map(([job, type]) => `${job}: ${type}`)).toContain(
      "Washing machine (example): control board",
    );
  });

  it("names rows that are not written as they should be, and judges the rest", async () => {
    const { desk } = startWorker();
    await tellBench(desk);
    const list = 'Job,Part number,Description\ndemo-lark-late,"PB-2240,Battery\ndemo-lark-late,PB-2240,Battery\n';
    await startList(desk, "order", new Blob([list]));
    const state = await untilState(desk, "order");
    expect(state.faults).toContainEqual({ row: 2, kind: "unclosed-quote" });
    expect(state.counts.right).toBeGreaterThanOrEqual(1);
  });
});

describe("a long list", () => {
  const LINES = 3_000;

  it("can be cancelled, keeps what was judged, and goes on to the same result", async () => {
    const whole = startWorker();
    await tellBench(whole.desk);
    await startList(whole.desk, "order", longList(LINES));
    const expected = await untilState(whole.desk, "order");

    const { desk } = startWorker();
    await tellBench(desk);
    await startList(desk, "order", longList(LINES));
    await untilState(desk, "order", ({ lines, phase }) => lines > 0 || phase !== "running");
    await desk.listCancel({ slot: "order" });
    const cancelled = await untilState(desk, "order");
    expect(cancelled.phase).toBe("cancelled");
    expect(cancelled.lines).toBeGreaterThan(0);
    expect(cancelled.lines).toBeLessThan(LINES);
    const [last] = await desk.listLines({ slot: "order", places: [cancelled.lines - 1] });
    expect(last?.entry.row).toBe(cancelled.lines + 1);

    await desk.listGoOn({ slot: "order" });
    const done = await untilState(desk, "order");
    expect(done).toEqual(expected);
    expect(await desk.listSummary({ slot: "order", needs: "tried" })).toEqual(
      await whole.desk.listSummary({ slot: "order", needs: "tried" }),
    );
    const every = Array.from({ length: LINES }, (_, i) => i);
    expect(await desk.listLines({ slot: "order", places: every })).toEqual(
      await whole.desk.listLines({ slot: "order", places: every }),
    );
  });

  it("goes on by itself after a reload broke it off", async () => {
    const { desk, database } = startWorker();
    await tellBench(desk);
    await startList(desk, "order", longList(LINES));
    await untilState(desk, "order", ({ lines, phase }) => lines > 0 || phase !== "running");
    // A reload leaves the store as it is: the first worker is never asked again.
    const reloaded = startWorker(database);
    await tellBench(reloaded.desk);
    const state = await untilState(reloaded.desk, "order", ({ phase }) => phase === "done");
    expect(state.lines).toBe(LINES);
    await desk.listCancel({ slot: "order" });
  });

  it("is judged again from its beginning where the bench has changed since", async () => {
    const { desk } = startWorker();
    await tellBench(desk);
    await startList(desk, "order", longList(300));
    await untilState(desk, "order");
    await tellBench(desk, [], "2");
    const stale = await untilState(desk, "order", (state) => state.stale);
    expect(stale.counts.right).toBeGreaterThan(0);
    await desk.listAgain({ slot: "order" });
    const state = await untilState(desk, "order");
    expect(state).toMatchObject({ stale: false, lines: 300 });
    expect(state.counts["no-job"]).toBe(300);
  });

  it("is left alone while another window is at it", async () => {
    const alone = memoryLocks();
    const { desk, database } = startWorker(undefined, { alone });
    await tellBench(desk);
    await startList(desk, "order", longList(LINES));
    await untilState(desk, "order", ({ lines, phase }) => lines > 0 || phase !== "running");
    const other = startWorker(database, { alone });
    await tellBench(other.desk);
    expect((await untilState(other.desk, "order")).phase).toBe("elsewhere");
    await untilState(desk, "order");
    await other.desk.listGoOn({ slot: "order" });
    expect(await untilState(other.desk, "order")).toMatchObject({ phase: "done", lines: LINES });
  });

  it("says so when there is no room left, and keeps what was kept", async () => {
    const errors = vi.spyOn(console, "error").mockImplementation(() => undefined);
    const { desk, database } = startWorker();
    await tellBench(desk);
    const keep = vi
      .spyOn(ListStore.prototype, "keep")
      .mockRejectedValue(new DOMException("full", "QuotaExceededError"));
    await startList(desk, "order", longList(500));
    const state = await untilState(desk, "order");
    expect(state).toMatchObject({ phase: "failed", failure: "storage" });
    keep.mockRestore();
    await desk.listGoOn({ slot: "order" });
    expect(await untilState(desk, "order")).toMatchObject({ phase: "done", lines: 500 });
    expect(errors).toHaveBeenCalledOnce();
    errors.mockRestore();
    expect(database).toBeDefined();
  });
});

describe("taking a list away", () => {
  it("can be taken back, and is final when the workbench is opened again", async () => {
    const { desk, database } = startWorker();
    await tellBench(desk);
    await startList(desk, "order", longList(10));
    await untilState(desk, "order");
    await desk.listRemove({ slot: "order", removed: true });
    expect((await desk.listNews({ slot: "order", seen: 0 })).state).toBeNull();
    await desk.listRemove({ slot: "order", removed: false });
    expect(await untilState(desk, "order")).toMatchObject({ phase: "done", lines: 10 });
    await desk.listRemove({ slot: "order", removed: true });
    const reloaded = startWorker(database);
    await tellBench(reloaded.desk);
    expect((await reloaded.desk.listNews({ slot: "order", seen: 0 })).state).toBeNull();
    expect(await reloaded.desk.listSource({ slot: "order" })).toBeNull();
  });
});
