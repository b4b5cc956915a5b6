/**
 * Finds the records of a page: the elements that each hold one listing.
 *
 * The road, after the published record-mining family (MDR, KDD 2003; DEPTA, WWW 2005; tag paths, WWW 2009):
 *
 *   anchors         links, headings, images, amounts of money, grouped by tag path
 *   records         for each anchor the largest element that holds no other of its group; the level on which
 *                   most of a group agree gives a *class* of records
 *   classes         weighed by what their records hold; of classes that lie in each other one wins
 *   flat runs       where title and price are siblings without a wrapper, a record is a range of siblings
 *   odd siblings    records of another shape inside a run (sponsored ones) are let in when they hold a title
 *                   and a price
 */
import type { Places } from "./context.ts";
import { MAX_CLASSES, MAX_CLIMB, MAX_GROUP, MAX_LISTINGS } from "./limits.ts";
import { likeness } from "./similarity.ts";
import { countIn, elementAt, lowerBound, Mark, type PageTree } from "./tree.ts";

/** The nodes of one listing: the range [start, end) of the tree, mostly one element with all it holds. */
export interface RecordSpan {
  /** The record's element; of a flat run, its first. */
  readonly root: number;
  readonly start: number;
  readonly end: number;
}

/** Records of one shape. */
export interface RecordClass {
  readonly records: readonly RecordSpan[];
  readonly score: number;
}

/** Says whether a record without any amount of money still offers something (buy button, bids, price on request). */
export type OffersSomething = (span: RecordSpan) => boolean;

/** Finds classes of records, best first, none overlapping. Yields nothing; a caller may stop between steps. */
export function* findRecords(tree: PageTree, places: Places, offers: OffersSomething): Generator<void, RecordClass[]> {
  const letters = letterSums(tree);
  const candidates = candidateClasses(tree);
  yield;
  const weighed: RecordClass[] = [];
  for (const roots of candidates) {
    const spans = spansOf(tree, roots);
    const viable = spans.filter((span) => isViable(tree, letters, span, places, offers));
    const kept = withUnpriced(tree, letters, spans, viable);
    if (kept.length > 0) weighed.push({ records: kept, score: scoreOf(tree, letters, kept) });
    yield;
  }
  weighed.sort((a, b) => b.score - a.score);
  const best = weighed.slice(0, MAX_CLASSES);
  const chosen: RecordClass[] = [];
  for (const candidate of best) {
    if (candidate.records.length < 2) continue;
    if (best.some((outer) => outer !== candidate && areVariantsIn(tree, candidate, outer))) continue;
    if (best.some((inner) => inner !== candidate && isSectionOf(tree, candidate, inner))) continue;
    const free = candidate.records.filter((span) => !chosen.some((other) => overlaps(other.records, span)));
    if (free.length === 0 || (free.length < 2 && candidate.records.length > 1)) continue;
    chosen.push({ records: free.slice(0, MAX_LISTINGS), score: candidate.score });
    yield;
  }
  return chosen.map((found) => withOddSiblings(tree, letters, found, chosen));
}

/** Running sums of letters, so that the text of a range is a subtraction. */
function letterSums(tree: PageTree): Float64Array {
  const sums = new Float64Array(tree.nodes.length + 1);
  for (let at = 0; at < tree.nodes.length; at++) {
    const isText = ((tree.marks[at] ?? 0) & Mark.text) !== 0;
    const own = isText ? letterCount((tree.nodes[at] as Text).data) : 0;
    sums[at + 1] = (sums[at] ?? 0) + own;
  }
  return sums;
}

function letterCount(text: string): number {
  const trimmed = text.trim();
  return /\p{L}{2}/u.test(trimmed) ? Math.min(trimmed.length, 500) : 0;
}

