import rules from "falsefit:rules";
import { describe, expect, it } from "vitest";
import { prepareDateRules, readDateClaims } from "../../src/text/date-claims.ts";
import { calendarDate } from "../../src/text/dates.ts";
import { foldVisible } from "../../src/text/fold.ts";

const prepared = prepareDateRules(rules.numberFormats);

function day(number: number | null): string {
  if (number === null) return "…";
  const { year, month, day: of } = calendarDate(number);
  return `${year}-${String(month).padStart(2, "0")}-${String(of).padStart(2, "0")}`;
}

/** "from/to" of every date; a trailing "?" where it is not the device's. */
function read(original: string): string {
  return readDateClaims(foldVisible(original).text, prepared)
    .map(({ interval, ofDevice }) => `${day(interval.from)}/${day(interval.to)}${ofDevice ? "" : "?"}`)
    .join(" ");
}

describe("dates in listings", () => {
  it.each([
    ["battery 2021", "2021-01-01/2021-12-31"],
    ["2019-2021", "2019-01-01/2021-12-31"],
    ["2019 – 2021", "2019-01-01/2021-12-31"],
    ["2019 to 2021", "2019-01-01/2021-12-31"],
    ["von 2019 bis 2021", "2019-01-01/2021-12-31"],
    ["de 2019 à 2021", "2019-01-01/2021-12-31"],
    ["dal 2019 al 2021", "2019-01-01/2021-12-31"],
    ["od 2019 do 2021 roku", "2019-01-01/2021-12-31"],
    ["desde 2019 hasta 2021", "2019-01-01/2021-12-31"],
    ["2019-21", "2019-01-01/2021-12-31"],
    ["2010-12", "2010-01-01/2012-12-31"],
    ["Bj. 19/20", "2019-01-01/2020-12-31"],
    ["model year 21", "2021-01-01/2021-12-31"],
    ["'21 model", "2021-01-01/2021-12-31"],
    ["2019, 2020, 2021", "2019-01-01/2019-12-31 2020-01-01/2020-12-31 2021-01-01/2021-12-31"],
    ["2019/2020", "2019-01-01/2019-12-31 2020-01-01/2020-12-31"],
    ["from 2021", "2021-01-01/…"],
    ["ab Bj. 2021", "2021-01-01/…"],
    ["à partir de 2021", "2021-01-01/…"],
    ["od 2021 r.", "2021-01-01/…"],
    ["2021+", "2021-01-01/…"],
    ["2021 and later", "2021-01-01/…"],
    ["2021 en adelante", "2021-01-01/…"],
    ["until 2020", "…/2020-12-31"],
    ["bis 2020", "…/2020-12-31"],
    ["2020 et avant", "…/2020-12-31"],
    ["before 2021", "…/2020-12-31"],
    ["przed 2021", "…/2020-12-31"],
    ["after 2021", "2022-01-01/…"],
    ["mid 2021", "2021-04-01/2021-09-30"],
    ["ab Mitte 2021", "2021-04-01/…"],
    ["mediados de 2021", "2021-04-01/2021-09-30"],
    ["début 2021", "2021-01-01/2021-05-31"],
    ["until week 14/2021", "…/2021-04-11"],
    ["ab KW 14/2021", "2021-04-05/…"],
    ["KW14/21", "2021-04-05/2021-04-11"],
    ["2021-W14", "2021-04-05/2021-04-11"],
    ["2021W14", "2021-04-05/2021-04-11"],
    ["week 14 of 2021", "2021-04-05/2021-04-11"],
    ["2021 semaine 14", "2021-04-05/2021-04-11"],
    ["week 5 2020 to week 14 2021", "2020-01-27/2021-04-11"],
    ["built 05/2021", "2021-05-01/2021-05-31"],
    ["17.05.2021", "2021-05-17/2021-05-17"],
    ["2021-05-17", "2021-05-17/2021-05-17"],
    ["May 2021, März 2020, 2021 maggio", "2021-05-01/2021-05-31 2020-03-01/2020-03-31 2021-05-01/2021-05-31"],
    ["2021, March 2020", "2021-01-01/2021-12-31 2020-03-01/2020-03-31"],
    ["January 2019 - May 2021", "2019-01-01/2021-05-31"],
    ["fresh cells 2024", "2024-01-01/2024-12-31?"],
    ["2024 new stock, for 2021", "2024-01-01/2024-12-31? 2021-01-01/2021-12-31"],
    ["Gale 7 mit 7 Zellen (ab 2021)", "2021-01-01/…"],
    ["warranty until 2026", "…/2026-12-31?"],
    ["IEC 62133:2012", "2012-01-01/2012-12-31?"],
    ["CR 2032", "2032-01-01/2032-12-31?"],
  ])("%s", (text, expected) => {
    expect(read(text)).toBe(expected);
  });

  it.each(["PB-2021", "2021-PB", "x2021", "CR2032", "19/20", "2153", "20210", "W14", "1840", ""])(
    "reads no date in %j",
    (text) => {
      expect(read(text)).toBe("");
    },
  );

  it("leaves out what is something else", () => {
    expect(readDateClaims("2021 mAh for 2020", prepared, [[0, 8]])).toHaveLength(1);
  });

  it("marks the words that belong to a date and how fine it is", () => {
    const text = "Akku ab Bj. 2021, KW 14/2020, 2019";
    expect(
      readDateClaims(text, prepared).map(({ span, grain, marked }) => [text.slice(...span), grain, marked]),
    ).toEqual([
      ["ab Bj. 2021", "year", true],
      ["KW 14/2020", "week", true],
      ["2019", "year", false],
    ]);
  });
});
