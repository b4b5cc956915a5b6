/**
 * The marks: our sign and a short word in a small tag, each a button that opens the reasons. One of them at a time is
 * in the page's tab order; arrow keys move to its neighbours, in the order of the listings.
 */
import type { Tier, VerdictWord } from "../formats/verdict.ts";
import type { Words } from "../text/words.ts";
import { markWord } from "../ui/naming.ts";
import { poseOfTier, signOf } from "../ui/sign.ts";
import { element, picture } from "./build.ts";

/** Longest part of a title that a mark's name repeats, in UTF-16 code units. */
const NAME_CHARS = 80;

/** Makes marks by copying one template a verdict, which is several times quicker than building each. */
export class MarkMaker {
  readonly #document: Document;
  readonly #words: Words;
  readonly #templates = new Map<VerdictWord, HTMLButtonElement>();

  constructor(document: Document, words: Words) {
    this.#document = document;
    this.#words = words;
  }

  /** A mark for a verdict; the title tells it from others for whoever cannot see where it stands. */
  make(verdict: VerdictWord, tier: Tier, title: string, form: "words" | "signs"): HTMLButtonElement {
    let template = this.#templates.get(verdict);
    if (template === undefined) {
      template = this.#template(verdict, tier);
      this.#templates.set(verdict, template);
    }
    const mark = template.cloneNode(true) as HTMLButtonElement;
    mark.setAttribute("aria-label", `${markWord(verdict, this.#words)}: ${title.slice(0, NAME_CHARS)}`);
    if (form === "signs") mark.dataset["form"] = "sign";
    return mark;
  }

  /** The cover of a dimmed card. */
  veil(): HTMLElement {
    return element(this.#document, "div", "veil", { "aria-hidden": "true" });
  }

  #template(verdict: VerdictWord, tier: Tier): HTMLButtonElement {
    return element(
      this.#document,
      "button",
      "mark",
      { type: "button", "data-tier": tier, "aria-haspopup": "dialog", "aria-expanded": "false", tabindex: "-1" },
      picture(this.#document, signOf(poseOfTier[tier], 14)),
      element(this.#document, "span", "word", {}, markWord(verdict, this.#words)),
    );
  }
}
