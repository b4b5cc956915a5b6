import { createRequire } from "node:module";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { canonicalNumber, lookalikeKey, oneCharacterApart } from "../../src/text/part-number.ts";

const require = createRequire(import.meta.url);
const damerau = require("damerau-levenshtein") as (a: string, b: string) => { steps: number };

describe("canonical numbers", () => {
  it.each([
    ["PB 1840 R", "PB1840R"],
    ["PB-1840/R", "PB1840R"],
    ["ＰＢ－１８４０Ｒ", "PB1840R"],
    ["pb1840r", "PB1840R"],
    ["РВ-1840 R", "PB1840R"],
    ["31.207.18C", "3120718C"],
    ["(PB)_1840", "PB1840"],
    ["PB\u200b-1840", "PB1840"],
    ["БР-1840", "БР1840"],
    ["PB-ı840", "PBı840"],
    ["PB−1840", "PB1840"],
    ["PB☃1840", "PB☃1840"],
    ["--", ""],
    ["", ""],
  ])("%j is %j", (printed, canonical) => {
    expect(canonicalNumber(printed)).toBe(canonical);
  });

  it("look alike where only O/0 and I/l/1 differ, and nothing else", () => {
    expect(lookalikeKey("PB-184O")).toBe(lookalikeKey("PB1840"));
    expect(lookalikeKey("PBl840")).toBe(lookalikeKey("PB1840"));
    expect(lookalikeKey("PBI840")).toBe(lookalikeKey("PB1840"));
    expect(lookalikeKey("ＰＢｌ８４Ｏ")).toBe(lookalikeKey("PB1840"));
    expect(lookalikeKey("PBL840")).not.toBe(lookalikeKey("PB1840"));
    for (const pair of ["5S", "8B", "2Z", "0D", "0Q", "6G", "UV"]) {
      expect(lookalikeKey(`X${pair.charAt(0)}7`)).not.toBe(lookalikeKey(`X${pair.charAt(1)}7`));
    }
  });

  it("are the same whatever the separators, the case and the width", () => {
    const character = fc.constantFrom(..."ABCDXYZ0123456789");
    const separator = fc.constantFrom("", "-", " ", "/", ".", "_", " - ", "\u00a0", "\u2013", "\u200b", "\u00ad");
    fc.assert(
      fc.property(fc.array(fc.tuple(character, separator, fc.nat(3)), { minLength: 1, maxLength: 20 }), (parts) => {
        const plain = parts.map(([each]) => each).join("");
        const dressed = parts.map(([each, gap, how]) => {
          const wide = String.fromCharCode(each.charCodeAt(0) + 0xfee0);
          return gap + (how === 0 ? each.toLowerCase() : how === 1 ? wide : how === 2 ? wide.toLowerCase() : each);
        });
        expect(canonicalNumber(dressed.join(""))).toBe(plain);
      }),
    );
  });

  it("never fail, never grow beyond bounds, and stay as they are", () => {
    fc.assert(
      fc.property(fc.string({ unit: "binary", maxLength: 300 }), (text) => {
        const canonical = canonicalNumber(text);
        expect(canonical.length).toBeLessThanOrEqual(1600);
        // A mark left without its base joins another one when the separators are gone.
        if (canonical.length <= 200 && !/\p{M}/u.test(canonical)) expect(canonicalNumber(canonical)).toBe(canonical);
        expect(lookalikeKey(canonical)).toBe(lookalikeKey(canonicalNumber(canonical)));
      }),
      { numRuns: 2000 },
    );
  });
});

describe("one character apart (optimal string alignment distance 1)", () => {
  it.each([
    ["QX417B", "QX147B", true],
    ["PB1840", "PB1860", true],
    ["PB1840", "PB1840R", true],
    ["PB1840", "PB184", true],
    ["B0", "BO", true],
    ["PB1840", "PB1840", false],
    ["KT20A", "KT20AL2", false],
    ["CA", "ABC", false],
    ["AB", "BC", false],
    ["", "A", true],
    ["", "", false],
  ])("%s and %s: %s", (a, b, apart) => {
    expect(oneCharacterApart(a, b)).toBe(apart);
    expect(oneCharacterApart(b, a)).toBe(apart);
  });

  it("agrees with the package damerau-levenshtein, which computes the same distance", () => {
    const number = fc.stringMatching(/^[ABC01]{0,7}$/);
    fc.assert(
      fc.property(number, number, (a, b) => {
        expect(oneCharacterApart(a, b)).toBe(damerau(a, b).steps === 1);
      }),
      { numRuns: 5000 },
    );
  });
});
