/**
 * The price that is asked now, among all the amounts that a record shows, and the shipping cost.
 *
 * One price block may hold six amounts. Each is told by what is struck through, by the words before and after
 * it (`rules/page-words/`), by the names of the elements around it, and by machine-readable attributes; the
 * plainest that is left is the price. Where every amount is something else there is no price.
 */
import type { ListPrice, Money } from "../formats/listing.ts";
import type { PageWordKey } from "../formats/page-words.ts";
import type { MoneyRead } from "../text/money.ts";
import { type Cues, foldWords } from "./cues.ts";
import { MAX_PRICE_LINE } from "./limits.ts";
import { blanked, isUnseenWithin, type Line, type Piece } from "./lines.ts";
import type { PageMoney } from "./page-money.ts";
import type { Sight } from "./sight.ts";
import { elementAt, Mark, type PageTree } from "./tree.ts";

/** What a record says of money. */
export interface PriceFound {
  readonly price: ListPrice | null;
  readonly shipping: Money | null;
  /** Index of the element that holds the price. */
  readonly element: number | null;
  /** Number of the line in which the price stands. */
  readonly line: number | null;
  /** True when the record says in words that the price is not stated. */
  readonly isOnRequest: boolean;
}

/** What is read with: the page, the eye, the words. */
export interface PriceReading {
  readonly tree: PageTree;
  readonly sight: Sight;
  readonly cues: Cues;
  readonly money: PageMoney;
  /** Bare numbers that a table's heading makes amounts, with their currencies. */
  readonly assumed: ReadonlyMap<number, string>;
}

/** An amount, or a range of two, with what was found out about it. */
interface Hit {
  readonly money: MoneyRead;
  readonly max: MoneyRead | null;
  readonly line: number;
  readonly holder: number;
  readonly before: string;
  readonly after: string;
  from: boolean;
  penalty: number;
  isShipping: boolean;
  /** Only a word ("regular price") makes it an old price. */
  isOldByWord: boolean;
}

/** Penalty at and above which an amount is never the price. */
const NEVER = 100;

/**
 * Reads price and shipping from a record's lines.
 *
 * @param title where the title stands: it is no place for a price, and none of its words is a label
 * @param start index of the record's first node
 */
export function readPrices(
  reading: PriceReading,
  lines: readonly Line[],
  title: TitlePlace | null,
  start: number,
): PriceFound {
  const open =
    title === null ? lines : lines.map((line, number) => (number === title.line ? without(line, title) : line));
  const hits = open.flatMap((line, number) => (line.text.length > MAX_PRICE_LINE ? [] : hitsOf(reading, open, number)));
  for (const hit of hits) judge(reading, hit, hits, start);
  const seen = dropUnseen(reading, hits, start);
  const best = choosePrice(seen);
  const price = best === null ? null : toPrice(best, seen);
  return {
    price,
    shipping: shippingOf(reading, open, seen, price),
    element: best?.holder ?? null,
    line: best?.line ?? null,
    isOnRequest: price === null && open.some((line) => saysNoPrice(reading.cues, line.text)),
  };
}

/** Where a record's title stands: a part of one of its lines. */
export interface TitlePlace {
  readonly line: number;
  readonly start: number;
  readonly end: number;
}

/** The line with the title blanked out, all else in its place. */
function without(line: Line, title: TitlePlace): Line {
  return { ...line, text: blanked(line.text, title.start, title.end) };
}

/** Longest line that may say in words that there is no price. */
const MAX_NO_PRICE_LINE = 60;

function saysNoPrice(cues: Cues, text: string): boolean {
  return text.length <= MAX_NO_PRICE_LINE && cues.has("noPrice", foldWords(text));
}