/** Classes of elements that could be records, as lists of indexes in document order. */
function candidateClasses(tree: PageTree): number[][] {
  const classes = new Map<number, Set<number>>();
  const propose = (index: number) => {
    if (tree.tag[index] === "#") return;
    const path = tree.path[index] ?? 0;
    const members = classes.get(path);
    if (members === undefined) classes.set(path, new Set([index]));
    else members.add(index);
  };
  for (const anchors of [tree.monies, tree.headings, tree.images, tree.links, tree.terms]) {
    for (const group of groupsByPath(tree, anchors)) {
      for (const root of rootsOf(tree, group, anchors === tree.links)) propose(root);
    }
  }
  for (const item of tree.items) propose(item);
  return [...classes.values()].map((members) => [...members].sort((a, b) => a - b));
}

function groupsByPath(tree: PageTree, anchors: readonly number[]): number[][] {
  const groups = new Map<number, number[]>();
  for (const anchor of anchors) {
    const path = tree.path[anchor] ?? 0;
    const group = groups.get(path);
    if (group === undefined) groups.set(path, [anchor]);
    else if (group.length < MAX_GROUP) group.push(anchor);
  }
  return [...groups.values()].filter((group) => group.length > 1);
}

/** The records that a group of anchors stands for, on the level (or the two levels) on which most agree. */
function rootsOf(tree: PageTree, group: readonly number[], areLinks: boolean): Set<number> {
  const units = areLinks ? withoutRepeatedAddress(tree, group) : group;
  if (units.length < 2) return new Set();
  const levels = new Map<number, number>();
  let deepest = 0;
  units.forEach((anchor, at) => {
    const top = largestAlone(tree, anchor, units[at - 1] ?? -1, units[at + 1] ?? Number.MAX_SAFE_INTEGER);
    const level = tree.depth[top] ?? 0;
    deepest = Math.max(deepest, level);
    levels.set(level, (levels.get(level) ?? 0) + 1);
  });
  const usual = [...levels].reduce((best, next) => (next[1] > best[1] ? next : best))[0];
  const roots = new Set<number>();
  for (const level of new Set([usual, deepest])) {
    for (const anchor of units) roots.add(ancestorAt(tree, anchor, level));
  }
  return roots;
}

/** Links in a row that lead to the same address are one anchor: photo and title of one card. */
function withoutRepeatedAddress(tree: PageTree, links: readonly number[]): number[] {
  const units: number[] = [];
  let last: string | null = null;
  for (const link of links) {
    const address = elementAt(tree, link).getAttribute("href");
    if (address !== last) units.push(link);
    last = address;
  }
  return units;
}

/** The largest element around `anchor` that holds neither neighbour of its group. */
function largestAlone(tree: PageTree, anchor: number, previous: number, next: number): number {
  let at = anchor;
  for (let step = 0; step < MAX_CLIMB; step++) {
    const up = tree.parent[at] ?? -1;
    if (up <= 0 || previous > up || next < (tree.end[up] ?? 0)) break;
    at = up;
  }
  return at;
}

function ancestorAt(tree: PageTree, index: number, level: number): number {
  let at = index;
  while ((tree.depth[at] ?? 0) > level) at = tree.parent[at] ?? 0;
  return at;
}

/**
 * The ranges of a class's records. Where the elements hold titles but no money and money stands between them
 * as their siblings, each record reaches to the next one: a flat run.
 */
function spansOf(tree: PageTree, roots: readonly number[]): RecordSpan[] {
  const plain = roots.map((root) => ({ root, start: root, end: tree.end[root] ?? root + 1 }));
  if (!mayBeFlat(tree, roots)) return plain;
  const flat = flatSpans(tree, roots);
  const priced = flat.filter((span) => countIn(tree.monies, span.start, span.end) > 0).length;
  return priced >= Math.max(2, flat.length * 0.6) ? flat : plain;
}

/** No amount in the elements themselves, but some between them, and most of them children of one element. */
function mayBeFlat(tree: PageTree, roots: readonly number[]): boolean {
  const [first] = roots;
  const last = roots.at(-1);
  if (first === undefined || last === undefined || roots.length < 2) return false;
  const reach = tree.end[tree.parent[last] ?? 0] ?? 0;
  if (countIn(tree.monies, first, reach) < 2) return false;
  const siblings = roots.filter((root, at) => at > 0 && tree.parent[root] === tree.parent[roots[at - 1] ?? -1]).length;
  return (
    siblings >= (roots.length - 1) / 2 && !roots.some((root) => countIn(tree.monies, root, tree.end[root] ?? root) > 0)
  );
}

