/**
 * Week codes on labels against ISO 8601.
 *
 * Source 1: ISO 8601-1 week date rule, computed with luxon. Source 2: week dates at the turn of years, computed with
 * Python's datetime. That component date codes (EIA-476, YYWW) count weeks the ISO way is not confirmed: our readings
 * widen the first and last weeks of a year.
 */
import { DateTime } from "luxon";
import { describe, expect, it } from "vitest";
import { type DateReading, readBuildDate } from "../../src/readout/build-date.ts";
import { isoWeek, isoWeekOf } from "../../src/text/dates.ts";

const day = (iso: string): number => DateTime.fromISO(iso, { zone: "utc" }).toMillis() / 86_400_000;
const today = day("2030-06-30");
const ofKind = (text: string, kind: string): DateReading[] =>
  readBuildDate(text, { today }).filter((each) => each.kind === kind);

describe("YYWW codes", () => {
  it.each([
    ["2004-12-31", "0453"],
    ["2005-01-01", "0453"],
    ["2007-12-31", "0801"],
    ["2008-12-28", "0852"],
    ["2008-12-29", "0901"],
    ["2009-12-31", "0953"],
    ["2010-01-03", "0953"],
    ["2012-01-01", "1152"],
    ["2016-01-03", "1553"],
    ["2018-12-31", "1901"],
    ["2019-12-30", "2001"],
    ["2020-12-31", "2053"],
    ["2021-01-03", "2053"],
    ["2021-01-04", "2101"],
    ["2024-12-30", "2501"],
    ["2027-01-03", "2653"],
  ])("the week of %s is %s", (iso, code) => {
    const { year, week } = isoWeekOf(day(iso));
    expect(`${String(year % 100).padStart(2, "0")}${String(week).padStart(2, "0")}`).toBe(code);
    const stated = ofKind(code, "year-week")[0]?.stated;
    expect(stated?.from ?? Number.NaN).toBeLessThanOrEqual(day(iso));
    expect(stated?.to ?? Number.NaN).toBeGreaterThanOrEqual(day(iso));
  });

  it.each([
    ["2334", "2023-08-21", "2023-08-27"],
    ["0801", "2007-12-31", "2008-01-06"],
    ["2053", "2020-12-28", "2021-01-03"],
    ["2101", "2021-01-04", "2021-01-10"],
    ["2501", "2024-12-30", "2025-01-05"],
    ["2653", "2026-12-28", "2027-01-03"],
  ])("%s is %s to %s", (code, from, to) => {
    expect(ofKind(code, "year-week")[0]?.stated).toEqual({ from: day(from), to: day(to) });
  });

  it.each(["2153", "2553", "2100", "2154", "3499"])("%s is no year and week", (code) => {
    expect(ofKind(code, "year-week")).toEqual([]);
  });

  it("widen the first and last weeks of a year, and only these", () => {
    expect(ofKind("2101", "year-week")[0]?.interval).toEqual({ from: day("2020-12-28"), to: day("2021-01-17") });
    expect(ofKind("2053", "year-week")[0]?.interval).toEqual({ from: day("2020-12-21"), to: day("2021-01-10") });
    expect(ofKind("2334", "year-week")[0]?.interval).toEqual({ from: day("2023-08-21"), to: day("2023-08-27") });
  });
});

describe("ISO weeks of every year from 1980 to 2079", () => {
  it("have the days that luxon gives them", () => {
    for (let year = 1980; year < 2080; year++) {
      for (let week = 1; week <= 54; week++) {
        const monday = DateTime.fromObject({ weekYear: year, weekNumber: week, weekday: 1 }, { zone: "utc" });
        const from = monday.toMillis() / 86_400_000;
        const expected = monday.isValid ? { from, to: from + 6 } : null;
        if (JSON.stringify(isoWeek(year, week)) !== JSON.stringify(expected)) {
          expect([year, week, isoWeek(year, week)]).toEqual([year, week, expected]);
        }
      }
    }
  });

  it("the textbook example: 2 August 1953 is 1953-W31-7", () => {
    expect(isoWeekOf(day("1953-08-02"))).toEqual({ year: 1953, week: 31 });
  });
});
