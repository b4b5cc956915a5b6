/**
 * Which number serves where which other number did: the closure of interchange and supersession.
 *
 * Numbers are nodes. Numbers of one part, and numbers of one interchange entry, serve for each other. A later
 * number serves where the earlier did, never the other way round. A number that two parts of one catalog
 * bear ends a chain there: what holds for one of the two need not hold for the other.
 */
import type { Catalog } from "../formats/catalog.ts";
import { canonicalNumber } from "../text/part-number.ts";

/** Most numbers that one walk visits; a chain longer than this is cut, which can only lose a `fits`. */
const MAX_WALK = 20_000;

/** One statement that ties numbers together. */
export interface Link {
  readonly kind: "part" | "interchange" | "supersession";
  /** Place of the catalog that states it. */
  readonly catalog: number;
  /** Canonical; of a supersession: the earlier, then the later. */
  readonly numbers: readonly string[];
  readonly basis?: string;
}

/** How a walk came to a number. */
export interface Step {
  readonly number: string;
  /** The number before it on the way; null at the start. */
  readonly from: string | null;
  readonly link: Link | null;
  /** True when a supersession was crossed on the way. */
  readonly superseded: boolean;
}

/** Which way supersessions are crossed: towards what a number serves for, or towards what serves for it. */
export type Direction = "to-earlier" | "to-later" | "none";

/** The links of all catalogs, by number. */
export interface Links {
  /** Every number reachable from `start`, nearest first, each once; `start` itself is the first. */
  walk(start: string, direction: Direction, onlyCatalog?: number): Step[];
  /** True when a link names the number. */
  has(number: string): boolean;
  /** The numbers that are said to replace this very number, and what replaces these, in turn. */
  laterThan(number: string): string[];
}

/**
 * @param catalogs all catalogs
 * @param endsChain true for numbers that several parts of one catalog bear
 */
export function buildLinks(catalogs: readonly Catalog[], endsChain: (number: string) => boolean): Links {
  const links = new Map<string, Link[]>();
  const add = (link: Link): void => {
    for (const number of link.numbers) {
      const list = links.get(number);
      if (list === undefined) links.set(number, [link]);
      else list.push(link);
    }
  };
  for (const [catalog, { parts, interchange, supersession }] of catalogs.entries()) {
    for (const part of parts) {
      if (part.numbers.length < 2) continue;
      const numbers = canonicalNumbers(part.numbers).filter((number) => !endsChain(number));
      if (numbers.length > 1) add({ kind: "part", catalog, numbers });
    }
    for (const { numbers, basis } of interchange) {
      add({
        kind: "interchange",
        catalog,
        numbers: canonicalNumbers(numbers),
        ...(basis === undefined ? {} : { basis }),
      });
    }
    for (const { old, new: later, basis } of supersession) {
      const numbers = canonicalNumbers([old, later]);
      if (numbers.length === 2)
        add({ kind: "supersession", catalog, numbers, ...(basis === undefined ? {} : { basis }) });
    }
  }
  return {
    walk: (start, direction, onlyCatalog) => walk(links, start, direction, onlyCatalog),
    has: (number) => links.has(number),
    laterThan: (number) => laterThan(links, number),
  };
}

/** Breadth first; each number and each link is looked at once. */
function walk(
  links: ReadonlyMap<string, readonly Link[]>,
  start: string,
  direction: Direction,
  onlyCatalog: number | undefined,
): Step[] {
  const steps: Step[] = [{ number: start, from: null, link: null, superseded: false }];
  const seen = new Set([start]);
  const crossed = new Set<Link>();
  for (let i = 0; i < steps.length && steps.length < MAX_WALK; i++) {
    const at = steps[i];
    if (at === undefined) break;
    for (const link of links.get(at.number) ?? []) {
      if (crossed.has(link) || (onlyCatalog !== undefined && link.catalog !== onlyCatalog)) continue;
      if (!passable(link, at.number, direction)) continue;
      crossed.add(link);
      const superseded = at.superseded || link.kind === "supersession";
      for (const number of link.numbers) {
        if (seen.has(number)) continue;
        seen.add(number);
        steps.push({ number, from: at.number, link, superseded });
      }
    }
  }
  return steps;
}

function passable(link: Link, at: string, direction: Direction): boolean {
  if (link.kind !== "supersession") return true;
  if (direction === "none") return false;
  return at === link.numbers[direction === "to-earlier" ? 1 : 0];
}

function laterThan(links: ReadonlyMap<string, readonly Link[]>, number: string): string[] {
  const found = [number];
  const seen = new Set(found);
  for (let i = 0; i < found.length && found.length < MAX_WALK; i++) {
    const at = found[i] ?? number;
    for (const { kind, numbers } of links.get(at) ?? []) {
      const later = numbers[1];
      if (kind !== "supersession" || numbers[0] !== at || later === undefined || seen.has(later)) continue;
      seen.add(later);
      found.push(later);
    }
  }
  return found.slice(1);
}

function canonicalNumbers(printed: readonly string[]): string[] {
  return [...new Set(printed.map(canonicalNumber))].filter((number) => number !== "");
}
