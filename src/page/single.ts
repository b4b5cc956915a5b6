/** The one card of a page on which nothing repeats: a search with a single result, a shop with a single item. */

import { addressAt } from "./address.ts";
import { foldWords } from "./cues.ts";
import type { Reading } from "./reading.ts";
import { isWithin, overlaps, type RecordSpan } from "./records.ts";
import { countIn, elementAt, lowerBound, Mark, type PageTree } from "./tree.ts";

/** Most levels from an amount up to the card that holds its title. */
const MAX_LEVELS = 8;
/** Most amounts that are tried. */
const MAX_TRIED = 40;

/** Most lone cards beside a list. */
const MAX_SINGLES = 4;

/**
 * For amounts outside of the records `taken`: the smallest element around each that also holds a picture and a
 * title leading elsewhere. None when the page's main heading is nearer, or names the product that the structured
 * data describes.
 */
export function singleRecords(reading: Reading, taken: readonly RecordSpan[]): RecordSpan[] {
  const { tree, places, sight } = reading;
  if (isAboutOne(reading)) return [];
  const found: RecordSpan[] = [];
  let tried = 0;
  for (const amount of tree.monies) {
    if (isWithin(taken, amount) || isWithin(found, amount) || places.of(amount) !== "main") continue;
    if (++tried > MAX_TRIED || found.length >= MAX_SINGLES) break;
    if (!sight.isRendered(elementAt(tree, amount))) continue;
    const root = cardAround(tree, amount);
    const span = root === null ? null : { root, start: root, end: tree.end[root] ?? root + 1 };
    if (span !== null && !overlaps(taken, span)) found.push(span);
    if (taken.length === 0 && found.length > 0) break;
  }
  return found;
}

function isAboutOne({ tree, structured }: Reading): boolean {
  const name = foldWords(structured.main?.name ?? "");
  if (name === "") return false;
  return tree.headings.some((heading) => {
    const text = foldWords(elementAt(tree, heading).textContent ?? "").slice(0, 300);
    return text.length > 3 && (name.startsWith(text) || text.startsWith(name)) && linkAround(tree, heading) === null;
  });
}

function cardAround(tree: PageTree, amount: number): number | null {
  for (let at = amount, step = 0; at > 0 && step < MAX_LEVELS; at = tree.parent[at] ?? 0, step++) {
    const end = tree.end[at] ?? at;
    if (tree.headings.some((heading) => heading >= at && heading < end && tree.tag[heading] === "h1")) return null;
    if (holdsLinkedTitle(tree, at, end) && countIn(tree.images, at, end) > 0) return at;
  }
  return null;
}

function holdsLinkedTitle(tree: PageTree, start: number, end: number): boolean {
  for (let at = lowerBound(tree.headings, start); (tree.headings[at] ?? end) < end; at++) {
    if (linkAround(tree, tree.headings[at] as number) !== null) return true;
  }
  const pictured = new Set<string>();
  const titled = new Set<string>();
  for (let at = lowerBound(tree.links, start); (tree.links[at] ?? end) < end; at++) {
    const link = tree.links[at] as number;
    const address = addressAt(tree, link);
    if (address === null) continue;
    if (countIn(tree.images, link, tree.end[link] ?? link) > 0) pictured.add(address);
    if ((elementAt(tree, link).textContent ?? "").trim().length >= 8) titled.add(address);
  }
  return [...titled].some((address) => pictured.has(address));
}

/** The link in or around a heading. */
function linkAround(tree: PageTree, heading: number): string | null {
  for (let at = heading, step = 0; at >= 0 && step < 4; at = tree.parent[at] ?? -1, step++) {
    if (((tree.marks[at] ?? 0) & Mark.link) !== 0) return addressAt(tree, at);
  }
  const inside = tree.links[lowerBound(tree.links, heading)];
  return inside !== undefined && inside < (tree.end[heading] ?? heading) ? addressAt(tree, inside) : null;
}
