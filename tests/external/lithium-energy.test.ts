/**
 * Volts, cells and watt-hours of lithium-ion packs.
 *
 * Watt-hours = volts × amp-hours (definition). Nominal volts of one cell 3.6 to 3.85 and the window of 0.05 V: from
 * memory, our choice. 100 Wh and 160 Wh: ICAO Technical Instructions and IATA passenger table (100 Wh seen, 160 Wh
 * secondary); used here only as arithmetic boundaries, the program makes no statement about transport.
 */
import { describe, expect, it } from "vitest";
import type { StatedQuantity } from "../../src/text/quantities.ts";
import { findInconsistencies, seriesCells } from "../../src/text/quantity-check.ts";

const window = { low: 3.55, high: 3.9 };

function stated(name: string, value: number, ...alternatives: number[]): StatedQuantity {
  return { name, value, alternatives, span: [0, 1], dimension: "", role: null };
}

describe("cells in series", () => {
  it.each([
    [1, [3.6, 3.7, 3.8, 3.85]],
    [2, [7.2, 7.4, 7.6, 7.7]],
    [3, [10.8, 11.1, 11.4, 11.55]],
    [4, [14.4, 14.8, 15.2, 15.4]],
    [5, [18.0, 18.5, 19.0]],
    [6, [21.6, 22.2, 22.8]],
    [7, [25.2, 25.9]],
    [10, [36, 37, 38.5]],
  ])("%d of them make %j V", (cells, volts) => {
    expect(volts.map((each) => seriesCells(each, window.low, window.high))).toEqual(volts.map(() => cells));
  });

  it("is one number or none for every voltage up to 40 V, in steps of 0.01 V", () => {
    for (let hundredths = 1; hundredths <= 4000; hundredths++) {
      const volts = hundredths / 100;
      const fitting = Array.from({ length: 12 }, (_, i) => i + 1).filter(
        (n) => hundredths * 20 >= 71 * n * 100 - 1e-6 && hundredths * 10 <= 39 * n * 100 + 1e-6,
      );
      expect(seriesCells(volts, window.low, window.high)).toBe(fitting.length === 1 ? fitting[0] : null);
      if (volts <= 39) expect(fitting.length).toBeLessThanOrEqual(1);
    }
  });

  it.each([12.8, 9.6, 12, 5, 0, -3.7, Number.NaN])("%d V is not guessed at", (volts) => {
    expect(seriesCells(volts, window.low, window.high)).toBeNull();
  });
});

it("reads 25.6 V as seven lithium-ion cells, though eight of iron phosphate (3.2 V) make it too: a known limit", () => {
  expect(seriesCells(25.6, window.low, window.high)).toBe(7);
});

describe("watt-hours", () => {
  it.each([
    [3.7, 27.02, 99.974],
    [3.7, 27.03, 100.011],
    [14.4, 6.9, 99.36],
    [15.2, 4.0, 60.8],
    [11.4, 4.0, 45.6],
    [7.4, 5.2, 38.48],
    [11.4, 5.0, 57.0],
    [3.7, 5.0, 18.5],
  ])("%d V × %d Ah = %d Wh goes together", (volts, charge, energy) => {
    expect(volts * charge).toBeCloseTo(energy, 6);
    const said = [stated("nominalVoltage_V", volts), stated("capacity_Ah", charge), stated("energy_Wh", energy)];
    expect(findInconsistencies(said, window)).toEqual([]);
  });

  it("more than 3 % off (our choice) does not", () => {
    const said = (energy: number) => [
      stated("nominalVoltage_V", 11.1, 10.8),
      stated("capacity_Ah", 5.2),
      stated("energy_Wh", energy),
    ];
    expect(findInconsistencies(said(48), window)).toMatchObject([{ code: "energy" }]);
    expect(findInconsistencies(said(56), window)).toEqual([]);
  });

  it("and cells are held against the volts", () => {
    const volts = stated("nominalVoltage_V", 11.1);
    expect(findInconsistencies([volts, stated("cells", 6)], window)).toEqual([]);
    expect(findInconsistencies([volts, stated("cells", 4)], window)).toMatchObject([{ code: "cells" }]);
    expect(findInconsistencies([volts, stated("seriesCells", 4)], window)).toMatchObject([{ code: "cells" }]);
    expect(findInconsistencies([stated("seriesCells", 3), stated("cells", 4)], window)).toMatchObject([
      { code: "cells" },
    ]);
    expect(findInconsistencies([stated("nominalVoltage_V", 12), stated("cells", 10)], window)).toEqual([]);
    expect(findInconsistencies([stated("width_px", 1366), stated("width_px", 1920)], window)).toMatchObject([
      { code: "two-values" },
    ]);
    expect(findInconsistencies([stated("width_px", 1366, 1280), stated("width_px", 1280)], window)).toEqual([]);
  });
});
