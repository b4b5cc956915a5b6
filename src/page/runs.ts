/** From drafts to listings: which lists of records are listings at all, which are related, in which order. */
import type { Listing } from "../formats/listing.ts";
import type { FoundListing } from "./read.ts";
import type { Draft, Reading } from "./reading.ts";
import { countIn } from "./tree.ts";

/** Fewest records of a list that shows neither links nor pictures nor headings. */
const MIN_POOR = 3;

/**
 * Leaves out lists that only look like listings: lines of text with an amount in them beside a list of real
 * cards, and lists whose "titles" all say the same before an amount (price filters).
 */
export function plausible(reading: Reading, lists: readonly Draft[][]): Draft[][] {
  const kept = lists.filter((drafts) => !isFilterList(drafts) && isForSale(drafts) && !isTerse(reading, drafts));
  const rich = kept.filter((drafts) => drafts.filter((draft) => draft.isRich).length > drafts.length / 2);
  return rich.some((drafts) => drafts.length > 1)
    ? rich
    : kept.filter((drafts) => rich.includes(drafts) || isPlainList(drafts));
}

/** Smallest share of records with a price (or with words in its place) in a list of things for sale. */
const MIN_PRICED = 0.3;

function isForSale(drafts: readonly Draft[]): boolean {
  const offered = drafts.filter((draft) => draft.listing.price !== undefined || draft.isOffered).length;
  return offered > 0 && offered >= drafts.length * MIN_PRICED;
}

function isFilterList(drafts: readonly Draft[]): boolean {
  const inLine = drafts.filter((draft) => draft.sharesLine).length;
  if (drafts.length < 2 || inLine < drafts.length) return false;
  return new Set(drafts.map((draft) => draft.listing.title)).size <= drafts.length / 2;
}

/** Shortest title that is usual in a list without pictures. */
const MIN_USUAL_TITLE = 7;

/** A table of dates, order numbers or words too short to name goods, without pictures. */
function isTerse({ tree }: Reading, drafts: readonly Draft[]): boolean {
  if (drafts.some(({ span }) => countIn(tree.images, span.start, span.end) > 0)) return false;
  const lengths = drafts.map((draft) => draft.listing.title.length).sort((a, b) => a - b);
  return (lengths[lengths.length >> 1] ?? 0) < MIN_USUAL_TITLE;
}

function isPlainList(drafts: readonly Draft[]): boolean {
  return drafts.length >= MIN_POOR && drafts.every((draft) => !draft.sharesLine || draft.listing.title.length >= 12);
}

/** Puts drafts in document order, marks the related ones, lets the page's main listing stand alone. */
export function arrange(reading: Reading, lists: readonly (readonly Draft[])[], main: Draft | null): FoundListing[] {
  const found: { at: number; listing: FoundListing }[] = [];
  if (main !== null) found.push({ at: main.span.start, listing: finished(main, "detail", false) });
  for (const drafts of lists) {
    for (const run of runsOf(reading, drafts)) {
      if (isOtherMatter(reading, run) || isStray(reading, run, drafts)) continue;
      const related = isRelated(reading, run);
      if (main !== null && !related && !isStrip(reading, run)) continue;
      for (const draft of run)
        found.push({ at: draft.span.start, listing: finished(draft, "list", related || main !== null) });
    }
  }
  return found.sort((a, b) => a.at - b.at).map((entry) => entry.listing);
}

/** Drafts by the run they lie in: records of one parent, or of parents that follow each other. */
function runsOf({ tree }: Reading, drafts: readonly Draft[]): Draft[][] {
  const runs = new Map<number, Draft[]>();
  for (const draft of drafts) {
    const parent = tree.parent[draft.span.root] ?? 0;
    const run = runs.get(parent);
    if (run === undefined) runs.set(parent, [draft]);
    else run.push(draft);
  }
  return [...runs.values()];
}

function isRelated({ tree, places }: Reading, run: readonly Draft[]): boolean {
  const [first] = run;
  if (first === undefined) return false;
  return places.of(tree.parent[first.span.root] ?? 0) === "related" || places.isUnder("related", first.span.start);
}

/** On a page about one item: cards with pictures or headings, not the rows of an offer or price table. */
function isStrip({ tree }: Reading, run: readonly Draft[]): boolean {
  const cards = run.filter(({ span }) =>
    [tree.images, tree.headings].some((list) => countIn(list, span.start, span.end) > 0),
  );
  return cards.length > run.length / 2;
}

/** One plain record by itself somewhere else, of the same path as a list of cards by accident: a basket, a link. */
function isStray({ tree }: Reading, run: readonly Draft[], all: readonly Draft[]): boolean {
  const [only, ...others] = run;
  if (only === undefined || others.length > 0 || all.length < 4) return false;
  const isCard = ({ span }: Draft) =>
    [tree.images, tree.headings].some((list) => countIn(list, span.start, span.end) > 0);
  const isNothing = only.listing.price === undefined || !/[1-9]/.test(only.listing.price.amount);
  return !isCard(only) && isNothing && all.filter(isCard).length > all.length / 2;
}

function isOtherMatter({ places }: Reading, run: readonly Draft[]): boolean {
  const [first] = run;
  if (first === undefined) return true;
  return places.isUnder("categories", first.span.start) || places.isUnder("cart", first.span.start);
}

function finished(draft: Draft, kind: "list" | "detail", related: boolean): FoundListing {
  const listing: Listing = related ? { ...draft.listing, related: true } : draft.listing;
  const { card, anchor, priceElement, completedTitle, otherPrice } = draft;
  return { listing, card, anchor, priceElement, related, completedTitle, kind, otherPrice };
}
