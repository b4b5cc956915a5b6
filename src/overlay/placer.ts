/**
 * Keeps marks on their cards. Marks lie on the document, so plain scrolling moves them without any work; what is in
 * sight is measured again, once a frame, when something may have moved: scrolling of inner boxes, resizing, loaded
 * pictures, ended transitions, changes of the page. A mark whose card is covered (a sticky header, a dialog, the edge
 * of a scrolling box) is hidden until it is free again.
 */
import { Clippers, contentBoxes, measureCard, pictureOf } from "./card-boxes.ts";
import { type Box, isClear, type NamedSpot, type Size, type Spot, spotsFor, within } from "./geometry.ts";
import { OVERLAY_TAG } from "./tag.ts";

/** Something placed on a card. */
export interface Placed {
  readonly card: Element;
  /** The element of the title. */
  readonly anchor: Element;
  readonly mark: HTMLElement;
  /** Lies over the whole card while it is dimmed. */
  readonly veil: HTMLElement;
}

interface Entry extends Placed {
  readonly picture: Element | null;
  /** Size of the mark, measured once it is shown. */
  size: Size | null;
  /** Which of its spots the mark took; it stays there until the window's width changes. */
  spot: NamedSpot["name"] | null;
}

/** Places marks until its signal is raised. */
export class Placer {
  readonly #document: Document;
  readonly #sheet: HTMLElement;
  readonly #probe: HTMLElement;
  readonly #entries = new Map<Element, Entry>();
  readonly #inSight = new Set<Entry>();
  readonly #sight: IntersectionObserver;
  readonly #signal: AbortSignal;
  readonly #goesOn: () => boolean;
  readonly #clippers = new Clippers();
  #frame = 0;

  /** @param goesOn asked before each pass: false when the extension behind the overlay is gone */
  constructor(sheet: HTMLElement, signal: AbortSignal, goesOn: () => boolean) {
    this.#document = sheet.ownerDocument;
    this.#sheet = sheet;
    this.#signal = signal;
    this.#goesOn = goesOn;
    this.#probe = this.#document.createElement("div");
    this.#probe.className = "probe";
    sheet.append(this.#probe);
    this.#sight = new IntersectionObserver((seen) => this.#onSight(seen), { rootMargin: "64px" });
    this.#listen();
  }

  /** Puts a mark on a card; its place follows as soon as the card is in sight. */
  add(placed: Placed): void {
    this.remove(placed.card);
    placed.mark.hidden = true;
    placed.veil.hidden = true;
    this.#sheet.append(placed.veil, placed.mark);
    this.#entries.set(placed.card, { ...placed, picture: pictureOf(placed.card), size: null, spot: null });
    this.#sight.observe(placed.card);
  }

  remove(card: Element): void {
    const entry = this.#entries.get(card);
    if (entry === undefined) return;
    this.#sight.unobserve(card);
    this.#inSight.delete(entry);
    this.#entries.delete(card);
    entry.mark.remove();
    entry.veil.remove();
  }

  /** Measures what is in sight in the next frame. */
  schedule(): void {
    if (this.#frame !== 0 || this.#signal.aborted || this.#inSight.size === 0) return;
    this.#frame = requestAnimationFrame(() => {
      this.#frame = 0;
      // New marks are laid out with the frame; right behind it they are measured without another layout.
      if (this.#unveilNew()) setTimeout(() => this.#placeInSight());
      else this.#placeInSight();
    });
  }

  #placeInSight(): void {
    if (!this.#signal.aborted && this.#goesOn()) this.#place([...this.#inSight]);
  }

  /** Gives new marks in sight their box, not yet to be seen. */
  #unveilNew(): boolean {
    const fresh = [...this.#inSight].filter(({ mark }) => mark.hidden);
    for (const { mark } of fresh) {
      mark.toggleAttribute("data-away", true);
      mark.hidden = false;
    }
    return fresh.length > 0;
  }

  /** Places one card's mark at once, in sight or not. */
  placeNow(card: Element): void {
    const entry = this.#entries.get(card);
    if (entry !== undefined) this.#place([entry]);
  }

  /** A point of the window as a point of the sheet. */
  toSheet({ x, y }: Spot): Spot {
    const { left, top, scale } = this.#origin();
    return { x: (x - left) / scale, y: (y - top) / scale };
  }

  #onSight(seen: readonly IntersectionObserverEntry[]): void {
    for (const { target, isIntersecting } of seen) {
      const entry = this.#entries.get(target);
      if (entry === undefined) continue;
      if (isIntersecting) this.#inSight.add(entry);
      else {
        // Out of sight a mark is no longer measured, and an inner box may have scrolled its card away from under it.
        this.#inSight.delete(entry);
        entry.mark.toggleAttribute("data-away", true);
      }
    }
    this.schedule();
  }

