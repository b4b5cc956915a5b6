/**
 * Microdata as things, by the value rules of the WHATWG HTML standard (section "Values": content counts on `meta`
 * only, `data` and `meter` by value, `time` by datetime, links and media by address, else the text).
 */
import { shortName } from "./json-ld.ts";
import { MAX_ITEMS, MAX_STRUCTURED_NODES } from "./limits.ts";
import type { Thing, ThingValue } from "./product.ts";

/** Reads every top-level item of a document, in document order. */
export function readMicrodata(document: Document): Thing[] {
  const tops = Array.from(document.querySelectorAll("[itemscope]:not([itemprop])")).slice(0, MAX_ITEMS);
  const budget = { nodes: MAX_STRUCTURED_NODES };
  return tops.map((element) => toThing(document, element, budget, new Set([element]), true));
}

interface Budget {
  nodes: number;
}

/** Deepest nesting of items that is followed. */
const MAX_LEVELS = 12;

function toThing(
  document: Document,
  root: Element,
  budget: Budget,
  around: ReadonlySet<Element>,
  isTop: boolean,
): Thing {
  const properties = new Map<string, ThingValue[]>();
  for (const element of propertiesOf(document, root, budget)) {
    const value = propertyValue(document, element, budget, around);
    if (value === null) continue;
    for (const name of (element.getAttribute("itemprop") ?? "").split(/\s+/)) {
      if (name === "") continue;
      const key = shortName(name);
      const values = properties.get(key);
      if (values === undefined) properties.set(key, [value]);
      else values.push(value);
    }
  }
  const types = (root.getAttribute("itemtype") ?? "")
    .split(/\s+/)
    .filter((type) => type !== "")
    .map(shortName);
  return { types, id: root.getAttribute("itemid"), properties, isTop, element: root };
}

/** The elements that are properties of an item: inside it but not inside another item, and by `itemref`. */
function propertiesOf(document: Document, root: Element, budget: Budget): Element[] {
  const found: Element[] = [];
  const seen = new Set<Element>([root]);
  const references = (root.getAttribute("itemref") ?? "").split(/\s+/).filter((id) => id !== "");
  const roots = references.map((id) => document.getElementById(id)).filter((element) => element !== null);
  const stack: Element[] = [...Array.from(root.children), ...roots].reverse();
  while (stack.length > 0 && --budget.nodes > 0) {
    const element = stack.pop() as Element;
    if (seen.has(element)) continue;
    seen.add(element);
    if (element.hasAttribute("itemprop")) found.push(element);
    if (!element.hasAttribute("itemscope")) stack.push(...Array.from(element.children).reverse());
  }
  return found.sort((a, b) => (a.compareDocumentPosition(b) & 4 ? -1 : 1));
}

function propertyValue(
  document: Document,
  element: Element,
  budget: Budget,
  around: ReadonlySet<Element>,
): ThingValue | null {
  if (element.hasAttribute("itemscope")) {
    // An item that is a property of itself, by whatever way round, is an error and has no value.
    if (around.has(element) || around.size > MAX_LEVELS) return null;
    return toThing(document, element, budget, new Set([...around, element]), false);
  }
  switch (element.localName) {
    case "meta":
      return element.getAttribute("content") ?? "";
    case "audio":
    case "embed":
    case "iframe":
    case "img":
    case "source":
    case "track":
    case "video":
      return addressOf(element, "src");
    case "a":
    case "area":
    case "link":
      return addressOf(element, "href");
    case "object":
      return addressOf(element, "data");
    case "data":
    case "meter":
      return element.getAttribute("value") ?? "";
    case "time":
      return element.getAttribute("datetime") ?? element.textContent ?? "";
    default:
      return element.textContent ?? "";
  }
}

function addressOf(element: Element, attribute: string): string {
  const value = element.getAttribute(attribute);
  if (value === null) return "";
  const { baseURI } = element;
  if (!URL.canParse(value, baseURI)) return "";
  return new URL(value, baseURI).href;
}
