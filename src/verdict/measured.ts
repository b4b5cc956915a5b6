/**
 * What a listing states, held against the quantities of a part that measure the same, whatever the catalog calls them.
 *
 * A value that any of them has agrees. One that none has speaks against the part where the measure says enough; of sizes
 * and the like only where a sister part of the family has it, since a listing is full of other lengths and weights.
 */
import type { QuantityClaim } from "../claims/claims.ts";
import type { Part } from "../formats/catalog.ts";
import { type Measure, type Measured, type Measures, measureOf, sameMeasure } from "../text/measures.ts";
import { seriesCells } from "../text/quantity-check.ts";

/** A value in the unit of its measure. */
export interface MeasuredValue {
  readonly name: string;
  readonly measure: Measure;
  /** What of the thing is measured: `diameter`. */
  readonly of: string;
  readonly value: number;
}

/** The measured values of a family's parts, by part type. */
export type Sisters = ReadonlyMap<string, readonly MeasuredValue[]>;

/** Every quantity of a part that the measures know; counts of positions are the connector's. */
export function measuredOf(part: Part, measures: Measures): MeasuredValue[] {
  const positions = part.connector?.positions;
  const stated = Object.entries(part.quantities ?? {});
  if (positions !== undefined) stated.push(["positions", positions]);
  return stated.flatMap(([name, value]) => {
    const found = typeof value === "number" ? measureOf(name, measures) : null;
    return found === null || typeof value !== "number"
      ? []
      : [{ name, measure: found.measure, of: found.of, value: value * found.factor }];
  });
}

/**
 * Whether what is stated can be true of a part.
 *
 * @param sisters measured values of all the family's parts of the type
 * @param isNamed true where the listing names the part's number: what sellers like to overstate then says nothing
 * @param except the name of a quantity that is known not to be meant
 * @returns `null` where the part has no such quantity, or where the statement may well be about something else
 */
export function saysByMeasure(
  claim: QuantityClaim,
  part: Part,
  sisters: readonly MeasuredValue[],
  measures: Measures,
  isNamed: boolean,
  except?: string,
): boolean | null {
  const { quantity } = claim;
  if (quantity.name === "size_mm") return saysBySize(quantity.value, part, sisters, measures);
  const stated = measureOf(quantity.name, measures);
  if (stated === null) return null;
  const own = measuredOf(part, measures).filter((each) => each.name !== except && isMeant(each, stated, claim));
  if (own.length === 0) return null;
  const values = [quantity.value, ...quantity.alternatives].flatMap((value) =>
    typeof value === "number" ? [value * stated.factor] : [],
  );
  const others = sisters.filter((each) => isMeant(each, stated, claim));
  if (values.some((value) => own.some((each) => isNearest(value, each, others)))) return true;
  if (stated.measure.says === "agreement" && isNamed) return null;
  return speaksAgainst(claim, stated, values, own, others) ? false : null;
}

/** Of the same measure; where a cue word says of what ("diameter 30 mm"), of that. */
function isMeant(each: MeasuredValue, { measure, of }: Measured, { quantity }: QuantityClaim): boolean {
  return each.measure.id === measure.id && (quantity.role === null || each.of === of);
}

/** The same as people write it, and no sister part's value is nearer. */
function isNearest(value: number, { measure, value: known }: MeasuredValue, others: readonly MeasuredValue[]): boolean {
  if (!sameMeasure(measure, value, known))
    return (
      measure.id === "voltage" &&
      sameCells(value, known) &&
      !others.some((other) => sameMeasure(measure, value, other.value))
    );
  const off = Math.abs(value - known);
  return measure.alike !== undefined || !others.some((other) => Math.abs(value - other.value) < off);
}

/** Nominal and charging volts of one lithium-ion cell, with a little leeway. */
const CELL_WINDOWS = [
  [3.55, 3.9],
  [4.1, 4.25],
] as const;

/** "10.8 V" and "11.1 V", or the volts of the full pack: the same cells in series. */
function sameCells(a: number, b: number): boolean {
  const counts = (volts: number): number[] =>
    CELL_WINDOWS.flatMap(([low, high]) => seriesCells(volts, low, high) ?? []);
  const theirs = counts(b);
  return counts(a).some((count) => theirs.includes(count));
}

function speaksAgainst(
  { stance, field, quantity }: QuantityClaim,
  { measure }: Measured,
  values: readonly number[],
  own: readonly MeasuredValue[],
  others: readonly MeasuredValue[],
): boolean {
  const isSisters = values.some((value) => others.some((each) => sameMeasure(measure, value, each.value)));
  // "30 mm diameter" of a thing whose diameter is known.
  const named = quantity.role !== null && measure.says === "little";
  if (measure.says !== "much") return isSisters || (named && field !== "description" && stance !== "for");
  // "2 keys broken", "one contact".
  if (values.every((value) => own.every((each) => isFewOf(measure, value, each.value)))) return isSisters;
  return isSisters || (stance !== "for" && field !== "description");
}

/** A small count beside a great one is of some of them. */
function isFewOf({ names }: Measure, value: number, known: number): boolean {
  return names !== undefined && value < 10 && known >= 10;
}

/**
 * "1160 x 540 mm": edges that are nearly those of the part are its edges, to the millimetre or half a percent; an edge that
 * a sister part has instead speaks against it.
 */
function saysBySize(
  value: number | string,
  part: Part,
  sisters: readonly MeasuredValue[],
  measures: Measures,
): boolean | null {
  const edges = String(value).split("x").map(Number).filter(Number.isFinite);
  const lengths = measuredOf(part, measures).filter(({ measure }) => measure.id === "length");
  if (edges.length < 2 || lengths.length < 2) return null;
  const has = (known: number, leeway: number): boolean =>
    edges.some((edge) => Math.abs(edge - known) <= Math.max(1, leeway * known));
  if (!lengths.every((each) => has(each.value, 0.1))) return null;
  const missing = lengths.filter((each) => !has(each.value, 0.005));
  if (missing.length === 0) return true;
  const isSisters = missing.some(({ name }) => sisters.some((each) => each.name === name && has(each.value, 0.005)));
  return isSisters ? false : null;
}
