/**
 * What matters on a page, in at most three short sentences: the price trap if there is one, else the way to what
 * fits, else that nothing here is confirmed.
 */
import type { Listing, ListPrice } from "../formats/listing.ts";
import type { Tier } from "../formats/verdict.ts";
import { compareDecimal } from "../text/decimal.ts";
import type { Words } from "../text/words.ts";
import { hazardText } from "../verdict/hazard-words.ts";
import { findPriceTraps, type PriceTrap } from "../verdict/price-trap.ts";
import type { Engine } from "./engine.ts";
import type { Judged } from "./judged.ts";

/** What the strip and the popup say. */
export interface Summary {
  /** The tier that sets the sign and its colour. */
  readonly tone: Tier;
  readonly sentences: readonly string[];
  /** For the folded strip. */
  readonly short: string;
  readonly device: string;
  readonly tiers: Readonly<Record<Tier, number>>;
  /** Is there one that fits to go to? */
  readonly hasFirst: boolean;
}

/** Sums a page up. Listings of related strips are marked but not counted. */
export function summarise(judged: readonly Judged[], engine: Engine): Summary {
  const own = judged.filter(({ found }) => !found.related);
  const tiers = countTiers(own);
  const [trap] = findPriceTraps(own.map(({ found, verdict }) => ({ listing: found.listing, verdict })));
  return {
    tone: trap || (tiers.stop > 0 && tiers.go === 0) ? "stop" : tiers.go > 0 ? "go" : "check",
    sentences: sentencesFor(own, tiers, trap, engine),
    short: engine.words.say("strip_short", { go: tiers.go, check: tiers.check, stop: tiers.stop }),
    device: engine.deviceName,
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
  engine: Engine,
): string[] {
  const { words } = engine;
  const [only] = own;
  if (only === undefined) return [words.say("strip_only_related")];
  if (own.length === 1) return singleListing(only, engine);
  if (trap) return trapSentences(trap, engine);
  if (tiers.go > 0) return fitting(own, tiers.go, words);
  const none = words.say("strip_none_confirmed");
  return tiers.check > 0 ? [none, words.say("strip_ask", { count: tiers.check })] : [none];
}

/** A page about one listing: what its mark would say, and the worst that a wrong part would do. */
function singleListing({ found, verdict }: Judged, engine: Engine): string[] {
  const { headline } = engine.explain(found.listing, verdict);
  const [worst] = verdict.hazards;
  return worst ? [headline, hazardText(worst, engine.words)] : [headline];
}

function trapSentences(trap: PriceTrap, { words, revisionName }: Engine): string[] {
  const price = words.money(trap.cheapest.amount, trap.cheapest.currency);
  const revisions = trap.revisions.map(revisionName);
  const wrong =
    revisions.length > 0
      ? words.say("strip_trap", { count: trap.stops, price, revisions })
      : words.say("strip_trap_unclear", { price });
  const effect = trap.hazard ? [hazardText(trap.hazard, words)] : [];
  if (trap.go === null) return [words.say("strip_none_confirmed"), wrong, ...effect];
  const right = words.say("strip_trap_right", {
    price: words.money(trap.go.amount, trap.go.currency),
    difference: words.money(trap.difference.amount, trap.difference.currency),
  });
  return [wrong, ...effect, right];
}

function fitting(own: readonly Judged[], count: number, words: Words): string[] {
  const [first] = byTierThenPrice(own.filter(({ verdict }) => verdict.tier === "go"));
  const price = first ? priceText(first.found.listing, words) : "";
  const said = words.say("strip_fits", { count });
  return price === "" ? [said] : [said, words.say("strip_fits_price", { price })];
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
