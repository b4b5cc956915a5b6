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

/** The last line of an element's text. */
function lastLineOf(anchor: Element): Box | null {
  const range = anchor.ownerDocument.createRange();
  range.selectNodeContents(anchor);
  const lines = range.getClientRects();
  let last: DOMRect | null = null;
  for (const line of lines) if (line.width > 0 && (last === null || line.bottom >= last.bottom)) last = line;
  return last;
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
