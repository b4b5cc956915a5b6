/**
 * GS1 check digits: GS1 General Specifications 7.9.1 (clause seen). The first and third example are published; the
 * others were computed with another program (python3-stdnum, module `stdnum.ean`).
 */
import { describe, expect, it } from "vitest";
import { gtinCheckDigit, isGtin } from "../../src/text/tokens.ts";

describe("GS1 modulo 10", () => {
  it.each([
    ["629104150021", 3],
    ["123456789012", 8],
    ["2345678", 5],
    ["943646579210", 4],
    ["760100000000", 2],
    ["400638133393", 1],
    ["03600029145", 2],
    ["9638507", 4],
    ["1061414100073", 6],
    ["590123412345", 7],
    ["978030640615", 7],
  ])("%s has the check digit %d", (body, digit) => {
    expect(gtinCheckDigit(body)).toBe(digit);
    expect(isGtin(`${body}${digit}`)).toBe(true);
    expect(isGtin(`${body}${(digit + 1) % 10}`)).toBe(false);
  });

  it("catches a wrong digit and most swaps, but not of neighbours that differ by five", () => {
    expect(isGtin("6291041500214")).toBe(false);
    expect(isGtin("6290141500213")).toBe(false);
    expect([isGtin("6291041160219"), isGtin("6291041610219")]).toEqual([true, true]);
  });

  it("is the same with leading zeros", () => {
    expect(["036000291452", "0036000291452", "00036000291452"].map(isGtin)).toEqual([true, true, true]);
  });

  it.each(["073513537", "12345678901", "1234567", "036000291452000", "03600029145A", ""])(
    "%j has no length of a GTIN",
    (digits) => {
      expect(isGtin(digits)).toBe(false);
    },
  );
});
