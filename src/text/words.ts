/**
 * Sentences in the user's language. Pure: the messages and the language are handed in.
 *
 * Messages are the files `manifest/_locales/<language>/messages.json`, read as plain text with `{name}`
 * places. A sentence that counts has the forms `key_one`, `key_few`, `key_many`, `key_other` (CLDR plural
 * categories, chosen by `Intl.PluralRules` for the value `count`).
 */

/** A value that goes into a sentence. */
export type WordValue = string | number | readonly string[];

/** Message texts by key. */
export type Messages = Readonly<Record<string, string>>;

/** Says sentences in one language. */
export interface Words {
  /** BCP 47 language of the sentences. */
  readonly language: string;
  /** The language as the platform's own formatters take it (`Intl`); that of `language` but for pseudo-locales. */
  readonly formatting: string;
  /** `rtl` for scripts written from right to left. */
  readonly direction: "ltr" | "rtl";
  /** The sentence of a key with its values filled in; a key without a message gives the key itself in brackets. */
  say(key: string, values?: Readonly<Record<string, WordValue>>): string;
  /** True when a message (or a counted form of it) exists. */
  has(key: string): boolean;
  /** A decimal amount such as `36.00` with its currency, formatted for the language without rounding. */
  money(amount: string, currency: string): string;
}

/** Languages written from right to left that a message file may be made for (Unicode CLDR, character order). */
const RIGHT_TO_LEFT = new Set(["ar", "fa", "he", "ur", "qps-plocm"]);

/**
 * @param language BCP 47 tag of the messages
 * @param messages texts by key
 * @param fallback texts used where `messages` lacks a key (English)
 */
export function makeWords(language: string, messages: Messages, fallback: Messages = {}): Words {
  const formatting = canonicalLanguage(language);
  // Making a format takes longer than using it a hundred times, and a page may never need it.
  const plural = once(() => new Intl.PluralRules(formatting));
  const number = once(() => new Intl.NumberFormat(formatting, { maximumFractionDigits: 6 }));
  const list = once(() => new Intl.ListFormat(formatting, { type: "conjunction" }));
  const moneyFormats = new Map<string, Intl.NumberFormat>();
  const moneyFormat = (currency: string): Intl.NumberFormat => {
    const format = moneyFormats.get(currency) ?? new Intl.NumberFormat(formatting, { style: "currency", currency });
    moneyFormats.set(currency, format);
    return format;
  };

  const pick = (from: Messages, key: string, count: WordValue | undefined): string | undefined => {
    if (typeof count === "number") {
      const counted = from[`${key}_${plural().select(count)}`] ?? from[`${key}_other`];
      if (counted !== undefined) return counted;
    }
    return from[key];
  };
  const show = (value: WordValue): string =>
    typeof value === "number" ? number().format(value) : typeof value === "string" ? value : list().format(value);

  return {
    language,
    formatting,
    direction: RIGHT_TO_LEFT.has(language) ? "rtl" : "ltr",
    say(key, values = {}) {
      const text = pick(messages, key, values["count"]) ?? pick(fallback, key, values["count"]);
      if (text === undefined) return `[${key}]`;
      return text.replace(/\{([A-Za-z][A-Za-z0-9]*)\}/g, (place, name: string) => {
        const value = values[name];
        return value === undefined ? place : show(value);
      });
    },
    has: (key) => [messages, fallback].some((from) => from[key] !== undefined || from[`${key}_other`] !== undefined),
    money: (amount, currency) => moneyFormat(currency).format(amount as unknown as number),
  };
}

/** A value that is made when it is first asked for. */
function once<T>(make: () => T): () => T {
  let made: T | undefined;
  return () => {
    made ??= make();
    return made;
  };
}

/** The tag as Intl takes it; the right-to-left pseudo-locale formats as English. */
function canonicalLanguage(language: string): string {
  try {
    return language.startsWith("qps") ? "en" : (Intl.getCanonicalLocales(language)[0] ?? "en");
  } catch {
    return "en";
  }
}
