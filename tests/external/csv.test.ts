/**
 * CSV checked from outside: the rules of RFC 4180 (section 2), csv-parse as a second parser, and the characters
 * that OWASP's page "CSV Injection" lists as starting a formula.
 */
import { parse } from "csv-parse/sync";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { csvReader } from "../../src/desks/csv-rows.ts";
import { csvRecord, plainCell } from "../../src/desks/sheet-text.ts";

function ours(text: string, delimiter = ","): readonly (readonly string[])[] {
  const reader = csvReader(delimiter);
  return [reader.push(text), reader.end()].flatMap(({ rows }) => rows.map(({ cells }) => cells));
}

function theirs(text: string, delimiter = ","): string[][] {
  return parse(text, {
    delimiter,
    relax_column_count: true,
    skip_empty_lines: false,
    record_delimiter: ["\r\n", "\n"],
  }) as string[][];
}

// RFC 4180 section 2, the examples of rules 1, 2, 3, 5, 6 and 7 in their order.
const rfcExamples: [string, string, string[][]][] = [
  [
    "1: each record on a line of its own",
    "aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n",
    [
      ["aaa", "bbb", "ccc"],
      ["zzz", "yyy", "xxx"],
    ],
  ],
  [
    "2: the last record needs no line break",
    "aaa,bbb,ccc\r\nzzz,yyy,xxx",
    [
      ["aaa", "bbb", "ccc"],
      ["zzz", "yyy", "xxx"],
    ],
  ],
  [
    "3: a header line looks like any other",
    "field_name,field_name,field_name\r\naaa,bbb,ccc\r\n",
    [
      ["field_name", "field_name", "field_name"],
      ["aaa", "bbb", "ccc"],
    ],
  ],
  [
    "5: fields may be enclosed in quotation marks",
    '"aaa","bbb","ccc"\r\nzzz,yyy,xxx',
    [
      ["aaa", "bbb", "ccc"],
      ["zzz", "yyy", "xxx"],
    ],
  ],
  [
    "6: a quoted field may hold a line break",
    '"aaa","b\r\nbb","ccc"\r\nzzz,yyy,xxx',
    [
      ["aaa", "b\r\nbb", "ccc"],
      ["zzz", "yyy", "xxx"],
    ],
  ],
  ["7: a quotation mark inside a field is doubled", '"aaa","b""bb","ccc"', [["aaa", 'b"bb', "ccc"]]],
];

describe("RFC 4180, section 2", () => {
  it.each(rfcExamples)("rule %s", (_rule, text, rows) => {
    expect(ours(text)).toEqual(rows);
    expect(theirs(text)).toEqual(rows);
  });

  it("rule 4: spaces are part of a field", () => {
    expect(ours(" aaa , bbb\r\n")).toEqual([[" aaa ", " bbb"]]);
  });
});

describe("csv-parse as a second parser", () => {
  const cell = fc.string({ unit: fc.constantFrom("a", "B", "1", '"', ",", ";", "\n", " ", "é", "="), maxLength: 6 });
  const table = fc.array(fc.array(cell, { minLength: 2, maxLength: 5 }), { minLength: 1, maxLength: 6 });

  it("reads every list that we write as we do", () => {
    fc.assert(
      fc.property(table, fc.constantFrom(",", ";", "\t"), (rows, delimiter) => {
        const text = rows.map((cells) => csvRecord(cells, delimiter)).join("");
        expect(ours(text, delimiter)).toEqual(theirs(text, delimiter));
      }),
    );
  });

  it("reads unquoted and mixed lists as we do", () => {
    const bare = fc.string({ unit: fc.constantFrom("a", "1", " ", "é", "="), minLength: 1, maxLength: 6 });
    fc.assert(
      fc.property(
        fc.array(fc.array(bare, { minLength: 2, maxLength: 4 }), { minLength: 1 }),
        fc.boolean(),
        (rows, crlf) => {
          const text = rows.map((cells) => cells.join(",")).join(crlf ? "\r\n" : "\n");
          expect(ours(text)).toEqual(theirs(text));
        },
      ),
    );
  });
});

describe("OWASP, CSV Injection: characters that start a formula", () => {
  // The list of the page as of its change of 2025-08-01, and the full-width forms (from memory).
  it.each(["=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠"])("%j", (start) => {
    expect(plainCell(`${start}cmd`)).toBe(`'${start}cmd`);
  });

  it("every cell of every list that we write, read by another parser, starts harmlessly", () => {
    const cell = fc.string({
      unit: fc.constantFrom("=", "+", "-", "@", "\t", "\r", "\n", '"', ";", ",", "1", "a"),
      maxLength: 6,
    });
    fc.assert(
      fc.property(fc.array(cell, { minLength: 1, maxLength: 5 }), (cells) => {
        const read = parse(csvRecord(cells), { record_delimiter: ["\r\n"], relax_column_count: true }) as string[][];
        for (const text of read.flat()) expect(text).toMatch(/^(?:[^=+\-@\t\r\n]|-\d{1,18}(?:[.,]\d{1,9})?$|$)/);
      }),
    );
  });
});
