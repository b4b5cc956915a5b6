/**
 * The strip: the one thing that matters on this page, and what can be done about it. It lies in a corner of the
 * window, folds to a small tag, and folds by itself when it would cover what the keyboard has just reached.
 */
import type { Tier } from "../formats/verdict.ts";
import type { Words } from "../text/words.ts";
import { poseOfTier, signOf } from "../ui/sign.ts";
import { action, element, picture } from "./build.ts";
import type { Summary } from "./summary.ts";

/** Which listings are dimmed. They can still be read and used: nothing of a page is ever hidden. */
export type Dim = "nothing" | "stop" | "all-but-go";

/** Is a listing of this tier dimmed? */
export function isDimmed(tier: Tier, dim: Dim): boolean {
  return dim === "all-but-go" ? tier !== "go" : dim === "stop" && tier === "stop";
}

/** One row of the list by tier. */
export interface StripRow {
  readonly tier: Tier;
  readonly word: string;
  readonly title: string;
  readonly price: string;
  readonly go: () => void;
}

/** What the strip asks of the overlay. */
export interface StripActions {
  goToFirst(): void;
  setDim(dim: Dim): void;
  hideMarks(): void;
  openWorkbench(): void;
  /** The listings by tier, then by price; asked for when the list is opened. */
  rows(): readonly StripRow[];
}

/** In a lower window the strip starts folded, so that it leaves the page to be seen. */
const LOW_WINDOW_PX = 480;
/** Rows that the list shows; the rest is counted. */
const MOST_ROWS = 200;
const DIM_STEPS: readonly Dim[] = ["nothing", "stop", "all-but-go"];

/** The strip of a page. */
export class Strip {
  readonly #document: Document;
  readonly #words: Words;
  readonly #actions: StripActions;
  readonly #place: HTMLElement;
  #shown: HTMLElement | null = null;
  #summary: Summary | null = null;
  #folded = false;
  #steppedBack = false;
  #listOpen = false;
  #dim: Dim;

  constructor(place: HTMLElement, words: Words, dim: Dim, actions: StripActions) {
    this.#document = place.ownerDocument;
    this.#words = words;
    this.#actions = actions;
    this.#place = place;
    this.#dim = dim;
    this.#folded = this.#document.documentElement.clientHeight < LOW_WINDOW_PX;
  }

