/**
 * Reads the listings of a page: DOM in, listings out.
 *
 *   walk the page ─ tree.ts ──────────────┐
 *   what is seen ── sight.ts              ├─ records.ts ── draft.ts (lines, title, price, specifics) ──┐
 *   where it lies ─ context.ts, cues.ts ──┘                                                            ├─ runs.ts
 *   what it says of itself ─ structured.ts (json-ld, microdata, rdfa, open-graph) ── detail.ts ────────┘
 *
 * Everything is bounded ({@link "./limits.ts"}) and done in small steps, so that a moving page can be read in
 * slices of time (watch.ts). Nothing on the page is changed.
 */
import type { Listing, ListPrice } from "../formats/listing.ts";
import type { PageShape } from "../formats/page-shape.ts";
import type { PageWords } from "../formats/page-words.ts";
import type { OfferedNames } from "../text/money-names.ts";
import { baseOf, isWeb } from "./address.ts";
import { Places } from "./context.ts";
import { type Cues, cuesFor, foldWords } from "./cues.ts";
import { readDetail } from "./detail.ts";
import { readClass } from "./draft.ts";
import { languageOf, moneyLanguage } from "./language.ts";
import { PageMoney } from "./page-money.ts";
import { mayHoldListings } from "./probe.ts";
import type { Draft, Reading } from "./reading.ts";
import { findRecords, type RecordClass, type RecordSpan } from "./records.ts";
import { arrange, plausible } from "./runs.ts";
import { readByShape, shapeFor } from "./shapes.ts";
import { type Sight, sightOf } from "./sight.ts";
import { singleRecords } from "./single.ts";
import { ProductIndex, readStructured, type Structured } from "./structured.ts";
import { bareAmounts, Tables } from "./tables.ts";
import { countIn, Mark, type Scope, walkPage, withMonies } from "./tree.ts";

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
  /** What the page's language calls currencies, where that was asked for already. */
  readonly currencyNames?: OfferedNames | undefined;
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

/** What holds for a whole page, however many of its parts are read. */
export interface PageGround {
  readonly document: Document;
  readonly language: string | undefined;
  readonly structured: Structured;
  readonly products: ProductIndex;
  readonly money: PageMoney;
  readonly cues: Cues;
  readonly base: string | null;
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
  const isShaped = shapeFor(options.shapes ?? [], document, options.url) !== null;
  const cues = cuesFor(options.pageWords, languageOf(document) ?? options.language);
  if (!isShaped && !mayHoldListings(document, cues.exact(OFFERS))) return [];
  const ground = groundOf(document, options);
  yield;
  return yield* readGround(ground, options, null);
}

/** Lists of words that offer something without an amount. */
const OFFERS = ["buy", "noPrice", "bids"] as const;

/** Language, words, structured data and money habits of a page. */
export function groundOf(document: Document, options: PageOptions): PageGround {
  const language = languageOf(document) ?? options.language;
  const structured = readStructured(document);
  const base = baseOf(document, options.url);
  return {
    document,
    language,
    structured,
    products: new ProductIndex(structured.products, base),
    money: new PageMoney(
      {
        language: moneyLanguage(language, isWeb(document.URL) ? document.URL : options.url),
        currency: structured.currency ?? undefined,
      },
      options.currencyNames,
    ),
    cues: cuesFor(options.pageWords, language),
    base,
  };
}

/**
 * Reads a page or a part of it.
 *
 * @param scope the part; null for the whole page
 */
export function* readGround(
  ground: PageGround,
  options: PageOptions,
  scope: Scope | null,
): Generator<void, FoundListing[]> {
  const { body } = ground.document;
  if (body === null) return [];
  const sight = options.sight ?? sightOf(ground.document);
  const walked = yield* walkPage(body, { sight, holdsMoney: (text) => ground.money.holds(text), scope });
  const tables = new Tables(walked);
  const assumed = bareAmounts(walked, tables, ground.cues, ground.money.habits);
  const tree = assumed.size === 0 ? walked : withMonies(walked, [...assumed.keys()]);
  const places = new Places(tree, ground.cues);
  const reading: Reading = { ...ground, tree, sight, places, tables, assumed, isUnpriced: false };
  const shape = shapeFor(options.shapes ?? [], ground.document, options.url);
  const shaped = shape === null ? [] : yield* readByShape(reading, shape);
  if (shaped.length > 0) return arrange(reading, [shaped], null);
  const lists = yield* readLists(reading);
  if (lists.length === 0) lists.push(...(yield* readSingles(reading, [])));
  const main = scope === null ? readDetail(reading, lists) : null;
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
    const drafts = yield* readClass(reading, { records: [span] });
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
