/**
 * The price trap (design section 4): listings of tier *stop* that are cheaper than the cheapest *go*.
 *
 * Compared are listings of one part type in one currency, with shipping where it is stated in that currency, by the
 * piece where a listing sells a lot. All arithmetic is exact. Decisions:
 * - A range or a floor ("from 11.00", "11.00 – 52.00") counts as cheaper only where even its upper end is; a low end below
 *   the right price only *may be* a trap and is left out unless asked for.
 * - For the right part the lower end counts: what is cheaper than that is cheaper than every variant of it.
 * - Without a *go* of that part type on the page, in any currency, a wrong part that is the cheapest of all is the trap.
 * - A *go* that states no price, or one in another currency only, leaves nothing to compare: no trap.
 * - Suggested listings (`related`) are left out.
 */
import type { Listing, Money } from "../formats/listing.ts";
import type { Hazard, Verdict } from "../formats/verdict.ts";
import { addDecimal, compareQuotients, divideDecimal, subtractDecimal } from "../text/decimal.ts";
import { harmRank, worstFirst } from "./hazards.ts";

/** A judged listing. */
export interface PricedItem {
  readonly listing: Listing;
  /** `pieces` is what the price is for: one, where left out. */
  readonly verdict: Pick<Verdict, "tier" | "partType" | "revisions" | "hazards" | "pieces">;
}

interface TrapBase {
  readonly partType: string;
  /** What the cheapest wrong one costs, shipping included where known, by the piece. */
  readonly cheapest: Money;
  /** Its place among the items. */
  readonly item: number;
  /** Pieces in its lot; 1 for a single one. */
  readonly lotCount: number;
  /** How many wrong ones are cheaper. */
  readonly stops: number;
  /** Revisions that the cheapest wrong one is for; empty where it contradicts itself. */
  readonly revisions: readonly string[];
  /** The worst that it would do, where known. */
  readonly hazard: Hazard | null;
  /** False where only the low end of a range lies below: it may be cheaper. */
  readonly certain: boolean;
  /** Whether shipping is in the price of the wrong one and of the right one. */
  readonly shippingKnown: { readonly stop: boolean; readonly go: boolean };
}

/** A cheaper wrong part beside the cheapest right one. */
export interface CheaperTrap extends TrapBase {
  /** What the cheapest right one costs, shipping included where known, by the piece. */
  readonly go: Money;
  /** How much more that is. */
  readonly difference: Money;
  /** Its place among the items. */
  readonly goItem: number;
}

/** Nothing on the page is confirmed, and the cheapest is wrong. */
export interface UnconfirmedTrap extends TrapBase {
  readonly go: null;
  readonly difference: null;
  readonly goItem: null;
}

/** A price trap; `go` is null where nothing on the page is confirmed. */
export type PriceTrap = CheaperTrap | UnconfirmedTrap;

/** One item's price by the piece: the low end, and the high end where it is known. */
interface Priced {
  readonly item: PricedItem;
  readonly at: number;
  readonly currency: string;
  readonly low: string;
  /** Null for a floor without an upper end. */
  readonly high: string | null;
  readonly count: number;
  readonly shippingKnown: boolean;
}

/**
 * Finds the price traps of a page, the worst first; at most one for each part type and currency.
 *
 * @param options `includePossible` gives those that only may be cheaper too (`certain: false`)
 */
export function findPriceTraps(
  items: readonly PricedItem[],
  options: { readonly includePossible?: boolean } = {},
): PriceTrap[] {
  const own = items.map((item, at) => ({ item, at })).filter(({ item }) => item.listing.related !== true);
  const confirmed = new Set(
    own.filter(({ item }) => item.verdict.tier === "go").map(({ item }) => item.verdict.partType),
  );
  const groups = new Map<string, Priced[]>();
  for (const { item, at } of own) {
    const priced = priceOf(item, at);
    if (priced === null || item.verdict.partType === null || item.verdict.tier === "none") continue;
    const key = `${item.verdict.partType} ${priced.currency}`;
    groups.set(key, [...(groups.get(key) ?? []), priced]);
  }
  const traps = [...groups.values()].flatMap((group) => trapIn(group, confirmed));
  return traps.filter(({ certain }) => certain || options.includePossible === true).sort(byHarm);
}

