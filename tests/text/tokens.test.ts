import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { foldVisible } from "../../src/text/fold.ts";
import { isYearLike, looksLikePartNumber, numberCandidates, tokenise } from "../../src/text/tokens.ts";

describe("tokens", () => {
  it("are runs of letters and digits with what stands between them", () => {
    expect(tokenise(" fits PB-1840/R, für écran 2021!")).toEqual([
      { text: "fits", start: 1, end: 5, gap: " ", kind: "letters" },
      { text: "PB", start: 6, end: 8, gap: "-", kind: "letters" },
      { text: "1840", start: 9, end: 13, gap: "/", kind: "digits" },
      { text: "R", start: 14, end: 15, gap: ", ", kind: "letters" },
      { text: "für", start: 17, end: 20, gap: " ", kind: "letters" },
      { text: "écran", start: 21, end: 26, gap: " ", kind: "letters" },
      { text: "2021", start: 27, end: 31, gap: "!", kind: "digits" },
    ]);
    expect(tokenise("ǅ12電池")).toMatchObject([{ kind: "mixed" }]);
    expect(tokenise("")).toEqual([]);
  });

  it("join to candidates over separators of numbers only", () => {
    const of = (text: string) => numberCandidates(text, tokenise(text), 0).map(({ canonical }) => canonical);
    expect(of("PB 1840-R (A) x")).toEqual(["PB", "PB1840", "PB1840R", "PB1840RA", "PB1840RAX"]);
    expect(of("PB - 1840 / R.2 B C D")).toEqual(["PB", "PB1840", "PB1840R", "PB1840R2", "PB1840R2B"]);
    expect(of("PB, 1840")).toEqual(["PB"]);
    expect(of("PB\n1840")).toEqual(["PB"]);
    // A page shows a run of spaces as one.
    expect(of("PB  1840")).toEqual(["PB", "PB1840"]);
    expect(of(`${"A".repeat(30)} ${"B".repeat(30)}`)).toHaveLength(1);
    expect(of(`${"A".repeat(50)} B`)).toHaveLength(0);
  });

  it("lie in the text, in order, and join back to it", () => {
    fc.assert(
      fc.property(fc.string({ unit: "grapheme", maxLength: 80 }), (original) => {
        const { text } = foldVisible(original);
        const tokens = tokenise(text);
        const first = tokens[0]?.start ?? text.length;
        // A run of white space between tokens reads as one space.
        const narrow = (piece: string) => piece.replace(/[^\S\n]+/g, " ");
        const joined = text.slice(0, first) + tokens.map((token) => token.text + token.gap).join("");
        expect(narrow(joined)).toBe(narrow(text));
        for (const [i, token] of tokens.entries()) {
          expect(text.slice(token.start, token.end)).toBe(token.text);
          for (const each of numberCandidates(text, tokens, i))
            expect(text.slice(each.start, each.end)).toBe(each.text);
        }
      }),
      { numRuns: 1000 },
    );
  });
});

describe("what looks like what", () => {
  it.each([
    ["PB1840", true],
    ["3120718C", true],
    ["1840", false],
    ["BATTERY", false],
    ["A1", false],
    ["A1B2C3D4E5F6G7H8I9J0K1L2M", false],
    ["БР1840", true],
  ])("%s as a part number: %s", (canonical, looks) => {
    expect(looksLikePartNumber(canonical)).toBe(looks);
  });

  it.each([
    ["2021", true],
    ["1980", true],
    ["1979", false],
    ["2040", false],
    ["20210", false],
    ["202", false],
  ])("%s as a year: %s", (text, looks) => {
    expect(isYearLike(text)).toBe(looks);
  });
});
