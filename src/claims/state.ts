/** In which state the thing is that a listing sells: broken, or used. Much that sounds broken is said of something else. */
import type { Span } from "../formats/verdict.ts";
import { type Field, stopsBehind } from "./fields.ts";
import type { Item } from "./items.ts";
import {
  gapBefore,
  isAsked,
  isModel,
  isPartNumber,
  isPhrase,
  partsBefore,
  type ReadField,
  relationOf,
  spanOfItem,
  typesOf,
} from "./look.ts";

/** Longest sentence of a description, in tokens, that is taken to speak of the thing's state. */
const STATE_SENTENCE = 9;

/** Where the listing says that the thing is broken, or used. In a description only short sentences are believed. */
export function stateSpan(
  fields: readonly ReadField[],
  kind: "defective" | "used",
  sold: readonly string[],
): Span | null {
  for (const { field, items } of fields) {
    for (const item of items) {
      if (!isPhrase(item, kind) || isPhrase(item, "harmless") || isPhrase(item, "notDefective")) continue;
      if (kind === "defective" && isNoFault({ field, items }, item, sold)) continue;
      if (kind === "defective" && isPhrase(item, "asSeen") && fields.some(saysThatItWorks)) continue;
      if (field.part === "description" && sentenceLength(field, item.first) > STATE_SENTENCE) continue;
      return spanOfItem(field, item);
    }
  }
  return null;
}

/** The word says nothing of the thing sold: it is denied, supposed, advised against, or said of another thing. */
function isNoFault({ field, items }: ReadField, item: Item, sold: readonly string[]): boolean {
  const k = items.indexOf(item);
  if (isDenied(field, items, k) || isSupposed(field, items, k)) return true;
  if (ofAnotherThing(items, item) || isOfAnother(field, items, item) || isOfBoards(field, items, k)) return true;
  return isOfDonor(field, items, item, sold) || isOfOtherPart(field, items, item, sold);
}

/** "not swollen", "nie jest spuchnięta": a negation right before, and no thing in between. */
function isDenied(field: Field, items: readonly Item[], k: number): boolean {
  for (let i = k - 1; i >= Math.max(0, k - 3); i--) {
    const each = items[i];
    const next = items[i + 1];
    if (each === undefined || next === undefined || partsBefore(field, next)) return false;
    if (isPhrase(each, "not") || isPhrase(each, "without")) return true;
    if (i === k - 1 && isPhrase(each, "against")) return true;
    const passes = each.type === "word" || (each.type === "phrase" && typesOf(each).length === 0);
    if (!passes || ["but", "accessory", "device", "defective"].some((kind) => isPhrase(each, kind))) return false;
  }
  return false;
}

/** "Works, I tried it", and no "not" before: "sold as seen" then only rules out returns. */
function saysThatItWorks({ field, items }: ReadField): boolean {
  return items.some((item, k) => isPhrase(item, "works") && !isDenied(field, items, k));
}

/** "nie działa na płytach PB-2": on what the part does not work. */
function isOfBoards(field: Field, items: readonly Item[], k: number): boolean {
  for (const each of items.slice(k + 1, k + 4)) {
    if (partsBefore(field, each)) return false;
    if (isPhrase(each, "revisionNoun")) return items[k + 1] !== each;
    if (typesOf(each).length > 0) continue;
    if (each.type === "number") return each.named?.board === true && !each.named.part;
    if (each.type !== "word" && !isPhrase(each, "for") && !isPhrase(each, "filler") && !isPhrase(each, "with"))
      return false;
  }
  return false;
}

/** "if it arrives damaged", "never use a swollen pack", "symptoms such as …": the sentence tells of what may be. */
function isSupposed(field: Field, items: readonly Item[], k: number): boolean {
  for (let i = k - 1; i >= Math.max(0, k - SENTENCE_REACH); i--) {
    const each = items[i];
    const next = items[i + 1];
    if (each === undefined || next === undefined || endsBefore(field, next)) break;
    if (isPhrase(each, "if") && !isPhrase(each, "with")) return true;
    if (isPhrase(each, "caution") || isPhrase(each, "cures")) return true;
  }
  for (const each of items.slice(k + 1, k + SENTENCE_REACH)) {
    if (endsBefore(field, each)) return false;
    if (isPhrase(each, "caution")) return true;
  }
  return false;
}

/** How far a sentence is searched, in items. */
const SENTENCE_REACH = 12;

/** The sentence ends before the item. */
function endsBefore(field: Field, item: Item): boolean {
  return /[;!?|\n]/.test(gapBefore(field, item)) || (item.first > 0 && stopsBehind(field, item.first - 1));
}

