/** New rules made in a copy of the tree: well-formed, canonical, unfilled at first, and working once filled in. */
import rules from "falsefit:rules";
import { cpSync, existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { NewRuleFault, newRule } from "../../manifest/new-rule.mjs";
import { ruleText } from "../../manifest/rule-format.mjs";
import { numberFormatRuleSchema } from "../../src/formats/number-format-rule.ts";
import { pageShapeSchema } from "../../src/formats/page-shape.ts";
import { partTypeRuleSchema } from "../../src/formats/part-type-rule.ts";
import type { RawRules } from "../../src/formats/rules.ts";
import { wordingRuleSchema } from "../../src/formats/wording-rule.ts";
import { type ExampleFolder, exampleFaults } from "./examples.ts";

const TREE = fileURLToPath(new URL("../..", import.meta.url));
const copy = mkdtempSync(join(tmpdir(), "falsefit-rules-"));
beforeAll(() => cpSync(join(TREE, "rules"), join(copy, "rules"), { recursive: true }));
afterAll(() => rmSync(copy, { recursive: true }));

const read = (path: string): unknown => JSON.parse(readFileSync(join(copy, path), "utf8"));
const write = (path: string, value: unknown): void => writeFileSync(join(copy, path), ruleText(value));
const faults = (folder: ExampleFolder, name: string, withRules: RawRules): string[] =>
  exampleFaults(folder, name, join(copy, `fixtures/rules/${folder}/${name}.json`), withRules);

/** Makes a rule; its files must be canonical, its expectation must ask to be filled in. */
function make(words: string[], folder: ExampleFolder): { rule: unknown; path: string; expected: string } {
  const name = words[1] ?? "";
  const { written, next } = newRule(words, copy);
  const [path, expected] = [`rules/${folder}/${name}.json`, `fixtures/rules/${folder}/${name}.json`];
  expect(written).toEqual(expect.arrayContaining([path, expected]));
  expect(next).toHaveLength(4);
  for (const each of [path, expected]) {
    const text = readFileSync(join(copy, each), "utf8");
    expect(text).toBe(ruleText(JSON.parse(text)));
  }
  expect(faults(folder, name, rules).length).toBeGreaterThan(0);
  return { rule: read(path), path, expected };
}

describe("a new rule", () => {
  it("for a language's wording: read as soon as its lists are filled", () => {
    const { rule, expected } = make(["wording", "eo"], "wording");
    const empty = wordingRuleSchema.parse(rule);
    expect(empty.language).toBe("eo");
    expect(Object.values(empty.phrases).flat()).toEqual([]);
    write(expected, { listings: [{ title: "PB-2240 ne taŭgas por PW-4410-5", verdict: "conflicting" }] });
    const filled = { ...empty, phrases: { ...empty.phrases, against: ["ne taŭgas por"] } };
    expect(faults("wording", "eo", rules)).not.toEqual([]);
    expect(faults("wording", "eo", { ...rules, wording: [...rules.wording, filled] })).toEqual([]);
  });

  it("for a part type: known by its words", () => {
    const { rule, expected } = make(["part-type", "grommet"], "part-types");
    const empty = partTypeRuleSchema.parse(rule);
    const listings = [
      { title: "Grommet XA-200 for Lark 20", verdict: "fits" },
      { title: "Grommet XA-100 for Lark 20", verdict: "other-revision" },
      { title: "Grommet for Lark 20", verdict: "ambiguous" },
    ];
    write(expected, { ...(read(expected) as object), listings });
    const filled = { ...empty, words: { ...empty.words, en: ["grommet|grommets"] } };
    expect(faults("part-types", "grommet", { ...rules, partTypes: [...rules.partTypes, filled] })).toEqual([]);
  });

  it("for a language's number words", () => {
    const { rule, expected } = make(["number-format", "words-eo"], "number-formats");
    const empty = numberFormatRuleSchema.parse(rule);
    if (empty.kind !== "words") throw new Error(empty.kind);
    expect([empty.language, empty.dates.months.length]).toEqual(["eo", 12]);
    write(expected, { texts: [{ text: "baterio 7,4 voltoj", quantities: { nominalVoltage_V: 7.4 } }] });
    const filled = { ...empty, units: { ...empty.units, volt: ["voltoj"] } };
    expect(faults("number-formats", "words-eo", rules)).not.toEqual([]);
    expect(faults("number-formats", "words-eo", { ...rules, numberFormats: [...rules.numberFormats, filled] })).toEqual(
      [],
    );
  });

  it.each(["units", "resolutions", "cell-designation", "primary-cell", "memory-module", "card-size", "plug-class"])(
    "for a number format of kind %s: well-formed but for its source",
    (kind) => {
      const { rule } = make(["number-format", `own-${kind}`, kind], "number-formats");
      const source = [{ document: "a document", status: "seen" }];
      expect(numberFormatRuleSchema.parse({ ...(rule as object), source }).kind).toBe(kind);
    },
  );

  it("for a page shape: reads its page once both are filled in", () => {
    const { rule, expected } = make(["page-shape", "harrow-lane"], "page-shapes");
    const empty = pageShapeSchema.parse(rule);
    const page = expected.replace(".json", ".html");
    expect(existsSync(join(copy, page))).toBe(true);
    const cards = [1, 2, 3].map((n) => `<p class="c"><b>Pack PB-184${n}</b> <i>$${n}0.00</i></p>`).join("");
    writeFileSync(join(copy, page), `<!doctype html><html lang="en"><body>${cards}</body></html>`);
    write(expected, {
      url: "https://shop.example/list",
      listings: [1, 2, 3].map((n) => ({ title: `Pack PB-184${n}`, price: `${n}0.00` })),
    });
    const filled = { ...empty, record: "p.c", title: "b", price: "i" };
    expect(faults("page-shapes", "harrow-lane", { ...rules, pageShapes: [filled] })).toEqual([]);
  });
});

describe("a request that cannot be met", () => {
  it.each([
    [[], "A rule is one of"],
    [["colour", "red"], "A rule is one of"],
    [["constructor", "x"], "A rule is one of"],
    [["wording", "../en"], "is no name"],
    [["wording", "en"], "is there already"],
    [["part-type", "Fuse"], "is no name"],
    [["number-format", "plugs"], "needs its kind"],
    [["number-format", "plugs", "toString"], "needs its kind"],
  ])("%j writes nothing and says why", (words, said) => {
    expect(() => newRule(words, copy)).toThrow(NewRuleFault);
    expect(() => newRule(words, copy)).toThrow(said);
  });
});
