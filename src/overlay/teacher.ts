/**
 * Teaching a page: where listings are missed, a person points at one title and one price, by mouse or by arrow keys
 * and Enter; the reader generalises and shows what it would read; and only when told so the shape is kept.
 */
import type { PageShape } from "../formats/page-shape.ts";
import { select } from "../page/shapes.ts";
import { type TeachFault, teachShape } from "../page/teach.ts";
import type { Words } from "../text/words.ts";
import { action, element } from "./build.ts";
import type { Spot } from "./geometry.ts";
import type { Root } from "./root.ts";

/** What teaching needs from whoever starts it. */
export interface TeacherOptions {
  readonly signal: AbortSignal;
  /** A point of the window as a point of the sheet. */
  readonly toSheet: (spot: Spot) => Spot;
  readonly keep: (shape: PageShape) => void;
  readonly closed: () => void;
}

/** Records whose title and price are outlined to show what would be read. */
const MOST_OUTLINED = 60;
/** Elements that arrow keys walk through. */
const MOST_STOPS = 2_000;

/** One lesson, from its first question to its end. */
export class Teacher {
  readonly #document: Document;
  readonly #root: Root;
  readonly #words: Words;
  readonly #options: TeacherOptions;
  readonly #controller = new AbortController();
  readonly #before: Element | null;
  readonly #pointed: HTMLElement;
  #panel: HTMLElement | null = null;
  #outlines: HTMLElement[] = [];
  #title: Element | null = null;
  #under: Element | null = null;
  #asking: "title" | "price" | null = null;

