/** Finding families, parts and links in a catalog that may be large: a few hits are given, the rest is counted. Pure. */
import type { Catalog, Family, Part } from "../../formats/catalog.ts";
import { canonicalNumber } from "../../text/part-number.ts";

/** A family in one line. */
export interface FamilyLine {
  readonly id: string;
  readonly maker: string;
  readonly name: string;
  readonly modelNumbers: readonly string[];
  readonly revisions: readonly string[];
}

/** A part in one line. */
export interface PartLine {
  readonly id: string;
  readonly type: string;
  readonly name: string;
  readonly numbers: readonly string[];
  /** Numbers beyond those named. */
  readonly more: number;
  readonly positions: number | null;
  readonly pinned: boolean;
  readonly quantities: number;
  /** In how many revisions it is listed. */
  readonly places: number;
}

/** An interchange or supersession with its place in the catalog's list. */
export interface LinkLine<T> {
  readonly at: number;
  readonly entry: T;
}

/** Hits of one kind. */
export interface Hits<T> {
  readonly shown: readonly T[];
  /** All there are, shown or not. */
  readonly found: number;
}

/** What a search finds. */
export interface Findings {
  readonly families: Hits<FamilyLine>;
  readonly parts: Hits<PartLine>;
  readonly interchange: Hits<LinkLine<Catalog["interchange"][number]>>;
  readonly supersession: Hits<LinkLine<Catalog["supersession"][number]>>;
}

/** Numbers of a part that are named in its line. */
const NUMBERS_SHOWN = 6;

/**
 * @param text words of names, or numbers in any spelling; empty finds everything
 * @param most how many hits of each kind are given
 */
export function findInCatalog(catalog: Catalog, text: string, most: number): Findings {
  const holds = matcher(text);
  const places = placeCounts(catalog);
  return {
    families: hits(catalog.families, familyHolds(holds), familyLine, most),
    parts: hits(catalog.parts, partHolds(holds), (part) => partLine(part, places.get(part.id) ?? 0), most),
    interchange: hits(
      catalog.interchange.map((entry, at) => ({ at, entry })),
      ({ entry }) => holds([entry.basis ?? "", entry.note ?? ""], entry.numbers),
      (line) => line,
      most,
    ),
    supersession: hits(
      catalog.supersession.map((entry, at) => ({ at, entry })),
      ({ entry }) => holds([entry.basis ?? "", entry.note ?? ""], [entry.old, entry.new]),
      (line) => line,
      most,
    ),
  };
}

/** Does every word of the search stand in one of these texts or numbers? */
type Holds = (texts: readonly string[], numbers: readonly string[]) => boolean;

function matcher(text: string): Holds {
  const asked = text
    .split(/\s+/)
    .filter((word) => word !== "")
    .slice(0, 12)
    .map((word) => ({ plain: word.toLowerCase(), number: canonicalNumber(word) }));
  if (asked.length === 0) return () => true;
  return (texts, numbers) => {
    const joined = [...texts, ...numbers].join("\n").toLowerCase();
    return asked.every(
      ({ plain, number }) =>
        joined.includes(plain) || (number.length > 1 && numbers.some((each) => canonicalNumber(each).includes(number))),
    );
  };
}

function familyHolds(holds: Holds): (family: Family) => boolean {
  return ({ id, maker = "", name = "", modelNumbers, revisions }) =>
    holds(
      [id, maker, name, ...revisions.map((revision) => revision.name ?? revision.id)],
      [...modelNumbers, ...revisions.flatMap(({ boardNumbers }) => boardNumbers)],
    );
}

function partHolds(holds: Holds): (part: Part) => boolean {
  return ({ id, type, name = "", numbers }) => holds([id, type, name], numbers);
}

function familyLine({ id, maker = "", name = "", modelNumbers, revisions }: Family): FamilyLine {
  return { id, maker, name, modelNumbers, revisions: revisions.map((revision) => revision.name ?? revision.id) };
}

function partLine({ id, type, name = "", numbers, connector, quantities }: Part, places: number): PartLine {
  return {
    id,
    type,
    name,
    numbers: numbers.slice(0, NUMBERS_SHOWN),
    more: Math.max(0, numbers.length - NUMBERS_SHOWN),
    positions: connector?.positions ?? connector?.pins?.length ?? null,
    pinned: connector?.pins !== undefined,
    quantities: Object.keys(quantities ?? {}).length,
    places,
  };
}

function placeCounts({ families }: Catalog): Map<string, number> {
  const counts = new Map<string, number>();
  for (const { revisions } of families) {
    for (const { parts } of revisions) for (const id of parts) counts.set(id, (counts.get(id) ?? 0) + 1);
  }
  return counts;
}

function hits<T, L>(list: readonly T[], isHit: (entry: T) => boolean, line: (entry: T) => L, most: number): Hits<L> {
  const shown: L[] = [];
  let found = 0;
  for (const entry of list) {
    if (!isHit(entry)) continue;
    if (found < most) shown.push(line(entry));
    found++;
  }
  return { shown, found };
}
