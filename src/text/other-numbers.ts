/**
 * Bare digits that are no part number: a telephone, a postcode, an invoice, a price, a count of sales, a calendar date.
 *
 * Part numbers of digits only exist, so everything else that is written in digits only has to be told from them by what
 * stands beside it. The words are data (`otherNumbers` of `rules/number-formats/words-*.json`).
 */
import type { NumberFormatRule } from "../formats/number-format-rule.ts";
import { daysInMonth } from "./dates.ts";
import { plainWord } from "./plain-word.ts";
import { isYearLike, type Token, tokenise } from "./tokens.ts";

type Place = "before" | "sign" | "after" | "afterGroups";

/** The words of {@link isOtherNumber}, prepared once: phrases of one or two plain words. */
export type OtherNumberRules = Readonly<Record<Place, ReadonlySet<string>>>;

const PLACES: readonly Place[] = ["before", "sign", "after", "afterGroups"];
/** How many signs and groups of digits may stand between the word and the digits ("tel. no. 0049 30 …"). */
const MAX_BETWEEN = 4;
const MAX_PHRASE_WORDS = 2;
const END_OF_CLAUSE = /[,;|!?\n()[\]]|\.\s*\n/;
const CURRENCY_BEFORE = /[$€£¥₹]\s?$/;
const CURRENCY_BEHIND = /^\s?(?:[$€£¥₹]|(?:EUR|USD|GBP|PLN|CHF|zł)\b)/i;
/** "5,820,174", "5 820 174": groups of three behind the first one to three. */
const GROUPED = /^\d{1,3}(?:([.,' ])\d{3})(?:\1\d{3})*$/;

/** Prepares the words of all languages. */
export function prepareOtherNumberRules(formats: readonly NumberFormatRule[]): OtherNumberRules {
  const sets = {
    before: new Set<string>(),
    sign: new Set<string>(),
    after: new Set<string>(),
    afterGroups: new Set<string>(),
  };
  for (const rule of formats) {
    if (rule.kind !== "words") continue;
    for (const place of PLACES) {
      for (const phrase of rule.otherNumbers[place]) sets[place].add(phraseOf(tokenise(phrase)));
    }
  }
  return sets;
}

/**
 * True where the digits of some tokens are said to be something else than a part number.
 *
 * @param first index of the first token of the digits; `last` one after their last
 */
export function isOtherNumber(
  text: string,
  tokens: readonly Token[],
  first: number,
  last: number,
  rules: OtherNumberRules,
): boolean {
  const [start, end] = [tokens[first]?.start ?? 0, tokens[last - 1]?.end ?? 0];
  if (CURRENCY_BEFORE.test(text.slice(Math.max(0, start - 2), start))) return true;
  if (CURRENCY_BEHIND.test(text.slice(end, end + 5))) return true;
  if (beginsPhrase(tokens, last, rules.after)) return true;
  if (GROUPED.test(text.slice(start, end)) && beginsPhrase(tokens, last, rules.afterGroups)) return true;
  return isTold(tokens, first, rules);
}

function isTold(tokens: readonly Token[], first: number, rules: OtherNumberRules): boolean {
  for (let i = first - 1; i >= Math.max(0, first - 1 - MAX_BETWEEN); i--) {
    const token = tokens[i];
    if (token === undefined || END_OF_CLAUSE.test(token.gap)) return false;
    for (let words = MAX_PHRASE_WORDS; words > 0; words--) {
      const from = i + 1 - words;
      if (from >= 0 && rules.before.has(phraseOf(tokens.slice(from, i + 1)))) return true;
    }
    if (token.kind !== "digits" && !rules.sign.has(plainWord(token.text))) return false;
  }
  return false;
}

function beginsPhrase(tokens: readonly Token[], at: number, phrases: ReadonlySet<string>): boolean {
  if (!/^[ +]{0,2}$/.test(tokens[at - 1]?.gap ?? "")) return false;
  for (let words = MAX_PHRASE_WORDS; words > 0; words--) {
    if (phrases.has(phraseOf(tokens.slice(at, at + words)))) return true;
  }
  return false;
}

function phraseOf(tokens: readonly Token[]): string {
  return tokens.map(({ text }) => plainWord(text)).join(" ");
}

/** True for eight digits that can be read as a calendar day: `20210412`, `12042021`. */
export function readsAsDay(digits: string): boolean {
  if (!/^\d{8}$/.test(digits)) return false;
  const [a, b, c] = [digits.slice(0, 4), digits.slice(4, 6), digits.slice(6)];
  if (isYearLike(a) && isDay(Number(a), Number(b), Number(c))) return true;
  const year = digits.slice(4);
  if (!isYearLike(year)) return false;
  const [first, second] = [Number(digits.slice(0, 2)), Number(digits.slice(2, 4))];
  return isDay(Number(year), second, first) || isDay(Number(year), first, second);
}

function isDay(year: number, month: number, day: number): boolean {
  return month >= 1 && month <= 12 && day >= 1 && day <= daysInMonth(year, month);
}
