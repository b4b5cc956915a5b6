/**
 * Where on the page a run of records lies: in the page's furniture (menus, filters, the basket, reviews), in a
 * strip of related listings, or in the page's own matter. Told by landmarks, by the names of wrappers, and by
 * the heading above.
 */
import { type Cues, foldWords } from "./cues.ts";
import { elementAt, Mark, type PageTree } from "./tree.ts";

/** The kind of place. */
export type Place = "main" | "related" | "furniture";

const FURNITURE_TAGS = new Set(["nav", "select", "noscript", "thead", "tfoot"]);
/** Elements whose header and footer are their own. */
const OWNERS = new Set(["article", "main", "section", "li", "td", "figure", "a"]);
const FURNITURE_ROLES = new Set([
  "navigation",
  "menu",
  "menubar",
  "contentinfo",
  "banner",
  "dialog",
  "alertdialog",
  "tablist",
  "toolbar",
]);
/** Words that stand before the telling part of a wrapper's name. */
const PREFIXES = new Set(
  "js c o m block widget site page main header top ajax shop mini side off canvas offcanvas flyout".split(" "),
);
/** Names of wrappers that hold no listings, by their telling part. */
const FURNITURE_NAMES = new Set(
  "nav navbar navigation menu megamenu mega-menu breadcrumb breadcrumbs cookie cookies consent newsletter footer pagination pager checkout modal popup autocomplete suggestions layered-nav refinements wishlist-items testimonials".split(
    " ",
  ),
);
/** Names that are furniture with one of {@link PART_NAMES} after them, or nothing. */
const FURNITURE_FAMILIES = new Set(
  "cart basket bag minicart minibasket facet facets filter filters review reviews comment comments cookie consent".split(
    " ",
  ),
);
const PART_NAMES = new Set(
  "item items list drawer dropdown content contents widget line lines table preview popup sidebar summary wrapper form overlay panel flyout group option options value values block bar menu section container area banner notice".split(
    " ",
  ),
);
const RELATED_CLASS =
  /(?:^|[-_])(?:related|recently|recent-?viewed|viewed|similar|up-?sells?|cross-?sells?|recommend(?:ed|ations?|er)?|also-?(?:bought|viewed|like)|you-?may|suggested|complementary)(?:$|[-_])/i;

/** Tells the place of elements; answers are kept for the length of one reading. */
export class Places {
  readonly #known = new Map<number, Place>();
  readonly #tree: PageTree;
  readonly #cues: Cues;

  constructor(tree: PageTree, cues: Cues) {
    this.#tree = tree;
    this.#cues = cues;
  }

  /** The place of what lies in the element `parent`. */
  of(parent: number): Place {
    const climbed: number[] = [];
    let at = parent;
    for (; at >= 0 && !this.#known.has(at); at = this.#tree.parent[at] ?? -1) climbed.push(at);
    let place = this.#known.get(at) ?? "main";
    for (const index of climbed.reverse()) {
      if (place !== "furniture") place = stronger(place, this.#own(index));
      this.#known.set(index, place);
    }
    return place;
  }

  #own(index: number): Place {
    if (this.#tree.tag[index] === "#") return "main";
    const element = elementAt(this.#tree, index);
    const tag = element.localName;
    if (tag === "body" || tag === "html" || tag === "main") return "main";
    if (FURNITURE_TAGS.has(tag)) return "furniture";
    if ((tag === "header" || tag === "footer") && this.#isOfPage(index)) return "furniture";
    if (!element.hasAttributes()) return "main";
    const role = element.getAttribute("role");
    if (role !== null && FURNITURE_ROLES.has(role)) return "furniture";
    return ownByNames(element);
  }

  /** A header or footer of the page, not of an article or card. */
  #isOfPage(index: number): boolean {
    for (let at = this.#tree.parent[index] ?? -1; at >= 0; at = this.#tree.parent[at] ?? -1) {
      const tag = this.#tree.tag[at];
      if (tag === undefined || OWNERS.has(tag) || tag.includes("-")) return false;
    }
    return true;
  }

  /**
   * True when the heading or label over the run that `first` begins speaks of related, similar or recently
   * viewed listings.
   */
  isUnder(key: "related" | "categories" | "cart", first: number): boolean {
    const heading = this.headingOver(first);
    return heading !== "" && this.#cues.has(key, heading);
  }

  /** The folded text of the nearest heading or short line that stands before `first` and over it. */
  headingOver(first: number): string {
    const tree = this.#tree;
    let at = first;
    for (let step = 0; step < MAX_HEADING_CLIMB && at > 0; step++) {
      const parent = tree.parent[at] ?? -1;
      if (parent < 0) break;
      const label = this.#element(parent)?.getAttribute("aria-label");
      const text = this.#lastHeadingBetween(parent, at);
      if (text !== "") return text;
      if (label) return foldWords(label);
      at = parent;
    }
    return "";
  }

  #element(index: number): Element | null {
    return this.#tree.tag[index] === "#" ? null : elementAt(this.#tree, index);
  }

  /** The last heading (or a lone short line that serves as one) inside `parent` before `before`. */
  #lastHeadingBetween(parent: number, before: number): string {
    const tree = this.#tree;
    for (let at = before - 1; at > parent && before - at < MAX_HEADING_NODES; at--) {
      const marks = tree.marks[at] ?? 0;
      if ((marks & Mark.heading) !== 0) {
        const text = shortText(tree, at);
        if (text !== "") return text;
      }
      if ((marks & Mark.money) !== 0) return "";
    }
    const sibling = previousSibling(tree, parent, before);
    return sibling < 0 || (tree.end[sibling] ?? 0) - sibling > 6 ? "" : shortText(tree, sibling);
  }
}

function stronger(outer: Place, own: Place): Place {
  return own === "main" ? outer : own;
}

/** Most levels from a run up to the heading over it. */
const MAX_HEADING_CLIMB = 5;
/** Most nodes between a run and the heading over it. */
const MAX_HEADING_NODES = 40;
/** Longest text that serves as a heading. */
const MAX_HEADING_TEXT = 90;

function previousSibling(tree: PageTree, parent: number, before: number): number {
  let found = -1;
  for (let child = parent + 1; child < before; child = tree.end[child] ?? before) {
    if (tree.tag[child] !== "#") found = child;
  }
  return found;
}

function shortText(tree: PageTree, index: number): string {
  const text = elementAt(tree, index).textContent ?? "";
  return text.length > MAX_HEADING_TEXT * 3 ? "" : foldWords(text).slice(0, MAX_HEADING_TEXT);
}

/** "js-mini-cart-items", "filters", "page-footer": the whole name says furniture, not a part of it. */
function isFurnitureName(name: string): boolean {
  const words = name.toLowerCase().split(/[-_]+/);
  while (words.length > 1 && PREFIXES.has(words[0] ?? "")) words.shift();
  if (FURNITURE_NAMES.has(words.join("-"))) return true;
  const [family = "", ...parts] = words;
  return FURNITURE_FAMILIES.has(family) && parts.every((part) => PART_NAMES.has(part));
}

function ownByNames(element: Element): Place {
  const names = `${element.getAttribute("class") ?? ""} ${element.id}`.trim();
  if (names === "" || names.length > 2_000) return "main";
  let place: Place = "main";
  for (const name of names.split(/\s+/)) {
    // A form named "cart" is the one by which a product page puts its item into the basket.
    if (isFurnitureName(name) && !(element.localName === "form" && /^(?:cart|basket)$/i.test(name))) return "furniture";
    if (RELATED_CLASS.test(name)) place = "related";
  }
  return place;
}
