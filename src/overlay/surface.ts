/**
 * Everything that is drawn on a page: marks on the cards, the strip, the opened mark. It is told which listings the
 * page has now and how they were judged, and knows nothing of how either came about.
 */

import type { PageShape } from "../formats/page-shape.ts";
import { markWord } from "../ui/naming.ts";
import type { Adviser } from "./adviser.ts";
import type { Judged } from "./judged.ts";
import { MarkMaker } from "./marks.ts";
import { OpenedPanel } from "./opened.ts";
import type { PageLook } from "./page-look.ts";
import { Placer } from "./placer.ts";
import { printWords } from "./print.ts";
import type { Root } from "./root.ts";
import { settleable } from "./settleable.ts";
import { type Dim, isDimmed, Strip, type StripRow } from "./strip.ts";
import { byTierThenPrice, priceText, type Summary, summarise } from "./summary.ts";
import { Teacher } from "./teacher.ts";

/** What the surface asks of whoever runs it. */
export interface SurfaceOptions {
  readonly signal: AbortSignal;
  /** What the page looks like. */
  readonly look: PageLook;
  /** False when the extension behind the overlay is gone; everything is then being taken away. */
  readonly goesOn: () => boolean;
  readonly openWorkbench: () => void;
  readonly settle: (number: string, as: "accept" | "refuse") => void;
  /** The person hid the marks or showed them again. */
  readonly toggled: () => void;
}

interface Item extends Judged {
  readonly mark: HTMLButtonElement;
  readonly veil: HTMLElement;
}

/** Draws on one page until its signal is raised. */
export class Surface {
  readonly #document: Document;
  readonly #root: Root;
  readonly #adviser: Adviser;
  readonly #options: SurfaceOptions;
  readonly #placer: Placer;
  readonly #maker: MarkMaker;
  readonly #strip: Strip;
  readonly #opened: OpenedPanel;
  /** By card, in the order of the page. */
  #items = new Map<Element, Item>();
  /** The one mark in the tab order. */
  #current: Item | null = null;
  #summary: Summary | null = null;
  #hidden = false;
  #teacher: Teacher | null = null;
  #dim: Dim;
  /** Which of several overlapping showings is the latest. */
  #turn = 0;
  /** What is being opened, until its words have come. */
  #coming: Item | "text" | null = null;

