/**
 * Teaching a page: from one title and one price that a person points at to a page shape for the whole site.
 *
 * The record is the smallest element around both, widened as long as its neighbours look alike. Selectors are
 * tried from the simplest up; one is taken only if it finds the record, and inside it the very elements that were
 * pointed at, and the same in most of the other records.
 */
import type { PageShape } from "../formats/page-shape.ts";
import { isWeb } from "./address.ts";
import { select } from "./shapes.ts";

/** Why no shape could be made. */
export type TeachFault =
  /** An element is not on the page, or holds no text. */
  | "nothing-there"
  /** Title and price lie so far apart that only the whole page holds both. */
  | "too-far-apart"
  /** No selector finds just these elements. */
  | "no-selector"
  /** The page has no address, so that the shape could not be found again. */
  | "no-address";

/** A shape, or why there is none. */
export type TeachOutcome =
  | {
      readonly ok: true;
      readonly shape: PageShape /** Records that it finds on this page. */;
      readonly records: number;
    }
  | { readonly ok: false; readonly fault: TeachFault };

/** How a shape is to be made. */
export interface TeachOptions {
  /** Address of the page, where the document has none of its own. */
  readonly url?: string;
}

/** Share of the records in which the taught parts must be found. */
const MIN_SHARE = 0.6;
/** Most records that are looked at to judge a selector. */
const MAX_JUDGED = 60;

/**
 * Makes a shape of what a person points at.
 *
 * @param title the element that holds a listing's title
 * @param price the element that holds the same listing's price; null where listings have none
 */
export function teachShape(title: Element, price: Element | null, options: TeachOptions = {}): TeachOutcome {
  if (!isThere(title) || (price !== null && !isThere(price))) return { ok: false, fault: "nothing-there" };
  const document = title.ownerDocument;
  const address = isWeb(document.URL) ? document.URL : (options.url ?? "");
  if (!URL.canParse(address)) return { ok: false, fault: "no-address" };
  const smallest = price === null ? title : commonAncestor(title, price);
  if (smallest === null || isPage(smallest)) return { ok: false, fault: "too-far-apart" };
  for (const record of widened(smallest)) {
    const found = selectorsFor(document, record, title, price);
    if (found === null) continue;
    const { hostname } = new URL(address);
    const { records, ...selectors } = found;
    const shape: PageShape = {
      format: "falsefit-page-shape/1",
      id: `taught-${hostname}`,
      host: hostname,
      ...selectors,
      origin: "taught",
    };
    return { ok: true, shape, records };
  }
  return { ok: false, fault: "no-selector" };
}

function isThere(element: Element): boolean {
  return element.isConnected && (element.textContent ?? "").trim() !== "";
}

function isPage(element: Element): boolean {
  return element.localName === "body" || element.localName === "html";
}

function commonAncestor(a: Element, b: Element): Element | null {
  for (let at: Element | null = a; at !== null; at = at.parentElement) if (at.contains(b)) return at;
  return null;
}

/** The record's possible elements: the widest first whose neighbours are like it, then narrower ones. */
function widened(smallest: Element): Element[] {
  const around: Element[] = [];
  for (let at: Element | null = smallest; at !== null && !isPage(at); at = at.parentElement) around.push(at);
  const alike = around.filter(hasAlikeNeighbour);
  const [nearest] = alike;
  return nearest === undefined
    ? around.slice(0, 3)
    : [nearest, ...around.filter((element) => element !== nearest).slice(0, 3)];
}

function hasAlikeNeighbour(element: Element): boolean {
  const siblings = Array.from(element.parentElement?.children ?? []);
  const own = outline(element);
  return siblings.some(
    (sibling) => sibling !== element && sibling.localName === element.localName && outline(sibling) === own,
  );
}

/** The tags of an element's first two levels. */
function outline(element: Element): string {
  return Array.from(element.children, (child) => child.localName).join(" ");
}

interface Selectors {
  readonly record: string;
  readonly title: string;
  readonly price?: string;
  readonly records: number;
}

