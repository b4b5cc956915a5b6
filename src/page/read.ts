/**
 * Reads the listings of a page: DOM in, listings out.
 *
 *   walk the page ─ tree.ts ──────────────┐
 *   what is seen ── sight.ts              ├─ records.ts ── lines.ts ── title.ts, price.ts, specifics.ts ─┐
 *   where it lies ─ context.ts, cues.ts ──┘                                                              ├─ listings
 *   what it says of itself ─ structured.ts (json-ld, microdata, rdfa, open-graph) ── detail.ts ──────────┘
 *
 * Everything is bounded ({@link "./limits.ts"}) and done in small steps, so that a moving page can be read in
 * slices of time (watch.ts). Nothing on the page is changed.
 */
import type { Listing, ListPrice } from "../formats/listing.ts";
import type { PageShape } from "../formats/page-shape.ts";
import type { PageWords } from "../formats/page-words.ts";
import { absolute, baseOf, linkOf } from "./address.ts";
import { conditionOf, labelledCondition } from "./condition.ts";
import { Places } from "./context.ts";
import { cuesFor, foldWords } from "./cues.ts";
import { readDetail } from "./detail.ts";
import { languageOf, moneyLanguage } from "./language.ts";
import { MAX_PRICE_LINE } from "./limits.ts";
import { chunksOf, type Line, readLines } from "./lines.ts";
import { moneyTest } from "./money-hint.ts";
import { type MoneyHabits, moneyInLine, readPrices } from "./price.ts";
import type { Draft, Reading } from "./reading.ts";
import { findRecords, type RecordClass, type RecordSpan } from "./records.ts";
import { arrange, plausible } from "./runs.ts";
import { type Sight, sightOf } from "./sight.ts";
import { singleRecords } from "./single.ts";
import { lineSpecifics, type Specifics, SpecificsCollector } from "./specifics.ts";
import { readStructured } from "./structured.ts";
import { bareAmounts, Tables } from "./tables.ts";
import {
  chooseTitles,
  placeOf,
  type TitleCandidate,
  type TitleReading,
  titleCandidates,
  titleFromAttributes,
  wholeTitle,
} from "./title.ts";
import { countIn, elementAt, Mark, walkPage, withMonies } from "./tree.ts";

/** How a page is to be read. */
export interface PageOptions {
  /** The word lists of `rules/page-words/`: all, or those that {@link "./cues.ts"} `wordsForPage` picks. */
  readonly pageWords: readonly PageWords[];
  /** Page shapes, shipped and taught; the first that applies to the page's address is used. */
  readonly shapes?: readonly PageShape[];
  /** Address of the page, for saved pages whose document has none of its own. */
  readonly url?: string;
  /** BCP 47 language, where the page does not say its own. */
  readonly language?: string;
  /** Replaces the built-in ways to tell what is seen. */
  readonly sight?: Sight;
}

/** A listing and where it stands on the page. */
export interface FoundListing {
  readonly listing: Listing;
  /** The element that holds the listing (the first of several in flat layouts). */
  readonly card: Element;
  /** The element that holds the title: where a mark may stand. */
  readonly anchor: Element;
  /** The element that holds the price. */
  readonly priceElement: Element | null;
  /** Of a related, recently viewed or similar strip. */
  readonly related: boolean;
  /** The page showed the title cut; it was completed from elsewhere on the page. */
  readonly completedTitle: boolean;
  /** One of a list, or what the page is about. */
  readonly kind: "list" | "detail";
  /** The price that structured data states, where it is another than the page shows. */
  readonly otherPrice: ListPrice | null;
}

/** Reads all listings of a document, in document order. Never throws, never hangs, changes nothing. */
export function readPage(document: Document, options: PageOptions): FoundListing[] {
  const steps = readSteps(document, options);
  for (;;) {
    const step = steps.next();
    if (step.done === true) return step.value;
  }
}

/** The same in steps: a caller may stop between any two of them. */
export function* readSteps(document: Document, options: PageOptions): Generator<void, FoundListing[]> {
  const { body } = document;
  if (body === null) return [];
  const sight = options.sight ?? sightOf(document);
  const language = languageOf(document) ?? options.language;
  const structured = readStructured(document);
  yield;
  const currency = structured.currency ?? undefined;
  const habits: MoneyHabits = { language: moneyLanguage(document, language, options.url), currency, names: false };
  const walked = yield* walkPage(body, sight, moneyTest(habits));
  const cues = cuesFor(options.pageWords, language);
  const tables = new Tables(walked);
  const assumed = bareAmounts(walked, tables, cues, habits);
  const tree = assumed.size === 0 ? walked : withMonies(walked, [...assumed.keys()]);
  const places = new Places(tree, cues);
  const base = baseOf(document, options.url);
  const reading: Reading = {
    document,
    tree,
    sight,
    cues,
    places,
    habits,
    tables,
    assumed,
    structured,
    language,
    base,
    isUnpriced: false,
  };
  const lists = yield* readLists(reading);
  if (lists.length === 0) lists.push(...(yield* readSingles(reading, [])));
  const main = readDetail(reading, lists);
  if (main === null && lists.length > 0) lists.push(...(yield* readSingles(reading, lists.flat())));
  return arrange(reading, lists, main);
}

