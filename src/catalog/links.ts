/**
 * Which number serves where which other number did: the closure of interchange and supersession.
 *
 * Numbers are nodes. Numbers of one part, and numbers of one interchange entry, serve for each other. A later
 * number serves where the earlier did, never the other way round. A number that two parts of one catalog
 * bear ends a chain there: what holds for one of the two need not hold for the other.
 */
import type { Catalog, Part } from "../formats/catalog.ts";
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

/** The statements that name a number. */
export type LinksAt = (number: string) => readonly Link[];

/**
 * What one catalog states. Every number of a link is canonical.
 *
 * @param endsChain true for numbers that several parts of one catalog bear
 */
export function* linksOf(
  { parts, interchange, supersession }: Catalog,
  catalog: number,
  endsChain: (number: string) => boolean,
): Generator<Link> {
  for (const part of parts) yield* partLink(part, catalog, endsChain);
  for (const entry of interchange) yield interchangeLink(entry, catalog);
  for (const entry of supersession) yield* supersessionLink(entry, catalog);
}

/** A part's numbers serve for each other. */
export function* partLink(part: Part, catalog: number, endsChain: (number: string) => boolean): Generator<Link> {
  if (part.numbers.length < 2) return;
  const numbers = canonicalNumbers(part.numbers).filter((number) => !endsChain(number));
  if (numbers.length > 1) yield { kind: "part", catalog, numbers };
}

/** So do those of an interchange entry. */
export function interchangeLink({ numbers, basis }: Catalog["interchange"][number], catalog: number): Link {
  return {
    kind: "interchange",
    catalog,
    numbers: canonicalNumbers(numbers),
    ...(basis === undefined ? {} : { basis }),
  };
}

/** A later number serves where the earlier did. */
export function* supersessionLink(
  { old, new: later, basis }: Catalog["supersession"][number],
  catalog: number,
): Generator<Link> {
  const numbers = canonicalNumbers([old, later]);
  if (numbers.length === 2) yield { kind: "supersession", catalog, numbers, ...(basis === undefined ? {} : { basis }) };
}

/**
 * Every number reachable from `start`, nearest first, each once; `start` itself is the first. Each number and each link
 * is looked at once, so a link must be the same object whichever number led to it.
 */
export function walk(links: LinksAt, start: string, direction: Direction, onlyCatalog?: number): Step[] {
  const steps: Step[] = [{ number: start, from: null, link: null, superseded: false }];
  const seen = new Set([start]);
  const crossed = new Set<Link>();
  for (let i = 0; i < steps.length && steps.length < MAX_WALK; i++) {
    const at = steps[i];
    if (at === undefined) break;
    for (const link of links(at.number)) {
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

/** The numbers that are said to replace this very number, and what replaces these, in turn. */
export function laterThan(links: LinksAt, number: string): string[] {
  const found = [number];
  const seen = new Set(found);
  for (let i = 0; i < found.length && found.length < MAX_WALK; i++) {
    const at = found[i] ?? number;
    for (const { kind, numbers } of links(at)) {
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