  constructor(document: Document, root: Root, adviser: Adviser, options: SurfaceOptions) {
    const { words, settings } = adviser;
    this.#document = document;
    this.#root = root;
    this.#adviser = adviser;
    this.#options = options;
    this.#dim = settings.dim;
    this.#hidden = !settings.showMarks;
    this.#placer = new Placer(root.sheet, options.signal, options.goesOn);
    this.#maker = new MarkMaker(document, words);
    this.#opened = new OpenedPanel(root, this.#placer, words, {
      signal: options.signal,
      onToggle: (open) => this.#strip.stepBack(open),
    });
    this.#strip = new Strip(root.frame, words, this.#dim, {
      goToFirst: () => this.#goToFirst(),
      setDim: (dim) => this.#setDim(dim),
      hideMarks: () => this.toggle(),
      openWorkbench: options.openWorkbench,
      rows: () => this.#rows(),
    });
    this.#dress(options.look);
    this.#listen();
  }

  /** What matters on the page now; `null` before anything was shown. */
  get summary(): Summary | null {
    return this.#summary;
  }

  get hidden(): boolean {
    return this.#hidden;
  }

  /** The one element of ours in the page. */
  get host(): HTMLElement {
    return this.#root.host;
  }

  /** Shows the page's listings as they are now; marks of listings that stay the same are kept. */
  async show(judged: readonly Judged[]): Promise<void> {
    const before = this.#items;
    this.#items = new Map();
    for (const each of judged) {
      const { card } = each.found;
      if (each.verdict.tier === "none" || this.#items.has(card)) continue;
      const kept = before.get(card);
      const same = kept !== undefined && isSame(kept, each);
      this.#items.set(card, same ? { ...kept, ...each } : this.#add(each));
      if (same) before.delete(card);
    }
    for (const [card, item] of before) this.#drop(card, item);
    this.#keepOneInTabOrder();
    this.#applyDim();
    this.#showOrHide();
    await this.#sumUp();
  }

  /** Has the page's sentences said and shows them; a later showing overtakes an earlier one. */
  async #sumUp(): Promise<void> {
    const { sentences, short, ...rest } = summarise([...this.#items.values()], this.#adviser);
    const turn = ++this.#turn;
    const [saidShort = "", ...said] = await this.#adviser.say([short, ...sentences]);
    if (turn !== this.#turn || this.#options.signal.aborted) return;
    this.#summary = { ...rest, short: saidShort, sentences: said };
    this.#showOrHide();
  }

  /** Goes to the next or the previous mark; while one is open, its neighbour is opened instead. */
  move(to: "next" | "previous"): void {
    const items = [...this.#items.values()];
    if (this.#hidden || items.length === 0) return;
    const wasOpen = this.#opened.mark !== null || this.#coming !== null;
    const reached = this.#root.shadow.activeElement !== null || wasOpen;
    const at = this.#current === null ? -1 : items.indexOf(this.#current);
    const step = to === "next" ? 1 : -1;
    const item = reached ? items[(at + step + items.length) % items.length] : (items[at] ?? items[0]);
    if (item === undefined) return;
    this.#goTo(item, !wasOpen);
    if (wasOpen) void this.#open(item);
  }

  /** Hides all marks and the strip, or shows them again. */
  toggle(): void {
    this.#hidden = !this.#hidden;
    this.#close(false);
    this.#showOrHide();
    this.#options.toggled();
  }

  /**
   * Judges a text that is no listing of the page (a selection); the verdict stands in the window's corner. False where it could
   * not be shown, because the session ended meanwhile or the background had no answer.
   */
  async showText(text: string): Promise<boolean> {
    this.#close(false);
    this.#coming = "text";
    const explanation = await this.#adviser.explainText(text);
    if (explanation === null || this.#options.signal.aborted) return false;
    if (this.#coming !== "text") return true;
    this.#coming = null;
    this.#opened.open(explanation, null, {});
    return true;
  }

  /** Begins a lesson about this page; marks and strip step back for it. */
  teach(keep: (shape: PageShape) => void): void {
    this.#close(false);
    this.#teacher?.end();
    this.#root.sheet.hidden = false;
    this.#strip.hide();
    this.#teacher = new Teacher(this.#root, this.#adviser.words, {
      signal: this.#options.signal,
      toSheet: (spot) => this.#placer.toSheet(spot),
      keep,
      closed: () => this.#showOrHide(),
    });
  }

  #add(judged: Judged): Item {
    const { found, verdict } = judged;
    const { settings } = this.#adviser;
    const mark = this.#maker.make(verdict.verdict, verdict.tier, found.listing.title, settings.marks);
    const item = { ...judged, mark, veil: this.#maker.veil() };
    this.#placer.add({ card: found.card, anchor: found.anchor, mark, veil: item.veil });
    return item;
  }

  #drop(card: Element, { mark }: Item): void {
    if (this.#opened.mark === mark) this.#close(false);
    if (this.#items.get(card)?.mark !== mark && !this.#items.has(card)) this.#placer.remove(card);
  }

  #showOrHide(): void {
    const nothing = this.#items.size === 0;
    this.#root.sheet.hidden = this.#hidden || nothing;
    if (this.#hidden || nothing || this.#summary === null) this.#strip.hide();
    else this.#strip.show(this.#summary);
    this.#placer.schedule();
  }

  #keepOneInTabOrder(): void {
    const items = [...this.#items.values()];
    this.#setCurrent(items.find(({ mark }) => mark === this.#current?.mark) ?? items[0] ?? null);
  }

  #setCurrent(item: Item | null): void {
    if (this.#current) this.#current.mark.tabIndex = -1;
    this.#current = item;
    if (item) item.mark.tabIndex = 0;
  }

  /** Brings an item into sight; without the focus where its panel will take that. */
  #goTo(item: Item, focus = true): void {
    item.found.card.scrollIntoView({ block: "center", inline: "nearest", behavior: "instant" });
    this.#placer.placeNow(item.found.card);
    item.mark.removeAttribute("data-away");
    this.#setCurrent(item);
    if (focus) item.mark.focus({ preventScroll: true });
  }

  #goToFirst(): void {
    const [first] = byTierThenPrice([...this.#items.values()]);
    if (first) this.#goTo(first);
  }

  /** Closes what is open and calls off what is being opened. */
  #close(giveBack: boolean): void {
    this.#coming = null;
    this.#opened.close(giveBack);
  }

  /** Opens a mark once the background has put its verdict into words; whatever was asked for later wins. */
  async #open(item: Item): Promise<void> {
    const { found, verdict, mark } = item;
    this.#setCurrent(item);
    this.#coming = item;
    const explanation = await this.#adviser.explain(found.listing, verdict);
    if (this.#coming !== item || !mark.isConnected || this.#options.signal.aborted) return;
    this.#coming = null;
    const number = settleable(verdict);
    this.#opened.open(explanation, mark, {
      ...(this.#items.size > 1 ? { move: (to) => this.move(to) } : {}),
      ...(number === null ? {} : { settle: { number, as: (as) => this.#options.settle(number, as) } }),
    });
  }

  #rows(): StripRow[] {
    return byTierThenPrice([...this.#items.values()]).map((item) => ({
      tier: item.verdict.tier,
      word: markWord(item.verdict.verdict, this.#adviser.words),
      title: item.found.listing.title,
      price: priceText(item.found.listing, this.#adviser.words),
      go: () => this.#goTo(item),
    }));
  }

  #setDim(dim: Dim): void {
    this.#dim = dim;
    this.#applyDim();
    this.#placer.schedule();
  }

  #applyDim(): void {
    for (const { veil, verdict } of this.#items.values()) veil.hidden = !isDimmed(verdict.tier, this.#dim);
  }

  #dress(look: PageLook): void {
    const { words, settings } = this.#adviser;
    const scheme = settings.scheme === "system" ? (look.dark ? "dark" : "light") : settings.scheme;
    this.#root.dress({ language: words.language, direction: words.direction, scheme, contrast: settings.contrast });
    this.#root.sheet.style.setProperty("--page", look.ground);
    this.#root.sheet.setAttribute("role", "region");
    this.#root.sheet.setAttribute("aria-label", words.say("overlay_marks_name"));
  }

  #listen(): void {
    const { sheet, frame, host } = this.#root;
    const { signal } = this.#options;
    sheet.addEventListener("click", (event) => this.#onClick(event), { signal });
    sheet.addEventListener("keydown", (event) => this.#onKey(event), { signal });
    sheet.addEventListener("focusin", (event) => this.#onFocus(event), { signal });
    // Keys typed into our parts are not the page's: its shortcuts must not answer them.
    for (const layer of [sheet, frame]) {
      for (const type of ["keydown", "keyup", "keypress"]) {
        layer.addEventListener(type, (event) => event.stopPropagation(), { signal });
      }
    }
    const onPageFocus = ({ target }: Event) => {
      if (target !== host && target instanceof Element) this.#strip.giveWayTo(target);
    };
    this.#document.addEventListener("focusin", onPageFocus, { signal });
    // Whoever has gone on to something else is not called back by what comes late.
    const onPress = ({ target }: Event) => {
      if (target !== host) this.#coming = null;
    };
    this.#document.addEventListener("pointerdown", onPress, { capture: true, signal });
    printWords(this.#document, signal, () => this.#printed());
  }

  #onClick({ target }: Event): void {
    const item = this.#itemOf(target);
    if (item === undefined) return;
    if (this.#opened.mark === item.mark) this.#close(true);
    else void this.#open(item);
  }

  #onFocus({ target }: Event): void {
    const item = this.#itemOf(target);
    if (item !== undefined && item.mark !== this.#current?.mark) this.#setCurrent(item);
  }

  #onKey(event: KeyboardEvent): void {
    if (this.#itemOf(event.target) === undefined) return;
    const steps: Record<string, "next" | "previous"> = {
      ArrowDown: "next",
      ArrowUp: "previous",
      ArrowRight: this.#adviser.words.direction === "rtl" ? "previous" : "next",
      ArrowLeft: this.#adviser.words.direction === "rtl" ? "next" : "previous",
    };
    const step = steps[event.key];
    if (step !== undefined) this.move(step);
    else if (event.key === "Escape") this.#close(true);
    else return;
    event.preventDefault();
  }

  #itemOf(target: EventTarget | null): Item | undefined {
    const mark = target instanceof Element ? target.closest(".mark") : null;
    return mark === null ? undefined : [...this.#items.values()].find((item) => item.mark === mark);
  }

  #printed(): { anchor: Element; word: string }[] {
    if (this.#hidden) return [];
    const { words } = this.#adviser;
    return [...this.#items.values()].map(({ found, verdict }) => ({
      anchor: found.anchor,
      word: markWord(verdict.verdict, words),
    }));
  }
}

/** The same verdict on the same title: the mark can stay as it is. */
function isSame(a: Judged, b: Judged): boolean {
  return (
    a.verdict.verdict === b.verdict.verdict &&
    a.found.anchor === b.found.anchor &&
    a.found.listing.title === b.found.listing.title
  );
}
