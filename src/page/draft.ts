/** From a record's nodes to what is known of its listing. */
import { absolute, linkOf } from "./address.ts";
import { conditionOf, labelledCondition } from "./condition.ts";
import { foldWords } from "./cues.ts";
import { MAX_PRICE_LINE } from "./limits.ts";
import { chunksOf, type Line, linesWithin, readLines, withoutPieces } from "./lines.ts";
import { differing, toListing } from "./listing.ts";
import { moneyInLine, type PriceFound, readPrices } from "./price.ts";
import type { Draft, Reading } from "./reading.ts";
import type { RecordSpan } from "./records.ts";
import type { ShapeHints } from "./shapes.ts";
import { lineSpecifics, type Specifics, SpecificsCollector } from "./specifics.ts";
import {
  chooseTitles,
  isSeen,
  placeOf,
  seenText,
  type TitleCandidate,
  type TitleReading,
  type TitleScene,
  titleCandidates,
  titleColumn,
  titleFromAttributes,
  wholeTitle,
} from "./title.ts";
import { countIn, elementAt, Mark } from "./tree.ts";

/** How many records are read between two looks at the clock. */
const RECORDS_A_STEP = 8;

/** A record with its lines and its title. */
interface TitledRecord {
  readonly span: RecordSpan;
  readonly lines: readonly Line[];
  readonly title: TitleCandidate | null;
}

/** How many records are read in full to learn where titles stand. */
const LEARNING_RECORDS = 24;

/**
 * Reads the records of one class: titles weighed over the first records, then sought in the same place; each
 * record's price and the rest.
 *
 * @param hints where a page shape says that the parts stand; null for the generic reader
 */
export function* readClass(
  reading: Reading,
  found: { readonly records: readonly RecordSpan[] },
  hints: ShapeHints | null = null,
): Generator<void, Draft[]> {
  const shown = found.records.filter((span) => isShown(reading, span));
  const titled =
    hints === null ? yield* withTitles(reading, shown) : shown.map((span) => withHints(reading, span, hints));
  const drafts: Draft[] = [];
  for (const [at, record] of titled.entries()) {
    const draft = toDraft(reading, record, hints);
    if (draft !== null) drafts.push(draft);
    if (at % RECORDS_A_STEP === 0) yield;
  }
  return drafts;
}

function* withTitles(reading: Reading, spans: readonly RecordSpan[]): Generator<void, TitledRecord[]> {
  const { tree, sight, cues } = reading;
  const titles: TitleReading = { tree, sight, cues, columns: new Map() };
  const scenes: TitleScene[] = [];
  for (const span of spans) {
    scenes.push(sceneOf(reading, span));
    if (scenes.length % RECORDS_A_STEP === 0) yield;
  }
  const choose = (some: readonly TitleScene[]) =>
    chooseTitles(
      titles,
      some.map((scene) => titleCandidates(titles, scene, null)),
      some.map((scene) => scene.span),
    );
  const learning = scenes.slice(0, LEARNING_RECORDS);
  const chosen = choose(learning);
  yield;
  const column = titleColumn(chosen);
  const rest = scenes.slice(LEARNING_RECORDS);
  if (column === null) chosen.push(...choose(rest));
  else {
    for (const [at, scene] of rest.entries()) {
      const [known] = titleCandidates(titles, scene, column);
      chosen.push(
        known !== undefined && isSeen(titles, known, scene.span.start) ? known : (choose([scene])[0] ?? null),
      );
      if (at % RECORDS_A_STEP === 0) yield;
    }
  }
  return scenes.map(({ span, lines }, at) => ({ span, lines, title: chosen[at] ?? null }));
}

function sceneOf(reading: Reading, span: RecordSpan): TitleScene {
  const { tree } = reading;
  const lines = readLines(tree, span.start, span.end);
  return {
    span,
    lines,
    chunks: () => chunksOf(tree, lines, span.start),
    priceStart: (line) => moneyStart(reading, lines[line]),
  };
}

function withHints(reading: Reading, span: RecordSpan, hints: ShapeHints): TitledRecord {
  const { tree, sight, cues } = reading;
  const isSkipped = hints.skipped(elementAt(tree, span.root), tree);
  const lines = withoutPieces(readLines(tree, span.start, span.end), isSkipped);
  return { span, lines, title: hintedTitle({ tree, sight, cues, columns: new Map() }, span, lines, hints) };
}

/** The title where a shape says that it stands. */
function hintedTitle(
  titles: TitleReading,
  span: RecordSpan,
  lines: readonly Line[],
  hints: ShapeHints,
): TitleCandidate | null {
  const element = hints.title(elementAt(titles.tree, span.root));
  if (element === null) return null;
  const text = seenText(titles, element);
  const end = titles.tree.end[element] ?? element;
  const line = lines.findIndex(({ pieces }) => pieces.some(({ text: at }) => at >= element && at < end));
  return text === "" ? null : { element, text, line, column: "", source: "heading", score: 0 };
}

