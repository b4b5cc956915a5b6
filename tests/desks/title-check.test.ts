import rules from "falsefit:rules";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { buildIndex } from "../../src/catalog/index.ts";
import { openTitleDesk, type TitleReading } from "../../src/desks/title-check.ts";
import { faultCodes } from "../../src/desks/title-faults.ts";
import type { Listing } from "../../src/formats/listing.ts";
import { languages, loadWords } from "../../src/headless/say.ts";
import { catalogFile } from "./catalogs.ts";

const words = await loadWords("en");
const desk = openTitleDesk(buildIndex([catalogFile("rules/catalogs/demo.catalog.json")]), rules, words);

function check(title: string, part?: string, more: Partial<Listing> = {}): TitleReading {
  return desk.check({ title, ...more }, part);
}
const codes = ({ faults }: TitleReading): string[] => faults.map(({ code }) => code);
const outcomes = ({ buyers }: TitleReading): Record<string, string> =>
  Object.fromEntries(buyers.map(({ family, revision, outcome }) => [`${family}/${revision}`, outcome]));

describe("how buyers read a title", () => {
  it("a good title tells each the truth and has no fault", () => {
    const reading = check("PB-1840 battery for PL-20, board PW-4410-2");
    expect(reading.part).toBe("pb-18");
    expect(outcomes(reading)).toEqual({ "lark-20/early": "told-yes", "lark-20/late": "told-no" });
    expect(reading.summary).toMatchObject({ "told-yes": 1, "told-no": 1, misled: 0, "left-guessing": 0 });
    expect(codes(reading)).toEqual([]);
  });

  it("a title with the model alone leaves all of them guessing", () => {
    const reading = check("Battery for Lark 20 PL-20");
    expect(reading.part).toBeNull();
    expect(outcomes(reading)).toEqual({ "lark-20/early": "left-guessing", "lark-20/late": "left-guessing" });
    expect(codes(reading)).toContain("model-only");
  });

  it("finds the family by its name alone", () => {
    expect(Object.keys(outcomes(check("Battery for your Lark 20 handheld")))).toEqual([
      "lark-20/early",
      "lark-20/late",
    ]);
  });

  it("knows what a mistaken buyer's device would suffer", () => {
    const late = check("PB-1840 battery").buyers.find(({ revision }) => revision === "late");
    expect(late).toMatchObject({ right: false, outcome: "told-no", effect: "burns" });
  });

  it("a text that touches nothing has no buyers", () => {
    expect(check("Garden chair, green")).toMatchObject({ part: null, buyers: [], faults: [] });
  });
});

describe("faults", () => {
  it.each([
    ["number-missing", "Battery for PL-20", "pb-18", {}],
    ["fits-all", "PB-1840 battery fits all PL-20 models", "pb-18", {}],
    ["mixed-years", "PB-1840 battery PL-20 2021", "pb-18", {}],
    ["near-number", "PB-1841 battery for PL-20", "pb-18", {}],
    ["other-number", "PB-2240 battery for PL-20", "pb-18", {}],
    ["several-parts", "PB-1840 PB-2240 battery for PL-20", undefined, {}],
    ["hurried-negation", "PB-1840 battery, not PB-2240", "pb-18", {}],
    ["unknown-number", "Battery ZX-99417 for PL-20", undefined, {}],
    ["hedged", "PB-1840 battery, may fit PL-20", "pb-18", {}],
    ["number-not-in-title", "Battery for PL-20", "pb-18", { specifics: { MPN: "PB-1840" } }],
    ["revision-not-said", "PB-1840 battery for PL-20", "pb-18", {}],
    ["quantity-contradicts", "PB-1840 battery for PL-20 7.4 V", "pb-18", {}],
  ])("%s: %s", (code, title, part, more) => {
    expect(codes(check(title, part, more))).toContain(code);
  });

  it("come the most harmful first", () => {
    const reading = check("Battery for PL-20, fits all, 2021", "pb-18");
    expect(codes(reading)).toEqual(
      ["fits-all", "mixed-years", "number-missing"]
        .filter((code) => codes(reading).includes(code))
        .concat(codes(reading).slice(3)),
    );
    expect(reading.faults[0]?.effect).toBe("burns");
  });

  it.each(languages)("have a sentence and a remedy in %s", async (language) => {
    const say = await loadWords(language);
    for (const code of faultCodes) {
      for (const kind of ["fault", "fix"])
        expect(say.has(`title_${kind}_${code.replaceAll("-", "_")}`), code).toBe(true);
    }
  });

  it("never throws on any text", () => {
    const piece = fc.oneof(
      fc.constantFrom(
        "PB-1840",
        "PB-2240",
        "PL-20",
        "not for",
        "fits all",
        "2021",
        "battery",
        "7.4 V",
        "(",
        "\u202e",
        "or",
      ),
      fc.string({ maxLength: 8 }),
    );
    fc.assert(
      fc.property(
        fc.array(piece, { maxLength: 12 }),
        fc.option(fc.constantFrom("pb-18", "pb-22", "none"), { nil: undefined }),
        (pieces, part) => {
          const { buyers, summary } = check(pieces.join(" "), part);
          expect(Object.values(summary).reduce((sum, count) => sum + count, 0)).toBe(buyers.length);
        },
      ),
      { numRuns: 200 },
    );
  });
});
