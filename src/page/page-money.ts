/** Money as one page prints it: the money reader with the page's habits, and a memory of texts that recur. */
import { type MoneyOptions, type MoneyRead, readMoney } from "../text/money.ts";
import type { OfferedNames } from "../text/money-names.ts";
import { CURRENCY_SIGNS, isCurrencyCode } from "../text/money-symbols.ts";

/** What the page says of money besides the amounts. */
export interface MoneyHabits {
  /** BCP 47 language by which money is read. */
  readonly language: string | undefined;
  /** ISO 4217 code that the page states for machines. */
  readonly currency: string | undefined;
}

/** Longest text that is looked at for an amount; longer ones are prose. */
const MAX_TEXT = 300;
/** Longest text that may be a currency sign and nothing else. */
const MAX_SIGN = 6;
/** What a text with an amount has at least: a currency sign, or letters beside digits that may be one. */
const HINT = /[\p{Sc}円元圓원]|\p{Nd}[\s\u200e\u200f]*\p{L}|\p{L}\.?[\s\u200e\u200f]*\p{Nd}/u;
/** "19,-" and "19.–": prices that need no sign. */
const DASHED = /\d[.,:] ?[-–—]{1,2}(?!\d)/;
/** Most texts that are remembered. */
const REMEMBERED = 2_000;

/** Reads the money of one page. */
export class PageMoney {
  readonly habits: MoneyHabits;
  readonly #options: MoneyOptions;
  readonly #remembered = new Map<string, readonly MoneyRead[]>();

  constructor(habits: MoneyHabits, offered?: OfferedNames) {
    this.habits = habits;
    this.#options = { ...habits, names: "own", bare: true, offered };
  }

  /** Every amount and bare number of a text. */
  read(text: string): readonly MoneyRead[] {
    const known = this.#remembered.get(text);
    if (known !== undefined) return known;
    const read = readMoney(text, this.#options);
    if (this.#remembered.size >= REMEMBERED) this.#remembered.clear();
    this.#remembered.set(text, read);
    return read;
  }

  /** The same where a table's heading gives bare numbers a currency. */
  readAs(text: string, currency: string): readonly MoneyRead[] {
    const read = readMoney(text, { ...this.#options, currency });
    return read.map((money) => ({ ...money, currency: money.currency ?? currency }));
  }

  /** True when a text holds an amount of money, or is the sign of one whose number stands elsewhere. */
  holds(text: string): boolean {
    if (text.length > MAX_TEXT) return false;
    if (text.length <= MAX_SIGN * 2 && isSign(text.trim())) return true;
    if (HINT.test(text)) return this.read(text).some((money) => money.currency !== null);
    return DASHED.test(text);
  }
}

/** A sign or code in an element of its own, its number in the next. */
function isSign(text: string): boolean {
  return text.length > 0 && text.length <= MAX_SIGN && (CURRENCY_SIGNS.has(text) || isCurrencyCode(text));
}
