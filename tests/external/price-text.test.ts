/**
 * Price text against two sources from outside: the platform's own Intl (ICU with CLDR data) in every locale that it
 * carries, and ISO 4217 list one as the npm package currency-codes publishes it.
 */
import currencyCodes from "currency-codes";
import { describe, expect, test } from "vitest";
import { readMoney } from "../../src/text/money.ts";
import { allCurrencyCodes, currencyOfLanguage, minorDigits } from "../../src/text/money-symbols.ts";

const DISPLAYS = ["symbol", "code", "name", "narrowSymbol"] as const;
const AMOUNTS = ["1234.5", "1234567.89", "0.99", "12"];

/** Every locale for which the platform has number data of its own: found by asking it for all combinations. */
function everyLocale(): string[] {
  const letters = [..."abcdefghijklmnopqrstuvwxyz"];
  const pairs = letters.flatMap((a) => letters.map((b) => a + b));
  const languages = [...pairs, ...pairs.flatMap((pair) => letters.map((c) => pair + c))];
  const isOwn = (tag: string) => new Intl.NumberFormat(tag).resolvedOptions().locale === tag;
  const known = languages.filter((tag) => Intl.NumberFormat.supportedLocalesOf(tag).includes(tag) && isOwn(tag));
  const names = new Intl.DisplayNames("en", { type: "region", fallback: "none" });
  const regions = [
    ...pairs.map((pair) => pair.toUpperCase()).filter((code) => names.of(code) !== undefined),
    "001",
    "150",
    "419",
  ];
  const scripts = "Latn Cyrl Arab Hans Hant Deva Beng Guru Olck Mtei Tfng Vaii Adlm Orya".split(" ");
  const bases = [...known, ...known.flatMap((tag) => scripts.map((script) => `${tag}-${script}`)).filter(isOwn)];
  return [...bases, ...bases.flatMap((base) => regions.map((region) => `${base}-${region}`)).filter(isOwn)];
}

const LOCALES = everyLocale();

/** Where the reader departs from what the platform prints, and why. */
function isExcepted(locale: string, currency: string, text: string): string | null {
  if (locale.startsWith("tok")) return "toki pona: CLDR groups every two digits by spaces, like nothing else";
  if (locale.endsWith("-CV") && minorDigits(currency) === 3)
    return "three decimals after the escudo's $ sign are no shop's price";
  if (/\p{L}\p{Nd}+$/u.test(text))
    return "ICU prints digits behind the name and the code before it (seen in tr-TR and en-XX)";
  return null;
}

function currenciesOf(locale: string): string[] {
  return [...new Set(["USD", "EUR", "JPY", "KWD", currencyOfLanguage(locale) ?? "GBP"])];
}

function* printed() {
  for (const locale of LOCALES) {
    for (const currency of currenciesOf(locale)) {
      const digits = minorDigits(currency);
      for (const currencyDisplay of DISPLAYS) {
        const format = new Intl.NumberFormat(locale, {
          style: "currency",
          currency,
          currencyDisplay,
          minimumFractionDigits: digits,
          maximumFractionDigits: digits,
        });
        for (const value of AMOUNTS) {
          const text = format.format(value as Intl.StringNumericLiteral);
          yield { locale, currency, currencyDisplay, text, amount: Number(value).toFixed(digits) };
        }
      }
    }
  }
}