  #listen(): void {
    const again = () => this.schedule();
    const options = { capture: true, passive: true, signal: this.#signal };
    for (const event of ["scroll", "load", "transitionend", "animationend", "toggle"]) {
      this.#document.addEventListener(event, again, options);
    }
    const view = this.#document.defaultView;
    view?.addEventListener("resize", () => this.#chooseAnew(), options);
    const sizes = new ResizeObserver(again);
    sizes.observe(this.#document.documentElement);
    if (this.#document.body) sizes.observe(this.#document.body);
    this.#signal.addEventListener("abort", () => {
      sizes.disconnect();
      this.#sight.disconnect();
      if (this.#frame !== 0) cancelAnimationFrame(this.#frame);
      this.#entries.clear();
      this.#inSight.clear();
    });
  }

  /** Another width of the window lays cards out anew: every mark looks for its spot again. */
  #chooseAnew(): void {
    for (const entry of this.#entries.values()) entry.spot = null;
    this.schedule();
  }

  /** Where the sheet lies in the window, and how much the page's own zoom or transform stretches it. */
  #origin(): { left: number; top: number; scale: number } {
    const { left, top, width } = this.#probe.getBoundingClientRect();
    return { left, top, scale: width > 0 ? width / 100 : 1 };
  }

  /** Shows new marks, then reads every rectangle, then writes every place: one layout a pass. */
  #place(entries: readonly Entry[]): void {
    for (const { mark } of entries) if (mark.hidden) mark.hidden = false;
    const origin = this.#origin();
    const page = this.#pageBox(origin);
    const toSheet = ({ x, y }: Spot) =>
      `translate(${round((x - origin.left) / origin.scale)}px,${round((y - origin.top) / origin.scale)}px)`;
    const writes = entries.map((entry) => {
      entry.size ??= { width: entry.mark.offsetWidth, height: entry.mark.offsetHeight };
      const boxes = measureCard(entry.card, entry.anchor, entry.picture);
      const size = { width: entry.size.width * origin.scale, height: entry.size.height * origin.scale };
      // A card that an inner box has scrolled out of the page takes its mark along.
      const bounds = boxes.card.top < page.top ? { ...page, top: Number.NEGATIVE_INFINITY } : page;
      const spot = within(this.#choose(spotsFor(boxes, size), size, entry), size, bounds);
      const gone = boxes.card.right - boxes.card.left === 0;
      return { entry, at: toSheet(spot), away: gone || this.#isCovered(spot, size, entry, boxes.card), boxes };
    });
    for (const { entry, at, away, boxes } of writes) {
      entry.mark.style.transform = at;
      entry.mark.toggleAttribute("data-away", away);
      if (entry.veil.hidden) continue;
      const { left, top, right, bottom } = boxes.card;
      entry.veil.style.transform = toSheet({ x: left, y: top });
      entry.veil.style.width = `${round((right - left) / origin.scale)}px`;
      entry.veil.style.height = `${round((bottom - top) / origin.scale)}px`;
    }
  }

  /** The box of the whole document in the window's coordinates. */
  #pageBox({ left, top, scale }: { left: number; top: number; scale: number }): Box {
    const { scrollWidth, scrollHeight, clientWidth } = this.#document.documentElement;
    const width = Math.max(clientWidth, scrollWidth) * scale;
    const rightToLeft = getComputedStyle(this.#document.documentElement).direction === "rtl";
    const start = rightToLeft ? left + clientWidth * scale - width : left;
    return { left: start, top, right: start + width, bottom: top + scrollHeight * scale };
  }

  /** The spot that the mark has, else the first that covers nothing of the card's own, else the last. */
  #choose(spots: readonly NamedSpot[], size: Size, entry: Entry): Spot {
    let chosen = spots.find(({ name }) => name === entry.spot);
    if (chosen === undefined) {
      const content = contentBoxes(entry.card, entry.picture);
      chosen = spots.find((spot) => isClear(spot, size, content)) ?? spots.at(-1);
      entry.spot = chosen?.name ?? null;
    }
    return chosen ?? { x: 0, y: 0 };
  }

  /** True when a box around the card cuts it off there, or something that is not the card lies over it where the mark would stand, just inside of the card. */
  #isCovered(spot: Spot, size: Size, { card }: Entry, box: Box): boolean {
    const middle = { x: spot.x + size.width / 2, y: spot.y + size.height / 2 };
    for (const clipper of this.#clippers.around(card)) {
      if (!isInside(middle, clipper.getBoundingClientRect())) return true;
    }
    const inside = within(middle, { width: 2, height: 2 }, box);
    const under = this.#under(inside.x, inside.y);
    return under !== null && !card.contains(under) && !under.contains(card);
  }

  /** The page's topmost element at a point of the window; `null` outside of the window. */
  #under(x: number, y: number): Element | null {
    for (const element of this.#document.elementsFromPoint(x, y)) {
      if (element.localName !== OVERLAY_TAG) return element;
    }
    return null;
  }
}

/** A mark may stand across a card's edge, so half of its height counts as inside. */
function isInside({ x, y }: Spot, { left, top, right, bottom }: Box): boolean {
  return x >= left && x <= right && y >= top - 12 && y <= bottom + 12;
}

function round(value: number): number {
  return Math.round(value * 10) / 10;
}
