import columnNames from "falsefit:column-names";
import rules from "falsefit:rules";
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { buildIndex } from "../../src/catalog/index.ts";
import { tellColumns } from "../../src/desks/columns.ts";
import { type OrderLine, startOrderRun } from "../../src/desks/order-check.ts";
import { printedSheet, sheetCells, sheetColumns, sheetHeading } from "../../src/desks/order-sheet.ts";
import { type OrderSummary, type OrderTally, summarize, tallier } from "../../src/desks/order-tally.ts";
import { rightNumberFinder } from "../../src/desks/right-numbers.ts";
import { type Device, readBench } from "../../src/formats/bench.ts";
import { languages, loadWords } from "../../src/headless/say.ts";
import { catalogFile } from "./catalogs.ts";

const index = buildIndex([catalogFile("rules/catalogs/demo.catalog.json")]);
const finder = rightNumberFinder(index);
const bench = readBench(readFileSync("rules/catalogs/demo.bench.json", "utf8"));
if (!bench.ok) throw new Error("bad bench");
const devices: Device[] = bench.value.devices;

function judge(rows: string[][], of: readonly Device[] = devices): { lines: OrderLine[]; tally: OrderTally } {
  const shape = tellColumns(rows, columnNames);
  const run = startOrderRun({ devices: of, index, rules, shape });
  const gathered = tallier();
  const lines = rows.slice(shape.skip).flatMap((cells, i) => run.take(cells, shape.skip + i + 1) ?? []);
  for (const line of lines) gathered.add(line);
  return { lines, tally: gathered.tally() };
}
const sum = (tally: OrderTally, needs: "tried" | "all" = "tried", stock?: OrderTally): OrderSummary =>
  summarize(tally, { devices, finder, needs, ...(stock === undefined ? {} : { stock }) });

const heading = ["Job", "Part number", "Description", "Qty", "Unit price", "Currency"];
const late = "demo-lark-late";

describe("lines of an order", () => {
  const { lines, tally } = judge([
    heading,
    [late, "PB-2240", "Battery", "1", "36.00", "USD"],
    [late, "PB-1840", "Battery", "2", "12.10", "USD"],
    [late, "", "Battery for PL-20", "1", "9.00", "USD"],
    [late, "OF-FAN-9", "Garden chair", "1", "5.00", "USD"],
    ["", "PB-2240", "Battery", "1", "", ""],
    ["unheard of", "PB-2240", "Battery", "1", "1.00", "EUR"],
    ["", "", "Garden chair", "1", "5.00", "USD"],
  ]);

  it("are judged for the job they name, or for every job that they concern", () => {
    expect(lines.map(({ standing }) => standing)).toEqual([
      "right",
      "wrong",
      "ask",
      "other-job",
      "right",
      "right",
      "no-job",
    ]);
    expect(lines.map(({ jobKnown }) => jobKnown)).toEqual([true, true, true, true, false, false, false]);
    expect(lines[4]?.verdicts.map(({ device }) => device)).toEqual([late]);
  });

  it("say what the wrong part would do and which numbers would be right", () => {
    expect(lines[1]).toMatchObject({ effect: "burns", right: { dependsOnRevision: false } });
    expect(lines[1]?.right?.numbers).toContain("PB-2240");
    expect(lines[1]?.right?.numbers).not.toContain("PB-1840");
  });

  it("know which revisions a stocked part is for", () => {
    expect(lines[1]?.revisions).toEqual(["lark-20/early"]);
  });

  it("add up to totals by standing, effect and currency, exactly", () => {
    const { sums } = sum(tally);
    expect(sums[0]).toMatchObject({ standing: "wrong", effect: "burns", currency: "USD", lines: 1, total: "24.20" });
    const right = sums.filter(({ standing }) => standing === "right");
    expect(right.map(({ currency, total, linesWithoutPrice }) => [currency, total, linesWithoutPrice])).toEqual([
      ["USD", "36.00", 0],
      [null, "0", 1],
      ["EUR", "1.00", 0],
    ]);
  });

  it("that are wrong name the rows that hold a right number already", () => {
    const [wrong] = sum(tally).wrong;
    expect(wrong).toMatchObject({ row: 3, number: "PB-1840", device: late, elsewhere: [2, 6, 7], inStock: [] });
  });

  it("that serve one need twice are named, with their pieces", () => {
    expect(sum(tally).duplicates).toEqual([{ device: late, partType: "battery", rows: [2, 6, 7], pieces: 3 }]);
  });
});

