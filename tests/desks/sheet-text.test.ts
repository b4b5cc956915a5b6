import fc from "fast-check";
import Papa from "papaparse";
import { describe, expect, it } from "vitest";
import { csvRecord, plainCell } from "../../src/desks/sheet-text.ts";

describe("cells that a spreadsheet would run", () => {
  it.each(["=1+1", "+1", "-2+3", "@SUM(A1)", "\t=1", "\r=1", "\n=1", "＝1", "＋1", "－1", "＠a", "-", "-x", "--1"])(
    "%j is made plain text",
    (text) => {
      expect(plainCell(text)).toBe(`'${text}`);
    },
  );

  it.each(["-12.50", "-12,50", "-3", "O'Neil", "PB-1840", "a=b", "", " =1", "12.50"])("%j stays as it is", (text) => {
    expect(plainCell(text)).toBe(text);
  });

  it("no record starts a cell with a formula, also behind a separator inside a cell", () => {
    expect(csvRecord(['a;"=1', "=1"], ";")).toBe('"a;""=1";\'=1\r\n');
  });
});

describe("records", () => {
  it("are read back as they were, whatever is in them", () => {
    const cell = fc.string({
      unit: fc.constantFrom("a", '"', ",", ";", "\n", "\r", " ", "=", "-", "1", "ż"),
      maxLength: 8,
    });
    fc.assert(
      fc.property(
        fc.array(cell, { minLength: 2, maxLength: 5 }),
        fc.constantFrom(",", ";", "\t"),
        (cells, delimiter) => {
          const { data } = Papa.parse<string[]>(csvRecord(cells, delimiter), { delimiter, newline: "\r\n" });
          expect(data[0]).toEqual(cells.map(plainCell));
        },
      ),
    );
  });
});
