/**
 * The display block reader against decoders that are not ours.
 *
 * Source 1: linuxhw/EDID, commit cc83e52221 (January 2025), CC BY 4.0: 2,500 blocks with the fields that edid-decode
 * (2023) read from them, picked out of its text. Source 2: Debian's edid-decode, where it is installed.
 */
import { spawnSync } from "node:child_process";
import { existsSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { type DisplayBlock, readDisplays } from "../../src/readout/edid.ts";

const FILE = fileURLToPath(new URL("../../../shared/data/edid-sample.ndjson", import.meta.url));
const samples: { edid: string; expected: Record<string, unknown> }[] = existsSync(FILE)
  ? readFileSync(FILE, "utf8")
      .split("\n")
      .filter((line) => line !== "")
      .map((line) => JSON.parse(line))
  : [];
const hasDecoder = spawnSync("edid-decode", ["--version"]).error === undefined;

const bytesOf = (hex: string): Uint8Array =>
  Uint8Array.from(hex.match(/../g) ?? [], (pair) => Number.parseInt(pair, 16));
const first = (hex: string): DisplayBlock => {
  const display = readDisplays(bytesOf(hex)).displays[0];
  if (!display) throw new Error("no display read");
  return display;
};

/** Our fields under the names of the sample. */
const asStated = (display: DisplayBlock): Record<string, unknown> => ({
  revision: display.version,
  manufacturerId: display.maker,
  productCode: display.productCode,
  week: display.week,
  year: display.year,
  modelYear: display.modelYear,
  size_cm: display.size_cm,
  firstTiming_px: display.timing && [display.timing.width_px, display.timing.height_px],
  firstTiming_mm: display.timing?.size_mm ?? null,
  texts: display.texts,
  name: display.name,
});

const APOSTROPHE = "the text holds an apostrophe, and the sample was cut at quotes";
const NO_TIMING = "the sample states no first timing; the block holds one, and the installed decoder reads the same";
const PANEL_GROUP =
  "a layout of the panel makers' group in the text descriptors, which the sample's decoder prints by field";
const ZERO_WIDE = "a timing of zero columns; we take none";

/** Every field where we and the sample differ: the lines of the sample, and why. */
const exceptions: readonly { field: string; lines: readonly number[]; reason: string }[] = [
  { field: "name", lines: [1, 539, 792, 898, 1211], reason: APOSTROPHE },
  {
    field: "texts",
    lines: [99, 150, 266, 530, 703, 712, 775, 799, 872, 1278, 1437, 1498, 1569, 1578, 2438],
    reason: APOSTROPHE,
  },
  { field: "texts", lines: [640, 1479, 1791, 2347], reason: PANEL_GROUP },
  ...["firstTiming_px", "firstTiming_mm"].flatMap((field) => [
    {
      field,
      lines: [303, 423, 531, 669, 854, 922, 936, 1074, 1209, 1325, 1920, 1944, 2033, 2382, 2402, 2478],
      reason: NO_TIMING,
    },
    { field, lines: [487], reason: ZERO_WIDE },
  ]),
];

describe.skipIf(samples.length === 0)("2,500 blocks of real displays (skipped without ../shared)", () => {
  it("agree in every field that the sample states, but for the listed exceptions", () => {
    const excepted = new Set(exceptions.flatMap(({ field, lines }) => lines.map((line) => `${line} ${field}`)));
    const differing: string[] = [];
    for (const [i, { edid, expected }] of samples.entries()) {
      const ours = asStated(first(edid));
      for (const [field, value] of Object.entries(expected)) {
        if (JSON.stringify(ours[field]) !== JSON.stringify(value)) differing.push(`${i + 1} ${field}`);
      }
    }
    expect(differing.filter((each) => !excepted.has(each))).toEqual([]);
    // An exception that no longer differs must leave the list.
    expect([...excepted].filter((each) => !differing.includes(each))).toEqual([]);
    expect(samples.length).toBe(2500);
  });

  it("yield no fact when any single byte of the base block is changed", () => {
    for (const { edid } of samples.slice(0, 200)) {
      const bytes = bytesOf(edid);
      for (const at of [8, 17, 54, 60, 95, 126, 127]) {
        const damaged = Uint8Array.from(bytes);
        damaged[at] = (damaged[at] ?? 0) ^ 0x11;
        expect(readDisplays(damaged.subarray(0, 128)).displays).toEqual([]);
      }
    }
  });
});

describe.skipIf(samples.length === 0 || !hasDecoder)(
  "edid-decode of Debian (skipped where it is not installed, and without ../shared)",
  () => {
    // The listed exceptions and every fiftieth block: starting a process for each of 2,500 would take minutes.
    const lines = new Set(
      [...exceptions.flatMap((each) => each.lines), ...samples.keys()].filter((line, i) => i < 60 || line % 50 === 1),
    );

    it("reads the same first timing, picture size and refresh rate", () => {
      const wrong: string[] = [];
      for (const line of lines) {
        const sample = samples[line - 1];
        if (!sample) continue;
        const said = spawnSync("edid-decode", [], { input: sample.edid, encoding: "utf8" }).stdout;
        const timing = /DTD 1: +(\d+)x(\d+)(i?) +([\d.]+) Hz.*\((\d+) mm x (\d+) mm\)/.exec(said);
        const ours = first(sample.edid).timing;
        if (timing === null || ours === null || timing[3] === "i") continue;
        const theirs = [Number(timing[1]), Number(timing[2]), Number(timing[5]), Number(timing[6])];
        const size = ours.size_mm ?? [0, 0];
        const same =
          JSON.stringify([ours.width_px, ours.height_px, ...size]) === JSON.stringify(theirs) ||
          (ours.size_mm === null && (theirs[2] === 0 || theirs[3] === 0));
        if (!same || Math.abs((ours.refresh_Hz ?? 0) - Number(timing[4])) > 0.0001) {
          wrong.push(`${line}: ${JSON.stringify(ours)} against ${timing[0]}`);
        }
      }
      expect(wrong).toEqual([]);
      expect(lines.size).toBeGreaterThan(50);
    });
  },
);

describe("a block made by hand from the layout of VESA E-EDID 1.4", () => {
  // Worked block of the notes (invented panel); edid-decode read the values below from it.
  const block =
    "00ffffffffffff001a4f341200000000151f0104a522137802ee91a3544c99260f5054000000010101010101010101010101010101011a3680a070381f4030" +
    "20350058c21000001a000000fe0046524f535450414e450a202020000000fe0046503135362d41320a20202020000000fc0046726f73742031350a2020202000b8";

  it("is read field by field", () => {
    expect(first(block)).toMatchObject({
      maker: "FRO",
      productCode: 4660,
      week: 21,
      year: 2021,
      version: "1.4",
      size_cm: [34, 19],
      texts: ["FROSTPANE", "FP156-A2"],
      name: "Frost 15",
    });
    expect(first(block).timing).toMatchObject({ width_px: 1920, height_px: 1080, size_mm: [344, 194] });
    expect(first(block).timing?.refresh_Hz).toBeCloseTo(59.933878, 5);
  });

  it("states a model year, a year alone, or a wrong checksum in its variants", () => {
    const variant = (week: string, year: string, sum: string): string =>
      `${block.slice(0, 32)}${week}${year}${block.slice(36, 254)}${sum}`;
    expect(first(variant("ff", "20", "cd"))).toMatchObject({ week: null, year: null, modelYear: 2022 });
    expect(first(variant("00", "1e", "ce"))).toMatchObject({ week: null, year: 2020, modelYear: null });
    expect(readDisplays(bytesOf(variant("00", "1e", "cf")))).toMatchObject({
      displays: [],
      messages: [{ key: "readout_edid_checksum" }],
    });
  });
});