function hitsOf(reading: PriceReading, lines: readonly Line[], number: number): Hit[] {
  const line = lines[number];
  if (line === undefined) return [];
  const all = moneyInLine(reading, line);
  if (!all.some((money) => money.currency !== null)) return [];
  const merged = mergeRanges(reading.cues, line.text, all);
  return merged.map(({ money, max }, at): Hit => {
    const previousEnd = merged[at - 1] ? endOf(merged[at - 1]) : 0;
    const nextStart = merged[at + 1]?.money.start ?? line.text.length;
    const before = line.text.slice(previousEnd, money.start);
    const after = line.text.slice((max ?? money).end, nextStart);
    const label = before.trim() === "" && at === 0 ? labelBefore(lines, number) : "";
    return {
      money,
      max,
      line: number,
      holder: holderAt(line, money.start),
      before: label === "" ? before : label,
      after,
      from: false,
      penalty: 0,
      isShipping: false,
      isOldByWord: false,
    };
  });
}

/** Most times that a line is read again with a foreign number blanked out. */
const MAX_REREADS = 4;

/**
 * The amounts of a line. A number and a sign in elements that only happen to be neighbours ("Marlow 300" beside
 * "€ 89,50") make no amount: the number is blanked out and the line read again.
 */
export function moneyInLine(reading: PriceReading, line: Line): readonly MoneyRead[] {
  const given = reading.assumed.size === 0 ? undefined : assumedCurrency(reading, line);
  let text = line.text;
  for (let turn = 0; ; turn++) {
    const found = given === undefined ? reading.money.read(text) : reading.money.readAs(text, given);
    const foreign = turn < MAX_REREADS ? foreignIn(reading.tree, line, found) : null;
    if (foreign === null) return found;
    text = blanked(text, foreign.start, foreign.end);
  }
}

function assumedCurrency({ assumed }: PriceReading, line: Line): string | undefined {
  return line.pieces.map((piece) => assumed.get(piece.text)).find((code) => code !== undefined);
}

function foreignIn(tree: PageTree, line: Line, found: readonly MoneyRead[]): Piece | null {
  if (line.pieces.length < 2) return null;
  for (const money of found) {
    const piece = foreignPiece(tree, line, money);
    if (piece !== null) return piece;
  }
  return null;
}

/** The piece with the number of an amount whose sign stands in an unrelated element. */
function foreignPiece(tree: PageTree, line: Line, money: MoneyRead): Piece | null {
  if (money.currency === null) return null;
  const pieces = line.pieces.filter((piece) => piece.start < money.end && piece.end > money.start);
  const [first, second] = pieces;
  if (first === undefined || second === undefined) return null;
  const isWordy = /\p{L}{2}/u.test(line.text.slice(first.start, money.start));
  const isRelated = [first, second].some((piece, at) => isAround(tree, piece.holder, pieces[1 - at]?.holder ?? -1));
  return isWordy && !isRelated && ((tree.marks[first.text] ?? 0) & Mark.money) === 0 ? first : null;
}

function isAround(tree: PageTree, outer: number, inner: number): boolean {
  return outer <= inner && inner < (tree.end[outer] ?? outer);
}

function endOf(entry: { money: MoneyRead; max: MoneyRead | null } | undefined): number {
  return (entry?.max ?? entry?.money)?.end ?? 0;
}

/** Two amounts with a dash or "to" between them are one range; a bare number only counts as part of one. */
function mergeRanges(
  cues: Cues,
  text: string,
  all: readonly MoneyRead[],
): { money: MoneyRead; max: MoneyRead | null }[] {
  const merged: { money: MoneyRead; max: MoneyRead | null }[] = [];
  for (let at = 0; at < all.length; at++) {
    const low = all[at] as MoneyRead;
    const high = all[at + 1];
    if (high !== undefined && isRange(cues, text, low, high)) {
      const currency = low.currency ?? high.currency;
      merged.push({ money: { ...low, currency }, max: { ...high, currency } });
      at++;
    } else if (low.currency !== null) merged.push({ money: low, max: null });
  }
  return merged;
}

function isRange(cues: Cues, text: string, low: MoneyRead, high: MoneyRead): boolean {
  if (low.currency === null && high.currency === null) return false;
  if (low.currency !== null && high.currency !== null && low.currency !== high.currency) return false;
  const between = text
    .slice(low.end, high.start)
    .replace(/[\u200e\u200f\u061c]/g, "")
    .trim();
  const isJoined = /^[-–—−~〜～]$/.test(between) || (between.length <= 6 && cues.is("to", foldWords(between)));
  return isJoined && Number(low.amount) < Number(high.amount);
}

