/** RDFa Lite 1.1 as things: `typeof` opens an item, `property` names its values, `content` outranks the text. */
import { shortName } from "./json-ld.ts";
import { MAX_ITEMS, MAX_STRUCTURED_NODES } from "./limits.ts";
import type { Thing, ThingValue } from "./product.ts";

/** Reads every item that is not a property of another. */
export function readRdfa(document: Document): Thing[] {
  const tops = Array.from(document.querySelectorAll("[typeof]:not([property]):not([rel])")).slice(0, MAX_ITEMS);
  const budget = { nodes: MAX_STRUCTURED_NODES };
  return tops.map((element) => toThing(element, budget, 0));
}

/** Deepest nesting of items that is followed. */
const MAX_LEVELS = 12;

function toThing(root: Element, budget: { nodes: number }, level: number): Thing {
  const properties = new Map<string, ThingValue[]>();
  const stack: Element[] = Array.from(root.children).reverse();
  while (stack.length > 0 && --budget.nodes > 0) {
    const element = stack.pop() as Element;
    const names = `${element.getAttribute("property") ?? ""} ${element.getAttribute("rel") ?? ""}`.split(/\s+/);
    const isItem = element.hasAttribute("typeof");
    const value = isItem ? (level < MAX_LEVELS ? toThing(element, budget, level + 1) : null) : literalOf(element);
    if (value !== null && (element.hasAttribute("property") || isItem)) {
      for (const name of names) {
        if (name === "") continue;
        const key = shortName(name);
        properties.set(key, [...(properties.get(key) ?? []), value]);
      }
    }
    if (!isItem) stack.push(...Array.from(element.children).reverse());
  }
  const types = (root.getAttribute("typeof") ?? "")
    .split(/\s+/)
    .filter((type) => type !== "")
    .map(shortName);
  const id = root.getAttribute("resource") ?? root.getAttribute("about");
  return { types, id, properties, isTop: level === 0, element: root };
}

/** Order of RDFa 1.1: content, then datetime, then an address, then the text. */
function literalOf(element: Element): string {
  for (const attribute of ["content", "datetime", "resource", "href", "src"]) {
    const value = element.getAttribute(attribute);
    if (value !== null) return value;
  }
  return element.textContent ?? "";
}