function trapIn(group: readonly Priced[], confirmed: ReadonlySet<string | null>): PriceTrap[] {
  const stops = group.filter(({ item }) => item.verdict.tier === "stop").sort(byLow);
  const go = group.filter(({ item }) => item.verdict.tier === "go").sort(byLow)[0];
  const partType = group[0]?.item.verdict.partType ?? null;
  if (partType === null) return [];
  if (go === undefined) {
    const rivals = group.filter(({ item }) => item.verdict.tier === "check");
    return confirmed.has(partType) ? [] : unconfirmedTrap(partType, stops, rivals);
  }
  const certainly = stops.filter((stop) => stop.high !== null && isLess(stop.high, stop.count, go.low, go.count));
  const possibly = stops.filter((stop) => isLess(stop.low, stop.count, go.low, go.count));
  const cheaper = certainly.length > 0 ? certainly : possibly;
  const worst = cheaper[0];
  const price = worst === undefined ? null : byPiece(worst);
  const right = byPiece(go);
  const difference = price === null || right === null ? null : subtractDecimal(right, price);
  if (worst === undefined || price === null || right === null || difference === null) return [];
  // Less than can be shown is no saving: 10.00 for three against 3.33.
  if (!isLess("0", 1, difference, 1)) return [];
  const base = trapBase(partType, worst, price, cheaper.length, certainly.length > 0, go.shippingKnown);
  const money = (amount: string): Money => ({ amount, currency: go.currency });
  return [{ ...base, go: money(right), difference: money(difference), goItem: go.at }];
}

/** No right part on the page: a trap where a wrong one is the cheapest of all that could be right. */
function unconfirmedTrap(partType: string, stops: readonly Priced[], rivals: readonly Priced[]): PriceTrap[] {
  const worst = stops[0];
  const price = worst === undefined ? null : byPiece(worst);
  if (worst === undefined || price === null) return [];
  if (rivals.some((rival) => isLess(rival.low, rival.count, worst.low, worst.count))) return [];
  const { high } = worst;
  const certain = high !== null && !rivals.some((rival) => isLess(rival.low, rival.count, high, worst.count));
  const base = trapBase(partType, worst, price, stops.length, certain, false);
  return [{ ...base, go: null, difference: null, goItem: null }];
}

function trapBase(
  partType: string,
  { item, at, currency, count, shippingKnown }: Priced,
  price: string,
  stops: number,
  certain: boolean,
  goShipping: boolean,
): TrapBase {
  return {
    partType,
    cheapest: { amount: price, currency },
    item: at,
    lotCount: count,
    stops,
    revisions: item.verdict.revisions,
    hazard: worstFirst(item.verdict.hazards)[0] ?? null,
    certain,
    shippingKnown: { stop: shippingKnown, go: goShipping },
  };
}

function priceOf(item: PricedItem, at: number): Priced | null {
  const { price, shipping } = item.listing;
  if (price === undefined) return null;
  const sent = shipping !== undefined && shipping.currency === price.currency ? shipping.amount : null;
  const total = (amount: string) => (sent === null ? addDecimal(amount, "0") : addDecimal(amount, sent));
  const low = total(price.amount);
  if (low === null) return null;
  const high = price.max === undefined ? (price.from === true ? null : low) : total(price.max);
  const { pieces = 1 } = item.verdict;
  const count = Number.isSafeInteger(pieces) && pieces > 1 ? pieces : 1;
  return { item, at, currency: price.currency, low, high, count, shippingKnown: sent !== null };
}

function byPiece({ low, count }: Priced): string | null {
  return count === 1 ? low : divideDecimal(low, count);
}

function isLess(a: string, countA: number, b: string, countB: number): boolean {
  const compared = compareQuotients(a, countA, b, countB);
  return compared !== null && compared < 0;
}

function byLow(a: Priced, b: Priced): number {
  return compareQuotients(a.low, a.count, b.low, b.count) ?? 0;
}

/** Worst hazard first, then the most wrong ones. */
function byHarm(a: PriceTrap, b: PriceTrap): number {
  return harmRank(a.hazard) - harmRank(b.hazard) || b.stops - a.stops;
}
