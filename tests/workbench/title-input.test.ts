import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  EMPTY_INPUT,
  inputOfListing,
  inputOfText,
  LIMITS,
  lengthOf,
  limitOf,
  listingOf,
  specificsOf,
} from "../../src/workbench/title/title-input.ts";

describe("what a seller has typed", () => {
  it("becomes a listing; empty fields are left out", () => {
    expect(listingOf({ ...EMPTY_INPUT, title: "a" })).toEqual({ title: "a" });
    expect(listingOf({ ...EMPTY_INPUT, title: "a", description: "b", specifics: "MPN: c" })).toEqual({
      title: "a",
      description: "b",
      specifics: { MPN: "c" },
    });
  });

  it("has fields in lines: name, colon (of any width) or tab, value; other lines are none", () => {
    expect(specificsOf("MPN: PB-1840\n\nno field\nBoard\tPW-4410-2\r\nBrand：Pellworm\n: x\ny:")).toEqual({
      MPN: "PB-1840",
      Board: "PW-4410-2",
      Brand: "Pellworm",
    });
  });

  it("may come from a field of a page: its first line is the title", () => {
    const before = { ...EMPTY_INPUT, part: "pb-18", limit: 60, specifics: "MPN: x" };
    const after = inputOfText("  PB-1840 battery\r\n\r\nfor PL-20\nonly ", before);
    expect(after).toMatchObject({ title: "PB-1840 battery", description: "for PL-20\nonly", part: null, limit: 60 });
    expect(after.specifics).toBe("");
    expect(inputOfText("one line", before)).toMatchObject({ title: "one line", description: "" });
  });

  it("may come from a list, and gives the same listing back", () => {
    const text = fc.string({ unit: "grapheme", minLength: 1, maxLength: 20 }).filter((value) => value.trim() === value);
    const name = text.filter((value) => !/[:\t\uff1a\r\n]/.test(value) && !Object.hasOwn(Object.prototype, value));
    const value = text.filter((each) => !/[\r\n]/.test(each));
    const listing = fc.record({
      title: value,
      description: value,
      specifics: fc.dictionary(name, value, { minKeys: 1, maxKeys: 4 }),
    });
    fc.assert(
      fc.property(listing, (given) => {
        expect(listingOf(inputOfListing(given, EMPTY_INPUT))).toEqual({ ...given, specifics: { ...given.specifics } });
      }),
    );
  });

  it("has a limit that makes sense whatever is typed", () => {
    expect([limitOf("80"), limitOf("5"), limitOf("9999"), limitOf("x"), limitOf("")]).toEqual([
      80,
      LIMITS.least,
      LIMITS.most,
      EMPTY_INPUT.limit,
      EMPTY_INPUT.limit,
    ]);
  });

  it("is as long as a person counts it", () => {
    expect(lengthOf("Ä\u{1F50B}b")).toBe(3);
  });
});
