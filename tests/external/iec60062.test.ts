/**
 * Two-character date codes (IEC 60062): letter for the year, mark for the month.
 *
 * Source: IEC 60062. Its abstract, seen, gives the two-character code a cycle; the letters themselves are from memory
 * (the paid table was not at hand), so this table is not proof, only a second writing of the same memory.
 */
import { describe, expect, it } from "vitest";
import { readBuildDate } from "../../src/readout/build-date.ts";
import { codedMonths } from "../../src/readout/component-codes.ts";
import { dayNumber } from "../../src/text/dates.ts";

/** From memory: A 1990/2010 … X 2009/2029; no G, I, O, Q, Y, Z. */
const years: Readonly<Record<string, number>> = {
  A: 2010,
  B: 2011,
  C: 2012,
  D: 2013,
  E: 2014,
  F: 2015,
  H: 2016,
  J: 2017,
  K: 2018,
  L: 2019,
  M: 2020,
  N: 2021,
  P: 2022,
  R: 2023,
  S: 2024,
  T: 2025,
  U: 2026,
  V: 2027,
  W: 2028,
  X: 2029,
};
const months = ["1", "2", "3", "4", "5", "6", "7", "8", "9", "O", "N", "D"];

describe("month and year letters", () => {
  it("name every month of twenty years, and the same twenty years earlier and later", () => {
    for (const [letter, year] of Object.entries(years)) {
      for (const [i, mark] of months.entries()) {
        const read = codedMonths(letter + mark).map((each) => `${each.year}-${each.month}`);
        expect(read).toContain(`${year}-${i + 1}`);
        expect(read).toContain(`${year - 20}-${i + 1}`);
      }
    }
  });

  it.each([
    ["A1", "1990-1", "2010-1"],
    ["F5", "1995-5", "2015-5"],
    ["MO", "2000-10", "2020-10"],
    ["ND", "2001-12", "2021-12"],
    ["x9", "2009-9", "2029-9"],
  ])("%s is %s or %s", (code, earlier, later) => {
    const read = codedMonths(code).map((each) => `${each.year}-${each.month}`);
    expect(read).toEqual(expect.arrayContaining([earlier, later]));
  });

  it.each(["G4", "I1", "Y2", "Z0", "A0", "AA", "O1", "Q3", "A", "A11", ""])("%s is no code", (code) => {
    expect(codedMonths(code)).toEqual([]);
  });

  it("keeps both twins, drops the future and what was before the launch", () => {
    const today = dayNumber(2026, 3, 1);
    const monthsOf = (code: string, launched?: number): number[] =>
      readBuildDate(code, launched === undefined ? { today } : { today, launched })
        .map(({ stated }) => stated.from ?? Number.NaN)
        .sort((a, b) => a - b);
    expect(monthsOf("X9")).toEqual([dayNumber(2009, 9, 1)]);
    expect(monthsOf("M5")).toEqual([dayNumber(2000, 5, 1), dayNumber(2020, 5, 1)]);
    expect(monthsOf("M5", dayNumber(2018, 1, 1))).toEqual([dayNumber(2020, 5, 1)]);
    expect(readBuildDate("M5", { today, launched: dayNumber(2018, 1, 1) })[0]?.confidence).toBe("likely");
  });
});
