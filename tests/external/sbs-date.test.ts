/**
 * The packed manufacture date of smart batteries.
 *
 * Source: Smart Battery Data Specification, ManufactureDate; bit fields as Linux reads them in
 * drivers/power/supply/sbs-battery.c (day 4:0, month 8:5, year since 1980 15:9). The register number is from memory.
 */
import { DateTime } from "luxon";
import { describe, expect, it } from "vitest";
import { readDump } from "../../src/readout/dump.ts";
import { sbsDate } from "../../src/readout/sbs-date.ts";

const day = (iso: string): number => DateTime.fromISO(iso, { zone: "utc" }).toMillis() / 86_400_000;

describe("packed dates", () => {
  it.each([
    ["1980-01-01", 33, 0x0021],
    ["2009-10-15", 15183, 0x3b4f],
    ["2015-06-30", 18142, 0x46de],
    ["2021-03-05", 21093, 0x5265],
    ["2023-08-21", 22293, 0x5715],
    ["2023-12-31", 22431, 0x579f],
    ["2024-02-29", 22621, 0x585d],
    ["2107-12-31", 65439, 0xff9f],
  ])("%s is %i", (iso, decimal, hex) => {
    expect(decimal).toBe(hex);
    expect(sbsDate(decimal)).toEqual({ from: day(iso), to: day(iso) });
  });

  it.each([0x0000, 0xffff, 0x5800, 0x59e1, 0x585e, -1, 65536, 1.5, Number.NaN])("%d is no date", (value) => {
    expect(sbsDate(value)).toBeNull();
  });

  it("agree with a calendar library for every 16-bit word", () => {
    for (let value = 0; value <= 0xffff; value++) {
      const read = DateTime.utc(1980 + (value >> 9), (value >> 5) & 15, value & 31);
      const expected = read.isValid ? read.toMillis() / 86_400_000 : null;
      if ((sbsDate(value)?.from ?? null) !== expected) expect([value, sbsDate(value)]).toEqual([value, expected]);
    }
  });

  it("are read from a bare number, decimal or hexadecimal", () => {
    for (const text of ["22293", " 0x5715\n"]) {
      expect(readDump(text, { today: day("2026-01-01") }).facts[0]).toMatchObject({
        field: "buildDate",
        confidence: "rough",
        interval: { from: day("2023-08-21") },
      });
    }
    expect(readDump("65535").messages[0]?.key).toBe("readout_date_word");
  });
});
