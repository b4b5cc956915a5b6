import { DateTime } from "luxon";
import { describe, expect, it } from "vitest";
import {
  calendarDate,
  contains,
  dayNumber,
  intersection,
  intersects,
  intervalOfDateText,
  isoWeek,
  isoWeekday,
  isoWeekOf,
  weeksInYear,
} from "../../src/text/dates.ts";

describe("days and weeks", () => {
  it("agree with luxon on every day of 1980 to 2040", () => {
    const first = dayNumber(1980, 1, 1);
    const last = dayNumber(2040, 12, 31);
    let luxon = DateTime.utc(1980, 1, 1);
    for (let day = first; day <= last; day++) {
      expect(luxon.toMillis() / 86_400_000).toBe(day);
      const { year, week } = isoWeekOf(day);
      if (luxon.weekNumber !== week || luxon.weekYear !== year || luxon.weekday !== isoWeekday(day))
        expect([day, year, week]).toEqual([day, luxon.weekYear, luxon.weekNumber]);
      const date = calendarDate(day);
      if (date.day !== luxon.day || date.month !== luxon.month) expect(date).toEqual(luxon.toObject());
      luxon = luxon.plus({ days: 1 });
    }
  });

  it("agree with luxon on which years have 53 weeks", () => {
    for (let year = 1980; year <= 2040; year++) {
      expect(weeksInYear(year)).toBe(DateTime.utc(year, 6, 1).weeksInWeekYear);
      expect(isoWeek(year, 53) === null).toBe(weeksInYear(year) === 52);
    }
  });

  it("work before 1970 and in far years", () => {
    expect(dayNumber(1969, 12, 31)).toBe(-1);
    expect(calendarDate(-1)).toEqual({ year: 1969, month: 12, day: 31 });
    expect(isoWeekday(-1)).toBe(3);
    expect(dayNumber(2000, 3, 1) - dayNumber(2000, 2, 28)).toBe(2);
    expect(dayNumber(1900, 3, 1) - dayNumber(1900, 2, 28)).toBe(1);
  });
});

describe("date texts", () => {
  it.each([
    ["2021", dayNumber(2021, 1, 1), dayNumber(2021, 12, 31)],
    ["2021-05", dayNumber(2021, 5, 1), dayNumber(2021, 5, 31)],
    ["2020-02", dayNumber(2020, 2, 1), dayNumber(2020, 2, 29)],
    ["2021-12", dayNumber(2021, 12, 1), dayNumber(2021, 12, 31)],
    ["2021-05-17", dayNumber(2021, 5, 17), dayNumber(2021, 5, 17)],
    ["2021-W14", dayNumber(2021, 4, 5), dayNumber(2021, 4, 11)],
    ["2020-W53", dayNumber(2020, 12, 28), dayNumber(2021, 1, 3)],
  ])("%s", (text, from, to) => {
    expect(intervalOfDateText(text)).toEqual({ from, to });
  });

  it.each(["2021-13", "2021-00", "2021-02-29", "2021-W53", "2021-W00", "21", "2021-5", "2021-05-17T10", "", "x"])(
    "%j is none",
    (text) => {
      expect(intervalOfDateText(text)).toBeNull();
    },
  );
});

describe("intervals", () => {
  const open = { from: null, to: null };
  it("meet where they share a day, open ends included", () => {
    expect(intersects({ from: 1, to: 5 }, { from: 5, to: 9 })).toBe(true);
    expect(intersects({ from: 1, to: 4 }, { from: 5, to: 9 })).toBe(false);
    expect(intersects({ from: null, to: 4 }, { from: 5, to: null })).toBe(false);
    expect(intersection({ from: null, to: 7 }, { from: 5, to: null })).toEqual({ from: 5, to: 7 });
    expect(intersection(open, { from: 1, to: 2 })).toEqual({ from: 1, to: 2 });
    expect(intersection({ from: 1, to: 2 }, open)).toEqual({ from: 1, to: 2 });
    expect(intersection(open, open)).toEqual(open);
  });

  it("hold one another", () => {
    expect(contains({ from: 1, to: 9 }, { from: 1, to: 9 })).toBe(true);
    expect(contains({ from: 1, to: 9 }, { from: 0, to: 9 })).toBe(false);
    expect(contains({ from: 1, to: null }, { from: 2, to: null })).toBe(true);
    expect(contains({ from: 1, to: 9 }, { from: 2, to: null })).toBe(false);
    expect(contains(open, open)).toBe(true);
  });
});
