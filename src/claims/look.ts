/** Small questions to a text read as items: what an item is, and what stands between two of them. */
import type { Span } from "../formats/verdict.ts";
import { type Field, spanOf, stopsBehind } from "./fields.ts";
import type { Item } from "./items.ts";
import { TYPE_KIND } from "./vocabulary.ts";

/** A field with its items. */
export interface ReadField {
  readonly field: Field;
  readonly items: readonly Item[];
}

/** How a noun stands to what is sold: it is that, what that is for, what comes along or does not. */
export type Relation = "head" | "target" | "with" | "without";

const TARGET = new Set(["for", "uses", "replaces", "against", "passing", "instead", "successor", "replacedBy"]);

/** The item is a phrase that can mean this. */
export function isPhrase(item: Item | undefined, kind: string): boolean {
  return item?.type === "phrase" && item.meanings.some((meaning) => meaning.kind === kind);
}

/** What stands between the item and the one before. */
export function gapBefore(field: Field, item: Item): string {
  return item.first === 0 ? "" : (field.tokens[item.first - 1]?.gap ?? "");
}

/** A sign stands before the item that parts it from what was before: a comma, a dash, the end of a sentence. */
export function partsBefore(field: Field, item: Item): boolean {
  if (/[,;!?|\n]|\s[-·]|[-·]\s/.test(gapBefore(field, item))) return true;
  return item.first > 0 && stopsBehind(field, item.first - 1);
}

/** A number that is known as a part's. */
export function isPartNumber(item: Item | undefined): boolean {
  return item?.type === "number" && item.named?.part === true;
}

/** The text opens with a question that names no part number, and an item stands in it: "Looking for …? Here is …". */
export function isAsked(field: Field, items: readonly Item[], item: Item): boolean {
  const k = items.indexOf(item);
  for (const [i, each] of items.entries()) {
    const gap = i === 0 ? "" : gapBefore(field, each);
    if (gap.includes("?")) return i > k;
    if (isPartNumber(each) || /[!;|\n]/.test(gap) || (i > 0 && stopsBehind(field, each.first - 1))) return false;
  }
  return false;
}

/** Where the item stands in the listing's own text. */
export function spanOfItem(field: Field, item: Item): Span {
  return spanOf(field, field.tokens[item.first]?.start ?? 0, field.tokens[item.last - 1]?.end ?? 0);
}

/** The part types that a phrase names. */
export function typesOf(item: Item): string[] {
  if (item.type !== "phrase") return [];
  const types = item.meanings.flatMap(({ kind }) => (kind.startsWith(TYPE_KIND) ? [kind.slice(TYPE_KIND.length)] : []));
  return [...new Set(types)];
}

/** What a phrase makes of the nouns behind it, or null where it leaves them as they are. */
export function relationOf(item: Item): Relation | null {
  if (item.type !== "phrase") return null;
  const kinds = item.meanings.map(({ kind }) => kind);
  if (kinds.includes("harmless") || kinds.includes("affirm")) return null;
  if (kinds.includes("without") || kinds.includes("except")) return "without";
  if (kinds.includes("sent") || kinds.includes("but")) return "head";
  if (kinds.some((kind) => TARGET.has(kind))) return "target";
  return kinds.includes("with") ? "with" : null;
}

/** A number that is known as a device's and not as a part's. */
export function isModel(item: Item | undefined): boolean {
  return item?.type === "number" && item.named?.model === true && !item.named.part;
}