describe("an order and the stock", () => {
  it("one part for two jobs is too few", () => {
    const twins = [devices[0], { ...devices[0], id: "twin" }] as Device[];
    const { tally } = judge([heading, ["", "PB-2240", "Battery", "1", "", ""]], twins);
    expect(tally.contested).toEqual([{ row: 2, number: "PB-2240", pieces: 1, jobs: [late, "twin"] }]);
    const { tally: enough } = judge([heading, ["", "PB-2240", "Battery", "2", "", ""]], twins);
    expect(enough.contested).toEqual([]);
  });

  it("a wrong line whose right number lies in stock says so", () => {
    const order = judge([heading, [late, "PB-1840", "Battery", "1", "", ""]]).tally;
    const stock = judge([heading, ["", "X", "Chair", "", "", ""], ["", "PB-2240", "Battery", "4", "", ""]]).tally;
    const { wrong, missing } = sum(order, "tried", stock);
    expect(wrong[0]?.inStock).toEqual([3]);
    expect(missing).toMatchObject([{ device: late, partType: "battery", inStock: [3] }]);
  });

  it("the stock turned round: what is missing for the jobs at hand", () => {
    const { tally } = judge([heading, ["", "PB-2240", "Battery", "1", "", ""]]);
    const missing = sum(tally, "all").missing.filter(({ device }) => device === late);
    expect(missing.map(({ partType }) => partType)).not.toContain("battery");
    expect(missing.map(({ partType }) => partType)).toContain("charger");
  });

  it("a device that is not pinned has no right number where its revisions differ", () => {
    const { lines } = judge([heading, ["demo-sedge", "HB-0000", "Display panel for QS13", "1", "", ""]]);
    const sedge = devices.find(({ id }) => id === "demo-sedge");
    expect(sedge && finder.rightFor(sedge, "display-panel")).toEqual({ numbers: [], dependsOnRevision: true });
    expect(lines[0]?.standing).not.toBe("right");
  });
});

describe("a run", () => {
  const rows = [
    heading,
    ...Array.from({ length: 60 }, (_, i) => [
      i % 4 === 0 ? late : "",
      i % 3 === 0 ? "PB-1840" : "PB-2240",
      "Battery",
      String((i % 5) + 1),
      `${i}.05`,
      i % 2 === 0 ? "USD" : "EUR",
    ]),
  ];
  const shape = tellColumns(rows, columnNames);

  it("broken off anywhere and gone on with comes to the same", () => {
    const whole = judge(rows).tally;
    for (const cut of [1, 2, 17, 59]) {
      const first = tallier();
      const run = startOrderRun({ devices, index, rules, shape });
      for (let row = 1; row < cut; row++) {
        const line = run.take(rows[row] ?? [], row + 1);
        if (line) first.add(line);
      }
      const second = tallier(JSON.parse(JSON.stringify(first.tally())) as OrderTally);
      const later = startOrderRun({ devices, index, rules, shape });
      for (let row = cut; row < rows.length; row++) {
        const line = later.take(rows[row] ?? [], row + 1);
        if (line) second.add(line);
      }
      expect(second.tally()).toEqual(whole);
    }
  });

  it("gathered in pieces and put together comes to the same", () => {
    const { lines, tally: whole } = judge(rows);
    for (const size of [1, 7, 30]) {
      const all = tallier();
      for (let from = 0; from < lines.length; from += size) {
        const piece = tallier();
        for (const line of lines.slice(from, from + size)) piece.add(line);
        all.addTally(piece.tally());
      }
      expect(all.tally()).toEqual(whole);
    }
  });

  it("judges many jobs that know the same only once", () => {
    const many = Array.from({ length: 3_000 }, (_, i) => ({ ...devices[0], id: `job-${i}` })) as Device[];
    const before = performance.now();
    const { lines } = judge(
      [heading, ...Array.from({ length: 20 }, () => ["", "PB-2240", "Battery", "1", "", ""])],
      many,
    );
    expect(lines[0]?.verdicts).toHaveLength(3_000);
    expect(performance.now() - before).toBeLessThan(20_000);
  });
});

describe("the sheet", () => {
  it.each(languages)("has every heading, standing and sentence in %s", async (language) => {
    const words = await loadWords(language);
    const { lines, tally } = judge([
      heading,
      [late, "PB-1840", "Battery", "2", "12.10", "USD"],
      [late, "PB-2240", "Battery", "1", "12.10", ""],
      ["", "PB-2240", "Battery", "1", "12.10", "USD"],
      ["", "", "Garden chair", "1", "", ""],
    ]);
    const text = [
      sheetHeading(words),
      ...lines.map((line) => sheetCells(line, words, [2])),
      ...printedSheet(sum(tally, "all"), { devices, words, cautions: ["lithium"] }).flatMap((section) => [
        [section.heading],
        section.text,
        section.table?.head ?? [],
        ...(section.table?.rows ?? []),
      ]),
    ].flat();
    expect(lines.every((line) => sheetCells(line, words).length === sheetColumns.length)).toBe(true);
    for (const each of text) expect(each).not.toMatch(/\[[a-z_]+\]|\{[a-z]+\}/i);
    expect(text).toContain(words.say("caution_lithium"));
  });
});