function holderAt(line: Line, place: number): number {
  const piece = line.pieces.find(({ end }) => end > place) ?? line.pieces.at(-1);
  return piece?.holder ?? line.block;
}

/** A short line before a lone amount is its label: "Old price" above "30 €". */
function labelBefore(lines: readonly Line[], number: number): string {
  const before = lines[number - 1];
  if (before === undefined || before.text.length > 30 || /[\d■]/.test(before.text)) return "";
  return before.text;
}

/** "Save 20 %": what is saved is told as a share, so that no amount beside it is the saving. */
const SHARE = /\d ?%/;
const HAS_LETTERS = /\p{L}/u;

/** Kinds of amounts told by a word before them, with their penalties. */
const BEFORE: readonly (readonly [PageWordKey, number])[] = [
  ["oldPrice", NEVER],
  ["discount", NEVER],
  ["shipping", NEVER],
  ["instalment", NEVER],
  ["fee", NEVER],
  ["buyNow", 30],
  ["exTax", 40],
  ["perUnit", 60],
  ["nowPrice", -10],
];
/** Kinds of amounts told by a word after them. */
const AFTER: readonly (readonly [PageWordKey, number])[] = [
  ["instalment", NEVER],
  ["discount", NEVER],
  ["shipping", NEVER],
  ["fee", NEVER],
  ["oldPrice", NEVER],
  ["exTax", 40],
  ["perUnit", 60],
];
const UNIT_AFTER =
  /^\s?(?:\/|(?:per|pro|je|par|por|al|za)\s)\s?(?:\d{1,5}(?:[.,]\d{1,3})?\s?)?(?:kg|g|mg|l|ml|cl|m|cm|mm|m²|m2|km|oz|lbs?|ft|in|st|stk|stck|stück|pcs?|pce|pieces?|pi[eè]ce|unit[éeà]?|unidad|szt|cell|zelle|met(?:er|re)|lit(?:er|re)|each|count|ct|本|個|枚)(?!\p{L})/iu;
