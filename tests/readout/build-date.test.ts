import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import {
  type BuildDateOptions,
  type DateNames,
  intervalWords,
  readBuildDate,
  readPurchaseDate,
} from "../../src/readout/build-date.ts";
import { maskFault, readSerial } from "../../src/readout/serial-mask.ts";
import { dayNumber } from "../../src/text/dates.ts";

const today = dayNumber(2026, 11, 25);
const names: DateNames[] = ["en", "de", "fr", "es", "it", "pl"].map(
  (language) =>
    JSON.parse(
      readFileSync(
        fileURLToPath(new URL(`../../rules/number-formats/words-${language}.json`, import.meta.url)),
        "utf8",
      ),
    ).dates,
);
const options: BuildDateOptions = { today, names };

/** Readings as `kind interval`, as stated. */
const read = (text: string, more: Partial<BuildDateOptions> = {}): string[] =>
  readBuildDate(text, { ...options, ...more }).map(({ kind, stated }) => `${kind} ${intervalWords(stated)}`);

describe("one reading", () => {
  it.each([
    ["2021-W14", "iso-week 2021-04-05 – 2021-04-11"],
    ["2021W14", "iso-week 2021-04-05 – 2021-04-11"],
    ["2021-W14-3", "iso-week 2021-04-07"],
    ["W14 2021", "iso-week 2021-04-05 – 2021-04-11"],
    ["week 14, 2021", "iso-week 2021-04-05 – 2021-04-11"],
    ["KW 14/2021", "iso-week 2021-04-05 – 2021-04-11"],
    ["semaine 14 2021", "iso-week 2021-04-05 – 2021-04-11"],
    ["2021-05-17", "day 2021-05-17"],
    ["２０２１-05-17", "day 2021-05-17"],
    ["17.05.2021", "day 2021-05-17"],
    ["05/17/2021", "day 2021-05-17"],
    ["05.05.2021", "day 2021-05-05"],
    ["20210517", "day 2021-05-17"],
    ["05/2021", "month 2021-05-01 – 2021-05-31"],
    ["2021-05", "month 2021-05-01 – 2021-05-31"],
    ["17 May 2021", "day 2021-05-17"],
    ["May 17th, 2021", "day 2021-05-17"],
    ["17. März 2021", "day 2021-03-17"],
    ["17 août 2021", "day 2021-08-17"],
    ["17 de mayo de 2021", "day 2021-05-17"],
    ["17 maggio 2021", "day 2021-05-17"],
    ["17 maja 2021", "day 2021-05-17"],
    ["Dezember 2019", "month 2019-12-01 – 2019-12-31"],
    ["21399", ""],
    ["", ""],
    ["no date", ""],
    ["2021-02-30", ""],
    ["2027-W01", ""],
  ])("%s", (text, expected) => {
    expect(read(text)).toEqual(expected === "" ? [] : [expected]);
  });

  it("is certain when written out, likely when it is the only reading of a code", () => {
    expect(readBuildDate("2021-W14", options)[0]?.confidence).toBe("certain");
    expect(readBuildDate("2334", { today, launched: dayNumber(2023, 1, 1) })[0]?.confidence).toBe("likely");
  });
});

describe("several readings are all given", () => {
  it("day and month first", () => {
    expect(read("05/04/2021")).toEqual(["day-first 2021-04-05", "month-first 2021-05-04"]);
  });

  it("year and week, week and year, year and month", () => {
    expect(read("2114", { launched: dayNumber(2010, 1, 1) })).toEqual([
      "year-week 2021-04-05 – 2021-04-11",
      "week-year 2014-05-19 – 2014-05-25",
      "year-day 2022-04-24",
      "year-day 2012-04-23",
    ]);
    expect(read("2112", { launched: dayNumber(2018, 1, 1) })).toEqual([
      "year-week 2021-03-22 – 2021-03-28",
      "year-month 2021-12-01 – 2021-12-31",
      "year-day 2022-04-22",
    ]);
    expect(read("1821", { launched: dayNumber(2015, 1, 1) })).toEqual([
      "year-week 2018-05-21 – 2018-05-27",
      "week-year 2021-05-03 – 2021-05-09",
    ]);
  });

  it("day of the year, and year, week and weekday", () => {
    expect(read("21137")).toEqual(["year-day 2021-05-17", "year-week-day 2021-04-04"]);
  });

  it("are rough, whatever they are", () => {
    expect(readBuildDate("2114", options).every(({ confidence }) => confidence === "rough")).toBe(true);
  });
});

describe("a purchase date", () => {
  it("is an upper bound only", () => {
    expect(readPurchaseDate("17.05.2021", options)).toMatchObject([
      {
        kind: "purchase",
        interval: { from: null, to: dayNumber(2021, 5, 17) },
        confidence: "likely",
        says: { key: "readout_date_purchase", values: { date: "2021-05-17" } },
      },
    ]);
    const readings = readPurchaseDate("05/2021", { today, launched: 17_000 });
    expect(readings.map(({ interval }) => interval)).toEqual([{ from: 17_000, to: dayNumber(2021, 5, 31) }]);
  });
});

describe("a pattern for serial numbers", () => {
  const serial = (text: string, mask: string): string[] | string => {
    const outcome = readSerial(text, mask, options);
    return outcome.ok ? outcome.readings.map(({ stated }) => intervalWords(stated)) : outcome.fault.key;
  };

  it.each([
    ["AB2114-00017", "??YYWW*", ["2021-04-05 – 2021-04-11"]],
    ["sn-2021-05-17/9", "SN-YYYY-MM-DD*", ["2021-05-17"]],
    ["SN210517X", "snYYMMDD?", ["2021-05-17"]],
    ["Q-21137", "*YYJJJ", ["2021-05-17"]],
    ["X5N7", "?CC?", "readout_mask_no_date"],
    ["XN57", "?CC?", ["2001-05-01 – 2001-05-31", "2021-05-01 – 2021-05-31"]],
    ["AB2154-1", "??YYWW*", "readout_mask_no_date"],
    ["AB21", "??YYWW*", "readout_mask_no_match"],
    ["AB2x14", "??YYWW", "readout_mask_no_match"],
    ["1", "*?*", "readout_mask_stars"],
    ["1", "YWY", "readout_mask_split"],
    ["1", "????", "readout_mask_fields"],
    ["1", "?".repeat(200), "readout_mask_long"],
  ])("%s by %s", (text, mask, expected) => {
    expect(serial(text, mask)).toEqual(expected);
  });

  it("has no fault where it names a date", () => {
    expect(maskFault("??YYWW*")).toBeNull();
    expect(maskFault("YYYYMMDD")).toBeNull();
  });
});
