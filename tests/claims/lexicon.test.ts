import rules from "falsefit:rules";
import { describe, expect, it } from "vitest";
import { compileLexicon } from "../../src/claims/lexicon.ts";
import { wordingRuleSchema } from "../../src/formats/wording-rule.ts";
import { plainWord } from "../../src/text/plain-word.ts";

const entry = (phrase: string, kind = "k", language = "en") => ({ phrase, kind, language });

describe("phrases", () => {
  it("are read longest first", () => {
    const lexicon = compileLexicon([entry("not", "not"), entry("not only", "affirm")]);
    expect(lexicon.find(["not", "only", "for"], 0)).toMatchObject({ length: 2, meanings: [{ kind: "affirm" }] });
    expect(lexicon.find(["not", "for"], 0)).toMatchObject({ length: 1, meanings: [{ kind: "not" }] });
    expect(lexicon.find(["for"], 0)).toBeNull();
  });

  it("take alternatives, what may be missing, and any ending or beginning", () => {
    const lexicon = compileLexicon([entry("fit|fits (well) in|into"), entry("kompatib* mit"), entry("*kabel")]);
    for (const words of [["fit", "in"], ["fits", "well", "into"], ["kompatible", "mit"], ["akkukabel"], ["kabel"]]) {
      expect(lexicon.find(words, 0)?.length).toBe(words.length);
    }
    expect(lexicon.find(["fits"], 0)).toBeNull();
  });

  it("do not depend on case and accents, and German umlauts may be spelt out", () => {
    const lexicon = compileLexicon([entry("für", "for", "de")]);
    for (const word of ["FÜR", "fur", "fuer"]) expect(lexicon.find([plainWord(word)], 0)).not.toBeNull();
  });

  it("let an ending outweigh a beginning, and a word both", () => {
    const lexicon = compileLexicon([
      entry("akku*", "type:battery"),
      entry("*deckel", "accessory"),
      entry("akkusauger", "device"),
    ]);
    expect(lexicon.find(["akkudeckel"], 0)?.meanings.map(({ kind }) => kind)).toEqual(["accessory"]);
    expect(lexicon.find(["akkusauger"], 0)?.meanings.map(({ kind }) => kind)).toEqual(["device"]);
    expect(lexicon.find(["akkus"], 0)?.meanings.map(({ kind }) => kind)).toEqual(["type:battery"]);
  });

  it("end where they are told to", () => {
    const lexicon = compileLexicon([entry("not for")]);
    expect(lexicon.find(["not", "for"], 0, 1)).toBeNull();
  });

  it("that stand for too much are refused", () => {
    expect(() => compileLexicon([entry("a|b|c|d|e|f a|b|c|d|e|f a|b|c|d|e|f a|b|c|d|e|f")])).toThrow(RangeError);
  });
});

describe("the wording files", () => {
  it.each(rules.wording.map((rule) => [rule.language, rule] as const))("%s agrees with its schema", (_, rule) => {
    expect(wordingRuleSchema.safeParse(rule).error).toBeUndefined();
    expect(rule.phrases.for?.length).toBeGreaterThan(10);
  });
});