  constructor(root: Root, words: Words, options: TeacherOptions) {
    this.#document = root.host.ownerDocument;
    this.#root = root;
    this.#words = words;
    this.#options = options;
    this.#before = this.#document.activeElement;
    this.#pointed = element(this.#document, "div", "outline", { "aria-hidden": "true", hidden: "" });
    root.sheet.append(this.#pointed);
    this.#listen();
    this.#askFor("title");
  }

  /** Ends the lesson and takes everything that it drew away. */
  end(): void {
    if (this.#controller.signal.aborted) return;
    this.#controller.abort();
    this.#panel?.remove();
    this.#pointed.remove();
    this.#clear();
    if (this.#before instanceof HTMLElement) this.#before.focus({ preventScroll: true });
    this.#options.closed();
  }

  #askFor(what: "title" | "price"): void {
    this.#asking = what;
    this.#under = null;
    this.#clear();
    if (what === "title") this.#title = null;
    const noPrice = action(this.#document, this.#words.say("overlay_teach_no_price"), () => this.#show(null));
    this.#say(
      [
        this.#words.say(what === "title" ? "overlay_teach_title" : "overlay_teach_price"),
        this.#words.say("overlay_teach_keys"),
      ],
      what === "price" ? [noPrice] : [],
    );
  }

  #pick(picked: Element): void {
    if (this.#asking === "title") {
      this.#title = picked;
      this.#askFor("price");
      this.#outline(picked, "sure");
    } else if (this.#asking === "price") this.#show(picked);
  }

  /** Shows what would be read, or why nothing can be. */
  #show(price: Element | null): void {
    this.#asking = null;
    this.#pointed.hidden = true;
    this.#clear();
    const outcome = this.#title === null ? null : teachShape(this.#title, price);
    const again = action(this.#document, this.#words.say("overlay_teach_again"), () => this.#askFor("title"));
    if (outcome === null || !outcome.ok) {
      this.#say([this.#words.say(FAULTS[outcome?.fault ?? "nothing-there"])], [again]);
      return;
    }
    const { shape, records } = outcome;
    for (const record of select(this.#document, shape.record).slice(0, MOST_OUTLINED)) {
      for (const selector of [shape.title, shape.price]) {
        const [part] = selector === undefined ? [] : select(record, selector);
        if (part) this.#outline(part, "sure");
      }
    }
    const keep = action(
      this.#document,
      this.#words.say("overlay_teach_keep", { host: shape.host }),
      () => {
        this.end();
        this.#options.keep(shape);
      },
      { className: "first" },
    );
    this.#say([this.#words.say("overlay_teach_found", { count: records })], [keep, again]);
  }

  #say(sentences: readonly string[], buttons: readonly HTMLElement[]): void {
    const cancel = action(this.#document, this.#words.say("ui_cancel"), () => this.end());
    const panel = element(
      this.#document,
      "div",
      "panel still",
      { role: "dialog", "aria-label": this.#words.say("overlay_teach_name"), tabindex: "-1" },
      element(
        this.#document,
        "div",
        "panel-top",
        { role: "status" },
        element(
          this.#document,
          "div",
          "sentence",
          {},
          ...sentences.map((sentence, i) => element(this.#document, "p", i === 0 ? "" : "for", {}, sentence)),
        ),
      ),
      element(this.#document, "div", "row", {}, ...buttons, cancel),
    );
    panel.addEventListener("keydown", (event) => this.#onKey(event));
    this.#panel?.remove();
    this.#panel = panel;
    this.#root.frame.append(panel);
    panel.focus({ preventScroll: true });
  }

  #listen(): void {
    const { signal } = this.#controller;
    this.#options.signal.addEventListener("abort", () => this.end(), { signal });
    const listen = (type: string, hear: (event: Event) => void) =>
      this.#document.addEventListener(type, hear, { capture: true, signal });
    listen("pointermove", (event) => this.#point(this.#pageElement(event)));
    listen("scroll", () => this.#point(this.#under));
    // While something is asked for, pressing points and does nothing else on the page.
    for (const type of ["pointerdown", "mousedown", "pointerup", "mouseup", "click"]) {
      listen(type, (event) => this.#onPress(event));
    }
  }

  #onPress(event: Event): void {
    const target = this.#pageElement(event);
    if (this.#asking === null || target === null) return;
    event.preventDefault();
    event.stopImmediatePropagation();
    if (event.type === "click") this.#pick(target);
  }

  /** The page's element that an event is about; `null` for our own. */
  #pageElement({ target }: Event): Element | null {
    return target instanceof Element && target !== this.#root.host ? target : null;
  }

  #point(at: Element | null): void {
    if (this.#asking === null || at === null) return;
    this.#under = at;
    this.#lay(this.#pointed, at);
    this.#pointed.hidden = false;
  }

  /** Arrow keys walk through everything that holds text; Enter picks. */
  #onKey(event: KeyboardEvent): void {
    const step = event.key === "ArrowDown" ? 1 : event.key === "ArrowUp" ? -1 : 0;
    const onPanel = event.target === this.#panel;
    if (event.key === "Escape") this.end();
    else if (step !== 0 && this.#asking !== null) this.#walk(step);
    else if (event.key === "Enter" && onPanel && this.#under !== null) this.#pick(this.#under);
    else return;
    event.preventDefault();
    event.stopPropagation();
  }

  #walk(step: 1 | -1): void {
    const stops = textHolders(this.#document);
    const from = this.#under ?? (this.#asking === "price" ? this.#title : null);
    const at = from === null ? -1 : stops.indexOf(from);
    const next = stops[Math.max(0, Math.min(stops.length - 1, at + step))];
    if (next === undefined) return;
    next.scrollIntoView({ block: "nearest", behavior: "instant" });
    this.#point(next);
  }

  #outline(part: Element, kind: string): void {
    const outline = element(this.#document, "div", "outline", { "data-kind": kind, "aria-hidden": "true" });
    this.#lay(outline, part);
    this.#root.sheet.append(outline);
    this.#outlines.push(outline);
  }

  #lay(outline: HTMLElement, part: Element): void {
    const { left, top, width, height } = part.getBoundingClientRect();
    const { x, y } = this.#options.toSheet({ x: left - 3, y: top - 3 });
    outline.style.transform = `translate(${Math.round(x)}px,${Math.round(y)}px)`;
    outline.style.width = `${Math.round(width + 6)}px`;
    outline.style.height = `${Math.round(height + 6)}px`;
  }

  #clear(): void {
    for (const outline of this.#outlines) outline.remove();
    this.#outlines = [];
    this.#pointed.hidden = true;
  }
}

const FAULTS: Readonly<Record<TeachFault, string>> = {
  "nothing-there": "overlay_teach_nothing_there",
  "too-far-apart": "overlay_teach_too_far_apart",
  "no-selector": "overlay_teach_no_pattern",
  "no-address": "overlay_teach_nothing_there",
};

/** Elements that hold text of their own and are laid out, in document order. */
function textHolders(document: Document): Element[] {
  const found: Element[] = [];
  const texts = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (texts.nextNode() !== null && found.length < MOST_STOPS) {
    const holder = texts.currentNode.parentElement;
    if (holder === null || texts.currentNode.nodeValue?.trim() === "" || found.at(-1) === holder) continue;
    if (holder.getClientRects().length > 0) found.push(holder);
  }
  return found;
}
