/**
 * A small tree of elements as plain data. What both the page overlay (plain DOM, no framework) and our own pages
 * (Preact) show is described once as such a tree; `toDom` makes nodes of it, `<Drawing>` makes it Preact.
 * Text is always text: nothing in a tree is ever parsed as markup.
 */

/** One element. A tree whose root is `svg` is drawn in the SVG namespace. */
export interface Drawn {
  readonly tag: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly children: readonly (Drawn | string)[];
}

/** Makes one element of a tree; empty children are left out. */
export function drawn(
  tag: string,
  attributes: Readonly<Record<string, string>> = {},
  ...children: readonly (Drawn | string | null | undefined | readonly Drawn[])[]
): Drawn {
  const kept = children.flat().filter((child) => child !== null && child !== undefined && child !== "");
  return { tag, attributes, children: kept as (Drawn | string)[] };
}

const SVG = "http://www.w3.org/2000/svg";

/** Builds the nodes of a tree. */
export function toDom(document: Document, tree: Drawn, inSvg = false): Element {
  const svg = inSvg || tree.tag === "svg";
  const node = svg ? document.createElementNS(SVG, tree.tag) : document.createElement(tree.tag);
  for (const [name, value] of Object.entries(tree.attributes)) node.setAttribute(name, value);
  for (const child of tree.children) node.append(typeof child === "string" ? child : toDom(document, child, svg));
  return node;
}
