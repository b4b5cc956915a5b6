import { readdirSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { checkBench } from "../../src/formats/bench.ts";
import { applyFacts } from "../../src/readout/apply.ts";
import { readDump } from "../../src/readout/dump.ts";
import { EDID_BLOCK } from "../../src/readout/edid.ts";
import type { ReadoutFact } from "../../src/readout/facts.ts";
import { contains, type DateInterval } from "../../src/text/dates.ts";
import { buildTable, notebook, withEntryPoint32, withEntryPoint64 } from "./smbios-table.ts";

const FOLDER = new URL("../../fixtures/dumps/", import.meta.url);
const texts = readdirSync(FOLDER)
  .filter((name) => name !== "README.md")
  .map((name) => ({ name, bytes: new Uint8Array(readFileSync(fileURLToPath(new URL(name, FOLDER)))) }));
const table = buildTable(notebook);
const all = [
  ...texts,
  { name: "bare table", bytes: table },
  { name: "32-bit table", bytes: withEntryPoint32(table, 7) },
  { name: "64-bit table", bytes: withEntryPoint64(table) },
];

/** Seeded numbers, so that a failure can be run again. */
function numbers(seed: number): (below: number) => number {
  let state = seed >>> 0;
  return (below) => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return Math.floor((state / 4_294_967_296) * below);
  };
}

/** What a fact claims, one string a claim; rough facts claim nothing. */
function claims(facts: readonly ReadoutFact[]): string[] {
  return facts.flatMap((fact) => {
    if (fact.confidence === "rough") return [];
    if (fact.field === "buildDate") return [`built ${JSON.stringify(fact.interval)}`];
    if (fact.field !== "fitted") return [`${fact.field} ${fact.value}`];
    return [
      ...fact.numbers.map((number) => `${fact.type} ${number}`),
      ...Object.entries(fact.quantities).map(([name, value]) => `${fact.type} ${name} ${value}`),
    ];
  });
}

/** When the parts were made: a shorter dump may know it less closely, never otherwise. */
function madeDays(facts: readonly ReadoutFact[]): DateInterval[] {
  return facts.flatMap((fact) => (fact.field === "fitted" && fact.made !== null ? [fact.made] : []));
}

describe("a dump cut off anywhere", () => {
  it.each(all)("$name tells nothing that the whole does not tell", ({ bytes }) => {
    const { facts } = readDump(bytes);
    const [whole, wholeDays] = [new Set(claims(facts)), madeDays(facts)];
    const wrong: string[] = [];
    for (let end = 0; end < bytes.length; end++) {
      const cut = readDump(bytes.subarray(0, end)).facts;
      for (const claim of claims(cut)) if (!whole.has(claim)) wrong.push(`${end}: ${claim}`);
      for (const days of madeDays(cut)) {
        if (!wholeDays.some((known) => contains(days, known))) wrong.push(`${end}: ${JSON.stringify(days)}`);
      }
    }
    expect(wrong).toEqual([]);
  });
});

describe("a display block with any bytes changed", () => {
  it("tells nothing unless its checksum holds again by chance, in 20,000 tries", () => {
    const block = texts.find(({ name }) => name === "display.bin")?.bytes ?? new Uint8Array();
    const pick = numbers(7);
    let refused = 0;
    for (let i = 0; i < 20_000; i++) {
      const damaged = Uint8Array.from(block);
      for (let k = 0; k <= pick(4); k++) damaged[8 + pick(EDID_BLOCK - 8)] = pick(256);
      const holds = damaged.reduce((sum, byte) => sum + byte, 0) % 256 === 0;
      const { facts, messages } = readDump(damaged);
      if (holds) continue;
      refused++;
      expect(facts).toEqual([]);
      expect(messages.length).toBeGreaterThan(0);
    }
    expect(refused).toBeGreaterThan(15_000);
  });
});

describe("broken, spliced and hostile dumps", () => {
  const hostile = [
    "<".repeat(50_000),
    "<a>".repeat(20_000),
    "<td>".repeat(20_000),
    `{"a":`.repeat(60),
    "[".repeat(50_000),
    "&#".repeat(30_000),
    ":".repeat(50_000),
    "a: ".repeat(20_000),
    " ".repeat(100_000),
    "\t".repeat(50_000),
    "Handle 0x0001, DMI type 22, 26 bytes\n".repeat(3_000),
    `${Array.from({ length: 3_000 }, (_, i) => `${" ".repeat(i % 60)}head ${i}`).join("\n")}\n`,
    "POWER_SUPPLY_MODEL_NAME=QB-1140\nPOWER_SUPPLY_ENERGY_FULL_DESIGN=1\n".repeat(5_000),
    "product  version\n".repeat(10_000),
    "00ffffffffffff00".repeat(8_000),
    "AP///////wA".repeat(8_000),
    "ff00 ".repeat(20_000),
    "/".repeat(20_000),
    `/sys/${"a/".repeat(10_000)}:b\n`,
    "\u202e\ud800\udc00\ufeff".repeat(10_000),
    `Base Board Information\n\tProduct Name: ${"\u0301".repeat(5_000)}\n`,
    "9".repeat(100_000),
    "<!--".repeat(20_000),
    "<script>".repeat(20_000),
    "</script".repeat(20_000),
  ];

  it("end quickly", () => {
    for (const text of hostile) {
      const before = performance.now();
      const { facts } = readDump(text);
      expect(facts.length).toBeLessThanOrEqual(2_000);
      expect(performance.now() - before, text.slice(0, 30)).toBeLessThan(2_000);
    }
  });

  it("never throw, and every fact fits into a bench file, in 80,000 tries", () => {
    const pick = numbers(2_026);
    let told = 0;
    for (let i = 0; i < 80_000; i++) {
      const { facts, messages } = readDump(mutant(pick));
      if (facts.length > 0) told++;
      else expect(messages.length).toBeGreaterThan(0);
      if (i % 40 === 0) expectFits(facts);
    }
    expect(told).toBeGreaterThan(1_000);
  });

  function expectFits(facts: readonly ReadoutFact[]): void {
    const empty = { id: "d", modelNumbers: [], fitted: [], accept: [], refuse: [] };
    const filled = applyFacts(empty, facts);
    const checked = checkBench(JSON.parse(JSON.stringify({ format: "falsefit-bench/1", devices: [filled] })));
    if (!checked.ok) expect(checked.faults).toEqual([]);
  }

  /** A dump with bytes changed, pieces cut out, doubled or put in from another dump; half as text, half as bytes. */
  function mutant(pick: (below: number) => number): Uint8Array | string {
    const base = all[pick(all.length)]?.bytes ?? new Uint8Array();
    let bytes = [...base.subarray(0, 2_000)];
    for (let k = 0; k <= pick(5); k++) {
      const at = pick(bytes.length + 1);
      const length = pick(40);
      const other = all[pick(all.length)]?.bytes ?? base;
      const from = pick(other.length);
      switch (pick(5)) {
        case 0:
          bytes[Math.min(at, bytes.length - 1)] = pick(256);
          break;
        case 1:
          bytes.splice(at, length);
          break;
        case 2:
          bytes.splice(at, 0, ...bytes.slice(at, at + length));
          break;
        case 3:
          bytes.splice(at, 0, ...other.subarray(from, from + length * 4));
          break;
        default:
          bytes = bytes.slice(0, at);
      }
    }
    const made = Uint8Array.from(bytes);
    return pick(2) === 0 ? made : Buffer.from(made).toString("latin1");
  }
});
