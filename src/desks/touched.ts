/** Which device families a text touches: by a part, model or board number, or by the family's name. */
import type { CatalogIndex, KnownFamily } from "../catalog/index.ts";
import type { Listing } from "../formats/listing.ts";
import { foldVisible } from "../text/fold.ts";
import { canonicalNumber } from "../text/part-number.ts";

/** Words of a text that are looked at; a text that says more is no title. */
const MAX_WORDS = 600;
/** Most words that one number may be written in ("PB 1840 R"). */
const MAX_WORDS_OF_NUMBER = 4;
/** Most families that are shown. */
const MAX_FAMILIES = 40;

/** Looks texts up in one set of catalogs. */
export interface Toucher {
  /** Families that the text touches, and the parts whose numbers stand in it. */
  touched(listing: Listing): { families: readonly KnownFamily[]; parts: readonly string[] };
}

/** Makes the looker-up. */
export function makeToucher(index: CatalogIndex): Toucher {
  const byFirstWord = namesByFirstWord(index.families);
  return {
    touched(listing) {
      const families = new Set<KnownFamily>();
      const parts = new Set<string>();
      for (const text of textsOf(listing)) {
        const seen = foldVisible(text).text;
        for (const number of numbersIn(seen)) touchByNumber(number, index, families, parts);
        touchByName(wordsOf(seen), byFirstWord, families);
      }
      return { families: [...families].slice(0, MAX_FAMILIES), parts: [...parts] };
    },
  };
}

function touchByNumber(number: string, index: CatalogIndex, families: Set<KnownFamily>, parts: Set<string>): void {
  for (const { serves } of index.resolveNumber(number).candidates) {
    for (const { part } of serves) {
      parts.add(part.id);
      for (const { family } of index.revisionsOf(part.id)) families.add(family);
    }
  }
  for (const family of index.familiesByModel(number)) families.add(family);
  for (const { family } of index.revisionsByBoard(number)) families.add(family);
}

function textsOf({ title, specifics, description }: Listing): string[] {
  return [title, ...Object.values(specifics ?? {}), description ?? ""].filter((text) => text !== "");
}

/** Everything in a text that might be a number: one to a few words, joined, with a digit in it. */
function numbersIn(text: string): Set<string> {
  const words = text.split(/[\s,;()[\]{}"]+/u, MAX_WORDS).map(canonicalNumber);
  const found = new Set<string>();
  for (const [from] of words.entries()) {
    let joined = "";
    for (const word of words.slice(from, from + MAX_WORDS_OF_NUMBER)) {
      joined += word;
      if (word !== "" && joined.length >= 2 && joined.length <= 80 && /\d/.test(joined)) found.add(joined);
    }
  }
  return found;
}

interface FamilyName {
  readonly family: KnownFamily;
  readonly words: readonly string[];
}

/** Names of families, with and without their last word ("Lark 20 handheld", "Lark 20"). */
function namesByFirstWord(families: readonly KnownFamily[]): Map<string, FamilyName[]> {
  const byFirstWord = new Map<string, FamilyName[]>();
  for (const family of families) {
    const words = wordsOf(family.name ?? "");
    const shorter = words.slice(0, -1);
    const tellsEnough = shorter.length >= 2 || /\d/.test(shorter.join(""));
    for (const each of tellsEnough ? [words, shorter] : [words]) {
      const [first] = each;
      if (first === undefined) continue;
      const list = byFirstWord.get(first);
      if (list === undefined) byFirstWord.set(first, [{ family, words: each }]);
      else list.push({ family, words: each });
    }
  }
  return byFirstWord;
}

function touchByName(
  words: readonly string[],
  byFirstWord: ReadonlyMap<string, readonly FamilyName[]>,
  families: Set<KnownFamily>,
): void {
  for (const [at, first] of words.entries()) {
    for (const { family, words: name } of byFirstWord.get(first) ?? []) {
      if (name.every((word, i) => words[at + i] === word)) families.add(family);
    }
  }
}

function wordsOf(text: string): string[] {
  return text
    .toLowerCase()
    .split(/[^\p{L}\p{N}]+/u, MAX_WORDS)
    .filter((word) => word !== "");
}
