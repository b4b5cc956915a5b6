/** Holding one value of a quantity against another, as a part type's rule says. */
import type { Comparison, PartTypeRule, QuantityRule } from "../formats/part-type-rule.ts";
import { seriesCells } from "../text/quantity-check.ts";

/** A value of a quantity. */
export type QuantityValue = number | string | boolean;

/**
 * How an offered value stands to the right one: `same` (serves as well), `low-side` (same class, but below the split that
 * the right one is above), `more`, `less`, `other` (another word, or volts that no cell count explains).
 */
export type Outcome = "same" | "low-side" | "more" | "less" | "other";

/** Quantities without a rule are compared for equality (design section 3). */
const EQUAL: Comparison = { how: "equal" };

/** The rule of a quantity, where the part type has one. */
export function quantityRule(rule: PartTypeRule | undefined, name: string): QuantityRule | undefined {
  return rule?.quantities.find((each) => each.name === name);
}

/** An offered part's value against the right part's. */
export function compareQuantity(rule: QuantityRule | undefined, offered: QuantityValue, right: QuantityValue): Outcome {
  return compare(rule?.compare ?? EQUAL, offered, right);
}

/**
 * True where a listing's statement about a part cannot hold, given what the catalog says of that part: volts of another
 * cell count, another size. More capacity than the catalog's is no contradiction in a third-party pack.
 */
export function contradicts(rule: QuantityRule | undefined, stated: QuantityValue, known: QuantityValue): boolean {
  const outcome = compare(rule?.claim ?? rule?.compare ?? EQUAL, stated, known);
  return outcome !== "same" && outcome !== "low-side";
}

function compare(comparison: Comparison, offered: QuantityValue, right: QuantityValue): Outcome {
  if (comparison.how === "free") return "same";
  const numbers = asNumbers(offered, right);
  if (numbers === null) return compareWords(comparison, String(offered), String(right));
  const [o, r] = numbers;
  switch (comparison.how) {
    case "class":
      return compareClass(comparison, o, r);
    case "multiple":
      return o > 0 && r > 0 && isWhole(Math.max(o, r) / Math.min(o, r)) ? "same" : "other";
    case "listed":
      return compareWords(comparison, String(offered), String(right));
    case "at-least":
      return o >= r - leeway(comparison, r) ? "same" : "less";
    case "at-most":
      return o <= r + leeway(comparison, r) ? "same" : "more";
    case "tolerance":
      return Math.abs(o - r) <= leeway(comparison, r) ? "same" : side(o, r);
    case "equal":
      return Math.abs(o - r) <= 1e-9 * Math.abs(r) ? "same" : side(o, r);
  }
}

function compareWords(comparison: Comparison, offered: string, right: string): Outcome {
  if (plain(offered) === plain(right)) return "same";
  if (comparison.how !== "listed") return "other";
  const serves = Object.entries(comparison.serves).find(([word]) => plain(word) === plain(right))?.[1] ?? [];
  return serves.some((word) => plain(word) === plain(offered)) ? "same" : "other";
}

function compareClass(comparison: Extract<Comparison, { how: "class" }>, offered: number, right: number): Outcome {
  const { low, high, split } = comparison;
  const [o, r] = [seriesCells(offered, low, high), seriesCells(right, low, high)];
  if (o === null || r === null) return Math.abs(offered - right) <= 0.02 * Math.abs(right) ? "same" : "other";
  if (o !== r) return side(o, r);
  return split !== undefined && offered / o < split && right / r > split ? "low-side" : "same";
}

function side(offered: number, right: number): Outcome {
  return offered > right ? "more" : "less";
}

/** A hair of slack takes up binary fractions. */
function leeway(
  { fraction, amount }: { fraction?: number | undefined; amount?: number | undefined },
  right: number,
): number {
  return Math.max((fraction ?? 0) * Math.abs(right), amount ?? 0) + 1e-9 * Math.abs(right);
}

/** Both as numbers where both are numbers or are written as such. */
function asNumbers(a: QuantityValue, b: QuantityValue): readonly [number, number] | null {
  const [x, y] = [asNumber(a), asNumber(b)];
  return x === null || y === null ? null : [x, y];
}

function asNumber(value: QuantityValue): number | null {
  if (typeof value === "number") return Number.isFinite(value) ? value : null;
  return typeof value === "string" && /^-?\d{1,15}(?:\.\d{1,9})?$/.test(value.trim()) ? Number(value) : null;
}

function isWhole(value: number): boolean {
  return Math.abs(value - Math.round(value)) < 1e-9;
}

/** Words are compared without case, spaces and separators: "so-dimm" is "SODIMM". */
function plain(word: string): string {
  return word.toLowerCase().replace(/[\s_./-]/g, "");
}
