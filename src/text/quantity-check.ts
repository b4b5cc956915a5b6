/**
 * Quantities of one listing held against each other: watt-hours against volts times amp-hours, cells against volts,
 * one picture size against another. What cannot all be true is told; which one is wrong is not for this module.
 */
import type { StatedQuantity } from "./quantities.ts";

/** Statements of one text that cannot hold together. */
export interface Inconsistency {
  /**
   * `energy`: watt-hours are not volts × amp-hours; `cells`: the number of cells does not go with the volts or the cells
   * in series; `two-values`: one quantity stated twice with no value in common.
   */
  readonly code: "energy" | "cells" | "two-values";
  /** The statements, in the order of the text. */
  readonly statements: readonly StatedQuantity[];
}

/** Volts of one lithium-ion cell: nominal 3.6 to 3.85 with 0.05 either side. The window is our choice. */
export interface CellWindow {
  readonly low: number;
  readonly high: number;
}

/** How far stated watt-hours may lie from volts × amp-hours: rounding and two nominal volts explain that much. Our choice. */
const ENERGY_TOLERANCE = 0.03;
/** One thing has one of these. */
const SINGLE = ["width_px", "height_px", "transferRate_MTs", "seriesCells", "cells"];

/**
 * How many cells in series a voltage means: the n with `low ≤ volts / n ≤ high`.
 *
 * @returns `null` where no whole number does, or several do
 */
export function seriesCells(volts: number, low: number, high: number): number | null {
  if (!(volts > 0)) return null;
  // A hair of slack on both ends takes up binary fractions: 3.9 × 3 is not 11.7 to the last bit.
  const first = Math.ceil(volts / high - 1e-9);
  const last = Math.floor(volts / low + 1e-9);
  return first === last && first >= 1 ? first : null;
}

/** Every pair or triple of statements that cannot hold together. */
export function findInconsistencies(stated: readonly StatedQuantity[], window: CellWindow): Inconsistency[] {
  return [...energyOf(stated), ...cellsOf(stated, window), ...twoValues(stated)];
}

function energyOf(stated: readonly StatedQuantity[]): Inconsistency[] {
  const [energies, volts, charges] = ["energy_Wh", "nominalVoltage_V", "capacity_Ah"].map((name) =>
    named(stated, name),
  );
  const statements = [energies, volts, charges].flatMap((each) => each ?? []);
  if (!energies?.length || !volts?.length || !charges?.length) return [];
  const possible = valuesOf(energies).some((energy) =>
    valuesOf(volts).some((volt) =>
      valuesOf(charges).some((charge) => Math.abs(volt * charge - energy) <= ENERGY_TOLERANCE * energy + 1e-9),
    ),
  );
  return possible ? [] : [{ code: "energy", statements: inOrder(statements) }];
}

function cellsOf(stated: readonly StatedQuantity[], { low, high }: CellWindow): Inconsistency[] {
  const volts = named(stated, "nominalVoltage_V");
  const series = named(stated, "seriesCells");
  const cells = named(stated, "cells");
  const fromVolts = valuesOf(volts).map((volt) => seriesCells(volt, low, high));
  // A voltage that no cell count explains (another chemistry) says nothing about cells.
  const counts = fromVolts.includes(null) ? [] : fromVolts.flatMap((count) => count ?? []);
  const found: Inconsistency[] = [];
  if (counts.length > 0 && series.length > 0 && !valuesOf(series).some((each) => counts.includes(each)))
    found.push({ code: "cells", statements: inOrder([...volts, ...series]) });
  const multiples = counts.length > 0 ? counts : valuesOf(series);
  const divisible = valuesOf(cells).some((each) => multiples.some((count) => count > 0 && each % count === 0));
  if (found.length === 0 && cells.length > 0 && multiples.length > 0 && !divisible)
    found.push({ code: "cells", statements: inOrder([...(counts.length > 0 ? volts : series), ...cells]) });
  return found;
}

function twoValues(stated: readonly StatedQuantity[]): Inconsistency[] {
  return SINGLE.flatMap((name): Inconsistency[] => {
    const all = named(stated, name);
    const [first, ...others] = all;
    const other = first && others.find((each) => !valuesOf([each]).some((value) => valuesOf([first]).includes(value)));
    return first === undefined || other === undefined ? [] : [{ code: "two-values", statements: [first, other] }];
  });
}

function named(stated: readonly StatedQuantity[], name: string): StatedQuantity[] {
  return stated.filter((each) => each.name === name);
}

function valuesOf(statements: readonly StatedQuantity[]): number[] {
  return statements
    .flatMap(({ value, alternatives }) => [value, ...alternatives])
    .filter((value) => typeof value === "number");
}

function inOrder(statements: readonly StatedQuantity[]): StatedQuantity[] {
  return [...statements].sort((a, b) => a.span[0] - b.span[0]);
}