function flatSpans(tree: PageTree, roots: readonly number[]): RecordSpan[] {
  const lead = leadOf(tree, roots);
  const starts = roots.map((root) => stepBack(tree, root, lead));
  const usual = median(roots.slice(1).map((root, at) => siblingsBetween(tree, roots[at] ?? 0, root)));
  return roots.map((root, at) => {
    const start = starts[at] ?? root;
    const next = roots[at + 1];
    const isSameParent = next !== undefined && tree.parent[next] === tree.parent[root];
    const end = isSameParent ? (starts[at + 1] ?? next) : endAfter(tree, root, usual - lead);
    return { root: start, start, end };
  });
}

/** How many siblings before each title belong to its record: as far back as all records look alike. */
function leadOf(tree: PageTree, roots: readonly number[]): number {
  const [first, second] = roots;
  if (first === undefined || second === undefined || tree.parent[first] !== tree.parent[second]) return 0;
  const period = siblingsBetween(tree, first, second);
  let lead = 0;
  let a = previousElement(tree, first);
  let b = previousElement(tree, second);
  while (a >= 0 && b > first && lead < period - 1 && tree.tag[a] === tree.tag[b]) {
    if (tree.tag[a] === "hr" || tree.tag[a] === "br") break;
    lead++;
    a = previousElement(tree, a);
    b = previousElement(tree, b);
  }
  // A price that precedes the first title only by accident would leave the last record without one.
  const last = roots.at(-1) ?? second;
  const after = endAfter(tree, last, period - lead);
  return countIn(tree.monies, last, after) > 0 && countIn(tree.monies, stepBack(tree, first, lead), first) > 0
    ? 0
    : lead;
}

function stepBack(tree: PageTree, index: number, steps: number): number {
  let at = index;
  for (let step = 0; step < steps; step++) {
    const before = previousElement(tree, at);
    if (before < 0) break;
    at = before;
  }
  return at;
}

function endAfter(tree: PageTree, index: number, siblings: number): number {
  const parent = tree.parent[index] ?? 0;
  const limit = tree.end[parent] ?? index;
  let at = index;
  for (let count = 0; count < Math.max(1, siblings) && at < limit; ) {
    if (tree.tag[at] !== "#") count++;
    at = tree.end[at] ?? limit;
  }
  return at;
}

function siblingsBetween(tree: PageTree, from: number, to: number): number {
  let count = 0;
  for (let at = from; at < to; at = tree.end[at] ?? to) if (tree.tag[at] !== "#") count++;
  return count;
}

function previousElement(tree: PageTree, index: number): number {
  return tree.previous[index] ?? -1;
}

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[sorted.length >> 1] ?? 1;
}

/** A record names something and asks something for it (or at least offers it), outside the page's furniture. */
function isViable(
  tree: PageTree,
  letters: Float64Array,
  span: RecordSpan,
  places: Places,
  offers: OffersSomething,
): boolean {
  if (lettersIn(letters, span) < 3 && countIn(tree.images, span.start, span.end) === 0) return false;
  if (places.of(tree.parent[span.root] ?? 0) === "furniture") return false;
  return hasMoney(tree, span) || offers(span);
}

function lettersIn(letters: Float64Array, span: RecordSpan): number {
  return (letters[span.end] ?? 0) - (letters[span.start] ?? 0);
}

function hasMoney(tree: PageTree, span: RecordSpan): boolean {
  return countIn(tree.monies, span.start, span.end) > 0;
}

function scoreOf(tree: PageTree, letters: Float64Array, spans: readonly RecordSpan[]): number {
  return spans.reduce((sum, span) => sum + worthOf(tree, letters, span), 0);
}