describe("Intl.NumberFormat, every locale of the platform", () => {
  test("carries hundreds of locales here, or the test would prove little", () => {
    expect(LOCALES.length).toBeGreaterThan(600);
  });

  test("what it prints is read back: amount and currency, by sign, code, name and narrow sign", () => {
    const wrong: string[] = [];
    let count = 0;
    let excepted = 0;
    for (const { locale, currency, text, amount } of printed()) {
      count++;
      if (isExcepted(locale, currency, text) !== null) {
        excepted++;
        continue;
      }
      const [read, ...others] = readMoney(text, { language: locale, currency, names: "own" });
      const isRight = read?.amount === amount && read.currency === currency && others.length === 0 && !read.negative;
      if (!isRight) wrong.push(`${locale} ${JSON.stringify(text)} read as ${read?.amount} ${read?.currency}`);
    }
    console.log(`${LOCALES.length} locales, ${count} price texts, ${excepted} excepted, ${wrong.length} wrong`);
    expect(wrong).toEqual([]);
    expect(excepted / count).toBeLessThan(0.01);
  });

  test("a language's names of all currencies are known when asked for", () => {
    const wrong: string[] = [];
    for (const locale of LOCALES.filter((_, at) => at % 60 === 0)) {
      for (const currency of ["CHF", "PLN", "INR", "BRL", "KRW", "GBP"]) {
        const format = new Intl.NumberFormat(locale, { style: "currency", currency, currencyDisplay: "name" });
        const text = format.format(5000);
        const [read] = readMoney(text, { language: locale, names: "all" });
        if (read?.currency !== currency && isExcepted(locale, currency, text) === null) wrong.push(`${locale} ${text}`);
      }
    }
    expect(wrong).toEqual([]);
  });

  test("without a hint of the currency the amount is the same, and no other number is found", () => {
    const wrong: string[] = [];
    for (const { locale, currency, currencyDisplay, text, amount } of printed()) {
      // What a language calls other countries' money is known when a hint names it, or when all names are asked for.
      const isForeign = currencyDisplay !== "code" && !["USD", "EUR", currencyOfLanguage(locale)].includes(currency);
      if (isExcepted(locale, currency, text) !== null || currencyDisplay === "narrowSymbol" || isForeign) continue;
      const read = readMoney(text, { language: locale, names: "own" });
      const digits = read[0]?.amount.replace(/0+$/, "").replace(/\.$/, "");
      const isRight = read.length === 1 && digits === amount.replace(/0+$/, "").replace(/\.$/, "");
      if (!isRight) wrong.push(`${locale} ${JSON.stringify(text)} read as ${read.map((money) => money.amount)}`);
    }
    expect(wrong.slice(0, 20)).toEqual([]);
  });

  test("ranges as it prints them are two amounts", () => {
    for (const locale of ["en-US", "de-DE", "fr-FR", "es-ES", "it-IT", "pl-PL", "nl-NL", "sv-SE", "pt-BR", "ja-JP"]) {
      const currency = currencyOfLanguage(locale) ?? "EUR";
      const format = new Intl.NumberFormat(locale, { style: "currency", currency });
      const text = (format as unknown as { formatRange(low: number, high: number): string }).formatRange(1200, 2400);
      const read = readMoney(text, { language: locale, currency, bare: true });
      expect(
        read.map((money) => Number(money.amount)),
        `${locale} ${text}`,
      ).toEqual([1200, 2400]);
    }
  });
});

describe("ISO 4217 list one", () => {
  /** Listed with no minor unit of its own by the package ("N.A."), or left out of our table on purpose. */
  const notMoney = new Set(["XAU", "XAG", "XPT", "XPD", "XDR", "XTS", "XXX", "XSU", "XUA", "XBA", "XBB", "XBC", "XBD"]);

  test("minor digits agree for every listed currency", () => {
    const differing = currencyCodes.data
      .filter(({ code }) => !notMoney.has(code))
      .filter(({ code, digits }) => digits !== minorDigits(code))
      .map(({ code, digits }) => `${code}: ${digits} listed, ${minorDigits(code)} here`);
    expect(differing).toEqual([]);
  });

  test("every code of money that we believe is listed, or was until lately", () => {
    const listed = new Set(currencyCodes.codes());
    const lately = ["HRK", "SLL", "CUC", "ANG", "BGN", "ZWG", "XCG", "SVC", "SLE", "VES"];
    expect(allCurrencyCodes().filter((code) => !listed.has(code) && !lately.includes(code))).toEqual([]);
  });
});
