/**
 * What matters on a page, in at most three short sentences: the price trap if there is one, else the way to what
 * fits, else that nothing here is confirmed.
 */
import type { Listing, ListPrice } from "../formats/listing.ts";
import type { Hazard, Tier } from "../formats/verdict.ts";
import { compareDecimal } from "../text/decimal.ts";
import type { Words } from "../text/words.ts";
import { headlineKey } from "../ui/naming.ts";
import type { MoneyValue, Sentence } from "../ui/sentences.ts";
import { findPriceTraps, type PriceTrap } from "../verdict/price-trap.ts";
import type { Adviser } from "./adviser.ts";
import type { Judged } from "./judged.ts";

/** What the strip and the popup say. */
export interface Summary<Said = string> {
  /** The tier that sets the sign and its colour. */
  readonly tone: Tier;
  readonly sentences: readonly Said[];
  /** For the folded strip. */
  readonly short: Said;
  readonly device: string;
  readonly tiers: Readonly<Record<Tier, number>>;
  /** Is there one that fits to go to? */
  readonly hasFirst: boolean;
}

/** Whose device a summary is for. */
export type SummaryFor = Pick<Adviser, "deviceName" | "revisionName">;

/** Sums a page up, not yet in words. Listings of related strips are marked but not counted. */
export function summarise(judged: readonly Judged[], whose: SummaryFor): Summary<Sentence> {
  const own = judged.filter(({ found }) => !found.related);
  const tiers = countTiers(own);
  const [trap] = findPriceTraps(own.map(({ found, verdict }) => ({ listing: found.listing, verdict })));
  return {
    tone: trap || (tiers.stop > 0 && tiers.go === 0) ? "stop" : tiers.go > 0 ? "go" : "check",
    sentences: sentencesFor(own, tiers, trap, whose),
    short: { key: "strip_short", values: { go: tiers.go, check: tiers.check, stop: tiers.stop } },
    device: whose.deviceName,
    tiers,
    hasFirst: tiers.go > 0,
  };
}

function countTiers(judged: readonly Judged[]): Record<Tier, number> {
  const tiers: Record<Tier, number> = { go: 0, check: 0, stop: 0, none: 0 };
  for (const { verdict } of judged) tiers[verdict.tier]++;
  return tiers;
}

function sentencesFor(
  own: readonly Judged[],
  tiers: Readonly<Record<Tier, number>>,
  trap: PriceTrap | undefined,
  whose: SummaryFor,
): Sentence[] {
  const [only] = own;
  if (only === undefined) return [{ key: "strip_only_related" }];
  if (own.length === 1) return singleListing(only, whose);
  if (trap) return trapSentences(trap, whose);
  if (tiers.go > 0) return fitting(own, tiers.go);
  const none = { key: "strip_none_confirmed" };
  return tiers.check > 0 ? [none, { key: "strip_ask", values: { count: tiers.check } }] : [none];
}

/** A page about one listing: what its mark would say, and the worst that a wrong part would do. */
function singleListing({ verdict }: Judged, { deviceName }: SummaryFor): Sentence[] {
  const headline = { key: headlineKey(verdict.verdict), values: { device: deviceName } };
  const [worst] = verdict.hazards;
  return worst ? [headline, hazardSentence(worst)] : [headline];
}

function trapSentences(trap: PriceTrap, { revisionName }: SummaryFor): Sentence[] {
  const price = trap.cheapest;
  const revisions = trap.revisions.map(revisionName);
  const wrong: Sentence =
    revisions.length > 0
      ? { key: "strip_trap", values: { count: trap.stops, price, revisions } }
      : { key: "strip_trap_unclear", values: { price } };
  const effect = trap.hazard ? [{ key: effectKey(trap.hazard) }] : [];
  const lot: Sentence[] = trap.lotCount > 1 ? [{ key: "strip_lot", values: { count: trap.lotCount } }] : [];
  if (trap.go === null) return [{ key: "strip_none_confirmed" }, wrong, ...lot, ...effect];
  const right = { key: "strip_trap_right", values: { price: trap.go, difference: trap.difference } };
  return [wrong, ...lot, ...effect, right];
}

/** What the worst of it comes to, in a few words; the contacts and quantities stand in the opened mark. */
function effectKey({ code, effect }: Hazard): string {
  return SHORT_EFFECTS[code] ?? `strip_effect_${effect.replaceAll("-", "_")}`;
}

const SHORT_EFFECTS: Readonly<Record<string, string>> = {
  "pins-reversed": "strip_effect_reversed",
  "polarity-reversed": "strip_effect_reversed",
  "pins-reversed-lithium": "strip_effect_reversed_lithium",
  "pins-mains": "strip_effect_mains",
  "mains-voltage": "strip_effect_mains",
};

function hazardSentence({ code, values }: Hazard): Sentence {
  return { hazard: { code, values } };
}

function fitting(own: readonly Judged[], count: number): Sentence[] {
  const [first] = byTierThenPrice(own.filter(({ verdict }) => verdict.tier === "go"));
  const said = { key: "strip_fits", values: { count } };
  const price = first?.found.listing.price;
  if (price === undefined) return [said];
  if (price.max === undefined)
    return [said, { key: "strip_fits_price", values: { price: money(price.amount, price) } }];
  const values = { least: money(price.amount, price), most: money(price.max, price) };
  return [said, { key: "strip_fits_price_range", values }];
}

function money(amount: string, { currency }: ListPrice): MoneyValue {
  return { amount, currency };
}

const TIER_ORDER: Readonly<Record<Tier, number>> = { go: 0, check: 1, stop: 2, none: 3 };

/** What fits first, then what is to be checked, then what is wrong; within a tier by stated price. */
export function byTierThenPrice<T extends Judged>(judged: readonly T[]): T[] {
  return [...judged].sort(
    (a, b) =>
      TIER_ORDER[a.verdict.tier] - TIER_ORDER[b.verdict.tier] ||
      comparePrices(a.found.listing.price, b.found.listing.price),
  );
}

/** Prices of different currencies are not compared; a listing without a price comes last. */
function comparePrices(a: ListPrice | undefined, b: ListPrice | undefined): number {
  if (a === undefined || b === undefined) return a === b ? 0 : a === undefined ? 1 : -1;
  return a.currency === b.currency ? (compareDecimal(a.amount, b.amount) ?? 0) : 0;
}

/** A listing's price as the language writes it; empty when it states none. */
export function priceText({ price }: Listing, words: Words): string {
  if (price === undefined) return "";
  const least = words.money(price.amount, price.currency);
  return price.max === undefined ? least : `${least} – ${words.money(price.max, price.currency)}`;
}