/** What a record holds of the things that listings hold; text alone weighs little. */
function worthOf(tree: PageTree, letters: Float64Array, span: RecordSpan): number {
  const holds = (list: readonly number[]) => countIn(list, span.start, span.end) > 0;
  const text = lettersIn(letters, span);
  const isLinked = holds(tree.links) || isInLink(tree, span.root);
  const worth =
    (holds(tree.monies) ? 3 : 0.5) +
    (holds(tree.images) ? 1.5 : 0) +
    (holds(tree.headings) ? 1 : 0) +
    (holds(tree.terms) ? 0.2 : 0) +
    (isLinked ? 1 : 0) +
    (text >= 12 ? 1 : 0) +
    (text >= 6 ? 0.5 : 0);
  return isLinked || holds(tree.images) || holds(tree.headings) ? worth : worth * PLAIN;
}

/** Weight of records without link, picture and heading. */
const PLAIN = 0.4;

function isInLink(tree: PageTree, index: number): boolean {
  for (let at = index, step = 0; at >= 0 && step < 3; at = tree.parent[at] ?? -1, step++) {
    if (((tree.marks[at] ?? 0) & Mark.link) !== 0) return true;
  }
  return false;
}

/** True when an index lies in one of the sorted spans. */
export function isWithin(spans: readonly RecordSpan[], index: number): boolean {
  let low = 0;
  let high = spans.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((spans[middle]?.end ?? 0) <= index) low = middle + 1;
    else high = middle;
  }
  return (spans[low]?.start ?? index + 1) <= index;
}

/** True when one of the sorted spans shares nodes with the span. */
export function overlaps(spans: readonly RecordSpan[], span: RecordSpan): boolean {
  let low = 0;
  let high = spans.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((spans[middle]?.end ?? 0) <= span.start) low = middle + 1;
    else high = middle;
  }
  const next = spans[low];
  return next !== undefined && next.start < span.end;
}

/** Adds records that offer nothing themselves but lie among those that do and are built like them. */
function withUnpriced(
  tree: PageTree,
  letters: Float64Array,
  spans: readonly RecordSpan[],
  viable: readonly RecordSpan[],
): RecordSpan[] {
  const [sample] = viable;
  if (sample === undefined || viable.length < 2 || viable.length === spans.length) return [...viable];
  const parents = new Set(viable.map((span) => tree.parent[span.root]));
  const known = new Set(viable);
  return spans.filter(
    (span) =>
      known.has(span) ||
      (parents.has(tree.parent[span.root]) &&
        lettersIn(letters, span) >= 8 &&
        hasTitleIn(tree, span) &&
        likeness(tree, sample.root, span.root) >= ALIKE),
  );
}

function hasTitleIn(tree: PageTree, span: RecordSpan): boolean {
  return (
    holdsAny(tree.links, span) ||
    holdsAny(tree.headings, span) ||
    holdsAny(tree.terms, span) ||
    isInLink(tree, span.root)
  );
}

/** How many outer records are looked at to tell variants from cards. */
const MAX_SAMPLE = 24;

/**
 * True when `inner` are rows of choices inside the cards of `outer` (sizes with their prices): several a card,
 * while picture and title stand outside them.
 */
function areVariantsIn(tree: PageTree, inner: RecordClass, outer: RecordClass): boolean {
  if (outer.records.length < 2 || inner.records.length < outer.records.length * 1.3) return false;
  const starts = inner.records.map((span) => span.start);
  let holding = 0;
  let titledOutside = 0;
  let pictured = 0;
  for (const card of outer.records.slice(0, MAX_SAMPLE)) {
    const rows = inner.records.slice(lowerBound(starts, card.start), lowerBound(starts, card.end));
    if (rows.length === 0 || rows[0]?.start === card.start) continue;
    holding++;
    const outside = (list: readonly number[]) =>
      countIn(list, card.start, card.end) - rows.reduce((sum, row) => sum + countIn(list, row.start, row.end), 0);
    if (outside(tree.headings) > 0 || outside(tree.links) > 0) titledOutside++;
    if (outside(tree.images) > 0) pictured++;
  }
  if (holding < 2 || titledOutside < holding * 0.6) return false;
  const rowsHaveTitles = inner.records.filter(
    (row) => holdsAny(tree.headings, row) || holdsAny(tree.images, row),
  ).length;
  if (rowsHaveTitles > inner.records.length * 0.4) return false;
  return pictured >= holding * 0.6 || repeats(tree, inner);
}

