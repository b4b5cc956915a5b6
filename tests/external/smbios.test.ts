/**
 * Raw SMBIOS tables against the published layout and another decoder.
 *
 * Source 1: DMTF DSP0134 (System Management BIOS Reference Specification), structure types 0, 1, 2, 17 and 22; the
 * offsets of types 1, 2 and 22 beyond those seen in open decoders are from memory and confirmed by source 2.
 * Source 2: Debian's dmidecode reading the same dump with --from-dump, where it is installed.
 */
import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { readDump } from "../../src/readout/dump.ts";
import type { FittedFact, ReadoutFact } from "../../src/readout/facts.ts";
import {
  type Built,
  batteryBody,
  buildTable,
  memoryBody,
  notebook,
  withEntryPoint32,
  withEntryPoint64,
} from "../readout/smbios-table.ts";

const hasDecoder = spawnSync("dmidecode", ["--version"]).error === undefined;
const folder = mkdtempSync(join(tmpdir(), "smbios-"));
afterAll(() => rmSync(folder, { recursive: true }));

function decode(dump: Uint8Array, more: readonly string[] = []): string {
  const file = join(folder, "dump.bin");
  writeFileSync(file, dump);
  return spawnSync("dmidecode", [...more, "--from-dump", file], { encoding: "utf8" }).stdout;
}

const fitted = (facts: readonly ReadoutFact[], type: string): FittedFact[] =>
  facts.filter((fact): fact is FittedFact => fact.field === "fitted" && fact.type === type);
const number = (facts: readonly ReadoutFact[], field: string): string[] =>
  facts.flatMap((fact) => (fact.field === field && "value" in fact ? [fact.value] : []));

describe("the structure tables of DSP0134", () => {
  const { facts } = readDump(withEntryPoint64(buildTable(notebook)));

  it("type 1: product at 05h, stock number at 19h; type 2: product at 05h, version at 06h", () => {
    expect(number(facts, "modelNumber")).toEqual(["Sedge 13", "QS13-44"]);
    expect(number(facts, "boardNumber")).toEqual(["QM7-100B"]);
    expect(number(facts, "boardVersion")).toEqual(["1.2"]);
  });

  it("type 17: size at 0Ch, type at 12h, speed at 15h, part number at 1Ah, configured voltage at 26h", () => {
    expect(fitted(facts, "memory-module").map(({ numbers, quantities }) => ({ numbers, quantities }))).toEqual([
      {
        numbers: ["QR-8G4"],
        quantities: {
          capacity_GB: 8,
          transferRate_MTs: 2667,
          supplyVoltage_V: 1.2,
          generation: "DDR4",
          formFactor: "SODIMM",
        },
      },
    ]);
  });

  it("type 22: capacity at 0Ah times 15h, voltage at 0Ch, packed date at 12h", () => {
    expect(fitted(facts, "battery")[0]).toMatchObject({
      numbers: ["QB-1140"],
      quantities: { nominalVoltage_V: 11.4, energy_Wh: 45.6 },
      // 2023-08-21, the date of the worked example that dmidecode read as well.
      made: { from: 19590, to: 19590 },
    });
  });

  it.each([
    [8192, 0, 8],
    [0x7fff, 65536, 64],
    [0x8000 | 512, 0, 512 / 1024 / 1024],
  ])("memory size %i (extended %i MB) is %f GB", (size, extendedSize, size_GB) => {
    const body = memoryBody({ size, extendedSize, form: 9, type: 0x22, speed: 4800, volts: 1100 });
    const table = buildTable([
      ...notebook.slice(0, 3),
      { type: 17, body, strings: ["A", "B", "C", "D", "E", "QR-64G5"] },
    ]);
    const read = fitted(readDump(withEntryPoint32(table, 5)).facts, "memory-module")[0]?.quantities["capacity_GB"];
    expect(read ?? 0.0005).toBeCloseTo(size_GB, 3);
  });
});

describe.skipIf(!hasDecoder)("dmidecode of Debian (skipped where it is not installed)", () => {
  const variants: readonly (readonly [string, readonly Built[]])[] = [
    ["a notebook", notebook],
    ["a battery without the smart-battery fields", notebookWith({ packedDate: 0, capacity: 51300, multiplier: 1 })],
    ["a battery of another date", notebookWith({ packedDate: 0x46de, capacity: 6600, multiplier: 10 })],
  ];

  function notebookWith(given: { packedDate: number; capacity: number; multiplier: number }): Built[] {
    const battery: Built = {
      type: 22,
      body: batteryBody({ volts: 7600, ...given }),
      strings: ["Bay", "Quillon", "QB-7600", "1.0", "LION"],
    };
    return [...notebook.filter(({ type }) => type !== 22), battery];
  }

  it.each(variants)("says the same of %s, raw and as its own text", (_, structures) => {
    const table = buildTable(structures);
    const dump = withEntryPoint32(table, structures.length + 1);
    const said = decode(dump);
    const value = (label: string): string => new RegExp(`^\\s${label}: (.*)$`, "m").exec(said)?.[1]?.trim() ?? "";
    const { facts, messages } = readDump(dump);
    expect(messages.map(({ key }) => key)).not.toContain("readout_smbios_count");
    const battery = fitted(facts, "battery")[0];
    expect(number(facts, "boardNumber")[0]).toBe(/Base Board[\s\S]*?Product Name: (.*)/.exec(said)?.[1]);
    expect(`${Math.round(Number(battery?.quantities["nominalVoltage_V"]) * 1000)} mV`).toBe(value("Design Voltage"));
    expect(`${Math.round(Number(battery?.quantities["energy_Wh"]) * 1000)} mWh`).toBe(value("Design Capacity"));
    const dated = value("SBDS Manufacture Date");
    const made = battery?.made?.from;
    const ours = made == null ? "1980-00-00" : new Date(made * 86_400_000).toISOString().slice(0, 10);
    expect(ours).toBe(dated);
    const memory = fitted(facts, "memory-module")[0];
    expect(`${memory?.quantities["capacity_GB"]} GB`).toBe(value("Size"));
    expect(String(memory?.quantities["generation"])).toBe(/Memory Device[\s\S]*?\tType: (.*)/.exec(said)?.[1]);
    expect(`${memory?.quantities["transferRate_MTs"]} MT/s`).toBe(value("Speed"));

    // What dmidecode prints is itself a dump: read back, it gives the same facts.
    const again = readDump(said).facts;
    const bare = (all: readonly ReadoutFact[]): string[] => all.map((fact) => JSON.stringify(fact)).sort();
    expect(bare(again)).toEqual(bare(facts));
    const undecoded = readDump(decode(dump, ["-u"]));
    expect(bare(undecoded.facts)).toEqual(bare(facts));
    expect(undecoded.kinds).toEqual(["smbios-binary"]);
  });
});
