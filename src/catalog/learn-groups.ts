/**
 * Battery numbers that stand for the same thing in one model.
 *
 * What a pack calls itself varies: makers add a batch mark at the end, a length mark, or buy the same pack
 * from several cell makers under different numbers. Two names of one model are put together when
 * 1. they differ only at the end (at most three characters after at least five in common) and nothing about
 *    their rating speaks against it, or
 * 2. their ratings agree: the same cells in series and design energy within three per cent.
 * Names that are no numbers ("Battery 0", a maker's name alone) belong to no group.
 */
import { canonicalNumber } from "../text/part-number.ts";
import { looksLikePrintedNumber } from "../text/placeholders.ts";

/** What one pack said about itself. */
export interface PackSeen {
  readonly name: string | null;
  readonly cells: number | null;
  readonly volts: number | null;
  readonly energy_Wh: number | null;
}

/** Names that stand for the same pack, as far as one can tell from outside. */
export interface NumberGroup {
  /** Names as read, most frequent first. */
  readonly numbers: readonly string[];
  readonly cells: number | null;
  /** Most frequent nominal voltage. */
  readonly volts: number | null;
  /** Middle design energy. */
  readonly energy_Wh: number | null;
  /** How many devices had one. */
  readonly seen: number;
}

/** Design energies that differ by no more than this share are one rating. */
const SAME_ENERGY = 0.03;
const LEAST_STEM = 5;
const LONGEST_ENDING = 3;
/** Most different names of one model that are grouped; further ones are left alone. */
const MAX_NAMES = 2_000;

interface Name {
  readonly key: string;
  readonly printed: string;
  readonly packs: readonly PackSeen[];
  readonly cells: number | null;
  readonly energy: number | null;
}

/** Groups the packs of one model; largest group first. */
export function groupNumbers(packs: readonly PackSeen[]): NumberGroup[] {
  const names = namesOf(packs);
  const parent = names.map((_, i) => i);
  joinByEnding(names, parent);
  joinByRating(names, parent);
  const groups = new Map<number, Name[]>();
  for (const [i, name] of names.entries()) {
    const root = rootOf(parent, i);
    const group = groups.get(root);
    if (group === undefined) groups.set(root, [name]);
    else group.push(name);
  }
  return [...groups.values()].map(asGroup).sort((a, b) => b.seen - a.seen);
}

/**
 * The group that a pack belongs to: by its name, by a name that differs at the end only, or by its rating.
 *
 * @returns the place in `groups`, -1 for a pack of none of them, `null` for a pack that names no number
 */
export function groupOf(pack: PackSeen, groups: readonly NumberGroup[]): number | null {
  const key = numberKey(pack.name);
  if (key === null) return null;
  const exact = groups.findIndex((group) => group.numbers.some((number) => canonicalNumber(number) === key));
  if (exact >= 0) return exact;
  const alike = groups.findIndex(
    (group) =>
      !ratingsDiffer(group.cells, group.energy_Wh, pack.cells, pack.energy_Wh) &&
      group.numbers.some((number) => differOnlyAtEnd(canonicalNumber(number), key)),
  );
  if (alike >= 0) return alike;
  return groups.findIndex((group) => ratingsAgree(group.cells, group.energy_Wh, pack.cells, pack.energy_Wh));
}

/** Canonical form of a pack's name where it is a number, else `null`. */
export function numberKey(name: string | null): string | null {
  return name !== null && looksLikePrintedNumber(name) ? canonicalNumber(name) : null;
}

function namesOf(packs: readonly PackSeen[]): Name[] {
  const byKey = new Map<string, PackSeen[]>();
  for (const pack of packs) {
    const key = numberKey(pack.name);
    if (key === null) continue;
    const list = byKey.get(key);
    if (list !== undefined) list.push(pack);
    else if (byKey.size < MAX_NAMES) byKey.set(key, [pack]);
  }
  return [...byKey].map(([key, list]) => ({
    key,
    printed: list[0]?.name ?? key,
    packs: list,
    cells: mostFrequent(list.map(({ cells }) => cells)),
    energy: middle(list.map(({ energy_Wh }) => energy_Wh)),
  }));
}

