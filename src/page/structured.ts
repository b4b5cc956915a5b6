/**
 * What a page says of itself for machines, in one form: JSON-LD, microdata, RDFa Lite and Open Graph.
 *
 * Each reader turns its syntax into {@link Thing}s (types and properties); {@link productsOf} reads products
 * out of them whatever the syntax.
 */
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
