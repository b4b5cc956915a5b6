import rules from "falsefit:rules";
import { readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { partTypeRuleSchema } from "../../src/formats/part-type-rule.ts";
import { effectWords, type Hazard } from "../../src/formats/verdict.ts";
import { makeWords, type Words } from "../../src/text/words.ts";
import { hazardText } from "../../src/verdict/hazard-words.ts";
import { type ComparablePart, compareParts, signalWord, worstFirst } from "../../src/verdict/hazards.ts";
import { pinDifferences } from "../../src/verdict/pins.ts";

const LANGUAGES = ["en", "de", "fr", "es", "it", "pl"];

function wordsIn(language: string): Words {
  const path = new URL(`../../manifest/_locales/${language}/messages.json`, import.meta.url);
  const file: Record<string, { message: string }> = JSON.parse(readFileSync(path, "utf8"));
  return makeWords(language, Object.fromEntries(Object.entries(file).map(([key, { message }]) => [key, message])));
}

const allWords = LANGUAGES.map(wordsIn);
const english = wordsIn("en");

function rule(id: string) {
  const found = rules.partTypes.find((each) => each.id === id);
  if (found === undefined) throw new Error(`no rule for ${id}`);
  return found;
}

/** Quantities and, with pins, a connector of one family. */
function part(quantities: Record<string, number | string | boolean>, pins?: string[], family = "rail"): ComparablePart {
  return pins === undefined ? { quantities } : { quantities, connector: { family, positions: pins.length, pins } };
}

function brief({ effect, signal, code }: Hazard): string {
  return `${effect} ${signal} ${code}`;
}

function hazards(offered: ComparablePart, right: ComparablePart, type: string): string[] {
  return compareParts(offered, right, rule(type)).map(brief);
}

describe("quantities", () => {
  const pins = ["supply", "ground"];
  it.each([
    ["battery", { nominalVoltage_V: 14.8 }, { nominalVoltage_V: 11.1 }, "destroys NOTICE cells-more"],
    ["battery", { nominalVoltage_V: 10.8 }, { nominalVoltage_V: 14.4 }, "burns WARNING cells-fewer"],
    ["battery", { seriesCells: 7 }, { seriesCells: 6 }, "destroys NOTICE cells-more-count"],
    ["battery", { seriesCells: 6 }, { seriesCells: 7 }, "burns WARNING cells-fewer-count"],
    ["battery", { nominalVoltage_V: 12.8 }, { nominalVoltage_V: 14.4 }, "not-known WARNING cells-unlike"],
    ["battery", { nominalVoltage_V: 3.7 }, { nominalVoltage_V: 3.85 }, "not-known WARNING cell-voltage-lower"],
    ["battery", { chargeVoltage_V: 4.2 }, { chargeVoltage_V: 4.4 }, "burns WARNING charge-voltage-less"],
    [
      "battery",
      { nominalVoltage_V: 11.1, energy_Wh: 30 },
      { nominalVoltage_V: 10.8, energy_Wh: 58 },
      "reduced null runs-shorter",
    ],
    ["charger", { outputVoltage_V: 24 }, { outputVoltage_V: 19 }, "destroys NOTICE charger-voltage-more"],
    ["charger", { outputVoltage_V: 12 }, { outputVoltage_V: 19 }, "no-function null charger-voltage-less"],
    [
      "charger",
      { outputVoltage_V: 19.5, outputCurrent_A: 2 },
      { outputVoltage_V: 19, outputCurrent_A: 3.42 },
      "reduced NOTICE charger-current-less",
    ],
    [
      "charger",
      { outputVoltage_V: 19, polarity: "centre negative" },
      { outputVoltage_V: 19, polarity: "centre positive" },
      "destroys NOTICE polarity-reversed",
    ],
    [
      "display-panel",
      { diagonal_in: 14, supplyVoltage_V: 3.3 },
      { diagonal_in: 15.6, supplyVoltage_V: 3.3 },
      "no-function null does-not-mount",
    ],
    [
      "display-panel",
      { width_px: 1366, supplyVoltage_V: 3.3 },
      { width_px: 1920, supplyVoltage_V: 3.3 },
      "no-function null picture-size",
    ],
    ["memory-module", { generation: "DDR3" }, { generation: "DDR4" }, "no-connection null memory-generation"],
    ["memory-module", { supplyVoltage_V: 1.5 }, { supplyVoltage_V: 1.35 }, "no-function null memory-voltage"],
    [
      "storage-module",
      { key: "M", supplyVoltage_V: 3.3 },
      { key: "B", supplyVoltage_V: 3.3 },
      "no-connection null differs-no-connection",
    ],
    ["pump", { supplyVoltage_V: 120 }, { supplyVoltage_V: 230 }, "burns WARNING mains-voltage"],
    ["fan", { supplyVoltage_V: 5 }, { supplyVoltage_V: 12 }, "destroys NOTICE fan-voltage-less"],
    ["switch", { ratedCurrent_A: 6 }, { ratedCurrent_A: 16 }, "burns WARNING switch-current-less"],
    [
      "keyboard",
      { layout: "ANSI", supplyVoltage_V: 5 },
      { layout: "ISO", supplyVoltage_V: 5 },
      "cosmetic null layout-differs",
    ],
    ["belt", { length_mm: 418 }, { length_mm: 402 }, "no-function null does-not-mount"],
  ])("%s %j for %j: %s", (type, offered, right, expected) => {
    expect(hazards(part(offered, pins), part(right, pins), type)).toContain(expected);
  });

  it.each([
    ["battery", { nominalVoltage_V: 11.1 }, { nominalVoltage_V: 10.8 }],
    ["battery", { nominalVoltage_V: 3.85, energy_Wh: 20 }, { nominalVoltage_V: 3.8, energy_Wh: 17 }],
    ["charger", { outputVoltage_V: 19.5, outputCurrent_A: 4.62 }, { outputVoltage_V: 19, outputCurrent_A: 3.42 }],
    ["memory-module", { supplyVoltage_V: 1.35 }, { supplyVoltage_V: 1.5 }],
    ["storage-module", { key: "B+M", supplyVoltage_V: 3.3 }, { key: "M", supplyVoltage_V: 3.3 }],
  ])("%s %j serves in place of %j, which leaves it unknown what differs", (type, offered, right) => {
    expect(hazards(part(offered, pins), part(right, pins), type)).toEqual(["not-known null nothing-differs"]);
  });

  it("without a rule are compared for equality, and what a difference does is not known", () => {
    const compared = compareParts(part({ nozzles: 48 }, pins), part({ nozzles: 64 }, pins), undefined);
    expect(compared.map(brief)).toEqual(["not-known null unruled-quantity"]);
    expect(hazardText(compared[0] ?? neverHazard(), english)).toBe(
      "nozzles differs: 48 instead of 64. What that does is not known.",
    );
  });

  it("names volts and cells of both packs, once", () => {
    const [worst, ...others] = compareParts(
      part({ nominalVoltage_V: 14.8, seriesCells: 4 }, pins),
      part({ nominalVoltage_V: 11.1, seriesCells: 3 }, pins),
      rule("battery"),
    );
    expect(others).toEqual([]);
    expect(worst && hazardText(worst, english)).toBe(
      "It is a 14.8 V pack of 4 cells; the device is made for 3 cells (11.1 V). It gives the device too many volts and can destroy it.",
    );
    expect(worst && hazardText(worst, wordsIn("de"))).toContain("14,8 V-Akku mit 4 Zellen");
  });
});

function neverHazard(): Hazard {
  throw new Error("no hazard");
}

describe("connectors", () => {
  const early = part({ nominalVoltage_V: 3.7 }, ["supply", "supply", "thermistor", "ground", "ground"]);
  const late = part({ nominalVoltage_V: 3.7 }, ["ground", "ground", "thermistor", "supply", "supply"]);

  it("of the same family and size are compared pin by pin; a reversed lithium pack burns", () => {
    const [worst] = compareParts(late, early, rule("battery"));
    expect(worst).toMatchObject({ effect: "burns", signal: "WARNING", caution: "lithium" });
    expect(worst && hazardText(worst, english)).toBe(
      "It plugs in, but supply and ground are exchanged (contact 1, 2, 4, and 5: ground instead of supply or the other way round). The pack is reversed or shorted and can catch fire.",
    );
  });

  it.each([
    ["display-panel", ["supply", "ground"], ["ground", "supply"], "destroys NOTICE pins-reversed"],
    ["display-panel", ["supply", "data"], ["data", "data"], "destroys NOTICE pins-supply-on-signal"],
    ["display-panel", ["data", "clock"], ["clock", "data"], "no-function null pins-signals"],
    ["display-panel", ["signal:lane 0"], ["signal:lane 1"], "no-function null pins-signals"],
    ["display-panel", ["ground"], ["data"], "no-function null pins-ground-on-signal"],
    ["display-panel", ["backlight-supply"], ["data"], "destroys NOTICE pins-backlight"],
    ["display-panel", ["supply:3.3 V"], ["supply:12 V"], "destroys NOTICE pins-supplies"],
    ["display-panel", ["not-connected"], ["data"], "no-function null pins-missing"],
    ["display-panel", ["supply"], ["not-connected"], "not-known null pins-unclear"],
    ["display-panel", ["teleport"], ["data"], "not-known null pins-unclear"],
    ["control-board", ["live", "earth"], ["earth", "live"], "burns WARNING pins-mains"],
    ["control-board", ["phase"], ["tachometer"], "burns WARNING pins-mains"],
  ])("%s %j on %j: %s", (type, offered, right, expected) => {
    expect(hazards(part({}, offered), part({}, right), type)).toContain(expected);
  });

  it("take a motor's phase in a low-voltage device for a supply, not for mains", () => {
    const motor = (pins: string[]) => part({ supplyVoltage_V: 21.6 }, pins);
    expect(hazards(motor(["phase", "tachometer"]), motor(["tachometer", "phase"]), "motor")).toEqual([
      "destroys NOTICE pins-supply-on-signal",
    ]);
  });

  it("of another size or family do not plug in, and their pins are not compared", () => {
    const volts = { nominalVoltage_V: 3.7 };
    expect(hazards(part(volts, ["supply", "ground"]), early, "battery")).toEqual([
      "no-connection null connector-positions",
    ]);
    expect(hazards(part(volts, ["ground", "supply"], "blade"), part(volts, ["supply", "ground"]), "battery")).toEqual([
      "no-connection null connector-family",
    ]);
  });

  it("that the catalog leaves out are not known, never harmless", () => {
    const volts = { nominalVoltage_V: 11.1 };
    expect(hazards({ quantities: volts }, part(volts, ["supply"]), "battery")).toEqual([
      "not-known null connector-not-known",
    ]);
    const bare = { quantities: volts, connector: { family: "rail", positions: 5 } };
    expect(hazards(bare, { ...early, quantities: volts }, "battery")).toEqual(["not-known null pins-not-known"]);
    expect(hazards({}, {}, "battery")).toEqual([
      "not-known null connector-not-known",
      "not-known null quantities-not-known",
    ]);
    expect(compareParts({}, {}, undefined).every(({ effect }) => effect === "not-known")).toBe(true);
  });

  it("give every pin for a drawing", () => {
    expect(pinDifferences(late, early, rule("battery"))[2]).toMatchObject({ pin: 3, effect: null, code: null });
    expect(pinDifferences(late, early, rule("battery"))).toHaveLength(5);
    expect(pinDifferences({}, early, rule("battery"))).toEqual([]);
  });
});

describe("every hazard", () => {
  const value = fc.oneof(fc.double({ noNaN: true, min: 0.1, max: 400 }), fc.constantFrom("ISO", "DDR4", "B+M", true));
  const names = [...new Set(rules.partTypes.flatMap((each) => each.quantities.map(({ name }) => name)))];
  const quantities = fc.dictionary(fc.constantFrom(...names, "oddity"), value, { maxKeys: 6 });
  const pin = fc.constantFrom(
    ...["supply", "ground", "live", "neutral", "earth", "phase", "data", "clock", "thermistor", "not-connected"],
    ...["backlight-supply", "signal:a", "signal:b", "supply:5 V", "constructor", "x"],
  );
  const connector = fc.option(
    fc.record({
      family: fc.constantFrom("rail", "blade"),
      positions: fc.constantFrom(3, 4),
      pins: fc.array(pin, { minLength: 1, maxLength: 6 }),
    }),
    { nil: undefined },
  );
  const anyPart = fc.record({ quantities, connector }).map((each): ComparablePart => {
    const { connector: plug, quantities: known } = each;
    return plug === undefined ? { quantities: known } : { quantities: known, connector: plug };
  });
  const anyRule = fc.constantFrom(undefined, ...rules.partTypes);

  it("has a full sentence in every language, and the list is never empty, worst first", () => {
    fc.assert(
      fc.property(anyPart, anyPart, anyRule, (offered, right, type) => {
        const found = compareParts(offered, right, type);
        expect(found.length).toBeGreaterThan(0);
        expect(worstFirst(found)).toEqual(found);
        for (const hazard of found) {
          expect(effectWords).toContain(hazard.effect);
          for (const words of allWords) expect(hazardText(hazard, words)).not.toMatch(/[[\]{}]|undefined|NaN/);
          if (hazard.effect === "burns" && type?.caution !== undefined) expect(hazard.caution).not.toBeNull();
        }
      }),
      { numRuns: 600 },
    );
  });

  it("has a signal word by who is hurt", () => {
    expect(["serious", "light", "property", "none"].map((harm) => signalWord(harm as "none"))).toEqual([
      "WARNING",
      "CAUTION",
      "NOTICE",
      null,
    ]);
  });
});

describe("part-type rules", () => {
  it.each(rules.partTypes.map((each) => [each.id, each] as const))("%s is well-formed and complete", (_, each) => {
    expect(partTypeRuleSchema.safeParse(each).error?.issues ?? []).toEqual([]);
    for (const language of LANGUAGES) {
      expect(each.names[language]).toBeTruthy();
      const words = [...(each.words[language] ?? []), ...(each.everyday?.[language] ?? [])];
      expect(words.length).toBeGreaterThan(0);
    }
    const consequences = each.quantities.flatMap((q) => [q.more, q.less, q.other, q.within, q.mains?.consequence]);
    for (const consequence of consequences) {
      const code = consequence?.code ?? (consequence && `differs-${consequence.effect}`);
      if (code !== undefined)
        for (const words of allWords) expect(words.has(`hazard_${code.replaceAll("-", "_")}`)).toBe(true);
    }
  });
});
