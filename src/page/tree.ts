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
const MAY_HAVE_ROLE = new Set(["div", "span", "li", "section", "td", "tr", "p", "figure", "i"]);
const HEADINGS = new Set(["h1", "h2", "h3", "h4", "h5", "h6"]);
/** Most different tags that are told apart in tag paths. */
const MAX_TAGS = 1_024;

/** A parent is open while its children are walked. */
interface Frame {
  readonly index: number;
  next: ChildNode | null;
  /** The last element child walked. */
  last: number;
  /** Only children in the scope are walked. */
  readonly isPassed: boolean;
}

/** A part of a page: `whole` elements with all they hold, and the `passed` ones that lead to them. */
export interface Scope {
  readonly whole: ReadonlySet<Element>;
  readonly passed: ReadonlySet<Element>;
}

/** How a page is walked. */
export interface WalkOptions {
  readonly sight: Sight;
  /** Tells whether a text holds an amount of money, or a part of one. */
  readonly holdsMoney: (text: string) => boolean;
  /** Walks only a part of the page. */
  readonly scope?: Scope | null;
}

/**
 * Walks everything inside `root` that a person may see.
 *
 * A generator, so that a caller may stop for breath; it yields nothing.
 */
export function* walkPage(root: Element, options: WalkOptions): Generator<void, PageTree> {
  const grower = new Grower(options);
  yield* grower.grow(root);
  return grower.tree;
}

/** Fills the arrays of a tree. */
class Grower {
  readonly #options: WalkOptions;
  readonly #nodes: Node[] = [];
  readonly #parent: number[] = [];
  readonly #end: number[] = [];
  readonly #depth: number[] = [];
  readonly #previous: number[] = [];
  readonly #path: number[] = [];
  readonly #tag: string[] = [];
  readonly #marks: number[] = [];
  readonly #links: number[] = [];
  readonly #headings: number[] = [];
  readonly #images: number[] = [];
  readonly #items: number[] = [];
  readonly #terms: number[] = [];
  readonly #monies: number[] = [];
  readonly #paths = new Map<number, number>();
  readonly #tagNumbers = new Map<string, number>();
  /** White space was walked since the last node. */
  #isSpaced = false;
  #isCut = false;

  constructor(options: WalkOptions) {
    this.#options = options;
  }

  get tree(): PageTree {
    return {
      nodes: this.#nodes,
      parent: this.#parent,
      end: this.#end,
      depth: this.#depth,
      previous: this.#previous,
      path: this.#path,
      tag: this.#tag,
      marks: this.#marks,
      links: this.#links,
      headings: this.#headings,
      images: this.#images,
      items: this.#items,
      terms: this.#terms,
      monies: this.#monies,
      isCut: this.#isCut,
    };
  }

  *grow(root: Element): Generator<void, void> {
    const stack: Frame[] = [this.#open(root, root.localName, -1)];
    for (let steps = 1; stack.length > 0 && this.#nodes.length < MAX_NODES; steps++) {
      if (steps % NODES_A_STEP === 0) yield;
      const frame = stack[stack.length - 1] as Frame;
      const node = frame.next;
      if (node === null) {
        this.#end[frame.index] = this.#nodes.length;
        stack.pop();
        continue;
      }
      frame.next = node.nextSibling;
      const inner = this.#visit(node, frame);
      if (inner !== null && inner.next !== null) stack.push(inner);
    }
    for (const frame of stack) this.#end[frame.index] = this.#nodes.length;
    this.#isCut = stack.length > 0;
  }

  /** Adds a child of the frame; gives back the frame of its own children. */
  #visit(node: ChildNode, frame: Frame): Frame | null {
    if (node.nodeType === TEXT && !frame.isPassed) this.#addText(node as Text, frame.index);
    if (node.nodeType !== ELEMENT) return null;
    const element = node as Element;
    const name = element.localName;
    if (SKIPPED.has(name) || (frame.isPassed && !this.#isInScope(element, name))) return null;
    if (this.#options.sight.isOut(element)) return null;
    const inner = this.#open(element, name, frame.index);
    this.#previous[inner.index] = frame.last;
    frame.last = inner.index;
    return inner;
  }

  #isInScope(element: Element, name: string): boolean {
    const scope = this.#options.scope;
    return !scope || scope.whole.has(element) || scope.passed.has(element) || HEADINGS.has(name);
  }

  #open(element: Element, name: string, above: number): Frame {
    const scope = this.#options.scope;
    const isPassed = scope ? scope.passed.has(element) && !scope.whole.has(element) : false;
    return { index: this.#addElement(element, name, above), next: element.firstChild, last: -1, isPassed };
  }

  #addText(text: Text, above: number): void {
    const { data } = text;
    if (!/\S/.test(data)) {
      this.#isSpaced = true;
      return;
    }
    const isMoney = this.#options.holdsMoney(data);
    const index = this.#add(text, "#", above, isMoney ? Mark.text | Mark.money : Mark.text);
    this.#marks[above] = (this.#marks[above] ?? 0) | Mark.ownText;
    if (isMoney) this.#monies.push(index);
  }

  #addElement(element: Element, name: string, above: number): number {
    const mark = markOf(element, name);
    const index = this.#add(element, name, above, mark);
    if ((mark & Mark.link) !== 0) this.#links.push(index);
    if ((mark & Mark.heading) !== 0) this.#headings.push(index);
    if ((mark & Mark.image) !== 0) this.#images.push(index);
    if ((mark & Mark.item) !== 0) this.#items.push(index);
    if (TERMS.has(name)) this.#terms.push(index);
    return index;
  }

  #add(node: Node, name: string, above: number, mark: number): number {
    const index = this.#nodes.length;
    this.#nodes.push(node);
    this.#parent.push(above);
    this.#end.push(index + 1);
    this.#depth.push(above < 0 ? 0 : (this.#depth[above] ?? 0) + 1);
    this.#path.push(this.#pathNumber(above < 0 ? 0 : (this.#path[above] ?? 0) + 1, name));
    this.#tag.push(name);
    this.#marks.push(this.#isSpaced ? mark | Mark.spaced : mark);
    this.#isSpaced = false;
    this.#previous.push(-1);
    return index;
  }

  /** Interns the path that a tag continues. */
  #pathNumber(above: number, name: string): number {
    let tagNumber = this.#tagNumbers.get(name);
    if (tagNumber === undefined) {
      tagNumber = Math.min(this.#tagNumbers.size, MAX_TAGS - 1);
      this.#tagNumbers.set(name, tagNumber);
    }
    const key = above * MAX_TAGS + tagNumber;
    let number = this.#paths.get(key);
    if (number === undefined) {
      number = this.#paths.size;
      this.#paths.set(key, number);
    }
    return number;
  }
}

const ELEMENT = 1;
const TEXT = 3;

function markOf(element: Element, name: string): number {
  if (name === "a") return element.hasAttribute("href") ? Mark.link : 0;
  if (HEADINGS.has(name)) return Mark.heading;
  if (IMAGES.has(name)) return Mark.image;
  if (CONTROLS.has(name)) return Mark.control;
  if (name === "article") return Mark.item;
  if (!MAY_HAVE_ROLE.has(name) || !element.hasAttributes()) return 0;
  const role = element.getAttribute("role");
  if (role === null) return itemMark(element);
  if (role === "heading") return Mark.heading;
  if (role === "img") return Mark.image;
  return role === "button" ? Mark.control : itemMark(element);
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
