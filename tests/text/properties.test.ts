/** What must hold for every text, however strange. */
import rules from "falsefit:rules";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { numberFormatRuleSchema } from "../../src/formats/number-format-rule.ts";
import { prepareDateRules, readDateClaims } from "../../src/text/date-claims.ts";
import { prepareDesignationRules, readDesignations } from "../../src/text/designations.ts";
import { foldVisible, originalSpan } from "../../src/text/fold.ts";
import { prepareQuantityRules, readQuantities } from "../../src/text/quantities.ts";
import { findInconsistencies } from "../../src/text/quantity-check.ts";

const quantityRules = prepareQuantityRules(rules.numberFormats);
const dateRules = prepareDateRules(rules.numberFormats);
const designationRules = prepareDesignationRules(rules.numberFormats);

const piece = fc.oneof(
  fc.constantFrom(
    ...[
      "11.1V",
      "10,8 V",
      "5200mAh",
      "57.7 Wh",
      "6 cells",
      "3S2P",
      '15.6"',
      "1920x1080",
      "2x8GB",
      "30 pin",
      "lot of 3",
    ],
    ...[
      "2021",
      "from 2019 to",
      "KW 14/2021",
      "ab Bj.",
      "2021-W14",
      "May 2020",
      "'21",
      "CR2032",
      "3ICR19/65-2",
      "PC3L-12800S",
    ],
    ...["M.2 2280", "PB-1840/R", "Input:", "Output", "/", "-", "x", " ", ",", "(", ")", "\n", "1.2.3.4", "1'234,5"],
    ...["\u202e", "\u202c", "\u200f", "\u200b", "РВ", "батарея", "ＰＢ", "½", "²", "\u0336", "\ud800", "電池", "שלום"],
  ),
  fc.string({ unit: "binary", maxLength: 4 }),
);
const anyText = fc.array(piece, { maxLength: 25 }).map((pieces) => pieces.join(""));

describe("any text", () => {
  it("folds with offsets inside the original, in ranges that follow one another", () => {
    fc.assert(
      fc.property(anyText, (original) => {
        const { text, at, until, doubtful } = foldVisible(original);
        expect([at.length, until.length]).toEqual([text.length + 1, text.length]);
        for (let i = 0; i < text.length; i++) {
          expect(at[i]).toBeLessThan(until[i] ?? 0);
          expect(until[i]).toBeLessThanOrEqual(original.length);
        }
        let last = -1;
        for (const [start, end] of doubtful) {
          expect(start).toBeGreaterThan(last);
          expect(end).toBeGreaterThan(start);
          last = end;
        }
        expect(last).toBeLessThanOrEqual(text.length);
        const [from, to] = originalSpan(foldVisible(original), 0, text.length);
        expect(from).toBeGreaterThanOrEqual(0);
        expect(to).toBeLessThanOrEqual(original.length);
      }),
      { numRuns: 2000 },
    );
  });

  it("folds once: what is folded stays as it is", () => {
    fc.assert(
      fc.property(anyText, (original) => {
        const { text, doubtful } = foldVisible(original);
        // A letter that two passes see differently was doubted in the first; a mark joins another base in the second.
        if (doubtful.length === 0 && !/\p{M}/u.test(text)) expect(foldVisible(text).text).toBe(text);
      }),
      { numRuns: 2000 },
    );
  });

  it("yields quantities, dates and designations that lie in it, in order, with values that are numbers", () => {
    fc.assert(
      fc.property(anyText, (original) => {
        const { text } = foldVisible(original);
        const quantities = readQuantities(text, quantityRules);
        const dates = readDateClaims(
          text,
          dateRules,
          quantities.map(({ span }) => span),
        );
        const designations = readDesignations(text, designationRules);
        for (const found of [quantities, dates, designations]) {
          let last = 0;
          for (const { span } of found) {
            expect(span[0]).toBeGreaterThanOrEqual(Math.min(last, span[0]));
            expect(span[1]).toBeGreaterThan(span[0]);
            expect(span[1]).toBeLessThanOrEqual(text.length);
            last = span[0];
          }
        }
        for (const { value, alternatives } of quantities) {
          for (const each of [value, ...alternatives]) if (typeof each === "number") expect(each).toBeGreaterThan(0);
        }
        for (const { interval } of dates) {
          if (interval.from !== null && interval.to !== null) expect(interval.from).toBeLessThanOrEqual(interval.to);
        }
        expect(findInconsistencies(quantities, { low: 3.55, high: 3.9 })).toBeInstanceOf(Array);
      }),
      { numRuns: 2000 },
    );
  });

  it("states the same quantities in any case, width and kind of space", () => {
    const said = fc.constantFrom(
      "11.1V 5200mAh",
      "15.6 inch 30 pin",
      "21,6 V 6 Zellen",
      "1920x1080 60Hz",
      "2 pcs 65 watt",
    );
    const values = (text: string) =>
      readQuantities(foldVisible(text).text, quantityRules).map(({ name, value }) => `${name}=${value}`);
    const wide = (text: string) =>
      text.replace(/[0-9A-Za-z]/g, (each) => String.fromCharCode(each.charCodeAt(0) + 0xfee0));
    fc.assert(
      fc.property(said, (text) => {
        expect(values(text)).toHaveLength(text.includes("x") ? 3 : 2);
        expect(values(text.toUpperCase())).toEqual(values(text));
        expect(values(wide(text))).toEqual(values(text));
        expect(values(text.replaceAll(" ", "\u00a0"))).toEqual(values(text));
      }),
    );
  });
});

describe("bounded work", () => {
  it.each(["11.1V ", "1/", "1x", "2021-", "ab ", "KW 14 ", "3S2P", "PC3-", "1,", '"', "5 000 ", "1.1.1.1 ", "lot of "])(
    "reads 50,000 characters of %j",
    (unit) => {
      const text = unit.repeat(50_000 / unit.length);
      const start = performance.now();
      readQuantities(text, quantityRules);
      readDateClaims(text, dateRules);
      readDesignations(text, designationRules);
      expect(performance.now() - start).toBeLessThan(5_000);
    },
  );
});

describe("number-format rules", () => {
  it.each(rules.numberFormats.map((each) => [each.id, each] as const))("%s is well-formed", (_, each) => {
    expect(numberFormatRuleSchema.safeParse(each).error?.issues ?? []).toEqual([]);
  });

  it("name only units that there are", () => {
    for (const rule of rules.numberFormats) {
      if (rule.kind === "words")
        for (const id of Object.keys(rule.units)) expect(quantityRules.byId.has(id)).toBe(true);
    }
  });
});