/** Only names with the same first characters can differ at the end alone, so only these are compared. */
function joinByEnding(names: readonly Name[], parent: number[]): void {
  const byStart = new Map<string, number[]>();
  for (const [i, { key }] of names.entries()) {
    const start = key.slice(0, LEAST_STEM);
    const list = byStart.get(start) ?? [];
    for (const j of list) {
      const other = names[j];
      if (other === undefined || !differOnlyAtEnd(key, other.key)) continue;
      if (!ratingsDiffer(names[i]?.cells ?? null, names[i]?.energy ?? null, other.cells, other.energy)) {
        parent[rootOf(parent, i)] = rootOf(parent, j);
      }
    }
    list.push(i);
    byStart.set(start, list);
  }
}

/** Groups of one cell count, in the order of their energies: neighbours within the tolerance are joined. */
function joinByRating(names: readonly Name[], parent: number[]): void {
  const members = new Map<number, Name[]>();
  for (const [i, name] of names.entries()) {
    const root = rootOf(parent, i);
    members.set(root, [...(members.get(root) ?? []), name]);
  }
  const rated = [...members].map(([root, group]) => ({ root, ...asGroup(group) }));
  rated.sort((a, b) => (a.cells ?? 0) - (b.cells ?? 0) || (a.energy_Wh ?? 0) - (b.energy_Wh ?? 0));
  for (const [i, one] of rated.entries()) {
    const next = rated[i + 1];
    if (next && ratingsAgree(one.cells, one.energy_Wh, next.cells, next.energy_Wh)) {
      parent[rootOf(parent, next.root)] = rootOf(parent, one.root);
    }
  }
}

function asGroup(names: readonly Name[]): NumberGroup {
  const packs = names.flatMap((name) => name.packs);
  return {
    numbers: [...names].sort((a, b) => b.packs.length - a.packs.length).map(({ printed }) => printed),
    cells: mostFrequent(packs.map(({ cells }) => cells)),
    volts: mostFrequent(packs.map(({ volts }) => volts)),
    energy_Wh: middle(packs.map(({ energy_Wh }) => energy_Wh)),
    seen: packs.length,
  };
}

function differOnlyAtEnd(a: string, b: string): boolean {
  let common = 0;
  while (common < a.length && common < b.length && a[common] === b[common]) common++;
  return common >= LEAST_STEM && a.length - common <= LONGEST_ENDING && b.length - common <= LONGEST_ENDING;
}

function ratingsDiffer(cellsA: number | null, energyA: number | null, cellsB: number | null, energyB: number | null) {
  if (cellsA !== null && cellsB !== null && cellsA !== cellsB) return true;
  return energyA !== null && energyB !== null && !sameEnergy(energyA, energyB);
}

function ratingsAgree(cellsA: number | null, energyA: number | null, cellsB: number | null, energyB: number | null) {
  return cellsA !== null && cellsA === cellsB && energyA !== null && energyB !== null && sameEnergy(energyA, energyB);
}

function sameEnergy(a: number, b: number): boolean {
  return Math.abs(a - b) <= SAME_ENERGY * Math.max(a, b);
}

/** The most frequent value that is not `null`; the earlier one of equals. */
export function mostFrequent<T>(values: readonly (T | null)[]): T | null {
  const counts = new Map<T, number>();
  for (const value of values) if (value !== null) counts.set(value, (counts.get(value) ?? 0) + 1);
  let best: T | null = null;
  let most = 0;
  for (const [value, count] of counts) {
    if (count > most) [best, most] = [value, count];
  }
  return best;
}

/** The lower middle of the values that are not `null`. */
function middle(values: readonly (number | null)[]): number | null {
  const sorted = values.filter((value): value is number => value !== null).sort((a, b) => a - b);
  return sorted[(sorted.length - 1) >> 1] ?? null;
}

function rootOf(parent: number[], i: number): number {
  let root = i;
  while ((parent[root] ?? root) !== root) root = parent[root] ?? root;
  for (let at = i; at !== root; ) {
    const next = parent[at] ?? root;
    parent[at] = root;
    at = next;
  }
  return root;
}
