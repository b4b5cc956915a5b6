import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { Beginnings } from "../../src/text/beginnings.ts";
import { foldVisible } from "../../src/text/fold.ts";
import { canonicalNumber } from "../../src/text/part-number.ts";

function beginningsOf(numbers: readonly string[]): Beginnings {
  const beginnings = new Beginnings();
  for (const number of numbers.map(canonicalNumber))
    beginnings.add(number.length, number.charCodeAt(0), number.charCodeAt(1), number.charCodeAt(2));
  return beginnings;
}

describe("beginnings of known numbers", () => {
  it("let nothing through that begins otherwise", () => {
    const beginnings = beginningsOf(["PB-1840", "S9"]);
    const text = "battery PB 1840 for PL-20, S 9";
    const may = [...text.matchAll(/\w+/g)]
      .filter(({ index }) => beginnings.mayBegin(text, index))
      .map(([word]) => word);
    expect(may).toEqual(["PB", "S"]);
  });

  it("never deny a number, whatever separators, case and look-alikes it is written with", () => {
    const number = fc.stringMatching(/^[A-Z0-9]{1,8}$/);
    const separator = fc.constantFrom("", "-", " ", ".", "/", " - ", "\u00b7");
    fc.assert(
      fc.property(number, separator, fc.boolean(), (each, gap, lower) => {
        const written = [...each].join(gap).replaceAll("0", "O").replaceAll("1", "l");
        const { text } = foldVisible(lower ? written.toLowerCase() : written);
        expect(beginningsOf([each]).mayBegin(`${text} end`, 0)).toBe(true);
      }),
    );
  });
});
