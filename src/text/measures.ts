/**
 * What quantities measure, told by the ends of their names: `diameter_mm` and `diagonal_in` are lengths, `keys` counts keys.
 * Any catalog's quantity is so held against what a listing states, whatever the catalog calls it.
 *
 * Measures, their units and what a statement is worth are data in `rules/number-formats/measures.json`.
 */
import type { NumberFormatOf, NumberFormatRule } from "../formats/number-format-rule.ts";

/** One measure, such as length. */
export type Measure = NumberFormatOf<"measures">["measures"][number];

/** The measures, prepared once. */
export interface Measures {
  /** Measures by the end of a name behind its last underscore, with the size of that unit. */
  readonly bySuffix: ReadonlyMap<string, readonly [measure: Measure, factor: number]>;
  /** Measures of counted things, by the whole name in lower case. */
  readonly byName: ReadonlyMap<string, Measure>;
}

/** What a quantity name tells. */
export interface Measured {
  readonly measure: Measure;
  /** Times this, a value is in the measure's own unit. */
  readonly factor: number;
  /** What of the thing is measured, in lower case: `diameter`; empty where the name says only the measure. */
  readonly of: string;
}

/** Prepares the rules for {@link measureOf}. */
export function prepareMeasures(formats: readonly NumberFormatRule[]): Measures {
  const bySuffix = new Map<string, readonly [Measure, number]>();
  const byName = new Map<string, Measure>();
  for (const rule of formats) {
    if (rule.kind !== "measures") continue;
    for (const measure of rule.measures) {
      for (const [suffix, factor] of Object.entries(measure.suffixes ?? {})) bySuffix.set(suffix, [measure, factor]);
      for (const name of measure.names ?? []) byName.set(name.toLowerCase(), measure);
    }
  }
  return { bySuffix, byName };
}

/**
 * What the quantity of this name measures.
 *
 * @param name as a catalog has it: `capacitance_uF`, `keys`
 * @returns `null` where neither its end nor the whole name is known
 */
export function measureOf(name: string, measures: Measures): Measured | null {
  const counted = measures.byName.get(name.toLowerCase());
  if (counted !== undefined) return { measure: counted, factor: 1, of: "" };
  const cut = name.lastIndexOf("_");
  const found = cut < 0 ? undefined : measures.bySuffix.get(name.slice(cut + 1));
  return found === undefined ? null : { measure: found[0], factor: found[1], of: name.slice(0, cut).toLowerCase() };
}

/** How far rounding and a change of units go, as a part of the value. Our choice. */
const ROUNDING = 0.01;

/** True where two values, in the measure's own unit, are the same as people write them: 9 inches and 229 mm, 220 and 230 V. */
export function sameMeasure({ alike }: Measure, a: number, b: number): boolean {
  if (Math.abs(a - b) <= ROUNDING * Math.max(Math.abs(a), Math.abs(b))) return true;
  return (alike ?? []).some(([low, high]) => [a, b].every((value) => value >= low && value <= high));
}