/** Where the first amount of a line stands; null in lines that hold none. */
function moneyStart(reading: Reading, line: Line | undefined): number | null {
  if (line === undefined || line.text.length > MAX_PRICE_LINE) return null;
  if (!line.pieces.some((piece) => isMoney(reading, piece.text))) return null;
  return moneyInLine(reading, line).find((read) => read.currency !== null)?.start ?? null;
}

function isMoney({ tree, assumed }: Reading, text: number): boolean {
  return ((tree.marks[text] ?? 0) & Mark.money) !== 0 || assumed.has(text);
}

function isShown({ tree, sight }: Reading, span: RecordSpan): boolean {
  const element = elementAt(tree, span.root);
  return sight.isRendered(element) && element.closest('[aria-hidden="true"]') === null;
}

function toDraft(
  reading: Reading,
  { span, lines, title: chosen }: TitledRecord,
  hints: ShapeHints | null,
): Draft | null {
  const { tree, cues } = reading;
  const card = elementAt(tree, span.root);
  const fallback = chosen === null && hints === null ? titleFromAttributes(tree, span) : null;
  const shown = chosen?.text ?? fallback?.text;
  const element = chosen?.element ?? fallback?.element;
  const titleLine = chosen?.line ?? -1;
  if (shown === undefined || element === undefined) return null;
  if (isFilterText(reading, lines[titleLine]?.text ?? shown)) return null;
  const link = hints?.link(card) ?? linkOf(tree, span, element);
  const url = link === null ? null : absolute(link, reading.base);
  const whole = wholeTitle(tree, span, shown, reading.products, link ?? "");
  const money = readMoneyOf(reading, span, lines, chosen, hints);
  const stated = reading.products.of(card, url, whole.text);
  const price = money.price ?? (money.isOnRequest ? null : (stated?.price ?? null));
  if (price === null && !money.isOnRequest && isHeadRow(reading, span, lines)) return null;
  const specifics = {
    ...lineSpecifics(cues, lines, (line) => line === titleLine),
    ...columnSpecifics(reading, span, element),
  };
  const condition =
    hints?.condition(card) ??
    labelledCondition(cues, specifics) ??
    conditionOf(cues, lines, titleLine) ??
    stated?.condition ??
    null;
  return {
    span,
    listing: toListing({
      title: whole.text,
      price,
      shipping: money.shipping,
      condition,
      specifics,
      description: null,
      url,
      language: reading.language ?? null,
    }),
    isRich: url !== null || [tree.images, tree.headings].some((list) => countIn(list, span.start, span.end) > 0),
    isOffered: money.isOnRequest || reading.isUnpriced,
    sharesLine: money.line !== null && money.line === chosen?.line,
    card,
    anchor: elementAt(tree, element),
    priceElement: money.element === null ? null : elementAt(tree, money.element),
    completedTitle: whole.isCompleted,
    otherPrice: differing(price, stated?.price ?? null),
  };
}

/** Price and shipping; where a shape says where they stand, read there alone. */
function readMoneyOf(
  reading: Reading,
  span: RecordSpan,
  lines: readonly Line[],
  title: TitleCandidate | null,
  hints: ShapeHints | null,
): PriceFound {
  const all = readPrices(reading, lines, title === null ? null : placeOf(title, lines), span.start);
  if (hints === null) return all;
  const card = elementAt(reading.tree, span.root);
  const within = (element: number | null) => {
    const inside = element === null ? [] : linesWithin(reading.tree, lines, element);
    return readPrices(reading, inside, null, span.start);
  };
  const own = hints.saysPrice ? within(hints.price(card)) : all;
  const shipping = hints.shipping(card);
  if (shipping === null) return { ...own, shipping: all.shipping };
  const said = within(shipping);
  const cost = said.price === null ? null : { amount: said.price.amount, currency: said.price.currency };
  return { ...own, shipping: said.shipping ?? cost };
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
function isFilterText({ cues, money }: Reading, title: string): boolean {
  if (title.length > 40 || !/\d/.test(title)) return false;
  const folded = foldWords(title).replace(/[\d\p{Sc}]+/gu, " ");
  const words = folded
    .split(/[^\p{L}]+/u)
    .filter((word) => word.length > 1 && word !== (money.habits.currency ?? "").toLowerCase());
  return (
    words.length <= 2 && words.every((word) => cues.is("filters", word) || cues.is("to", word) || cues.is("from", word))
  );
}
