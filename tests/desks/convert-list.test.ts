import columnNames from "falsefit:column-names";
import rules from "falsefit:rules";
import { describe, expect, it } from "vitest";
import { tellColumns } from "../../src/desks/columns.ts";
import { type ConvertFault, listConverter } from "../../src/desks/convert-list.ts";
import { type Catalog, checkCatalog } from "../../src/formats/catalog.ts";

function convert(
  rows: string[][],
  more: { partType?: string; model?: string } = {},
): { catalog: Catalog; faults: ConvertFault[] } {
  const shape = tellColumns(rows, columnNames);
  const converter = listConverter({ shape, rules, title: "list.csv", ...more });
  const faults = rows.slice(shape.skip).flatMap((cells, i) => converter.take(cells, shape.skip + i + 1));
  const checked = checkCatalog(converter.catalog());
  if (!checked.ok) throw new Error(JSON.stringify(checked.faults));
  return { catalog: checked.value, faults };
}

describe("a vendor's list made into a catalog", () => {
  it("gathers models, revisions, boards, dates, what may be exchanged and what replaces what", () => {
    const { catalog, faults } = convert([
      [
        "Maker",
        "Part no",
        "Part type",
        "Model",
        "Revision",
        "Board",
        "Built from",
        "Built to",
        "Interchange",
        "Replaced by",
      ],
      ["Pellworm", "PB-1840", "battery", "PL-20, PL-20E", "early", "PW-4410-2", "2019-W06", "2021-W14", "QK-77A", ""],
      ["Pellworm", "PB-2240", "battery", "PL-20", "late", "PW-4410-5", "2021-W02", "", "", "PB-2240A"],
      ["Pellworm", "PC-05", "charger", "PL-20", "early", "", "", "", "", ""],
      ["Pellworm", "PC-05", "charger", "PL-20", "late", "", "", "", "", ""],
    ]);
    expect(faults).toEqual([]);
    expect(catalog.families).toHaveLength(1);
    expect(catalog.families[0]).toMatchObject({
      maker: "Pellworm",
      modelNumbers: ["PL-20", "PL-20E"],
      revisions: [
        {
          id: "early",
          boardNumbers: ["PW-4410-2"],
          built: { from: "2019-W06", to: "2021-W14" },
          parts: ["pb-1840", "pc-05"],
        },
        { id: "late", boardNumbers: ["PW-4410-5"], built: { from: "2021-W02" }, parts: ["pb-2240", "pc-05"] },
      ],
    });
    expect(catalog.parts.map(({ id, type }) => [id, type])).toEqual([
      ["pb-1840", "battery"],
      ["pb-2240", "battery"],
      ["pc-05", "charger"],
    ]);
    expect(catalog.interchange).toEqual([{ numbers: ["PB-1840", "QK-77A"], basis: "list.csv" }]);
    expect(catalog.supersession).toEqual([{ old: "PB-2240", new: "PB-2240A", basis: "list.csv" }]);
  });

  it("finds the part type by the words that listings use, in any language", () => {
    const { catalog } = convert([
      ["Teilenummer", "Bezeichnung", "Modell"],
      ["AB-1234", "Akku für Handgerät", "XQ-1"],
    ]);
    expect(catalog.parts[0]?.type).toBe("battery");
  });

  it("finds the revision again by its board", () => {
    const { catalog } = convert(
      [
        ["Part no", "Model", "Board"],
        ["AB-1234", "XQ-1", "B-100"],
        ["AB-1235", "XQ-1", "B-100"],
        ["AB-1236", "XQ-1", "B-200"],
      ],
      { partType: "fan" },
    );
    expect(catalog.families[0]?.revisions.map(({ id, parts }) => [id, parts])).toEqual([
      ["b-100", ["ab-1234", "ab-1235"]],
      ["b-200", ["ab-1236"]],
    ]);
  });

  it("says what could not be used and keeps the rest", () => {
    const { catalog, faults } = convert(
      [
        ["Part no", "Model", "Built from", "Years"],
        ["", "XQ-1", "", ""],
        ["AB-1234", "", "", ""],
        ["AB-1235", "XQ-1", "spring", "2019-2021, then"],
        ["", "", "", ""],
      ],
      { partType: "fan" },
    );
    expect(faults).toEqual([
      { row: 2, kind: "no-number", text: "" },
      { row: 3, kind: "no-model", text: "" },
      { row: 4, kind: "bad-date", text: "spring" },
      { row: 4, kind: "bad-year", text: "then" },
    ]);
    expect(catalog.parts.map(({ numbers }) => numbers)).toEqual([["AB-1234"], ["AB-1235"]]);
    expect(catalog.families[0]?.revisions[0]?.years).toEqual([2019, 2020, 2021]);
  });

  it("takes model and part type from outside where the list has none", () => {
    const { catalog, faults } = convert([["Part no"], ["AB-1234"]], { partType: "fan", model: "XQ-1" });
    expect(faults).toEqual([]);
    expect(catalog.families[0]?.modelNumbers).toEqual(["XQ-1"]);
  });
});
