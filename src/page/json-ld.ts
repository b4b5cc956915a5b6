/** JSON-LD blocks of a page as things: every block on its own, a broken one is left out. */
import { MAX_JSON_LD_BLOCK, MAX_JSON_LD_TOTAL, MAX_STRUCTURED_NODES } from "./limits.ts";
import type { Thing, ThingValue } from "./product.ts";

/** Reads the JSON-LD of a document: top-level objects, arrays and `@graph`s, references by `@id` resolved. */
export function readJsonLd(document: Document): Thing[] {
  const budget = { nodes: MAX_STRUCTURED_NODES };
  const things: Thing[] = [];
  let read = 0;
  for (const script of Array.from(document.querySelectorAll('script[type^="application/ld+json" i]'))) {
    const text = script.textContent ?? "";
    read += text.length;
    if (text.length > MAX_JSON_LD_BLOCK || read > MAX_JSON_LD_TOTAL) continue;
    const value = parsed(text);
    if (value !== undefined) things.push(...topThings(value, budget));
  }
  return things;
}

function parsed(text: string): unknown {
  const body = text
    .trim()
    .replace(/^(?:<!--|\/\*\s*<!\[CDATA\[\s*\*\/|\/\/\s*<!\[CDATA\[|<!\[CDATA\[)/, "")
    .replace(/(?:-->|\/\*\s*\]\]>\s*\*\/|\/\/\s*\]\]>|\]\]>)$/, "")
    .replace(/;\s*$/, "");
  try {
    return JSON.parse(body);
  } catch (error) {
    if (error instanceof SyntaxError) return withRepairs(body);
    if (error instanceof RangeError) return undefined; // nested deeper than the platform reads
    throw error;
  }
}

/** Two common faults of hand-made templates: bare line breaks inside strings, and commas before a bracket. */
function withRepairs(body: string): unknown {
  try {
    return JSON.parse(body.replace(/[\r\n\t]+/g, " ").replace(/,(\s*[\]}])/g, "$1"));
  } catch (error) {
    if (error instanceof SyntaxError) return undefined; // broken beyond that: this block says nothing
    throw error;
  }
}

interface Budget {
  nodes: number;
}

type Json = Record<string, unknown>;

function isObject(value: unknown): value is Json {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

/** The objects on top of a block, each made a thing. Objects deeper than {@link MAX_LEVELS} are left out. */
function topThings(value: unknown, budget: Budget): Thing[] {
  const tops = flatten(value);
  const byId = new Map<string, Json>();
  for (const top of tops) {
    const id = top["@id"];
    if (typeof id === "string" && Object.keys(top).length > 1) byId.set(id, top);
  }
  return tops.map((top) => toThing(top, budget, byId, 0));
}

/** Deepest nesting of structured data that is followed. */
const MAX_LEVELS = 12;

function flatten(value: unknown): Json[] {
  const objects: Json[] = [];
  const queue: unknown[] = [value];
  for (let at = 0; at < queue.length && at < MAX_STRUCTURED_NODES; at++) {
    const next = queue[at];
    if (Array.isArray(next)) for (const inner of next) queue.push(inner);
    else if (isObject(next)) {
      if (next["@graph"] !== undefined) queue.push(next["@graph"]);
      if (next["@type"] !== undefined || next["@id"] !== undefined || next["@graph"] === undefined) objects.push(next);
    }
  }
  return objects;
}

function toThing(source: Json, budget: Budget, byId: ReadonlyMap<string, Json>, level: number): Thing {
  const properties = new Map<string, ThingValue[]>();
  const id = typeof source["@id"] === "string" ? source["@id"] : null;
  for (const [key, value] of Object.entries(source)) {
    if (key.startsWith("@") || budget.nodes <= 0) continue;
    properties.set(shortName(key), toValues(value, budget, byId, level + 1));
  }
  return { types: typesOf(source["@type"]), id, properties, isTop: level === 0 };
}

function toValues(value: unknown, budget: Budget, byId: ReadonlyMap<string, Json>, level: number): ThingValue[] {
  if (--budget.nodes < 0 || level > MAX_LEVELS) return [];
  if (Array.isArray(value)) return value.flatMap((inner) => toValues(inner, budget, byId, level + 1));
  if (typeof value === "string") return [value];
  if (typeof value === "number" || typeof value === "boolean") return [plainNumber(value)];
  if (!isObject(value)) return [];
  if (value["@value"] !== undefined) return toValues(value["@value"], budget, byId, level + 1);
  const id = value["@id"];
  const isReference = typeof id === "string" && Object.keys(value).length === 1;
  const target = isReference ? byId.get(id) : value;
  return target === undefined ? [String(id)] : [toThing(target, budget, byId, level)];
}

/** A number as decimal text, never in exponent form. */
function plainNumber(value: number | boolean): string {
  if (typeof value === "boolean" || Math.abs(value) < 1e15) return String(value);
  return Number.isFinite(value) ? BigInt(Math.round(value)).toString() : "";
}

function typesOf(value: unknown): string[] {
  const all = Array.isArray(value) ? value : [value];
  return all.filter((type): type is string => typeof type === "string").map(shortName);
}

/** `https://schema.org/Product`, `schema:Product` and `Product` are one name. */
export function shortName(name: string): string {
  const at = Math.max(name.lastIndexOf("/"), name.lastIndexOf("#"), name.lastIndexOf(":"));
  return at < 0 ? name : name.slice(at + 1);
}