const UNIT_BEFORE = /(?:^|[\s(])\d{1,5}(?:[.,]\d{1,3})?\s?(?:kg|g|l|ml|m|cm|st|stk|pcs)\s?=\s?$/iu;
const FLOOR_AFTER = /^(?:\s*(?:から|より|以上|起|부터|[〜～~](?!\s?\p{Nd}))|\+(?=\s|$))/u;
const INSTALMENT_BEFORE = /\d{1,3}\s?[x×]\s?(?:(?:de|of|à|von|da|a)\s?)?$/iu;
const INSTALMENT_AFTER = /^\s*[/x×]\s*(?:mo|month|monat|mois|mes|mese|mies|mån|\d{1,2}\b)/iu;

const OLD_CLASS =
  /(?:^|[-_\s])(?:old|was|before|msrp|rrp|uvp|srp|compare(?:-?at)?|list-?price|original|previous|strike|striked|retail|regular|prev|crossed|reference|ref-?price|normal|base-?price|listprice|oldprice|price-?old|price-?was|wasprice)(?:$|[-_\s])/i;
const NOW_CLASS =
  /(?:^|[-_\s])(?:current|now|sale|special|final|actual|new|promo|offer|selling|today|your)(?:$|[-_\s])/i;
const NEVER_CLASS =
  /(?:^|[-_\s])(?:discount|saving|savings|save|you-?save|instal?lments?|unit-?price|price-?per-?unit|per-?unit|base-?unit|shipping|delivery|coupon|voucher|deposit|tier-?price|price-?tier|ecotax|eco-?tax|cashback|points|loyalty|monthly|financing|badge)(?:$|[-_\s])/i;
const TAX_CLASS =
  /(?:^|[-_\s])(?:(?:price[-_]?)?(?:ex|excl|excluding|without|pre)[-_]?(?:tax|vat|ht)?|net(?:to)?(?:[-_]?price)?|price[-_]?tax|ht)(?:$|[-_\s])/i;

function judge(reading: PriceReading, hit: Hit, hits: readonly Hit[], start: number): void {
  if (hit.money.negative || hit.money.ambiguous) hit.penalty += NEVER;
  judgeWords(reading.cues, hit, hits);
  if (isProse(hit)) hit.penalty += 25;
  if (isTier(reading.cues, hit.before)) hit.penalty += 55;
  judgeElements(reading, hit, hits, start);
}

function judgeWords(cues: Cues, hit: Hit, hits: readonly Hit[]): void {
  const { before, after } = wordsFor(cues, hit, hits);
  const foldedBefore = withoutFree(cues, foldWords(before));
  const foldedAfter = withoutFree(cues, foldWords(after).slice(0, 60));
  const said = nearest(cues, foldedBefore);
  const follows = said === null ? following(cues, foldedAfter) : null;
  const kind = said ?? follows;
  if (kind !== null) hit.penalty += kind.penalty;
  if (kind?.key === "shipping") hit.isShipping = true;
  if (kind?.key === "oldPrice") hit.isOldByWord = true;
  if (hasThreshold(cues, foldWords(before))) hit.penalty += NEVER;
  if (UNIT_AFTER.test(after) || UNIT_BEFORE.test(before)) hit.penalty += 60;
  if (INSTALMENT_BEFORE.test(before) || INSTALMENT_AFTER.test(after)) hit.penalty += NEVER;
  if (/^\s*%/.test(after)) hit.penalty += NEVER;
  hit.from = endsWith(cues, "from", foldedBefore) || FLOOR_AFTER.test(after);
}

/** Longest way of saying how many pieces a price is for. */
const MAX_QUANTITY = 60;

/** The price from a number of pieces on: "from 5 pieces 9 €", "10+ 9 €", "ab 10 Stk.: 9 €". */
function isTier(cues: Cues, before: string): boolean {
  const quantity = /(?:^|[\s≥>(])\d{1,4}\s?(\+|\p{L}{1,12}\.?)?\s?[:=(]?\s?$/u.exec(before.slice(-MAX_QUANTITY));
  if (quantity === null) return false;
  return (
    quantity[1] === "+" ||
    cues.has("from", foldWords(before.slice(-MAX_QUANTITY).slice(0, quantity.index + 1)).slice(-20))
  );
}

/** In the middle of a sentence: three words before the amount and more after it. */
function isProse({ before, after }: Hit): boolean {
  if (!/^\s?\p{L}{2}/u.test(after)) return false;
  const sentence = before.slice(before.lastIndexOf(".") + 1);
  return sentence.split(/[\s,]+/).filter((word) => /^\p{L}{2}/u.test(word)).length >= 3;
}

/** "Free shipping" beside a price says nothing of that price. */
function withoutFree(cues: Cues, folded: string): string {
  const found = cues.first("freeShipping", folded);
  return found === null ? folded : `${folded.slice(0, found.start)}${folded.slice(found.end)}`.trim();
}

function hasThreshold(cues: Cues, folded: string): boolean {
  return cues.has("threshold", folded) && cues.has("freeShipping", folded);
}

/**
 * Words between two amounts belong to the second when labels come first in this line, to the first when the
 * line's last amount has words after it and its first none before it ("16 € net 19 € gross").
 */
function wordsFor(cues: Cues, hit: Hit, hits: readonly Hit[]): { before: string; after: string } {
  const inLine = hits.filter((other) => other.line === hit.line);
  if (inLine.length < 2) return { before: hit.before, after: hit.after };
  const [first] = inLine;
  const last = inLine.at(-1);
  const leads = nearest(cues, foldWords(first?.before ?? "")) !== null;
  const trails = following(cues, foldWords(last?.after ?? "")) !== null || UNIT_AFTER.test(last?.after ?? "");
  const labelsFollow = !leads && trails;
  if (labelsFollow) return { before: hit === first ? hit.before : plusOnly(hit.before), after: hit.after };
  return { before: hit.before, after: hit === last ? hit.after : bracketed(hit.after) };
}

/** Of words that belong to the amount before, only prefixes that no label can be. */
function plusOnly(text: string): string {
  const at = text.lastIndexOf("(");
  return at < 0 ? "" : text.slice(at);
}

/** What follows directly with a slash or in brackets belongs to the amount before it whatever the order. */
function bracketed(text: string): string {
  return /^\s*(?:\(|\/|\*)/.test(text) ? text : "";
}

function nearest(cues: Cues, folded: string): { key: PageWordKey; penalty: number } | null {
  if (!HAS_LETTERS.test(folded)) return null;
  const floor = cues.last("from", folded);
  let best: { key: PageWordKey; penalty: number; end: number; length: number } | null = null;
  for (const [key, penalty] of BEFORE) {
    const found = cues.last(key, folded);
    // A word inside of "from" is none of its own ("de" in "a partir de").
    if (found === null || (floor !== null && floor.start < found.start && found.end <= floor.end)) continue;
    if (key === "discount" && SHARE.test(folded.slice(found.start))) continue;
    const length = found.end - found.start;
    if (best === null || found.end > best.end || (found.end === best.end && length > best.length)) {
      best = { key, penalty, end: found.end, length };
    }
  }
  return best;
}

function following(cues: Cues, folded: string): { key: PageWordKey; penalty: number } | null {
  if (!HAS_LETTERS.test(folded)) return null;
  let best: { key: PageWordKey; penalty: number; start: number } | null = null;
  for (const [key, penalty] of AFTER) {
    const found = cues.first(key, folded);
    if (found === null || found.start > 30) continue;
    if (key === "oldPrice" && found.end - found.start < 3) continue;
    if (key === "discount" && SHARE.test(folded)) continue;
    if (best === null || found.start < best.start) best = { key, penalty, start: found.start };
  }
  return best;
}

function endsWith(cues: Cues, key: PageWordKey, folded: string): boolean {
  const found = cues.last(key, folded);
  return found !== null && found.end === folded.length;
}

/** Most levels around an amount whose names and style are looked at. */
const MAX_AROUND = 5;

/**
 * Judges an amount by the elements around it. Names of an element that holds all amounts of the record tell
 * nothing about one of them ("price-and-shipping").
 */
function judgeElements(reading: PriceReading, hit: Hit, hits: readonly Hit[], start: number): void {
  const { tree, sight } = reading;
  for (let at = hit.holder, step = 0; at >= start && step < MAX_AROUND; at = tree.parent[at] ?? -1, step++) {
    const element = elementAt(tree, at);
    if (sight.isStruck(element)) hit.penalty += NEVER;
    if (step < 2 && isMachinePrice(element)) hit.penalty -= 8;
    if (tree.tag[at] === "button") hit.penalty += 5;
    const end = tree.end[at] ?? at;
    const tellsApart = hits.some((other) => other.holder < at || other.holder >= end);
    if (tellsApart || (step === 0 && hits.length === 1)) hit.penalty += penaltyOfNames(namesOf(element), step);
  }
}

function penaltyOfNames(names: string, step: number): number {
  if (names === "") return 0;
  const weight = step < 2 ? 1 : 0.5;
  let penalty = 0;
  if (step < 3 && NEVER_CLASS.test(names)) penalty += NEVER;
  if (OLD_CLASS.test(names)) penalty += 20 * weight;
  if (NOW_CLASS.test(names)) penalty -= 10 * weight;
  if (step < 2 && TAX_CLASS.test(names)) penalty += 30;
  return penalty;
}

const STATE_NAMES = /(?<!\S)(?:has|with|is|show|no|on)[-_]\S*/g;
const NAMING = ["id", "data-testid", "data-test", "data-price-type", "data-qa", "data-hook", "itemprop"];

function namesOf(element: Element): string {
  if (!element.hasAttributes()) return "";
  let names = element.getAttribute("class") ?? "";
  if (element.attributes.length > 1) for (const name of NAMING) names += ` ${element.getAttribute(name) ?? ""}`;
  else if (names === "") names = NAMING.map((name) => element.getAttribute(name) ?? "").join(" ");
  // "salePrice" reads as "sale-Price"; "has-discount" speaks of the block, not of the amount.
  return names
    .trim()
    .replace(STATE_NAMES, "")
    .replace(/([a-z])([A-Z])/g, "$1-$2")
    .slice(0, 600);
}

function isMachinePrice(element: Element): boolean {
  return element.getAttribute("itemprop") === "price" || element.hasAttribute("data-price-amount");
}

/** Amounts for screen readers count only where no seen one is left; what is not rendered never counts. */
function dropUnseen(reading: PriceReading, hits: readonly Hit[], start: number): Hit[] {
  const { tree, sight } = reading;
  const rendered = hits.filter((hit) => sight.isRendered(elementAt(tree, hit.holder)));
  if (rendered.length < 2) return rendered;
  const seen = rendered.filter((hit) => !isUnseenWithin(tree, sight, hit.holder, start));
  return seen.some((hit) => hit.penalty < NEVER) ? seen : rendered;
}

function choosePrice(hits: readonly Hit[]): Hit | null {
  const open = hits.filter((hit) => hit.penalty < NEVER);
  const [first] = open;
  if (first === undefined) return onlyRegular(hits);
  const best = open.reduce((kept, hit) => (hit.penalty < kept.penalty ? hit : kept), first);
  const equals = open.filter((hit) => hit.penalty === best.penalty);
  if (equals.length !== 2 || best.max !== null) return best;
  const [one, two] = equals as [Hit, Hit];
  return isReducedFrom(two, one) ? two : best;
}

/** "Regular price 29 €" where no other amount is left: nothing is reduced, it is the price. */
function onlyRegular(hits: readonly Hit[]): Hit | null {
  const regular = hits.filter((hit) => hit.isOldByWord && hit.penalty < NEVER * 2);
  const [only] = regular;
  return only !== undefined && regular.every((hit) => hit.money.amount === only.money.amount) ? only : null;
}

/** Two plain amounts in a row, the second lower: what the page's style strikes through stands first. */
function isReducedFrom(low: Hit, high: Hit): boolean {
  if (low.money.currency !== high.money.currency || low.max !== null || low.line - high.line > 1) return false;
  const ratio = Number(low.money.amount) / Number(high.money.amount);
  return ratio < 1 && ratio > 0.3;
}

function toPrice(hit: Hit, hits: readonly Hit[]): ListPrice | null {
  const { currency } = hit.money;
  if (currency === null) return null;
  const price: ListPrice = { amount: hit.money.amount, currency };
  if (hit.max !== null) price.max = hit.max.amount;
  else {
    const upper = hit.from ? upperEnd(hit, hits) : null;
    if (upper !== null) price.max = upper.money.amount;
    else if (hit.from) price.from = true;
  }
  return price;
}

/** "From 10 €" and, next to it, "To 20 €". */
function upperEnd(low: Hit, hits: readonly Hit[]): Hit | null {
  const next = hits[hits.indexOf(low) + 1];
  if (next === undefined || next.money.currency !== low.money.currency) return null;
  return /^(?:to|bis|à|a|do|tot|till|até|al|hasta)$/.test(foldWords(next.before)) ? next : null;
}

function shippingOf(
  reading: PriceReading,
  lines: readonly Line[],
  hits: readonly Hit[],
  price: ListPrice | null,
): Money | null {
  const stated = hits.find((hit) => hit.isShipping && !hit.money.negative && hit.money.currency !== null);
  if (stated?.money.currency) return { amount: stated.money.amount, currency: stated.money.currency };
  if (price === null) return null;
  const isFree = lines.some(
    (line, number) =>
      line.text.length <= MAX_NO_PRICE_LINE * 2 &&
      !hits.some((hit) => hit.line === number && hit.penalty >= NEVER) &&
      reading.cues.has("freeShipping", foldWords(line.text)) &&
      !hasNumberThreshold(reading.cues, line.text),
  );
  return isFree ? { amount: zeroOf(price.amount), currency: price.currency } : null;
}

function hasNumberThreshold(cues: Cues, text: string): boolean {
  return /\d/.test(text) && cues.has("threshold", foldWords(text));
}

function zeroOf(amount: string): string {
  const decimals = amount.split(".")[1];
  return decimals === undefined ? "0" : `0.${"0".repeat(decimals.length)}`;
}
