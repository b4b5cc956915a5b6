/**
 * The page as flat arrays in document order, made by one walk without recursion.
 *
 * Every element and text that may be seen gets an index; `end` closes the range of what lies inside it, so that
 * "how many images lie in this record" is a subtraction. Elements are grouped by *tag path* (the tags from the
 * body down), the key of tag-path clustering (Miao et al., WWW 2009).
 */
import { MAX_NODES, NODES_A_STEP } from "./limits.ts";
import type { Sight } from "./sight.ts";

/** What was noticed of an element or text while walking; values are bits. `spaced`: white space stands before it. */
export const Mark = {
  text: 1,
  link: 2,
  heading: 4,
  image: 8,
  money: 16,
  control: 32,
  item: 64,
  ownText: 128,
  spaced: 256,
} as const;

/** A page, or a part of one, in flat form. Indexes are document order. */
export interface PageTree {
  readonly nodes: readonly Node[];
  readonly parent: readonly number[];
  /** One past the last index inside the element. */
  readonly end: readonly number[];
  readonly depth: readonly number[];
  /** The element sibling before, -1 where there is none. */
  readonly previous: readonly number[];
  /** Interned tag path; equal numbers are equal paths. */
  readonly path: readonly number[];
  readonly tag: readonly string[];
  readonly marks: readonly number[];
  /** Elements by kind, in document order. */
  readonly links: readonly number[];
  readonly headings: readonly number[];
  readonly images: readonly number[];
  readonly items: readonly number[];
  /** Elements that may serve as headings where there are none: bold text and terms of definition lists. */
  readonly terms: readonly number[];
  /** Texts that hold an amount of money, or a part of one. */
  readonly monies: readonly number[];
  /** True when the page was larger than is read. */
  readonly isCut: boolean;
}

/** Tags whose content is not text of the page. */
const SKIPPED = new Set(
  "script style template noscript svg math iframe object embed head link meta base textarea datalist audio video select option track source param".split(
    " ",
  ),
);
const IMAGES = new Set(["img", "picture", "canvas", "image"]);
const CONTROLS = new Set(["button", "input", "select", "textarea"]);
const TERMS = new Set(["b", "strong", "dt"]);
const HEADINGS = new Set(["h1", "h2", "h3", "h4", "h5", "h6"]);
/** Most different tags that are told apart in tag paths. */
const MAX_TAGS = 1_024;

/** A parent is open while its children are walked. */
interface Frame {
  readonly index: number;
  next: ChildNode | null;
  /** The last element child walked. */
  last: number;
}

/**
 * Walks everything inside `root` that a person may see.
 *
 * @param holdsMoney tells whether a text holds an amount of money, or a part of one
 *
 * A generator, so that a caller may stop for breath; it yields nothing.
 */
