import fc from "fast-check";
import { describe, expect, test, vi } from "vitest";
import { MAX_MONEY_TEXT, type MoneyOptions, readMoney } from "../../src/text/money.ts";
import { namesOfCurrencies, offerNames } from "../../src/text/money-names.ts";

const short = (text: string, options: MoneyOptions = {}) =>
  readMoney(text, options).map((money) => `${money.amount} ${money.currency ?? "-"}`);

describe("separators", () => {
  test.each([
    ["$1,234.50", "1234.50 USD"],
    ["1.234,50 €", "1234.50 EUR"],
    ["1 234,50 zł", "1234.50 PLN"],
    ["1\u202f234,50\u00a0€", "1234.50 EUR"],
    ["CHF 1'234.50", "1234.50 CHF"],
    ["CHF 1’234.50", "1234.50 CHF"],
    ["₹12,34,567.89", "1234567.89 INR"],
    ["¥1,980", "1980 JPY"],
    ["１，９８０円", "1980 JPY"],
    ["R$ 1.234,50", "1234.50 BRL"],
    ["١٬٢٣٤٫٥٠ ر.س.", "1234.50 SAR"],
    ["$0.4200", "0.42 USD"],
    ["$0.4215", "0.4215 USD"],
    ["1234567 Ft", "1234567.00 HUF"],
  ])("%s", (text, expected) => expect(short(text)).toEqual([expected]));

  test("three digits after one point are grouping where the currency has two decimals, whatever the language", () => {
    expect(short("1.234 €", { language: "en" })).toEqual(["1234.00 EUR"]);
    expect(short("1,234 €", { language: "de" })).toEqual(["1234.00 EUR"]);
  });

  test("with a currency of three decimals the language decides, and without one it is said to be ambiguous", () => {
    const [english] = readMoney("1.234 KWD", { language: "en" });
    const [german] = readMoney("1.234 KWD", { language: "de" });
    const [unknown] = readMoney("1.234 KWD");
    expect(english).toMatchObject({ amount: "1.234", ambiguous: false });
    expect(german).toMatchObject({ amount: "1234.000", ambiguous: false });
    expect(unknown).toMatchObject({ ambiguous: true });
  });

  test.each(["12.05.2024 €", "1.23.456 €", "192.168.0.1 €"])("%s is no amount", (text) =>
    expect(short(text)).toEqual([]),
  );
});

describe("where the currency stands", () => {
  test.each<[string, MoneyOptions, string[]]>([
    ["$10 $20", {}, ["10.00 USD", "20.00 USD"]],
    ["10 € 20 €", {}, ["10.00 EUR", "20.00 EUR"]],
    ["$40.00$36.00", {}, ["40.00 USD", "36.00 USD"]],
    ["CHF 265.00 CHF 212.00", {}, ["265.00 CHF", "212.00 CHF"]],
    ["19€90", {}, ["19.90 EUR"]],
    ["1 234$50", { language: "pt-CV" }, ["1234.50 CVE"]],
    ["US $19.90", {}, ["19.90 USD"]],
    ["C $19.90", {}, ["19.90 CAD"]],
    ["$19.90 CAD", {}, ["19.90 CAD"]],
    ["$19.90", { language: "en-AU" }, ["19.90 AUD"]],
    ["$19.90", { currency: "MXN" }, ["19.90 MXN"]],
    ["249 kr", { language: "nb" }, ["249.00 NOK"]],
    ["249 kr", { language: "sv" }, ["249.00 SEK"]],
    ["249,-", { language: "da" }, ["249.00 DKK"]],
    ["1 299:-", { language: "sv" }, ["1299.00 SEK"]],
    ["CHF 49.–", {}, ["49.00 CHF"]],
    ["价格36元", { language: "zh" }, ["36.00 CNY"]],
    ["36 Euro", {}, ["36.00 EUR"]],
    ["R 100", {}, []],
    ["R 100", { language: "en-ZA" }, ["100.00 ZAR"]],
  ])("%s %o", (text, options, expected) => expect(short(text, options)).toEqual(expected));

  test("numbers of things are no money", () => {
    for (const text of [
      "PB-1840",
      "PB-1840 €",
      "20 %",
      "TOP 10",
      "3.7 V",
      "5 A",
      "2 h",
      "ALL 20",
      "A36 €",
      "Model R2",
    ]) {
      expect(short(text), text).toEqual([]);
    }
  });

  test("a date or a time before an amount does not run into it", () => {
    expect(short("2025-03-12 711,50 kr", { language: "sv" })).toEqual(["711.50 SEK"]);
    expect(short("10:30 711 kr", { language: "sv" })).toEqual(["711.00 SEK"]);
  });

  test("a minus makes it a reduction, a dash between two amounts does not", () => {
    expect(readMoney("-5 €")[0]?.negative).toBe(true);
    expect(readMoney("(−$5.00)")[0]?.negative).toBe(true);
    expect(readMoney("$19.90 – $24.50").map((money) => money.negative)).toEqual([false, false]);
    expect(readMoney("$19-$24").map((money) => money.negative)).toEqual([false, false]);
  });
});

