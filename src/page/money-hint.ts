/** Whether a text of the page holds an amount of money: a cheap look first, the money reader where it hints at one. */
import { readMoney } from "../text/money.ts";
import { CURRENCY_SIGNS, isCurrencyCode } from "../text/money-symbols.ts";
import type { MoneyHabits } from "./price.ts";

/** Longest text that is looked at; longer ones are prose. */
const MAX_TEXT = 300;
/** Longest text that may be a currency sign and nothing else. */
const MAX_SIGN = 6;
/** What a text with an amount has at least: a currency sign or letters that may be one. */
const HINT = /[\p{Sc}円元圓원]|\p{Nd}[\s\u200e\u200f]*\p{L}|\p{L}\.?[\s\u200e\u200f]*\p{Nd}/u;
/** "19,-" and "19.–": prices that need no sign. */
const DASHED = /\d[.,:] ?[-–—]{1,2}(?!\d)/;

/** Makes the test for one page. */
export function moneyTest(habits: MoneyHabits): (text: string) => boolean {
  const { language, currency } = habits;
  return (text) => {
    if (text.length > MAX_TEXT) return false;
    if (text.length <= MAX_SIGN * 2 && isSign(text.trim())) return true;
    if (DASHED.test(text)) return true;
    return HINT.test(text) && readMoney(text, { language, currency, names: "own" }).length > 0;
  };
}

/** A sign or code in an element of its own, its number in the next. */
function isSign(text: string): boolean {
  return text.length > 0 && text.length <= MAX_SIGN && (CURRENCY_SIGNS.has(text) || isCurrencyCode(text));
}
