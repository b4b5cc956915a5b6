/** Measures a card of the page for {@link spotsFor}. Only reads; the page is not changed. */
import type { Box, CardBoxes } from "./geometry.ts";

const PICTURES = "img,picture,video,canvas,[role=img]";

/** The picture of a card: an image element, else a link without text (its picture is a background). */
export function pictureOf(card: Element): Element | null {
  const image = card.querySelector(PICTURES);
  if (image) return image;
  for (const link of card.querySelectorAll("a")) {
    if (link.textContent?.trim() === "" && link.childElementCount === 0) return link;
  }
  return null;
}

/** Boxes of a card as they lie in the window now. */
export function measureCard(card: Element, anchor: Element, picture: Element | null): CardBoxes {
  return {
    card: card.getBoundingClientRect(),
    picture: picture?.getBoundingClientRect() ?? null,
    lastLine: lastLineOf(anchor),
    titleBlock: blockOf(anchor).getBoundingClientRect(),
    rightToLeft: getComputedStyle(card).direction === "rtl",
  };
}

/** Things that a mark must not cover besides text. */
const THINGS = "img,svg,video,canvas,button,input,select,textarea";
/** Most texts and things of one card that are looked at. */
const MOST_CONTENT = 120;

/** Boxes of the card's words and things, the picture left out. */
export function contentBoxes(card: Element, picture: Element | null): Box[] {
  const things = Array.from(card.querySelectorAll(THINGS)).slice(0, MOST_CONTENT);
  const own = things.filter((thing) => picture === null || !(picture.contains(thing) || thing.contains(picture)));
  const boxes = own.map((thing) => thing.getBoundingClientRect());
  return [...textBoxes(card), ...boxes.filter(({ width }) => width > 0)];
}

/** Boxes of an element's text, one a line or run of it; a range over elements would give their boxes too. */
function textBoxes(element: Element): DOMRect[] {
  const boxes: DOMRect[] = [];
  const range = element.ownerDocument.createRange();
  const texts = element.ownerDocument.createTreeWalker(element, NodeFilter.SHOW_TEXT);
  for (let count = 0; count < MOST_CONTENT && texts.nextNode() !== null; count++) {
    if (texts.currentNode.nodeValue?.trim() === "") continue;
    range.selectNodeContents(texts.currentNode);
    boxes.push(...range.getClientRects());
  }
  return boxes.filter(({ width }) => width > 0);
}

/** The last line of an element's text. A line that runs both ways is made of several boxes. */
function lastLineOf(anchor: Element): Box | null {
  const boxes = textBoxes(anchor);
  if (boxes.length === 0) return null;
  const bottom = Math.max(...boxes.map((box) => box.bottom));
  const line = boxes.filter((box) => box.bottom > bottom - box.height / 2);
  return {
    left: Math.min(...line.map((box) => box.left)),
    top: Math.min(...line.map((box) => box.top)),
    right: Math.max(...line.map((box) => box.right)),
    bottom,
  };
}

/** The nearest element around the title that is laid out as a block of its own. */
function blockOf(anchor: Element): Element {
  let element = anchor;
  while (element.parentElement && getComputedStyle(element).display.startsWith("inline")) {
    element = element.parentElement;
  }
  return element;
}

/** Remembers for each element which boxes around it cut off what overflows them; neighbours share most of the way. */
export class Clippers {
  readonly #known = new WeakMap<Element, readonly Element[]>();

  /** The boxes that cut an element off, innermost first; the window itself is none. */
  around(element: Element): readonly Element[] {
    const parent = element.parentElement;
    if (parent === null || parent === element.ownerDocument.body) return [];
    let known = this.#known.get(parent);
    if (known === undefined) {
      const further = this.around(parent);
      known = getComputedStyle(parent).overflow === "visible" ? further : [parent, ...further];
      this.#known.set(parent, known);
    }
    return known;
  }
}
