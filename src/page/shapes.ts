/**
 * Page shapes: where the generic reader needs help, a few selectors say where the listings of one site lie
 * (`rules/page-shapes/`, or taught by a person). A shape can only select; selectors that a browser does not
 * understand select nothing.
 */
import type { PageShape } from "../formats/page-shape.ts";
import { isWeb } from "./address.ts";
import { readClass } from "./draft.ts";
import { MAX_LISTINGS } from "./limits.ts";
import type { Draft, Reading } from "./reading.ts";
import type { RecordSpan } from "./records.ts";
import type { PageTree } from "./tree.ts";

/** The first shape that applies to a page's address; taught ones before shipped ones. */
export function shapeFor(shapes: readonly PageShape[], document: Document, url: string | undefined): PageShape | null {
  const address = isWeb(document.URL) ? document.URL : (url ?? "");
  if (shapes.length === 0 || !URL.canParse(address)) return null;
  const { hostname, pathname } = new URL(address);
  const fitting = shapes.filter((shape) => isHost(shape.host, hostname) && pathname.startsWith(shape.path ?? ""));
  return fitting.find((shape) => shape.origin === "taught") ?? fitting[0] ?? null;
}

function isHost(pattern: string, host: string): boolean {
  if (!pattern.startsWith("*.")) return pattern === host;
  return host === pattern.slice(2) || host.endsWith(pattern.slice(1));
}

/** Reads the records that a shape selects; none when the page has changed so that it selects nothing. */
export function* readByShape(reading: Reading, shape: PageShape): Generator<void, Draft[]> {
  const indexes = indexByElement(reading.tree);
  const records: RecordSpan[] = [];
  for (const element of select(reading.document, shape.record)) {
    const root = indexes.get(element);
    if (root === undefined || records.length >= MAX_LISTINGS) continue;
    const last = records.at(-1);
    if (last !== undefined && root < last.end) continue; // a record inside the one before
    if (select(element, shape.title).length === 0) continue;
    records.push({ root, start: root, end: reading.tree.end[root] ?? root + 1 });
  }
  return yield* readClass(reading, { records }, new ShapeHints(indexes, shape));
}

function indexByElement(tree: PageTree): Map<Node, number> {
  return new Map(tree.nodes.map((node, index) => [node, index]));
}

/** The elements that a selector finds; none when it is not understood. */
export function select(root: ParentNode, selector: string): Element[] {
  try {
    return Array.from(root.querySelectorAll(selector));
  } catch (error) {
    if (error instanceof Error && error.name === "SyntaxError") return []; // not a selector here
    throw error;
  }
}

/** Where a shape says that the parts of a record stand. */
export class ShapeHints {
  readonly #indexes: ReadonlyMap<Node, number>;
  readonly #shape: PageShape;

  constructor(indexes: ReadonlyMap<Node, number>, shape: PageShape) {
    this.#indexes = indexes;
    this.#shape = shape;
  }

  /** Index of the element that holds the title. */
  title(card: Element): number | null {
    return this.#first(card, this.#shape.title);
  }

  /** Index of the element that holds the price; null when the shape does not say or the record has none. */
  price(card: Element): number | null {
    return this.#first(card, this.#shape.price);
  }

  /** True when the shape says where prices stand. */
  get saysPrice(): boolean {
    return this.#shape.price !== undefined;
  }

  /** Address of the record's link. */
  link(card: Element): string | null {
    const { link } = this.#shape;
    return link === undefined ? null : (select(card, link)[0]?.getAttribute("href") ?? null);
  }

  /** Text of the record's condition. */
  condition(card: Element): string | null {
    const { condition } = this.#shape;
    return condition === undefined
      ? null
      : (select(card, condition)[0]?.textContent?.replace(/\s+/g, " ").trim() ?? null);
  }

  /** Index of the element that holds the shipping cost. */
  shipping(card: Element): number | null {
    return this.#first(card, this.#shape.shipping);
  }

  /** Ranges of nodes that are not read. */
  skipped(card: Element, tree: PageTree): (index: number) => boolean {
    const ranges = (this.#shape.skip ?? [])
      .flatMap((selector) => select(card, selector))
      .map((element) => this.#indexes.get(element))
      .filter((index) => index !== undefined)
      .map((index) => [index, tree.end[index] ?? index + 1] as const);
    return (index) => ranges.some(([start, end]) => start <= index && index < end);
  }

  #first(card: Element, selector: string | undefined): number | null {
    if (selector === undefined) return null;
    for (const element of select(card, selector)) {
      const index = this.#indexes.get(element);
      if (index !== undefined) return index;
    }
    return null;
  }
}
