/**
 * What a page says of itself for machines, in one form: JSON-LD, microdata, RDFa Lite and Open Graph.
 *
 * Each reader turns its syntax into {@link Thing}s (types and properties); {@link productsOf} reads products
 * out of them whatever the syntax.
 */

import { absolute } from "./address.ts";
import { foldWords } from "./cues.ts";
import { readJsonLd } from "./json-ld.ts";
import { readMicrodata } from "./microdata.ts";
import { readOpenGraph } from "./open-graph.ts";
import { type Product, productsOf } from "./product.ts";
import { readRdfa } from "./rdfa.ts";

/** What was found on a page. */
export interface Structured {
  readonly products: readonly Product[];
  /** The product that the page is about; null on pages that list many. */
  readonly main: Product | null;
  /** Currency that the page states for machines. */
  readonly currency: string | null;
}

/** Reads all structured data of a document. Broken blocks are ignored one by one. */
export function readStructured(document: Document): Structured {
  const things = [...readJsonLd(document), ...readMicrodata(document), ...readRdfa(document)];
  const products = productsOf(things);
  const graph = readOpenGraph(document);
  const singles = products.filter((product) => !product.isListed);
  const [only] = singles;
  const main = only !== undefined && (singles.length === 1 || sameName(singles)) ? merged(singles) : null;
  return {
    products,
    main: main ?? (graph !== null && singles.length === 0 ? graph : null),
    currency: firstCurrency(products) ?? graph?.price?.currency ?? null,
  };
}

function sameName(products: readonly Product[]): boolean {
  const names = new Set(products.map((product) => product.name.trim().toLowerCase()));
  return names.size === 1;
}

/** Several descriptions of one product: the first that says a thing is believed. */
function merged(products: readonly Product[]): Product {
  const [first] = products as [Product, ...Product[]];
  const said = <K extends keyof Product>(key: K) =>
    products.find((product) => product[key] !== null)?.[key] ?? first[key];
  return {
    ...first,
    url: said("url"),
    price: said("price"),
    shipping: said("shipping"),
    condition: said("condition"),
    description: said("description"),
    specifics: Object.assign({}, ...products.map((product) => product.specifics).reverse()) as Record<string, string>,
  };
}

function firstCurrency(products: readonly Product[]): string | null {
  for (const product of products) if (product.price !== null) return product.price.currency;
  return null;
}

/** Levels above a product's own element that still count as the product's record. */
const RECORD_LEVELS = 4;
/** Letters by which names are looked up that a title may be the beginning of. */
const STEM = 3;

/** The products of a page, to be looked up by element, address and name. */
export class ProductIndex {
  readonly #byAddress = new Map<string, Product>();
  readonly #byName = new Map<string, Product>();
  readonly #byStem = new Map<string, string[]>();
  readonly #byElement = new Map<Element, Product | null>();

  constructor(products: readonly Product[], base: string | null) {
    for (const product of products) {
      if (product.url !== null) setOnce(this.#byAddress, absolute(product.url, base), product);
      setOnce(this.#byName, foldWords(product.name), product);
      const stem = product.name.slice(0, STEM).toLowerCase();
      const names = this.#byStem.get(stem);
      if (names === undefined) this.#byStem.set(stem, [product.name]);
      else names.push(product.name);
      this.#placeAround(product);
    }
  }

  /** An element around two products is the record of neither. */
  #placeAround(product: Product): void {
    let at = product.element;
    for (let level = 0; at !== null && level <= RECORD_LEVELS; level++, at = at.parentElement) {
      this.#byElement.set(at, this.#byElement.has(at) ? null : product);
    }
  }

  /** What structured data says of a record. */
  of(card: Element, address: string | null, title: string): Product | null {
    const found = this.#byElement.get(card) ?? (address === null ? null : this.#byAddress.get(address));
    return found ?? this.#byName.get(foldWords(title)) ?? null;
  }

  /** Names that begin like a cut title, cheaply: by its first letters. */
  namesLike(title: string): readonly string[] {
    return this.#byStem.get(title.slice(0, STEM).toLowerCase()) ?? [];
  }
}

function setOnce<K, V>(map: Map<K, V>, key: K, value: V): void {
  if (!map.has(key)) map.set(key, value);
}