function* readLists(reading: Reading): Generator<void, Draft[][]> {
  const { tree, places } = reading;
  const priced = yield* readClasses(reading, yield* findRecords(tree, places, () => false));
  if (priced.length > 0) return priced;
  const offers = offerMarks(reading);
  if (offers.length < 2) return [];
  const unpriced: Reading = { ...reading, isUnpriced: true };
  const holdsOffer = (span: RecordSpan) => countIn(offers, span.start, span.end) > 0;
  return yield* readClasses(unpriced, yield* findRecords(tree, places, holdsOffer));
}

/**
 * Cards that stand alone: the only one of a page, or one above a list ("deal of the day"). Nothing repeats, but a
 * linked title stands nearer to the price than the page's heading.
 */
function* readSingles(reading: Reading, found: readonly Draft[]): Generator<void, Draft[][]> {
  const taken = found.map((draft) => draft.span).sort((a, b) => a.start - b.start);
  const lists: Draft[][] = [];
  for (const span of singleRecords(reading, taken)) {
    const drafts = yield* readClass(reading, { records: [span], score: 0 });
    if (drafts.some((draft) => draft.listing.price !== undefined)) lists.push(drafts);
  }
  return lists;
}

function* readClasses(reading: Reading, classes: readonly RecordClass[]): Generator<void, Draft[][]> {
  const lists: Draft[][] = [];
  for (const found of classes) lists.push(yield* readClass(reading, found));
  return plausible(reading, lists);
}

/** Longest text that may be a button, a count of bids, or stand in the place of a price. */
const MAX_OFFER_TEXT = 40;

/** Texts that offer something without naming an amount: "add to basket", "3 bids", "price on request". */
function offerMarks({ tree, cues }: Reading): number[] {
  const marks: number[] = [];
  for (let at = 0; at < tree.nodes.length; at++) {
    if (((tree.marks[at] ?? 0) & Mark.text) === 0) continue;
    const { data } = tree.nodes[at] as Text;
    if (data.length > MAX_OFFER_TEXT * 2) continue;
    const folded = foldWords(data);
    if (folded.length < 2 || folded.length > MAX_OFFER_TEXT) continue;
    const offers =
      cues.is("buy", folded) || cues.has("noPrice", folded) || (/\d/.test(folded) && cues.has("bids", folded));
    if (offers) marks.push(at);
  }
  return marks;
}

/** How many records are read between two looks at the clock. */
const RECORDS_A_STEP = 8;

function* readClass(reading: Reading, found: RecordClass): Generator<void, Draft[]> {
  const { tree, sight, cues } = reading;
  const titles: TitleReading = { tree, sight, cues, columns: new Map() };
  const money = new Set(tree.monies);
  const read: { span: RecordSpan; lines: Line[]; candidates: TitleCandidate[] }[] = [];
  for (const span of found.records) {
    if (!isShown(reading, span)) continue;
    const lines = readLines(tree, span.start, span.end);
    const starts = lines.map((line) => moneyStart(reading, money, line));
    const candidates = titleCandidates(
      titles,
      span,
      lines,
      chunksOf(tree, lines, span.start),
      (line) => starts[line] ?? null,
    );
    read.push({ span, lines, candidates });
    if (read.length % RECORDS_A_STEP === 0) yield;
  }
  const chosen = chooseTitles(
    titles,
    read.map((record) => record.candidates),
    read.map((record) => record.span),
  );
  const drafts: Draft[] = [];
  for (const [at, { span, lines }] of read.entries()) {
    const draft = toDraft(reading, span, lines, chosen[at] ?? null);
    if (draft !== null) drafts.push(draft);
    if (at % RECORDS_A_STEP === 0) yield;
  }
  return drafts;
}

/** Where the first amount of a line stands; null in lines that hold none. */
function moneyStart({ tree, habits, assumed }: Reading, money: ReadonlySet<number>, line: Line): number | null {
  if (!line.pieces.some((piece) => money.has(piece.text))) return null;
  const { language, currency } = habits;
  const bare = line.pieces.some((piece) => assumed.has(piece.text));
  return line.text.length > MAX_PRICE_LINE
    ? null
    : (moneyInLine(tree, line, { language, currency, bare })[0]?.start ?? null);
}

function isShown({ tree, sight }: Reading, span: RecordSpan): boolean {
  const element = elementAt(tree, span.root);
  return sight.isRendered(element) && element.closest('[aria-hidden="true"]') === null;
}

