import rules from "falsefit:rules";
import { describe, expect, it } from "vitest";
import { isOtherNumber, prepareOtherNumberRules, readsAsDay } from "../../src/text/other-numbers.ts";
import { tokenise } from "../../src/text/tokens.ts";

const prepared = prepareOtherNumberRules(rules.numberFormats);

/** The digits are the last tokens that hold only digits. */
function isOther(text: string): boolean {
  const tokens = tokenise(text);
  let last = tokens.length;
  while (last > 0 && tokens[last - 1]?.kind !== "digits") last--;
  let first = last;
  while (first > 0 && tokens[first - 1]?.kind === "digits") first--;
  return isOtherNumber(text, tokens, first, last, prepared);
}

describe("digits that are something else", () => {
  it.each([
    "Tel. 604582",
    "phone: 604582",
    "call me on 604582",
    "Telefon 030 604582",
    "tél. 01 604582",
    "Rechnung Nr. 604582",
    "lotto n. 604582",
    "partia nr 604582",
    "PLZ 60458",
    "código postal 60458",
    "€ 604582",
    "604582 EUR",
    "604.582 Bewertungen",
    "604 582 ventes",
    "604,582 sold",
    "604582 godzin",
  ])("%s", (text) => expect(isOther(text)).toBe(true));

  it.each([
    "part 604582",
    "battery 604582 sold",
    "Akku 604582, Tel. auf Anfrage",
    "call us. Part number 604582",
    "604582 for Lark 20",
    "ref. 604582",
  ])("but not: %s", (text) => expect(isOther(text)).toBe(false));

  it("may read as a day", () => {
    for (const day of ["20210412", "12042021", "04122021", "20240229"]) expect(readsAsDay(day)).toBe(true);
    for (const none of ["20211304", "20210230", "40718832", "2021041", "19700412"])
      expect(readsAsDay(none)).toBe(false);
  });
});
