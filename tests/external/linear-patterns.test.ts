/**
 * Every regular expression of src/ takes time in proportion to its input.
 *
 * Checked by recheck (automaton theory where it can, fuzzing where it must), an independent analyser. Patterns are taken
 * from the compiled code with the tokenizer acorn, each once. Rule files hold words and numbers, no patterns: checked too.
 */
import { readdirSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { tokenizer } from "acorn";
import { transformSync } from "esbuild";
import { check } from "recheck";
import { describe, expect, it } from "vitest";

const SOURCE = fileURLToPath(new URL("../../src/", import.meta.url));
const RULES = fileURLToPath(new URL("../../rules/", import.meta.url));

/** Files that build a pattern while running, and why it is linear all the same. */
const BUILT: Readonly<Record<string, string>> = {
  "page/cues.ts": "whole words of rules/, escaped and joined by |: no repetition in it",
  "verdict/sieve.ts":
    "a maker's name of at most 40 characters, escaped; its words are tied by \\s+, and no word holds white space",
};

interface Pattern {
  readonly source: string;
  readonly flags: string;
  readonly files: Set<string>;
}

const patterns = new Map<string, Pattern>();
const builders = new Set<string>();

for (const file of readdirSync(SOURCE, { recursive: true, encoding: "utf8" })) {
  if (!/\.(?:tsx?|mjs)$/.test(file) || file.endsWith(".d.ts")) continue;
  const text = readFileSync(SOURCE + file, "utf8");
  const { code } = transformSync(text, {
    loader: file.endsWith("x") ? "tsx" : "ts",
    jsx: "automatic",
    target: "esnext",
  });
  for (const token of tokenizer(code, { ecmaVersion: "latest", sourceType: "module" })) {
    const { value } = token as unknown as { value: unknown };
    if (token.type.label === "name" && value === "RegExp") builders.add(file.replaceAll("\\", "/"));
    if (token.type.label !== "regexp") continue;
    const { pattern: source, flags } = value as { pattern: string; flags: string };
    const key = `/${source}/${flags}`;
    const known = patterns.get(key) ?? { source, flags, files: new Set() };
    known.files.add(file);
    patterns.set(key, known);
  }
}

describe("patterns", () => {
  it("are found", () => {
    expect(patterns.size).toBeGreaterThan(100);
  });

  it.each([...patterns])("%s is linear", async (_, { source, flags, files }) => {
    const found = await check(source, flags, { timeout: 20_000 });
    const where = `${[...files].join(", ")}: ${found.status}, ${found.status === "vulnerable" ? found.complexity.summary : "not decided"}`;
    expect(found.status, where).toBe("safe");
  });

  it("are built while running only where it is known why that is linear", () => {
    expect([...builders].filter((file) => !(file in BUILT))).toEqual([]);
  });

  it("are what the analyser tells apart (its own published examples of both kinds)", async () => {
    expect((await check("^(a+)+$", "")).status).toBe("vulnerable");
    expect((await check("^[A-Z]{2}\\d{2}-[0-9A-Z]{2}$", "")).status).toBe("safe");
  });
});

describe("rule files", () => {
  const files = readdirSync(RULES, { recursive: true, encoding: "utf8" }).filter((file) => file.endsWith(".json"));

  it.each(files)("%s holds no pattern", (file) => {
    const keys = new Set<string>();
    JSON.parse(readFileSync(RULES + file, "utf8"), (key, value: unknown) => {
      keys.add(key);
      return value;
    });
    expect([...keys].filter((key) => /regex|regexp|^pattern/i.test(key))).toEqual([]);
  });
});
