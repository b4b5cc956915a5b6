/**
 * Unit signs and their sizes against the standards that fix them.
 *
 * - The International System of Units (SI), 9th edition: tables 2 to 4 (base units, named derived units, °C, Ω, F), table 7
 *   (prefixes), table 8 (minute, hour, litre), 5.4.1 (a sign follows its number behind a space), 5.4.3 – from memory.
 * - ISO 80000-3 (length, volume, frequency), 80000-4 (mass, torque N·m, pressure), 80000-5 (temperature), 80000-6 (current,
 *   voltage, capacitance, resistance, power): names of the units – from memory.
 * - The inch is 25.4 mm exactly, and the pound-force per square inch follows from the pound of 0.45359237 kg and standard
 *   gravity 9.80665 m/s² (ISO 80000-3 and -4, annexes) – from memory.
 */
import rules from "falsefit:rules";
import { describe, expect, it } from "vitest";
import { foldVisible } from "../../src/text/fold.ts";
import { measureOf, prepareMeasures } from "../../src/text/measures.ts";
import { prepareQuantityRules, readQuantities } from "../../src/text/quantities.ts";

const units = prepareQuantityRules(rules.numberFormats);
const measures = prepareMeasures(rules.numberFormats);

function only(text: string): readonly [name: string, value: number | string] {
  const found = readQuantities(foldVisible(text).text, units);
  expect(found, text).toHaveLength(1);
  return [found[0]?.name ?? "", found[0]?.value ?? Number.NaN];
}

describe("signs of the International System, with a space as it wants them and without", () => {
  it.each([
    ["35 µF", "capacitance_uF", 35],
    ["35 \u03bcF", "capacitance_uF", 35],
    ["470 nF", "capacitance_uF", 0.47],
    ["100 \u03a9", "resistance_ohm", 100],
    ["100 \u2126", "resistance_ohm", 100],
    ["4.7 kΩ", "resistance_ohm", 4700],
    ["230 V", "nominalVoltage_V", 230],
    ["800 mA", "current_A", 0.8],
    ["1.5 kW", "power_W", 1500],
    ["172 °C", "temperature_C", 172],
    ["0.3 MPa", "pressure_bar", 3],
    ["250 kPa", "pressure_bar", 2.5],
    ["20 Nm", "torque_Nm", 20],
    ["2.5 kg", "mass_g", 2500],
    ["250 ml", "volume_ml", 250],
    ["45 cm", "length_mm", 450],
    ["3 m", "length_mm", 3000],
    ["16 mm²", "crossSection_mm2", 16],
    ["12 L/min", "flow_lmin", 12],
    ["40 kHz", "frequency_Hz", 40_000],
    ["800 lm", "luminousFlux_lm", 800],
  ])("%s", (text, name, value) => {
    for (const written of [text, text.replace(" ", "")]) {
      const [readName, readValue] = only(written);
      expect(readName).toBe(name);
      expect(readValue).toBeCloseTo(value, 9);
    }
  });
});

describe("names of the units in six languages", () => {
  it.each([
    ["35 microfarads, 35 Mikrofarad, 35 microfarad, 35 microfaradios, 35 mikrofaradów", "capacitance_uF", 35],
    ["100 ohms, 100 Ohm, 100 ohmios, 100 omów", "resistance_ohm", 100],
    ["5 kiloohm, 5 Kiloohm, 5 kiloohms, 5 kiloohmios, 5 kiloomów", "resistance_ohm", 5000],
    ["90 degrees Celsius, 90 Grad Celsius, 90 degrés, 90 grados, 90 gradi, 90 stopni", "temperature_C", 90],
    ["30 millimetres, 30 Millimeter, 30 millimètres, 30 milímetros, 30 millimetri, 30 milimetrów", "length_mm", 30],
    ["9 inches, 9 Zoll, 9 pouces, 9 pulgadas, 9 pollici, 9 cali", "diagonal_in", 9],
  ])("%s", (text, name, value) => {
    const found = readQuantities(foldVisible(text).text, units);
    expect(found).toHaveLength(text.split(", ").length);
    for (const each of found) expect([each.name, each.value]).toEqual([name, value]);
  });
});

describe("sizes of units that catalogs' names end with", () => {
  const inBar = (0.45359237 * 9.80665) / 0.0254 ** 2 / 100_000;
  it.each([
    ["diagonal_in", "length_mm", 25.4],
    ["length_m", "length_mm", 1000],
    ["capacitance_nF", "capacitance_uF", 1e-3],
    ["resistance_kOhm", "resistance_ohm", 1000],
    ["pressure_MPa", "pressure_bar", 10],
    ["pressure_psi", "pressure_bar", inBar],
    ["flow_m3h", "flow_lmin", 1000 / 60],
    ["volume_l", "volume_ml", 1000],
    ["weight_kg", "weight_g", 1000],
  ])("%s in %s", (from, to, factor) => {
    const [a, b] = [measureOf(from, measures), measureOf(to, measures)];
    expect(a?.measure.id).toBe(b?.measure.id);
    expect((a?.factor ?? 0) / (b?.factor ?? 1)).toBeCloseTo(factor, 4);
  });

  it("leaves names without a unit alone", () => {
    for (const name of ["generation", "chemistry", "frame", "layout_x", "_mm2x"])
      expect(measureOf(name, measures)).toBeNull();
  });
});
