import rules from "falsefit:rules";
import { describe, expect, test } from "vitest";
import { pageShapeSchema } from "../../src/formats/page-shape.ts";
import { pageWordsSchema } from "../../src/formats/page-words.ts";
import { cuesFor, foldWords, wordsForPage } from "../../src/page/cues.ts";

describe("the word lists of rules/page-words", () => {
  test.each(rules.pageWords.map((words) => [words.language, words] as const))(
    "%s is well formed",
    (_language, words) => {
      expect(pageWordsSchema.parse(words)).toEqual(words);
      for (const [key, list = []] of Object.entries(words.words)) {
        expect(new Set(list).size, `${key} repeats a word`).toBe(list.length);
        for (const word of list) expect(foldWords(word), `${key}: "${word}" is nothing but punctuation`).not.toBe("");
        expect(list, `${key} is in lower case`).toEqual(list.map((word) => word.toLowerCase()));
      }
    },
  );

  test("every language has its own file, and the shapes shipped are well formed", () => {
    const languages = rules.pageWords.map((words) => words.language);
    expect(new Set(languages).size).toBe(languages.length);
    expect(languages).toEqual(expect.arrayContaining(["en", "de", "fr", "es", "it", "pl"]));
    for (const shape of rules.pageShapes) expect(pageShapeSchema.parse(shape)).toEqual(shape);
  });

  test("a page gets its own language and English; one of an unknown language gets all", () => {
    expect(wordsForPage(rules.pageWords, "de-CH").map((words) => words.language)).toEqual(["de", "en"]);
    expect(wordsForPage(rules.pageWords, "en").map((words) => words.language)).toEqual(["en"]);
    expect(wordsForPage(rules.pageWords, "vo")).toBe(rules.pageWords);
    expect(wordsForPage(rules.pageWords, undefined)).toBe(rules.pageWords);
  });
});

describe("finding words", () => {
  const cues = cuesFor(rules.pageWords, "en");

  test("whole words only, whatever stands around them", () => {
    expect(cues.has("oldPrice", foldWords("Was: $30"))).toBe(true);
    expect(cues.has("oldPrice", foldWords("Washers"))).toBe(false);
    expect(cues.is("buy", foldWords(" Add to Cart! "))).toBe(true);
    expect(cues.is("buy", foldWords("Add to cart now or later"))).toBe(false);
  });

  test("scripts without spaces need none", () => {
    expect(cuesFor(rules.pageWords, "ja").has("shipping", foldWords("全国送料500円"))).toBe(true);
  });

  test("the first and the last place are told", () => {
    const folded = foldWords("was 3 now 2 was 5");
    expect(cues.first("oldPrice", folded)).toEqual({ start: 0, end: 3 });
    expect(cues.last("oldPrice", folded)).toEqual({ start: 12, end: 15 });
    expect(cues.last("oldPrice", "")).toBeNull();
  });
});
