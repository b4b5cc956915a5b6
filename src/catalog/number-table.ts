/** Every number of the catalogs in one compact table: is it a part's, a model's or a board's. */
import type { NumberIndex } from "../text/number-index.ts";
import { NumberIndexBuilder } from "../text/number-index-builder.ts";
import { canonicalNumber } from "../text/part-number.ts";
import type { KnownFamily } from "./merge.ts";

/** What a number is known as. */
export interface TableEntry {
  /** Canonical. */
  readonly number: string;
  readonly part: boolean;
  readonly model: boolean;
  readonly board: boolean;
}

const PART = 1;
const MODEL = 2;
const BOARD = 3;

/** Looks numbers up by spelling and by look-alike spelling. */
export interface NumberTable {
  /** The number that a spelling means: exactly, or with O/0 and I/l/1 taken for each other where that is clear. */
  look(canonical: string, written: string): TableEntry | null;
  /** True for a known number without digits, which only its exact letters can name. */
  hasLetters(canonical: string): boolean;
  /** True where a number holds a letter outside ASCII. */
  readonly odd: boolean;
  /** False only where none of the numbers surely begins at this place of a folded text. */
  mayBegin(text: string, at: number): boolean;
  /** Length of the longest canonical number. */
  longest(): number;
}

/** The table of catalogs whose numbers and families are these. */
export function numberTable(numbers: Iterable<string>, families: Iterable<KnownFamily>): NumberTable {
  const builder = new NumberIndexBuilder();
  let odd = false;
  const add = (number: string, kind: number): void => {
    odd ||= isOdd(number);
    builder.add(number, kind);
  };
  for (const number of numbers) add(number, PART);
  for (const family of families) {
    for (const number of family.modelNumbers) add(canonicalNumber(number), MODEL);
    for (const name of namesAsModels(family)) add(name, MODEL);
    for (const { boardNumbers } of family.revisions) {
      for (const number of boardNumbers) add(canonicalNumber(number), BOARD);
    }
  }
  const index = builder.finish({ foldWhile: "one-number" });
  return tableOver(index, odd, (place) => {
    const kinds = index.valuesAt(place);
    return { part: kinds.includes(PART), model: kinds.includes(MODEL), board: kinds.includes(BOARD) };
  });
}

/** True where a canonical number holds a letter outside ASCII. */
export function isOdd(number: string): boolean {
  return /[^\x20-\x7e]/.test(number);
}

/**
 * A table over an index that folds look-alikes for `one-number` only.
 *
 * @param odd whether any of the numbers {@link isOdd}
 * @param kindsAt what the number at a place is
 */
export function tableOver(
  numbers: NumberIndex,
  odd: boolean,
  kindsAt: (place: number) => Omit<TableEntry, "number">,
): NumberTable {
  return {
    odd,
    look(canonical, written) {
      const exact = numbers.placeOf(canonical);
      const place = exact >= 0 ? exact : numbers.placeOfLookAlike(written);
      return place < 0 ? null : { number: numbers.numberAt(place), ...kindsAt(place) };
    },
    mayBegin: (text, at) => numbers.mayBegin(text, at),
    longest: () => numbers.longest,
    hasLetters: (canonical) => !/\d/.test(canonical) && numbers.has(canonical),
  };
}

/**
 * A family's name as listings use it in place of a model number: "Lark 20 handheld" is LARK20. A name without a number
 * counts only behind its maker's, up to any of its words: "Velsund Orrin", "Velsund Orrin e-bike".
 */
export function namesAsModels(family: {
  readonly maker?: string | undefined;
  readonly name?: string | undefined;
}): string[] {
  const words = (family.name ?? "").split(/\s+/);
  const last = words.findLastIndex((word) => /\d/.test(word));
  if (last < 0) return namesBehindMaker(family.maker ?? "", words);
  const alias = canonicalNumber(words.slice(0, last + 1).join(" "));
  const whole = /^[A-Z].*\d/.test(alias) ? [alias] : [];
  return [...whole, ...namesByNumber(family.maker ?? "", family.name ?? "")].filter(isAliasLength);
}

/** How many words of a name stand behind its maker's at most. */
const MAX_NAME_WORDS = 4;

function namesBehindMaker(maker: string, words: readonly string[]): string[] {
  const first = canonicalNumber(words[0] ?? "");
  if (canonicalNumber(maker).length < 3 || !/^[A-Z]{3,}$/.test(first)) return [];
  const names = words
    .slice(0, MAX_NAME_WORDS)
    .map((_, i) => canonicalNumber([maker, ...words.slice(0, i + 1)].join(" ")));
  return names.filter(isAliasLength);
}

/** "Delmarre 750" for "Delmarre Fournil 750 bread machine". */
function namesByNumber(maker: string, name: string): string[] {
  const [, number] = /^\p{L}+ (\d{3,4})(?: |$)/u.exec(name) ?? [];
  return number === undefined || canonicalNumber(maker).length < 4 ? [] : [canonicalNumber(`${maker} ${number}`)];
}

function isAliasLength(alias: string): boolean {
  return alias.length >= 4 && alias.length <= 24;
}
