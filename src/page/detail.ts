/**
 * The listing that a page is about: one title over one price, with what the page tells of it.
 *
 * A page is such a page when its structured data describes one product, or when its main heading stands over an
 * amount with something to buy it by, outside of any run of records.
 */
import { absolute } from "./address.ts";
import { conditionOf, labelledCondition } from "./condition.ts";
import { type Cues, foldWords } from "./cues.ts";
import { MAX_DESCRIPTION, MAX_RECORD_NODES } from "./limits.ts";
import { type Line, readLines, tidy } from "./lines.ts";
import { differing, toListing } from "./listing.ts";
import { readPrices, type TitlePlace } from "./price.ts";
import type { Product } from "./product.ts";
import type { Draft, Reading } from "./reading.ts";
import { isWithin, type RecordSpan } from "./records.ts";
import { pairOf, readChoices, readSpecifics, SpecificsCollector } from "./specifics.ts";
import { seenText, type TitleReading, wholeTitle } from "./title.ts";
import { countIn, elementAt, Mark, type PageTree } from "./tree.ts";

/** Reads the page's main listing; null on pages that are about none or about many. */
export function readDetail(reading: Reading, lists: readonly (readonly Draft[])[]): Draft | null {
  const { structured } = reading;
  const taken = lists
    .flat()
    .map((draft) => draft.span)
    .sort((a, b) => a.start - b.start);
  const heading = mainHeading(reading, taken, structured.main);
  if (heading === null) return null;
  const scope = scopeAround(reading, heading, taken);
  if (scope === null && (structured.main === null || taken.length > 0)) return null;
  const start = scope ?? heading;
  const isNamed = isNamedByPage(reading, heading);
  if (!isNamed && !isOneForSale(reading, start, heading, taken)) return null;
  const draft = toDraft(reading, heading, start, taken);
  return isNamed || /[1-9]/.test(draft.listing.price?.amount ?? "") ? draft : null;
}

/** Structured data describes one product by the name that the heading says. */
function isNamedByPage(reading: Reading, heading: number): boolean {
  const { main } = reading.structured;
  return main !== null && saysName(reading, heading, main.name);
}

function titleReading({ tree, sight, cues }: Reading): TitleReading {
  return { tree, sight, cues, columns: new Map() };
}

/** The heading that names the product: the one with the product's name, else the page's only first heading. */
function mainHeading(reading: Reading, taken: readonly RecordSpan[], product: Product | null): number | null {
  const { tree, sight } = reading;
  const free = tree.headings.filter(
    (index) =>
      !isWithin(taken, index) &&
      sight.isRendered(elementAt(tree, index)) &&
      seenText(titleReading(reading), index) !== "",
  );
  const named = product === null ? undefined : free.find((index) => saysName(reading, index, product.name));
  const own = free.filter((index) => reading.places.of(index) === "main");
  return named ?? own.find((index) => tree.tag[index] === "h1") ?? lastBeforePrice(reading, own, taken);
}

/** On pages whose first heading is the shop's name in the page's head: the last heading before the price. */
function lastBeforePrice(reading: Reading, headings: readonly number[], taken: readonly RecordSpan[]): number | null {
  if (taken.length > 0) return null;
  const [amount] = ownAmounts(reading, 0, taken);
  return amount === undefined ? null : (headings.filter((index) => index < amount).at(-1) ?? null);
}

function saysName(reading: Reading, index: number, name: string): boolean {
  const shown = foldWords(seenText(titleReading(reading), index));
  const stated = foldWords(name);
  return shown.length > 3 && (stated.startsWith(shown) || shown.startsWith(stated));
}

/** The smallest element around the heading that also holds an amount outside of records and furniture. */
function scopeAround(reading: Reading, heading: number, taken: readonly RecordSpan[]): number | null {
  const { tree } = reading;
  const amounts = ownAmounts(reading, heading, taken);
  for (let at = tree.parent[heading] ?? -1; at >= 0; at = tree.parent[at] ?? -1) {
    if (countIn(amounts, at, tree.end[at] ?? at) > 0) return at;
  }
  return null;
}

/**
 * Amounts that may be the main listing's price: seen, not nothing, outside of records and furniture; on a page with
 * records only those after the heading (what stands before it is the page's head).
 */
function ownAmounts({ tree, places, sight, money }: Reading, heading: number, taken: readonly RecordSpan[]): number[] {
  return tree.monies.filter((index) => {
    if (isWithin(taken, index) || (taken.length > 0 && index < heading) || places.of(index) !== "main") return false;
    const read = money.read((tree.nodes[index] as Text).data);
    const isNothing = read.length > 0 && read.every((one) => !/[1-9]/.test(one.amount));
    return !isNothing && sight.isRendered(elementAt(tree, index));
  });
}

/** Most nodes between the main heading and its price. */
const MAX_HEADING_TO_PRICE = 400;

/** Most nodes between the price and the control that buys. */
const MAX_PRICE_TO_CONTROL = 160;

/** Without structured data: an amount near the heading, something to buy it by near the amount, no run before it. */
function isOneForSale(reading: Reading, scope: number, heading: number, taken: readonly RecordSpan[]): boolean {
  const { tree, cues } = reading;
  const end = tree.end[scope] ?? tree.nodes.length;
  const near = ownAmounts(reading, heading, taken).filter(
    (index) => index >= scope && index < end && Math.abs(index - heading) <= MAX_HEADING_TO_PRICE,
  );
  const [amount] = near;
  if (amount === undefined || taken.filter((span) => span.start < amount).length > 1) return false;
  for (
    let at = Math.max(scope, amount - MAX_PRICE_TO_CONTROL);
    at < Math.min(end, amount + MAX_PRICE_TO_CONTROL);
    at++
  ) {
    const marks = tree.marks[at] ?? 0;
    if ((marks & (Mark.control | Mark.link)) === 0 || isWithin(taken, at) || reading.places.of(at) !== "main") continue;
    if (buys(elementAt(tree, at), cues)) return true;
  }
  return (
    taken.length === 0 && near.some((index) => isLabelledPrice(reading, index) || isLonePrice(reading, index, heading))
  );
}

