import { describe, expect, it } from "vitest";
import type { Listing } from "../../src/formats/listing.ts";
import type { Tier, Verdict, VerdictWord } from "../../src/formats/verdict.ts";
import type { Judged } from "../../src/overlay/judged.ts";
import { settleable } from "../../src/overlay/settleable.ts";
import { isDimmed } from "../../src/overlay/strip.ts";
import { byTierThenPrice, priceText, type Summary, type SummaryFor, summarise } from "../../src/overlay/summary.ts";
import { sayAll } from "../../src/ui/sentences.ts";
import { wordsOf } from "../ui/words.ts";

const WORDS: Record<Tier, VerdictWord> = { go: "fits", check: "ambiguous", stop: "other-revision", none: "unrelated" };

function judged(tier: Tier, amount: string | null, more: { related?: boolean; revisions?: string[] } = {}): Judged {
  const verdict: Verdict = {
    device: "mine",
    partType: "battery",
    verdict: WORDS[tier],
    tier,
    parts: [],
    revisions: more.revisions ?? [],
    hazards: [],
    reasons: [],
  };
  const listing: Listing = { title: `${tier} ${amount}`, ...(amount ? { price: { amount, currency: "USD" } } : {}) };
  const found = { listing, related: more.related ?? false } as Judged["found"];
  return { found, verdict };
}

const whose: SummaryFor = { deviceName: "Mine", revisionName: (id) => `${id} board` };

/** The summary in words. */
function summed(page: readonly Judged[], language = "en"): Summary {
  const { sentences, short, ...rest } = summarise(page, whose);
  const [saidShort = "", ...said] = sayAll([short, ...sentences], wordsOf(language));
  return { ...rest, short: saidShort, sentences: said };
}

describe("the page's one sentence", () => {
  it("names both prices, the difference and the revision when the cheap ones are wrong", () => {
    const summary = summed([
      judged("stop", "36.00", { revisions: ["early"] }),
      judged("stop", "38.00"),
      judged("go", "54.00"),
      judged("check", null),
    ]);
    expect(summary.sentences).toEqual([
      "2 cheaper ones are wrong for yours. The cheapest, $36.00, is for the early board.",
      "The first that fits costs $54.00: $18.00 more.",
    ]);
    expect([summary.tone, summary.hasFirst, summary.short]).toEqual(["stop", true, "1 fit · 1 to check · 2 wrong"]);
  });

  it("says so when the cheap one contradicts itself", () => {
    const { sentences } = summed([judged("stop", "36.00"), judged("go", "54.00")]);
    expect(sentences[0]).toBe("The cheapest, $36.00, contradicts itself.");
  });

  it("says that nothing is confirmed, and what to ask", () => {
    const trap = summed([judged("stop", "36.00", { revisions: ["early"] }), judged("check", "40.00")]);
    expect(trap.sentences).toEqual([
      "Nothing here is confirmed for yours.",
      "The cheapest, $36.00, is for the early board.",
    ]);
    const open = summed([judged("check", "36.00"), judged("check", "40.00")]);
    expect(open.sentences[1]).toBe("2 could be right: ask which number is on the part.");
    expect([open.tone, open.hasFirst]).toEqual(["check", false]);
  });

  it("names what fits when nothing is wrong with the cheap ones", () => {
    const { sentences, tone } = summed([judged("go", "54.00"), judged("go", "50.00"), judged("stop", "90.00")]);
    expect(sentences).toEqual(["2 listings name a part that fits yours.", "The cheapest of them costs $50.00."]);
    expect(tone).toBe("go");
  });

  it("gives a price range as a range", () => {
    const choice = judged("go", "54.00");
    const found = { ...choice.found, listing: { title: "", price: { amount: "5.00", max: "9.00", currency: "USD" } } };
    expect(summed([{ ...choice, found }, judged("check", null)]).sentences[1]).toBe(
      "The cheapest of them costs $5.00 to $9.00.",
    );
  });

  it("is the listing's own on a page about one, and does not count suggestions", () => {
    const one = summed([judged("stop", "36.00"), judged("go", "20.00", { related: true })]);
    expect(one.sentences).toEqual(["It is for another revision than Mine."]);
    expect(one.tiers).toEqual({ go: 0, check: 0, stop: 1, none: 0 });
    expect(summed([judged("go", "20.00", { related: true })]).sentences).toEqual([
      "Only suggested listings here concern yours.",
    ]);
  });

  it.each(["de", "fr", "es", "it", "pl"])("is whole in %s", (language) => {
    for (const page of [
      [judged("stop", "36.00", { revisions: ["early"] }), judged("go", "54.00")],
      [judged("check", "36.00"), judged("check", "40.00")],
      [judged("go", "54.00"), judged("go", "50.00")],
    ]) {
      const { sentences, short } = summed(page, language);
      for (const sentence of [...sentences, short]) expect(sentence).not.toMatch(/[[\]{}]/);
    }
  });
});

describe("the list by tier", () => {
  it("puts what fits first, then by price, then what has no price", () => {
    const order = byTierThenPrice([
      judged("stop", "1.00"),
      judged("go", null),
      judged("go", "100.00"),
      judged("check", "5.00"),
      judged("go", "9.50"),
    ]).map(({ found }) => found.listing.title);
    expect(order).toEqual(["go 9.50", "go 100.00", "go null", "check 5.00", "stop 1.00"]);
  });

  it("writes prices as the language does, ranges too", () => {
    const words = wordsOf("de");
    expect(priceText({ title: "", price: { amount: "36.00", currency: "EUR" } }, words)).toBe("36,00\u00a0€");
    expect(priceText({ title: "", price: { amount: "36.00", max: "52.00", currency: "EUR" } }, words)).toBe(
      "36,00\u00a0€ – 52,00\u00a0€",
    );
    expect(priceText({ title: "" }, words)).toBe("");
  });
});

describe("dimming", () => {
  it("takes in what is asked for and never what fits", () => {
    const tiers = ["go", "check", "stop"] as const;
    expect(tiers.map((tier) => isDimmed(tier, "nothing"))).toEqual([false, false, false]);
    expect(tiers.map((tier) => isDimmed(tier, "stop"))).toEqual([false, false, true]);
    expect(tiers.map((tier) => isDimmed(tier, "all-but-go"))).toEqual([false, true, true]);
  });
});

describe("settling by hand", () => {
  it("is offered for a number that nothing knows, and for no other verdict", () => {
    const base = judged("check", null).verdict;
    const reasons = [{ code: "unknown", values: { number: "QW-7711" }, spans: [] }];
    expect(settleable({ ...base, verdict: "unknown-part", reasons })).toBe("QW-7711");
    expect(settleable({ ...base, verdict: "unknown-part", reasons: [] })).toBeNull();
    expect(settleable({ ...base, reasons })).toBeNull();
  });
});
