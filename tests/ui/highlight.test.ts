import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Span } from "../../src/formats/verdict.ts";
import { markedPieces } from "../../src/ui/highlight.ts";

const shown = (text: string, spans: Span[], field = "title") =>
  markedPieces(text, spans, field)
    .map(({ text: piece, marked }) => (marked ? `[${piece}]` : piece))
    .join("");

describe("marked pieces", () => {
  it("mark the words that reasons rest on", () => {
    expect(
      shown("Battery PB-1840 for PL-20", [
        [20, 25, "title"],
        [8, 15, "title"],
        [0, 3, "specifics.MPN"],
      ]),
    ).toBe("Battery [PB-1840] for [PL-20]");
  });

  it("join overlapping and touching spans and clip those that reach too far", () => {
    expect(
      shown("abcdef", [
        [1, 3, "title"],
        [2, 4, "title"],
        [4, 5, "title"],
      ]),
    ).toBe("a[bcde]f");
    expect(
      shown("abc", [
        [-5, 1, "title"],
        [2, 99, "title"],
        [50, 60, "title"],
      ]),
    ).toBe("[a]b[c]");
  });

  it("shorten a long text around its marked places", () => {
    const long = `${"word ".repeat(200)}PB-1840${" word".repeat(200)}`;
    const pieces = markedPieces(long, [[1000, 1007, "title"]], "title");
    expect(pieces[1]).toEqual({ text: "PB-1840", marked: true });
    expect(pieces.map(({ text }) => text).join("").length).toBeLessThan(120);
    expect(markedPieces("x".repeat(900), [], "title")[0]?.text).toHaveLength(401);
  });

  it("never lose or invent a character of a short text, whatever the spans", () => {
    const span = fc.tuple(
      fc.integer({ min: -5, max: 60 }),
      fc.integer({ min: -5, max: 60 }),
      fc.constantFrom("title", "x"),
    );
    fc.assert(
      fc.property(fc.string({ maxLength: 50 }), fc.array(span, { maxLength: 8 }), (text, spans) => {
        const pieces = markedPieces(text, spans, "title");
        expect(pieces.map((piece) => piece.text).join("")).toBe(text);
        for (const [start, end, field] of spans) {
          if (field !== "title" || start < 0 || end > text.length || start >= end) continue;
          const marks = pieces.flatMap(({ text: piece, marked }) => Array<boolean>(piece.length).fill(marked));
          expect(marks.slice(start, end).every(Boolean)).toBe(true);
        }
      }),
    );
  });
});
