import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { makeWords } from "../../src/text/words.ts";

const ROOT = fileURLToPath(new URL("../..", import.meta.url));
const LOCALES = join(ROOT, "manifest/_locales");
const languages = readdirSync(LOCALES).filter((name) => !name.startsWith("."));
const PLURALS = /_(?:zero|one|two|few|many|other)$/;

function messagesOf(language: string): Record<string, { message: string }> {
  return JSON.parse(readFileSync(join(LOCALES, language, "messages.json"), "utf8"));
}

function sources(folder: string, endings: RegExp): string[] {
  return readdirSync(join(ROOT, folder), { recursive: true, encoding: "utf8" })
    .filter((file) => endings.test(file))
    .map((file) => readFileSync(join(ROOT, folder, file), "utf8"));
}

const english = messagesOf("en");
const code = sources("src", /\.(?:ts|tsx|html|mjs)$/).join("\n");
const data = [...sources("rules", /\.json$/), ...sources("manifest", /^[a-z]+\.json$/)].join("\n");
const base = (key: string) => key.replace(PLURALS, "");

describe("message files", () => {
  it("hold the same sentences in six languages", () => {
    expect(languages.sort()).toEqual(["de", "en", "es", "fr", "it", "pl"]);
    const wanted = new Set(Object.keys(english).map(base));
    for (const language of languages) {
      const present = new Set(Object.keys(messagesOf(language)).map(base));
      expect(
        [...wanted].filter((key) => !present.has(key)),
        `missing in ${language}`,
      ).toEqual([]);
      expect(
        [...present].filter((key) => !wanted.has(key)),
        `only in ${language}`,
      ).toEqual([]);
    }
  });

  it("have every counted form that the language needs", () => {
    for (const language of languages) {
      const messages = messagesOf(language);
      const counted = new Set(
        Object.keys(messages)
          .filter((key) => PLURALS.test(key))
          .map(base),
      );
      const forms = new Intl.PluralRules(language).resolvedOptions().pluralCategories;
      const lacking = [...counted].flatMap((key) =>
        forms
          .filter((form) => !messages[`${key}_${form}`] && !messages[`${key}_other`])
          .map((form) => `${key}_${form}`),
      );
      expect(lacking, language).toEqual([]);
    }
  });

  it("keep the places of a sentence in every language", () => {
    const places = (text: string) => [...new Set(text.match(/\{[A-Za-z]+\}/g) ?? [])].sort();
    const wrong: string[] = [];
    for (const language of languages) {
      for (const [key, { message }] of Object.entries(messagesOf(language))) {
        const model = english[key] ?? english[`${base(key)}_other`];
        const expected = places(model?.message ?? "");
        const found = places(message);
        // A counted form may say "one" instead of the number.
        const optional = PLURALS.test(key) ? ["{count}"] : [];
        const missing = expected.filter((place) => !found.includes(place) && !optional.includes(place));
        if (missing.length > 0 || found.some((place) => !expected.includes(place) && place !== "{count}")) {
          wrong.push(`${language} ${key}: ${found} instead of ${expected}`);
        }
      }
    }
    expect(wrong).toEqual([]);
  });

  it("are all used: by name, or as a code that fills a family of sentences", () => {
    const isNamed = (word: string) =>
      [`"${word}"`, `\`${word}\``].some((quoted) => code.includes(quoted)) ||
      [`"${word}"`, `__MSG_${word}__`].some((quoted) => data.includes(quoted));
    // Keys and codes that the code puts together: `reason_${…}`, `${…}-contradicts`, `command_${…}_about`.
    const composed = [...new Set(code.match(/`(?:[a-z_-]|\$\{[^`{}]*\})+`/g) ?? [])]
      .filter((text) => text.includes("${"))
      .map((text) => ({
        pattern: new RegExp(`^${text.slice(1, -1).replace(/\$\{[^}]*\}/g, "([A-Za-z0-9_-]+)")}$`),
        short: text.replace(/\$\{[^}]*\}/g, "").length <= 6,
        open: /^`[a-z]+(?:_[a-z]+)*_\$\{[^}]*\}`$/.test(text),
      }));
    const isCode = (word: string): boolean =>
      isNamed(word) ||
      composed.some(({ pattern, open, short }) => {
        const filled = open ? null : pattern.exec(word)?.slice(1);
        return filled !== null && filled !== undefined && (!short || filled.every(isNamed));
      });
    const isUsed = (key: string): boolean =>
      isNamed(key) ||
      composed.some(({ pattern, short }) => {
        const filled = short ? undefined : pattern.exec(key)?.slice(1);
        return filled?.every((word) => isCode(word) || isCode(word.replaceAll("_", "-"))) ?? false;
      });
    expect([...new Set(Object.keys(english).map(base))].filter((key) => !isUsed(key))).toEqual([]);
  });

  it("exist for every sentence that the code names", () => {
    const named = [...code.matchAll(/\.say\(\s*"([a-z][A-Za-z0-9_]*)"/g)].map((match) => match[1] ?? "");
    const present = new Set(Object.keys(english).map(base));
    expect([...new Set(named)].filter((key) => !present.has(key) && !english[key])).toEqual([]);
  });

  it("never promise", () => {
    const promises =
      /\b(?:guarantee|guaranteed|is safe|garantiert|ist sicher|garanti(?!e)|garantizado|garantito|gwarantowan\w*|compatible with your device)\b/i;
    for (const language of languages) {
      const bad = Object.entries(messagesOf(language)).filter(([, { message }]) => promises.test(message));
      expect(
        bad.map(([key]) => key),
        language,
      ).toEqual([]);
    }
  });
});

describe("sentences", () => {
  it("fill places, choose the counted form and fall back to English", () => {
    const polish = makeWords(
      "pl",
      {
        offers_one: "{count} oferta",
        offers_few: "{count} oferty",
        offers_many: "{count} ofert",
        offers_other: "{count} oferty",
      },
      { hello: "Hello {name}" },
    );
    expect(polish.say("offers", { count: 1 })).toBe("1 oferta");
    expect(polish.say("offers", { count: 3 })).toBe("3 oferty");
    expect(polish.say("offers", { count: 5 })).toBe("5 ofert");
    expect(polish.say("hello", { name: "$&{count}" })).toBe("Hello $&{count}");
    expect(polish.say("nothing")).toBe("[nothing]");
    expect(polish.has("offers") && !polish.has("nothing")).toBe(true);
  });

  it("format money without rounding through floating point", () => {
    expect(makeWords("en", {}).money("9007199254740993.10", "USD")).toBe("$9,007,199,254,740,993.10");
    expect(makeWords("de", {}).money("36.00", "EUR")).toBe("36,00\u00a0€");
  });

  it("know their direction", () => {
    expect(makeWords("qps-plocm", {}).direction).toBe("rtl");
    expect(makeWords("fr", {}).direction).toBe("ltr");
  });
});
