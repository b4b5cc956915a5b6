/** The one panel that may be open: for a mark of the page, or for a text that was selected. */
import type { Words } from "../text/words.ts";
import type { Explanation } from "../ui/explanation.ts";
import { panelSpot } from "./geometry.ts";
import { buildPanel, type PanelActions } from "./panel.ts";
import type { Placer } from "./placer.ts";
import type { Root } from "./root.ts";

/** Opens and closes the panel. */
export class OpenedPanel {
  readonly #root: Root;
  readonly #placer: Placer;
  readonly #words: Words;
  readonly #onToggle: (open: boolean) => void;
  #panel: HTMLElement | null = null;
  #mark: HTMLElement | null = null;
  #before: Element | null = null;

  constructor(
    root: Root,
    placer: Placer,
    words: Words,
    { signal, onToggle }: { signal: AbortSignal; onToggle: (open: boolean) => void },
  ) {
    this.#root = root;
    this.#onToggle = onToggle;
    this.#placer = placer;
    this.#words = words;
    const document = root.host.ownerDocument;
    document.addEventListener("pointerdown", (event) => this.#onPress(event), { capture: true, signal });
    signal.addEventListener("abort", () => this.close(false));
  }

  /** The mark that is open, if any. */
  get mark(): HTMLElement | null {
    return this.#mark;
  }

  /** Opens an explanation beside a mark, or in the window's corner when there is none. */
  open(explanation: Explanation, mark: HTMLElement | null, actions: Omit<PanelActions, "close">): void {
    this.close(false);
    const document = this.#root.host.ownerDocument;
    const panel = buildPanel(document, explanation, this.#words, { ...actions, close: () => this.close(true) });
    this.#panel = panel.element;
    this.#mark = mark;
    this.#before = document.activeElement;
    if (mark === null) {
      panel.element.classList.add("still");
      this.#root.frame.append(panel.element);
    } else {
      mark.setAttribute("aria-expanded", "true");
      mark.after(panel.element);
      this.#place(panel.element, mark);
    }
    this.#onToggle(true);
    panel.focus();
  }

  /** @param giveBack true puts the focus back to where it was */
  close(giveBack: boolean): void {
    const panel = this.#panel;
    const mark = this.#mark;
    this.#panel = null;
    this.#mark = null;
    panel?.remove();
    mark?.setAttribute("aria-expanded", "false");
    if (panel) this.#onToggle(false);
    if (!giveBack) return;
    if (mark) mark.focus({ preventScroll: true });
    else if (this.#before instanceof HTMLElement) this.#before.focus({ preventScroll: true });
  }

  #place(panel: HTMLElement, mark: HTMLElement): void {
    const { clientWidth, clientHeight } = this.#root.host.ownerDocument.documentElement;
    panel.style.maxInlineSize = `${clientWidth - 24}px`;
    const window = { left: 0, top: 0, right: clientWidth, bottom: clientHeight };
    const { width, height } = panel.getBoundingClientRect();
    const rightToLeft = getComputedStyle(panel).direction === "rtl";
    const spot = this.#placer.toSheet(panelSpot(mark.getBoundingClientRect(), { width, height }, window, rightToLeft));
    panel.style.transform = `translate(${Math.round(spot.x)}px,${Math.round(spot.y)}px)`;
  }

  /** A press anywhere else closes it and leaves the focus to what was pressed. */
  #onPress(event: Event): void {
    if (this.#panel !== null && event.target !== this.#root.host) this.close(false);
  }
}
