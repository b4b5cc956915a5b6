import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type CsvPiece, csvReader, MAX_ROW_CHARS } from "../../src/desks/csv-rows.ts";

function readAll(pieces: readonly string[], delimiter?: string): CsvPiece & { delimiter: string } {
  const reader = csvReader(delimiter);
  const read = [...pieces.map((piece) => reader.push(piece)), reader.end()];
  return {
    rows: read.flatMap(({ rows }) => rows),
    faults: read.flatMap(({ faults }) => faults),
    delimiter: reader.delimiter(),
  };
}

const cellsOf = (text: string): readonly (readonly string[])[] => readAll([text]).rows.map(({ cells }) => cells);

describe("rows of a list", () => {
  it.each([
    [",", "a,b,c\n1,2,3\n"],
    [";", "a;b;c\n1,5;2,5;3\n4,5;5;6\n"],
    ["\t", "a\tb\n1, 2\t3\n"],
    ["|", "a|b\nx|y\n"],
  ])("tells the separator %j", (delimiter, text) => {
    expect(readAll([text]).delimiter).toBe(delimiter);
  });

  it("takes the separator that a spreadsheet declared, and counts its row", () => {
    const { rows, delimiter } = readAll(["sep=|\na|b,c\n"]);
    expect(delimiter).toBe("|");
    expect(rows).toEqual([{ row: 2, cells: ["a", "b,c"] }]);
  });

  it("drops the byte order mark and reads every kind of line end", () => {
    expect(cellsOf("\ufeffa,b\r\n1,2\r\n")).toEqual([
      ["a", "b"],
      ["1", "2"],
    ]);
    expect(cellsOf("a,b\r1,2\r")).toEqual([
      ["a", "b"],
      ["1", "2"],
    ]);
    expect(cellsOf('a,b\r\n"1","2"\n3,4')).toEqual([
      ["a", "b"],
      ["1", "2"],
      ["3", "4"],
    ]);
  });

  it("counts rows as a spreadsheet does: empty ones too, line breaks inside cells not", () => {
    const { rows } = readAll(['a,b\n\n"x\ny",1\nz,2\n']);
    expect(rows.map(({ row }) => row)).toEqual([1, 2, 3, 4]);
    expect(rows[2]?.cells).toEqual(["x\ny", "1"]);
  });

  it("gives the same rows however the text is cut", () => {
    const cell = fc.string({ unit: fc.constantFrom("a", "1", '"', ",", "\n", " ", "é"), maxLength: 6 });
    const table = fc.array(fc.array(cell, { minLength: 2, maxLength: 4 }), { minLength: 1, maxLength: 8 });
    fc.assert(
      fc.property(table, fc.array(fc.nat(200), { maxLength: 6 }), (rows, cuts) => {
        const text = rows.map((cells) => cells.map((each) => `"${each.replaceAll('"', '""')}"`).join(",")).join("\n");
        const places = [...cuts.map((cut) => cut % (text.length + 1)), 0, text.length].sort((a, b) => a - b);
        const pieces = places.slice(1).map((end, i) => text.slice(places[i], end));
        expect(readAll(pieces, ",").rows.map(({ cells }) => cells)).toEqual(rows);
      }),
    );
  });
});

describe("broken rows", () => {
  it("a quotation mark that is never closed costs its own row only", () => {
    const { rows, faults } = readAll(['a,b\n1,"2\n3,4\n5,6\n']);
    expect(faults).toEqual([{ row: 2, kind: "unclosed-quote" }]);
    expect(rows.map(({ cells }) => cells)).toEqual([
      ["a", "b"],
      ["1", '"2'],
      ["3", "4"],
      ["5", "6"],
    ]);
  });

  it("names a row with text after a closing quotation mark", () => {
    expect(readAll(['a,b\n"1"x,2\n']).faults.map(({ kind }) => kind)).toContain("stray-quote");
  });

  it("after many unclosed marks, marks are ordinary characters and every row is still given", () => {
    const lines = Array.from({ length: 301 }, (_, i) => `${i},"x`);
    const { rows } = readAll([lines.join("\n")]);
    expect(rows.at(-1)?.cells).toEqual(["300", '"x']);
  });

  it("skips a row of absurd length and goes on after it", () => {
    const long = "x".repeat(MAX_ROW_CHARS);
    const { rows, faults } = readAll(["a,b\n", long, long, "\n1,2\n"]);
    expect(faults).toEqual([{ row: 2, kind: "row-too-long" }]);
    expect(rows.map(({ cells }) => cells)).toEqual([
      ["a", "b"],
      ["1", "2"],
    ]);
  });

  it("an empty text has no rows", () => {
    expect(readAll([""]).rows).toEqual([]);
    expect(readAll([]).rows).toEqual([]);
  });
});