function holdsAny(list: readonly number[], span: RecordSpan): boolean {
  return countIn(list, span.start, span.end) > 0;
}

/** True when the rows' first texts recur from card to card ("6 cells", "7 cells"). */
function repeats(tree: PageTree, rows: RecordClass): boolean {
  const texts = rows.records.map((row) => firstText(tree, row));
  return new Set(texts).size < texts.length * 0.6;
}

/** The first text of a record that names something: no amount, some letters. */
function firstText(tree: PageTree, span: RecordSpan): string {
  for (let at = span.start; at < span.end; at++) {
    if (((tree.marks[at] ?? 0) & (Mark.text | Mark.money)) !== Mark.text) continue;
    const text = (tree.nodes[at] as Text).data.trim();
    if (text.length >= 6 && letterCount(text) > 0) return text;
  }
  return "";
}

/**
 * True when the records of `outer` are sections: each holds several records of `inner` that name different
 * things, and no amount stands outside of those.
 */
function isSectionOf(tree: PageTree, outer: RecordClass, inner: RecordClass): boolean {
  if (inner.records.length < outer.records.length * 1.3 || repeats(tree, inner)) return false;
  const starts = inner.records.map((span) => span.start);
  const holding = outer.records.slice(0, MAX_SAMPLE).filter((section) => {
    const rows = inner.records.slice(lowerBound(starts, section.start), lowerBound(starts, section.end));
    const inRows = rows.reduce((sum, row) => sum + countIn(tree.monies, row.start, row.end), 0);
    return (
      rows[0]?.start !== section.start && rows.length > 0 && inRows === countIn(tree.monies, section.start, section.end)
    );
  });
  return holding.length === Math.min(outer.records.length, MAX_SAMPLE) && !areVariantsIn(tree, inner, outer);
}

/** Fewest records of a run that takes in siblings of another shape. */
const MIN_RUN = 3;

/** Adds siblings of the records that are of another shape and yet hold a title and a price. */
function withOddSiblings(
  tree: PageTree,
  letters: Float64Array,
  found: RecordClass,
  all: readonly RecordClass[],
): RecordClass {
  const added: RecordSpan[] = [];
  for (const [parent, records] of byParent(tree, found.records)) {
    if (records.length < MIN_RUN) continue;
    for (let child = parent + 1; child < (tree.end[parent] ?? 0); child = tree.end[child] ?? Number.MAX_SAFE_INTEGER) {
      const span = { root: child, start: child, end: tree.end[child] ?? child + 1 };
      if (tree.tag[child] === "#" || all.some((other) => overlaps(other.records, span))) continue;
      if (overlaps(added, span) || !isOddRecord(tree, letters, span, records)) continue;
      added.push(span);
    }
  }
  if (added.length === 0) return found;
  const records = [...found.records, ...added].sort((a, b) => a.start - b.start);
  return { records, score: found.score };
}

function byParent(tree: PageTree, records: readonly RecordSpan[]): Map<number, RecordSpan[]> {
  const parents = new Map<number, RecordSpan[]>();
  for (const span of records) {
    const parent = tree.parent[span.root] ?? 0;
    const inside = parents.get(parent);
    if (inside === undefined) parents.set(parent, [span]);
    else inside.push(span);
  }
  return parents;
}

/** Likeness above which a sibling without a price still counts as one of the run. */
const ALIKE = 0.6;

function isOddRecord(tree: PageTree, letters: Float64Array, span: RecordSpan, records: readonly RecordSpan[]): boolean {
  if (lettersIn(letters, span) < 8) return false;
  if (!hasTitleIn(tree, span)) return false;
  if (!hasMoney(tree, span)) {
    const sample = records[0];
    return (
      sample !== undefined &&
      tree.tag[sample.root] === tree.tag[span.root] &&
      likeness(tree, sample.root, span.root) >= ALIKE
    );
  }
  const size = span.end - span.start;
  const usual = median(records.map((record) => record.end - record.start));
  return size <= usual * 3 + 20;
}