  /** Shows a summary; the same one again changes nothing, so that a reader is not interrupted. */
  show(summary: Summary): void {
    const same = JSON.stringify(said(summary)) === JSON.stringify(this.#summary && said(this.#summary));
    this.#summary = summary;
    if (!same || this.#shown === null) this.#draw();
  }

  hide(): void {
    this.#shown?.remove();
    this.#shown = null;
  }

  /** Folds the strip when it lies over an element of the page that has just taken focus. */
  giveWayTo(focused: Element): void {
    if (this.#shown === null || this.#folded) return;
    const own = this.#shown.getBoundingClientRect();
    const other = focused.getBoundingClientRect();
    const apart = other.right < own.left || other.left > own.right || other.bottom < own.top || other.top > own.bottom;
    if (!apart) this.#fold(true);
  }

  /** Folds while a mark is open and comes back after it, so that only one box speaks at a time. */
  stepBack(back: boolean): void {
    if (this.#steppedBack === back) return;
    this.#steppedBack = back;
    if (this.#shown !== null) this.#draw();
  }

  #draw(): void {
    if (this.#summary === null) return;
    const hadFocus = this.#shown?.contains(activeIn(this.#place)) ?? false;
    const next = this.#folded || this.#steppedBack ? this.#pill(this.#summary) : this.#whole(this.#summary);
    if (this.#shown) this.#shown.replaceWith(next);
    else this.#place.append(next);
    this.#shown = next;
    if (hadFocus) next.querySelector("button")?.focus({ preventScroll: true });
  }

  #fold(folded: boolean): void {
    this.#folded = folded;
    this.#steppedBack = false;
    this.#draw();
  }

  #pill({ tone, short }: Summary): HTMLElement {
    const label = element(this.#document, "span", "", {}, short);
    const open = action(this.#document, label, () => this.#fold(false));
    open.prepend(picture(this.#document, signOf(poseOfTier[tone], 16)));
    open.setAttribute("aria-expanded", "false");
    return element(this.#document, "section", "pill", this.#naming(tone), open);
  }

  #whole(summary: Summary): HTMLElement {
    const { tone, sentences, device } = summary;
    const words = this.#words;
    const top = element(
      this.#document,
      "div",
      "strip-top",
      {},
      picture(this.#document, signOf(poseOfTier[tone], 20)),
      element(
        this.#document,
        "div",
        "sentence",
        { role: "status" },
        ...sentences.map((sentence) => element(this.#document, "p", "", {}, sentence)),
        element(this.#document, "p", "for", {}, words.say("strip_for_device", { device })),
      ),
      action(this.#document, words.say("strip_fold"), () => this.#fold(true), { className: "plain" }),
    );
    const list = this.#listOpen ? this.#list() : null;
    return element(this.#document, "section", "strip", this.#naming(tone), top, this.#buttons(summary), list);
  }

  #naming(tone: Tier): Record<string, string> {
    return { "aria-label": this.#words.say("strip_name"), "data-tone": tone };
  }

  #buttons({ hasFirst }: Summary): HTMLElement {
    const words = this.#words;
    const first = hasFirst
      ? action(this.#document, words.say("strip_go_first"), this.#actions.goToFirst, { className: "first" })
      : null;
    const list = action(this.#document, words.say("strip_list"), () => this.#toggleList(), { pressed: this.#listOpen });
    const dim = action(this.#document, words.say(DIM_WORDS[this.#dim]), () => this.#nextDim(), {
      pressed: this.#dim !== "nothing",
    });
    return element(
      this.#document,
      "div",
      "row",
      {},
      first,
      list,
      dim,
      action(this.#document, words.say("strip_hide"), this.#actions.hideMarks),
      action(this.#document, words.say("strip_workbench"), this.#actions.openWorkbench),
    );
  }

  #toggleList(): void {
    this.#listOpen = !this.#listOpen;
    this.#draw();
  }

  /** Nothing dimmed, then what is for another revision, then all but what fits, then nothing again. */
  #nextDim(): void {
    this.#dim = DIM_STEPS[(DIM_STEPS.indexOf(this.#dim) + 1) % DIM_STEPS.length] ?? "nothing";
    this.#actions.setDim(this.#dim);
    this.#draw();
  }

  #list(): HTMLElement {
    const rows = this.#actions.rows();
    const items = rows.slice(0, MOST_ROWS).map((row) => {
      const sign = picture(this.#document, signOf(poseOfTier[row.tier], 16));
      const name = element(this.#document, "span", "name", { dir: "auto", title: row.title }, row.title);
      const word = element(this.#document, "span", "unseen", {}, `${row.word}: `);
      const price = element(this.#document, "span", "price", {}, row.price);
      const button = action(this.#document, sign, row.go);
      button.append(word, name, price);
      return element(this.#document, "li", "", { "data-tone": row.tier }, button);
    });
    const left = rows.length - items.length;
    return element(
      this.#document,
      "div",
      "listing",
      {},
      element(this.#document, "ol", "", {}, ...items),
      left > 0 ? element(this.#document, "p", "more", {}, this.#words.say("strip_list_more", { count: left })) : null,
    );
  }
}

const DIM_WORDS = {
  nothing: "strip_dim_nothing",
  stop: "strip_dim_stop",
  "all-but-go": "strip_dim_all_but_go",
} as const;

function said({ tone, sentences, short, device, hasFirst }: Summary): unknown[] {
  return [tone, sentences, short, device, hasFirst];
}

function activeIn(node: Node): Element | null {
  const root = node.getRootNode();
  return root instanceof ShadowRoot ? root.activeElement : null;
}