/** "pulled from a broken laptop": the word stands beside a device. */
function ofAnotherThing(items: readonly Item[], item: Item): boolean {
  const k = items.indexOf(item);
  if (isPhrase(items[k - 1], "for") || isPhrase(items[k - 1], "replaces")) return true;
  const isDevice = (i: number): boolean => isPhrase(items[i], "device") && typesOf(items[i] ?? item).length === 0;
  const from = items.slice(Math.max(0, k - 5), k).some((each) => isPhrase(each, "used") || isPhrase(each, "for"));
  return from && (isDevice(k - 1) || isDevice(k + 1));
}

/** How far back the place that a part comes from may stand. */
const DONOR_REACH = 10;

/** "from a working unit with cracked screen": told of the device that the part comes from, until the part is named again. */
function isOfDonor(field: Field, items: readonly Item[], item: Item, sold: readonly string[]): boolean {
  const k = items.indexOf(item);
  let comma = false;
  for (let i = k; i >= Math.max(0, k - DONOR_REACH); i--) {
    const each = items[i];
    if (each === undefined) return false;
    const here = i < k ? each : undefined;
    if (isPartNumber(here) || isSold(here, sold)) return false;
    const close = items.slice(i + 1, k + 3);
    const device = close.some((one) => isPhrase(one, "device") || isPhrase(one, "unitNoun") || isModel(one));
    if (isPhrase(here, "pulled") || (isPhrase(here, "outOf") && device && i >= k - 6))
      return !comma || hasNoun(items, i, k, sold);
    if (i > 0 && stopsBehind(field, each.first - 1)) return false;
    const gap = gapBefore(field, each);
    if (/[;!?|\n]/.test(gap)) return false;
    comma ||= /[,]|\s[-·]/.test(gap);
  }
  return false;
}

function isSold(item: Item | undefined, sold: readonly string[]): boolean {
  return item !== undefined && typesOf(item).some((type) => sold.includes(type));
}

/** A part of another kind is named right beside the word: "…, screen broken". */
function hasNoun(items: readonly Item[], from: number, k: number, sold: readonly string[]): boolean {
  const before = items.slice(Math.max(from + 1, k - 2), k);
  return [...before, ...items.slice(k + 1, k + 2)].some((each) => typesOf(each).length > 0 && !isSold(each, sold));
}

/** "(screen broken)", "the handheld is dead": another part or the device is named in the clause, and not the part sold. */
function isOfOtherPart(field: Field, items: readonly Item[], item: Item, sold: readonly string[]): boolean {
  const k = items.indexOf(item);
  for (let i = k - 1; i >= Math.max(0, k - 6); i--) {
    const each = items[i];
    const next = items[i + 1];
    if (each === undefined || next === undefined || partsBefore(field, next) || /[()]/.test(gapBefore(field, next)))
      break;
    if (isPartNumber(each) || isSold(each, sold) || relationOf(each) === "target") return false;
    if (typesOf(each).length > 0) return sold.length > 0;
    if (isPhrase(each, "device") && field.part === "description") return true;
  }
  const next = items[k + 1];
  if (sold.length === 0 || next === undefined || partsBefore(field, next) || isSold(next, sold)) return false;
  return typesOf(next).length > 0 && !isSold(items[k - 1], sold) && !isPartNumber(items[k - 1]);
}

/** The fault is the buyer's own part's, or the box's: "replaces your broken …", "box damaged", "dead battery? …". */
function isOfAnother(field: Field, items: readonly Item[], item: Item): boolean {
  const k = items.indexOf(item);
  if (isAsked(field, items, item) || isReplacedOne(field, items, k)) return true;
  if ([k - 2, k - 1, k + 1].some((i) => isPhrase(items[i], "wrapping"))) return true;
  for (let i = k - 1; i >= Math.max(0, k - 8); i--) {
    const before = items[i];
    const next = items[i + 1];
    if (before === undefined || next === undefined || stopsBehind(field, next.first - 1)) return false;
    if (isPhrase(before, "cures")) return true;
    if (before.type === "number" || partsBefore(field, next)) return false;
    if (i >= k - 3 && isPhrase(before, "replaces")) return true;
  }
  return false;
}

/** "replaces your battery PB-1840, worn out": it is the buyer's that is. */
function isReplacedOne(field: Field, items: readonly Item[], k: number): boolean {
  for (let i = k - 1; i >= Math.max(0, k - 6); i--) {
    const next = items[i + 1];
    if (next === undefined || partsBefore(field, next)) return false;
    if (isPhrase(items[i], "replaces") && typesOf(next).length > 0) return true;
    if (isPhrase(items[i], "yours"))
      return items.slice(Math.max(0, i - 2), i + 1).some((each) => isPhrase(each, "replaces"));
  }
  return false;
}

function sentenceLength(field: Field, at: number): number {
  const ends = (i: number): boolean => /[.!?;,\n]\s|\n/.test(field.tokens[i]?.gap ?? "");
  let from = at;
  while (from > 0 && at - from <= STATE_SENTENCE && !ends(from - 1)) from--;
  let to = at;
  while (to + 1 < field.tokens.length && to - at <= STATE_SENTENCE && !ends(to)) to++;
  return to - from + 1;
}