describe("whatever the text", () => {
  const alphabet = fc.constantFrom(..."0123456789.,' -$€£kr zł\u00a0\u202f٫٬٣円%()");
  const text = fc.oneof(fc.string({ unit: "binary" }), fc.string({ unit: alphabet }));

  test("never throws; spans are ordered, inside the text and do not overlap; amounts are decimal text", () => {
    fc.assert(
      fc.property(
        text,
        fc.constantFrom("en", "de", "ar", "xx", "", "not a tag", "constructor", "__proto__"),
        (input, language) => {
          let end = 0;
          for (const money of readMoney(input, { language, bare: true })) {
            expect(money.start).toBeGreaterThanOrEqual(end);
            expect(money.end).toBeGreaterThan(money.start);
            expect(money.end).toBeLessThanOrEqual(input.length);
            expect(money.amount).toMatch(/^\d{1,15}(\.\d{1,4})?$/);
            end = money.end;
          }
        },
      ),
      { numRuns: 3_000 },
    );
  });

  test("is linear in the length, and stops at a named length", () => {
    const digits = "1.234,".repeat(100_000);
    const spaces = `$${" ".repeat(200_000)}1`;
    const started = performance.now();
    readMoney(digits, { bare: true });
    readMoney(spaces, { bare: true });
    readMoney("1 ".repeat(100_000), { language: "fr", bare: true });
    expect(performance.now() - started).toBeLessThan(500);
    expect(readMoney(`${"x".repeat(MAX_MONEY_TEXT)}$5`)).toEqual([]);
  });
});

describe("names that were asked for elsewhere", () => {
  test.each(["en-GB", "de", "fr-CH", "pl", "sv", "ja", "sr-Latn", "not a tag"])(
    "change no reading (%s)",
    (language) => {
      const offered = offerNames(language, ["USD", "EUR", "GBP", "PLN", "CHF"]);
      const texts = ["36,00 euro", "12 dolarów", "3 dollars 50", "5 francs", "10 kronor", "7 zlotych", "PB-1840 9 V"];
      for (const text of texts) {
        const with_ = readMoney(text, { language, currency: "CHF", names: "own", bare: true, offered });
        expect(with_).toEqual(readMoney(text, { language, currency: "CHF", names: "own", bare: true }));
      }
    },
  );

  test("are those that the platform gives, so that nothing has to be asked in the page", () => {
    const offered = offerNames("pl", ["EUR", "PLN"]);
    expect(Object.keys(offered.byCode)).toEqual(["EUR", "PLN"]);
    const asked = vi.spyOn(Intl, "NumberFormat");
    const names = namesOfCurrencies("pl", ["PLN", "EUR"], offered);
    expect(asked).not.toHaveBeenCalled();
    asked.mockRestore();
    expect(names.byName.get("euro")).toEqual(["EUR"]);
    expect(names.longest).toBeGreaterThan(4);
  });

  test("serve their own language only", () => {
    expect(namesOfCurrencies("de", ["PLN"], { language: "pl", byCode: { PLN: ["zzz"] } }).byName.has("zzz")).toBe(
      false,
    );
  });
});
