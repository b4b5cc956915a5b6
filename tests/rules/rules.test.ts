/** Rule files: their canonical form, and what each is expected to do. */
import rules from "falsefit:rules";
import { readFileSync } from "node:fs";
import { join, relative } from "node:path";
import { fileURLToPath } from "node:url";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { ruleFiles, ruleText } from "../../manifest/rule-format.mjs";
import { exampleFaults, examplesIn } from "./examples.ts";

const ROOT = fileURLToPath(new URL("../..", import.meta.url));
describe("rule files", () => {
  it.each(ruleFiles().map((path) => relative(ROOT, path)))("%s is in canonical form", (path) => {
    const text = readFileSync(join(ROOT, path), "utf8");
    expect(text, "run `npm run format`").toBe(ruleText(JSON.parse(text)));
  });

  it.each(rules.wording.map(({ language, phrases }) => [language, phrases] as const))(
    "%s: phrases are sorted, each once",
    (_, phrases) => {
      for (const list of Object.values(phrases)) expect(list).toEqual([...new Set(list)].sort());
    },
  );

  it.each(examplesIn(join(ROOT, "fixtures/rules")))("$folder/$name does what is expected", ({ folder, name, path }) => {
    expect(exampleFaults(folder, name, path, rules)).toEqual([]);
    const text = readFileSync(path, "utf8");
    expect(text).toBe(ruleText(JSON.parse(text)));
  });
});

describe("the canonical form", () => {
  it("says the same, and is its own canonical form", () => {
    fc.assert(
      fc.property(fc.json(), (json) => {
        const value: unknown = JSON.parse(json);
        const text = ruleText(value);
        expect(JSON.parse(text)).toEqual(value);
        expect(ruleText(JSON.parse(text))).toBe(text);
      }),
    );
  });

  it("keeps a list on its line up to 120 columns, the comma counted, wide letters twice", () => {
    const list = (characters: number): unknown => ({ a: ["x".repeat(characters)], b: 1 });
    // Two spaces, `"a": [`, two quotes, `],`: 12 columns besides the letters.
    expect(ruleText(list(108)).split("\n")[1]).toHaveLength(120);
    expect(ruleText(list(109)).split("\n")[1]).toBe('  "a": [');
    expect(ruleText({ a: ["定".repeat(54)], b: 1 }).split("\n")[1]).toContain("定");
    expect(ruleText({ a: ["定".repeat(55)], b: 1 }).split("\n")[1]).toBe('  "a": [');
  });
});