function selectorsFor(document: Document, record: Element, title: Element, price: Element | null): Selectors | null {
  let best: Selectors | null = null;
  for (const candidate of recordSelectors(record)) {
    const records = select(document, candidate);
    if (!records.includes(record) || (best !== null && records.length <= best.records)) continue;
    if (records.some((one) => one !== record && (one.contains(record) || record.contains(one)))) continue;
    const inTitle = partSelector(record, title, records);
    if (inTitle === null) continue;
    const inPrice = price === null ? null : partSelector(record, price, records);
    if (price !== null && inPrice === null) continue;
    best = {
      record: candidate,
      title: inTitle,
      ...(inPrice === null ? {} : { price: inPrice }),
      records: records.length,
    };
  }
  return best;
}

function recordSelectors(record: Element): string[] {
  const own = simpleSelectors(record);
  const parent = record.parentElement;
  const above =
    parent === null || isPage(parent)
      ? []
      : simpleSelectors(parent).filter((selector) => selector !== parent.localName);
  return [
    ...own.filter((selector) => selector !== record.localName),
    ...above.map((outer) => `${outer} > ${record.localName}`),
    pathOf(record),
  ];
}

/** Selectors of one element by itself, the most telling first: data attributes, classes, tag. */
function simpleSelectors(element: Element): string[] {
  const tag = element.localName;
  const byData = ["data-testid", "data-test", "data-qa", "data-hook", "data-cy", "itemprop", "itemtype"]
    .map((name) => [name, element.getAttribute(name)] as const)
    .filter((pair): pair is readonly [string, string] => pair[1] !== null && pair[1].length < 100)
    .map(([name, value]) => `${tag}[${name}=${quoted(value)}]`);
  const classes = Array.from(element.classList)
    .filter((name) => name.length < 60)
    .slice(0, 8);
  const byClass = classes.map((name) => `${tag}.${escaped(name)}`);
  const byClasses =
    classes.length > 1
      ? [
          `${tag}${classes
            .slice(0, 4)
            .map((name) => `.${escaped(name)}`)
            .join("")}`,
        ]
      : [];
  return [...byData, ...byClass, ...byClasses, tag];
}

/** The tags from the nearest element with an id (or the body) down. */
function pathOf(element: Element): string {
  const steps: string[] = [];
  for (let at: Element | null = element; at !== null && !isPage(at); at = at.parentElement) {
    if (at !== element && at.id !== "" && !/\d{3}/.test(at.id)) {
      steps.unshift(`#${escaped(at.id)}`);
      return steps.join(" > ");
    }
    steps.unshift(at.localName);
  }
  return ["body", ...steps].join(" > ");
}

/** A selector that finds `part` first in `record`, and something in most other records. */
function partSelector(record: Element, part: Element, records: readonly Element[]): string | null {
  const others = records.slice(0, MAX_JUDGED);
  for (const candidate of partSelectors(record, part)) {
    if (select(record, candidate)[0] !== part) continue;
    const holding = others.filter((one) => (select(one, candidate)[0]?.textContent ?? "").trim() !== "").length;
    if (holding >= others.length * MIN_SHARE) return candidate;
  }
  return null;
}

function partSelectors(record: Element, part: Element): string[] {
  const own = simpleSelectors(part);
  const parent = part.parentElement;
  const above = parent === null || parent === record || !record.contains(parent) ? [] : simpleSelectors(parent);
  return [...own, ...above.flatMap((outer) => own.map((inner) => `${outer} > ${inner}`)), stepsWithin(record, part)];
}

/** The exact way from the record down to the part. */
function stepsWithin(record: Element, part: Element): string {
  const steps: string[] = [];
  for (let at: Element = part; at !== record && at.parentElement !== null; at = at.parentElement) {
    const twins = Array.from(at.parentElement.children).filter((sibling) => sibling.localName === at.localName);
    steps.unshift(`${at.localName}:nth-of-type(${twins.indexOf(at) + 1})`);
  }
  return `:scope > ${steps.join(" > ")}`;
}

function quoted(value: string): string {
  return `"${value.replace(/["\\]/g, "\\$&").replace(/\n/g, "\\a ")}"`;
}

/** An identifier as CSS writes it (CSSOM, "serialize an identifier"): what is not a name character is escaped. */
function escaped(name: string): string {
  return name.replace(/[^\w\u0080-\uffff-]|^-?\d|^-$/g, (part) =>
    part.length === 1 && !/\d/.test(part)
      ? `\\${part}`
      : `${part.startsWith("-") ? "-" : ""}\\${part.charCodeAt(part.length - 1).toString(16)} `,
  );
}