function toDraft(
  reading: Reading,
  span: RecordSpan,
  lines: readonly Line[],
  chosen: TitleCandidate | null,
): Draft | null {
  const { tree } = reading;
  const fallback = chosen === null ? titleFromAttributes(tree, span) : null;
  const shown = chosen?.text ?? fallback?.text;
  const element = chosen?.element ?? fallback?.element;
  if (shown === undefined || element === undefined || isFilterText(reading, lines[chosen?.line ?? -1]?.text ?? shown))
    return null;
  const link = linkOf(tree, span, element);
  const url = link === null ? null : absolute(link, reading.base);
  const known = reading.structured.products.map((product) => product.name);
  const whole = wholeTitle(tree, span, shown, known, link ?? "");
  const money = readPrices(reading, lines, chosen === null ? null : placeOf(chosen, lines), span.start);
  const stated = statedProduct(reading, span, whole.text, url);
  const price = money.price ?? (money.isOnRequest ? null : (stated?.price ?? null));
  const shownCondition = conditionOf(reading.cues, lines, chosen?.line ?? -1) ?? stated?.condition ?? null;
  if (price === null && !money.isOnRequest && isHeadRow(reading, span, lines)) return null;
  const specifics = {
    ...lineSpecifics(reading.cues, lines, (line) => line === chosen?.line),
    ...columnSpecifics(reading, span, element),
  };
  const condition = labelledCondition(reading.cues, specifics) ?? shownCondition;
  const listing: Listing = { title: whole.text };
  if (price !== null) listing.price = price;
  if (money.shipping !== null) listing.shipping = money.shipping;
  if (condition !== null) listing.condition = condition;
  if (Object.keys(specifics).length > 0) listing.specifics = { ...specifics };
  if (url !== null) listing.url = url;
  if (reading.language !== undefined) listing.language = reading.language;
  const differs =
    stated?.price !== undefined && stated.price !== null && price !== null && stated.price.amount !== price.amount;
  return {
    span,
    listing,
    isRich: url !== null || [tree.images, tree.headings].some((list) => countIn(list, span.start, span.end) > 0),
    isOffered: money.isOnRequest || reading.isUnpriced,
    sharesLine: money.line !== null && money.line === chosen?.line,
    card: elementAt(tree, span.root),
    anchor: elementAt(tree, element),
    priceElement: money.element === null ? null : elementAt(tree, money.element),
    completedTitle: whole.isCompleted,
    otherPrice: differs ? stated.price : null,
  };
}

/** A row that names columns: it holds the word for price and no amount. */
function isHeadRow({ tree, cues }: Reading, span: RecordSpan, lines: readonly Line[]): boolean {
  return (
    tree.tag[span.root] === "tr" &&
    lines.some((line) => cues.has("priceLabel", foldWords(line.text)) && line.text.length <= 30)
  );
}

/** A table row's cells by the names over their columns; the title's and the amounts' columns apart. */
function columnSpecifics({ tree, tables, cues }: Reading, span: RecordSpan, title: number): Specifics {
  const into = new SpecificsCollector();
  const heads = tables.headsOver(span.root);
  if (heads === null) return into.found;
  tables.cells(span.root).forEach((cell, column) => {
    const head = heads[column] ?? "";
    const end = tree.end[cell] ?? cell;
    const isTitle = cell <= title && title < end;
    if (isTitle || countIn(tree.monies, cell, end) > 0 || cues.has("priceLabel", foldWords(head))) return;
    into.put(head, elementAt(tree, cell).textContent?.replace(/\s+/g, " ") ?? "");
  });
  return into.found;
}

/** "Under 25 €", "20 € to 40 € (12)": an entry of a price filter. */
function isFilterText({ cues, habits }: Reading, title: string): boolean {
  if (title.length > 40 || !/\d/.test(title)) return false;
  const folded = foldWords(title).replace(/[\d\p{Sc}]+/gu, " ");
  const words = folded
    .split(/[^\p{L}]+/u)
    .filter((word) => word.length > 1 && word !== (habits.currency ?? "").toLowerCase());
  return (
    words.length <= 2 && words.every((word) => cues.is("filters", word) || cues.is("to", word) || cues.is("from", word))
  );
}

/** What structured data says of the same record: by its element, its address or its name. */
function statedProduct({ tree, structured, base }: Reading, span: RecordSpan, title: string, url: string | null) {
  if (structured.products.length === 0) return null;
  const card = elementAt(tree, span.root);
  const folded = foldWords(title);
  return (
    structured.products.find(
      (product) =>
        (product.element !== null && (product.element === card || card.contains(product.element))) ||
        (url !== null && product.url !== null && absolute(product.url, base) === url) ||
        foldWords(product.name) === folded,
    ) ?? null
  );
}
