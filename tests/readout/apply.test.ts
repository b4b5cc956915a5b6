import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { checkBench, type Device } from "../../src/formats/bench.ts";
import { applyFacts, asDeviceFact, intervalText } from "../../src/readout/apply.ts";
import { readDump } from "../../src/readout/dump.ts";
import { type ReadoutFact, sourceSentence } from "../../src/readout/facts.ts";
import { guide } from "../../src/readout/guide.ts";
import { dayNumber } from "../../src/text/dates.ts";
import { makeWords } from "../../src/text/words.ts";

const messages: Record<string, { message: string }> = JSON.parse(
  readFileSync(fileURLToPath(new URL("../../manifest/_locales/en/messages.json", import.meta.url)), "utf8"),
);
const words = makeWords("en", Object.fromEntries(Object.entries(messages).map(([key, { message }]) => [key, message])));
const facts = readDump(
  readFileSync(fileURLToPath(new URL("../../fixtures/dumps/smbios-decoded.txt", import.meta.url))),
).facts;

function device(fields: object = {}): Device {
  const read = checkBench({ format: "falsefit-bench/1", devices: [{ id: "d", ...fields }] });
  if (!read.ok || !read.value.devices[0]) throw new Error("not a device");
  return read.value.devices[0];
}

describe("filling a device", () => {
  it("fills what is open and keeps where it came from", () => {
    const filled = applyFacts(device(), facts, words);
    expect(filled).toMatchObject({ boardNumber: "QM7-100B", modelNumbers: ["Sedge 13"] });
    expect(filled.fitted.map(({ type, numbers, source }) => [type, numbers, source])).toEqual([
      ["memory-module", ["QR-8G4"], "readout"],
      ["battery", ["QB-1140"], "readout"],
    ]);
    expect(filled.buildDate).toBeUndefined();
    expect(filled.facts).toContainEqual({
      field: "boardNumber",
      value: "QM7-100B",
      source: "SMBIOS type 2",
      confidence: "certain",
    });
    const hint = filled.facts?.find(({ field, source }) => field === "buildDate" && source === "SMBIOS type 0");
    expect(hint).toMatchObject({ confidence: "rough", value: "2020-07-28 – …" });
    expect(hint?.note).toBe(words.say("readout_note_firmware"));
    expect(checkBench({ format: "falsefit-bench/1", devices: [filled] })).toMatchObject({ ok: true });
  });

  it("twice is the same as once, and the given device is left alone", () => {
    const empty = device();
    const once = applyFacts(empty, facts, words);
    expect(applyFacts(once, facts, words)).toEqual(once);
    expect(empty).toEqual(device());
  });

  it("never overwrites what a person entered", () => {
    const own = device({
      boardNumber: "OTHER-1",
      buildDate: "2019",
      fitted: [{ type: "battery", numbers: ["qb 1140"], quantities: { energy_Wh: 44 }, source: "label" }],
    });
    const filled = applyFacts(own, facts);
    expect(filled).toMatchObject({ boardNumber: "OTHER-1", buildDate: "2019" });
    const battery = filled.fitted.find(({ type }) => type === "battery");
    expect(battery).toMatchObject({
      numbers: ["qb 1140"],
      source: "label",
      quantities: { energy_Wh: 44, nominalVoltage_V: 11.4 },
    });
    expect(filled.facts?.some(({ value }) => value === "QM7-100B")).toBe(true);
  });

  it("what was read replaces what was only assumed", () => {
    const assumed = device({ fitted: [{ type: "battery", numbers: ["XX-1"] }] });
    const numbers = applyFacts(assumed, facts).fitted.flatMap((part) => (part.type === "battery" ? part.numbers : []));
    expect(numbers).toEqual(["QB-1140"]);
  });

  it("leaves displays on a cable and soldered memory out of the fitted parts", () => {
    const soldered: ReadoutFact = {
      field: "fitted",
      type: "memory-module",
      numbers: [],
      quantities: { capacity_GB: 8 },
      made: null,
      replaceable: false,
      source: "SMBIOS type 17",
      confidence: "likely",
    };
    const filled = applyFacts(device(), [soldered]);
    expect(filled.fitted).toEqual([]);
    expect(filled.facts).toHaveLength(1);
  });

  it("writes intervals as the formats do", () => {
    const day = dayNumber(2021, 5, 17);
    expect(intervalText({ from: day, to: day })).toBe("2021-05-17");
    expect(intervalText({ from: day, to: day + 6 })).toBe("2021-W20");
    expect(intervalText({ from: day, to: null })).toEqual({ from: "2021-05-17" });
    expect(intervalText({ from: null, to: day })).toEqual({ to: "2021-05-17" });
  });
});

describe("words", () => {
  it("exist for every source, note and message of a dump, and for the guide", () => {
    const { facts: all, messages: said } = readDump("/sys/class/dmi/id/bios_date:07/28/2020\n");
    for (const fact of [...facts, ...all]) {
      expect(words.has(sourceSentence(fact.source).key)).toBe(true);
      if (fact.note) expect(asDeviceFact(fact, words).note).not.toContain("[");
    }
    for (const { key } of said) expect(words.has(key)).toBe(true);
    for (const { tells, needs } of guide) {
      expect(words.has(tells)).toBe(true);
      if (needs !== null) expect(words.has(needs)).toBe(true);
    }
    expect(new Set(guide.map(({ system }) => system)).size).toBe(3);
  });
});
