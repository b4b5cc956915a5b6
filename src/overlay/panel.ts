/**
 * The opened mark: what the verdict is, what a wrong part would do, the words it rests on, how the connectors differ
 * and what to look for. A dialog that leaves the page usable: Escape or its button closes it, arrow keys go on.
 */
import type { Words } from "../text/words.ts";
import type { Explanation } from "../ui/explanation.ts";
import { explanationBody } from "../ui/explanation-view.ts";
import { poseOfTier, signOf } from "../ui/sign.ts";
import { action, element, picture } from "./build.ts";

/** What a panel can do besides showing. */
export interface PanelActions {
  close(): void;
  /** Moves to the neighbouring mark; absent where there is none to move to. */
  move?: (to: "next" | "previous") => void;
  /** Settles a number by hand, when the listing names one that may be settled. */
  settle?: { readonly number: string; readonly as: (verdict: "accept" | "refuse") => void };
}

/** A panel that is in the page. */
export interface Panel {
  readonly element: HTMLElement;
  focus(): void;
}

/** Builds a panel; the caller places it. */
export function buildPanel(document: Document, explanation: Explanation, words: Words, actions: PanelActions): Panel {
  const { tier, word, headline, device } = explanation;
  const heading = element(
    document,
    "h2",
    "",
    { id: "panel-heading" },
    word,
    element(document, "small", "", {}, headline),
  );
  const close = action(document, words.say("ui_close"), actions.close);
  const panel = element(
    document,
    "div",
    "panel",
    { role: "dialog", "aria-labelledby": "panel-heading", tabindex: "-1", "data-tone": tier, "data-device": device },
    element(document, "div", "panel-top", {}, picture(document, signOf(poseOfTier[tier], 18)), heading, close),
    element(
      document,
      "div",
      "panel-body",
      { tabindex: "0", role: "group", "aria-label": headline },
      picture(document, explanationBody(explanation, words)),
    ),
    ...rows(document, words, actions),
  );
  panel.addEventListener("keydown", (event) => onKey(event, actions));
  return { element: panel, focus: () => panel.focus({ preventScroll: true }) };
}

function rows(document: Document, words: Words, { move, settle }: PanelActions): HTMLElement[] {
  const buttons: HTMLElement[] = [];
  if (settle) {
    const { number, as } = settle;
    buttons.push(
      action(document, words.say("overlay_accept", { number }), () => as("accept")),
      action(document, words.say("overlay_refuse", { number }), () => as("refuse")),
    );
  }
  if (move) {
    buttons.push(
      action(document, words.say("overlay_previous"), () => move("previous")),
      action(document, words.say("overlay_next"), () => move("next")),
    );
  }
  return buttons.length > 0 ? [element(document, "div", "row", {}, ...buttons)] : [];
}

function onKey(event: KeyboardEvent, { close, move }: PanelActions): void {
  const forward = isRightToLeft(event) ? "ArrowLeft" : "ArrowRight";
  if (event.key === "Escape") close();
  else if (move && (event.key === "ArrowLeft" || event.key === "ArrowRight")) {
    move(event.key === forward ? "next" : "previous");
  } else return;
  event.stopPropagation();
  event.preventDefault();
}

function isRightToLeft({ currentTarget }: KeyboardEvent): boolean {
  return currentTarget instanceof Element && getComputedStyle(currentTarget).direction === "rtl";
}
