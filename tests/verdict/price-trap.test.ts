import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { ListPrice, Money } from "../../src/formats/listing.ts";
import type { Hazard, Tier } from "../../src/formats/verdict.ts";
import { compareDecimal } from "../../src/text/decimal.ts";
import { findPriceTraps, type PricedItem } from "../../src/verdict/price-trap.ts";

const burns: Hazard = { effect: "burns", signal: "WARNING", code: "cells-fewer", values: {}, caution: "lithium" };
const looks: Hazard = { effect: "cosmetic", signal: null, code: "layout-differs", values: {}, caution: null };

interface Options {
  readonly type?: string | null;
  readonly shipping?: Money;
  readonly lot?: number;
  readonly related?: boolean;
  readonly hazards?: readonly Hazard[];
}

/** `"36"` in EUR, `"36 USD"`, `"11-52"` a range, `"11+"` a floor, `""` no price. */
function item(tier: Tier, price: string, options: Options = {}): PricedItem {
  const [, amount = "", max, floor, currency = "EUR"] = /^([\d.]+)(?:-([\d.]+))?(\+)?(?: (\w+))?$/.exec(price) ?? [];
  const listed: ListPrice = {
    amount,
    currency,
    ...(max === undefined ? {} : { max }),
    ...(floor === undefined ? {} : { from: true }),
  };
  return {
    listing: {
      title: "part",
      ...(price === "" ? {} : { price: listed }),
      ...(options.shipping === undefined ? {} : { shipping: options.shipping }),
      ...(options.related === undefined ? {} : { related: options.related }),
    },
    verdict: {
      tier,
      partType: options.type === undefined ? "battery" : options.type,
      revisions: tier === "stop" ? ["early"] : ["late"],
      hazards: options.hazards ?? (tier === "stop" ? [looks, burns] : []),
      ...(options.lot === undefined ? {} : { pieces: options.lot }),
    },
  };
}

const eur = (amount: string): Money => ({ amount, currency: "EUR" });

describe("a price trap", () => {
  it("names both prices, the difference, the revision and the worst effect", () => {
    const traps = findPriceTraps([item("go", "36.00"), item("stop", "19.90"), item("stop", "22"), item("stop", "40")]);
    expect(traps).toEqual([
      {
        partType: "battery",
        cheapest: eur("19.90"),
        item: 1,
        lotCount: 1,
        stops: 2,
        revisions: ["early"],
        hazard: burns,
        certain: true,
        shippingKnown: { stop: false, go: false },
        go: eur("36.00"),
        difference: eur("16.10"),
        goItem: 0,
      },
    ]);
  });

  it("counts shipping where it is known in the same currency", () => {
    const traps = findPriceTraps([
      item("go", "36.00", { shipping: eur("0.00") }),
      item("stop", "34.00", { shipping: eur("4.50") }),
      item("stop", "30.00", { shipping: { amount: "99", currency: "USD" } }),
    ]);
    expect(traps).toMatchObject([{ cheapest: eur("30.00"), stops: 1, shippingKnown: { stop: false, go: true } }]);
  });

  it("takes a lot by the piece, exactly", () => {
    const three = item("go", "10.00", { lot: 3 });
    expect(findPriceTraps([three, item("stop", "3.32")])).toMatchObject([
      { cheapest: eur("3.32"), go: eur("3.33"), difference: eur("0.01") },
    ]);
    expect(findPriceTraps([three, item("stop", "3.33"), item("stop", "6.68", { lot: 2 })])).toEqual([]);
    expect(findPriceTraps([item("go", "10.00"), item("stop", "30.00", { lot: 4 })])).toMatchObject([
      { cheapest: eur("7.50"), lotCount: 4, difference: eur("2.50") },
    ]);
    expect(findPriceTraps([item("go", "10.00"), item("stop", "9.00", { lot: 0 })])).toHaveLength(1);
  });

  it("takes a range or a floor only as from", () => {
    expect(findPriceTraps([item("go", "36.00"), item("stop", "11-52")])).toEqual([]);
    expect(findPriceTraps([item("go", "36.00"), item("stop", "11+")])).toEqual([]);
    expect(findPriceTraps([item("go", "36.00"), item("stop", "11-52")], { includePossible: true })).toMatchObject([
      { certain: false, cheapest: eur("11") },
    ]);
    expect(findPriceTraps([item("go", "36.00"), item("stop", "11-30")])).toMatchObject([{ certain: true }]);
    expect(findPriceTraps([item("go", "36-60"), item("stop", "35")])).toMatchObject([{ certain: true, go: eur("36") }]);
    expect(findPriceTraps([item("go", "36+"), item("stop", "37")])).toEqual([]);
  });

  it("never compares currencies or part types", () => {
    expect(findPriceTraps([item("go", "36"), item("stop", "5 USD")])).toEqual([]);
    expect(findPriceTraps([item("go", "36", { type: "charger" }), item("stop", "5")])).toMatchObject([
      { go: null, partType: "battery" },
    ]);
    expect(findPriceTraps([item("stop", "5", { type: null })])).toEqual([]);
  });

  it("says that nothing is confirmed where the cheapest is wrong", () => {
    expect(findPriceTraps([item("stop", "12"), item("check", "20"), item("none", "1")])).toMatchObject([
      { go: null, difference: null, goItem: null, cheapest: eur("12"), certain: true },
    ]);
    expect(findPriceTraps([item("stop", "12"), item("check", "9")])).toEqual([]);
    expect(findPriceTraps([item("stop", "12-30"), item("check", "20")])).toEqual([]);
    expect(findPriceTraps([item("stop", "12"), item("go", "")])).toEqual([]);
  });

  it("leaves out what has no price, is dearer or only suggested", () => {
    expect(findPriceTraps([])).toEqual([]);
    expect(findPriceTraps([item("go", "36"), item("stop", "")])).toEqual([]);
    expect(findPriceTraps([item("go", "36"), item("stop", "36.00")])).toEqual([]);
    expect(findPriceTraps([item("go", "36"), item("stop", "5", { related: true })])).toEqual([]);
  });

  it("puts the worst one first", () => {
    const traps = findPriceTraps([
      item("go", "9", { type: "keyboard" }),
      item("stop", "1", { type: "keyboard", hazards: [looks] }),
      item("go", "9", { type: "fan" }),
      item("stop", "1", { type: "fan", hazards: [] }),
      item("go", "9"),
      item("stop", "1"),
    ]);
    expect(traps.map(({ partType }) => partType)).toEqual(["battery", "keyboard", "fan"]);
  });

  it("is always cheaper than the right one, whatever the page", () => {
    const amount = fc
      .integer({ min: 0, max: 9999 })
      .map((cents) => `${Math.floor(cents / 100)}.${String(cents % 100).padStart(2, "0")}`);
    const items = fc.array(
      fc.tuple(
        fc.constantFrom<Tier>("go", "check", "stop", "none"),
        amount,
        fc.constantFrom("", "-99.99", "+", " USD"),
      ),
      { maxLength: 12 },
    );
    fc.assert(
      fc.property(items, (each) => {
        for (const trap of findPriceTraps(each.map(([tier, price, more]) => item(tier, price + more)))) {
          if (trap.go === null) continue;
          expect(compareDecimal(trap.cheapest.amount, trap.go.amount)).toBe(-1);
          expect(trap.cheapest.currency).toBe(trap.go.currency);
        }
      }),
    );
  });
});
