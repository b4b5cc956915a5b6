/** Whether a title opens with a name that no rule knows: of an odd part, perhaps. */

import type { Item } from "./items.ts";
import {
  gapBefore,
  isModel,
  isPartNumber,
  isPhrase,
  partsBefore,
  type ReadField,
  relationOf,
  typesOf,
} from "./look.ts";
import { MAKER_KIND } from "./vocabulary.ts";

/** Phrases that may stand before or beside a thing's name without telling what it is. */
const BESIDE = ["filler", "grade", "used", "lot", "trait", "newer", "fresh", "numberCue", MAKER_KIND];
/** Shortest word that is taken for a thing's name. */
const LEAST_NAME = /^\p{L}{4,}$/u;

/**
 * True where the thing is called by a word that no rule knows: "cuve machine à pain", "breadmaker paddle". The device's
 * name beside it then only says whose it is.
 */
export function isStranger(title: ReadField | undefined): boolean {
  if (title === undefined) return false;
  for (const [k, item] of title.items.entries()) {
    if (isName(title, item)) return true;
    if (isPhrase(item, "device")) return isName(title, title.items[k + 1]) && !partsBehind(title, k);
    if (relationOf(item) !== null || typesOf(item).length > 0 || isPhrase(item, "accessory")) return false;
    const passes = isModel(item) || isPartNumber(item) || BESIDE.some((kind) => isPhrase(item, kind));
    if (!passes && item.type !== "word") return false;
  }
  return false;
}

function isName({ field }: ReadField, item: Item | undefined): boolean {
  return item?.type === "word" && LEAST_NAME.test(field.tokens[item.first]?.text ?? "");
}

function partsBehind({ field, items }: ReadField, k: number): boolean {
  const next = items[k + 1];
  return next === undefined || partsBefore(field, next) || gapBefore(field, next).includes("(");
}