export function* walkPage(
  root: Element,
  sight: Sight,
  holdsMoney: (text: string) => boolean,
): Generator<void, PageTree> {
  const nodes: Node[] = [];
  const parent: number[] = [];
  const end: number[] = [];
  const depth: number[] = [];
  const previous: number[] = [];
  const path: number[] = [];
  const tag: string[] = [];
  const marks: number[] = [];
  const links: number[] = [];
  const headings: number[] = [];
  const images: number[] = [];
  const items: number[] = [];
  const terms: number[] = [];
  const monies: number[] = [];
  const paths = new Map<number, number>();
  const tagNumbers = new Map<string, number>();

  let isSpaced = false;
  const add = (node: Node, name: string, above: number, mark: number): number => {
    const index = nodes.length;
    nodes.push(node);
    parent.push(above);
    end.push(index + 1);
    depth.push(above < 0 ? 0 : (depth[above] ?? 0) + 1);
    let tagNumber = tagNumbers.get(name);
    if (tagNumber === undefined) {
      tagNumber = tagNumbers.size;
      tagNumbers.set(name, tagNumber);
    }
    const key = (above < 0 ? 0 : (path[above] ?? 0) + 1) * MAX_TAGS + Math.min(tagNumber, MAX_TAGS - 1);
    let number = paths.get(key);
    if (number === undefined) {
      number = paths.size;
      paths.set(key, number);
    }
    path.push(number);
    tag.push(name);
    marks.push(isSpaced ? mark | Mark.spaced : mark);
    isSpaced = false;
    previous.push(-1);
    return index;
  };
  const addText = (text: Text, above: number): void => {
    const data = text.data;
    if (!/\S/.test(data)) {
      isSpaced = true;
      return;
    }
    const isMoney = holdsMoney(data);
    const index = add(text, "#", above, Mark.text | (isMoney ? Mark.money : 0));
    marks[above] = (marks[above] ?? 0) | Mark.ownText;
    if (isMoney) monies.push(index);
  };
  const addElement = (element: Element, name: string, above: number): number => {
    const mark = markOf(element, name);
    const index = add(element, name, above, mark);
    if ((mark & Mark.link) !== 0) links.push(index);
    if ((mark & Mark.heading) !== 0) headings.push(index);
    if ((mark & Mark.image) !== 0) images.push(index);
    if ((mark & Mark.item) !== 0) items.push(index);
    if (TERMS.has(name)) terms.push(index);
    return index;
  };

  const stack: Frame[] = [{ index: addElement(root, root.localName, -1), next: root.firstChild, last: -1 }];
  let steps = 0;
  while (stack.length > 0 && nodes.length < MAX_NODES) {
    const frame = stack[stack.length - 1] as Frame;
    const node = frame.next;
    if (node === null) {
      end[frame.index] = nodes.length;
      stack.pop();
      continue;
    }
    frame.next = node.nextSibling;
    if (++steps % NODES_A_STEP === 0) yield;
    if (node.nodeType === 3) addText(node as Text, frame.index);
    else if (node.nodeType === 1) {
      const element = node as Element;
      const name = element.localName;
      if (SKIPPED.has(name) || sight.isOut(element)) continue;
      const index = addElement(element, name, frame.index);
      previous[index] = frame.last;
      frame.last = index;
      if (element.firstChild !== null) stack.push({ index, next: element.firstChild, last: -1 });
    }
  }
  for (const frame of stack) end[frame.index] = nodes.length;
  const lists = { links, headings, images, items, terms, monies };
  return { nodes, parent, end, depth, previous, path, tag, marks, ...lists, isCut: stack.length > 0 };
}

function markOf(element: Element, name: string): number {
  if (name === "a") return element.hasAttribute("href") ? Mark.link | itemMark(element) : itemMark(element);
  if (HEADINGS.has(name)) return Mark.heading;
  if (IMAGES.has(name)) return Mark.image;
  if (CONTROLS.has(name)) return Mark.control;
  if (name === "article") return Mark.item;
  if (!element.hasAttributes()) return 0;
  const role = element.getAttribute("role");
  if (role === "heading") return Mark.heading | itemMark(element);
  if (role === "img") return Mark.image;
  if (role === "button") return Mark.control;
  return itemMark(element);
}

/** Microdata or RDFa says that the element is an item of its own. */
function itemMark(element: Element): number {
  return element.hasAttribute("itemscope") || element.hasAttribute("typeof") ? Mark.item : 0;
}

/** The tree with further texts that are known to be amounts of money. */
export function withMonies(tree: PageTree, texts: readonly number[]): PageTree {
  const monies = [...new Set([...tree.monies, ...texts])].sort((a, b) => a - b);
  return { ...tree, monies };
}

/** Number of entries of a sorted index list that lie in the range [start, end). */
export function countIn(sorted: readonly number[], start: number, end: number): number {
  return lowerBound(sorted, end) - lowerBound(sorted, start);
}

/** First place in a sorted list whose value is not below `value`. */
export function lowerBound(sorted: readonly number[], value: number): number {
  let low = 0;
  let high = sorted.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((sorted[middle] as number) < value) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** The element of an index; of a text, the one that holds it. */
export function elementAt(tree: PageTree, index: number): Element {
  return tree.nodes[tree.tag[index] === "#" ? (tree.parent[index] ?? 0) : index] as Element;
}