/** "Asking price: 45 €" on a page that lists nothing: one thing for sale, by mail or telephone. */
function isLabelledPrice({ tree, cues }: Reading, amount: number): boolean {
  const text = tidy(elementAt(tree, amount).textContent ?? "").trim();
  const pair = pairOf(text);
  return pair !== null && text.length <= 60 && cues.is("priceLabel", foldWords(pair[0]));
}

/** Most nodes between a heading and an amount that stands by itself under it; longest text of such an amount. */
const MAX_TO_LONE_PRICE = 12;
const MAX_LONE_PRICE = 24;

/** "30 € VB" by itself close under the heading, on a page that lists nothing: a classified ad. */
function isLonePrice({ tree }: Reading, amount: number, heading: number): boolean {
  const text = tidy(elementAt(tree, amount).textContent ?? "").trim();
  return (
    amount > heading &&
    amount - heading <= MAX_TO_LONE_PRICE &&
    text.length <= MAX_LONE_PRICE &&
    !text.includes(":") &&
    tree.images.length > 0
  );
}

/** The controls of a page that sells, or by which one asks for the price. */
const SELLING = ["buy", "noPrice"] as const;

function buys(element: Element, cues: Cues): boolean {
  const said = [element.textContent, element.getAttribute("value"), element.getAttribute("aria-label")];
  return said.some(
    (text) => text !== null && text.length <= 60 && SELLING.some((list) => cues.has(list, foldWords(text))),
  );
}

function toDraft(reading: Reading, heading: number, scope: number, taken: readonly RecordSpan[]): Draft {
  const { tree, structured, cues } = reading;
  const product = structured.main;
  const titles = titleReading(reading);
  const shown = seenText(titles, heading);
  const whole = wholeTitle(
    tree,
    { root: scope, start: scope, end: heading + 1 },
    shown,
    reading.products,
    reading.document.URL,
  );
  const lines = ownLines(reading, scope, taken);
  const titleLine = lines.findIndex((line) => line.at >= heading && line.at < (tree.end[heading] ?? heading));
  const place = titlePlace(lines, titleLine, shown);
  const money = readPrices(reading, lines, place, scope);
  const price = money.price ?? (money.isOnRequest ? null : (product?.price ?? null));
  const specifics = allSpecifics(reading, scope, taken, product);
  const condition =
    labelledCondition(cues, specifics) ?? conditionOf(cues, lines, titleLine) ?? product?.condition ?? null;
  return {
    span: { root: scope, start: heading, end: tree.end[heading] ?? heading + 1 },
    listing: toListing({
      title: whole.text,
      price,
      shipping: money.shipping ?? product?.shipping ?? null,
      condition,
      specifics,
      description: product?.description?.slice(0, MAX_DESCRIPTION) ?? null,
      url: ownAddress(reading),
      language: reading.language ?? null,
    }),
    isRich: true,
    isOffered: true,
    sharesLine: false,
    card: elementAt(tree, scope),
    anchor: elementAt(tree, heading),
    priceElement: money.element === null ? null : elementAt(tree, money.element),
    completedTitle: whole.isCompleted,
    otherPrice: differing(price, product?.price ?? null),
  };
}

/** Where in its line the heading's text stands; the whole line when it is not found there letter by letter. */
function titlePlace(lines: readonly Line[], line: number, shown: string): TitlePlace | null {
  const text = lines[line]?.text;
  if (text === undefined) return null;
  const at = text.indexOf(shown);
  return at < 0 ? { line, start: 0, end: text.length } : { line, start: at, end: at + shown.length };
}

/** Lines of the scope that belong to no record and to no furniture. */
function ownLines(reading: Reading, scope: number, taken: readonly RecordSpan[]): Line[] {
  const { tree, places } = reading;
  const end = Math.min(tree.end[scope] ?? scope, scope + MAX_RECORD_NODES);
  return readLines(tree, scope, end).filter((line) => !isWithin(taken, line.at) && places.of(line.block) === "main");
}

function allSpecifics(reading: Reading, scope: number, taken: readonly RecordSpan[], product: Product | null) {
  const { tree, places } = reading;
  const into = new SpecificsCollector();
  const area = wholeArea(tree, scope);
  const isSkipped = (index: number) => isWithin(taken, index) || places.of(index) !== "main";
  readSpecifics(tree, area, tree.end[area] ?? area, isSkipped, into);
  readChoices(elementAt(tree, scope), into);
  for (const [name, value] of Object.entries(product?.specifics ?? {})) into.put(name, value);
  return into.found;
}

/** Specifics often stand below the price block: the page's main part, or its body. */
function wholeArea(tree: PageTree, scope: number): number {
  for (let at = scope; at >= 0; at = tree.parent[at] ?? -1)
    if (tree.tag[at] === "main" || tree.parent[at] === -1) return at;
  return scope;
}

function ownAddress({ document, base }: Reading): string | null {
  const stated = document.querySelector('link[rel~="canonical"]')?.getAttribute("href") ?? null;
  if (stated !== null && stated !== "") return absolute(stated, base);
  return base !== null && /^https?:/.test(document.URL) ? document.URL : base;
}
