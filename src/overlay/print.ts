/**
 * On paper a page is laid out anew, and marks placed by geometry would stand wrong. So for the moment of printing
 * each verdict stands as words behind its title, and is gone again right after.
 */

/** What is printed behind a title. */
export interface PrintedWord {
  readonly anchor: Element;
  readonly word: string;
}

/** Prints words with their titles until the signal is raised. */
export function printWords(document: Document, signal: AbortSignal, words: () => readonly PrintedWord[]): void {
  let printed: HTMLElement[] = [];
  const clear = () => {
    for (const each of printed) each.remove();
    printed = [];
  };
  const view = document.defaultView;
  view?.addEventListener(
    "beforeprint",
    () => {
      clear();
      printed = words().map(({ anchor, word }) => {
        const element = document.createElement("span");
        element.style.setProperty("all", "initial", "important");
        element.style.setProperty("font", "bold 9pt sans-serif", "important");
        element.style.setProperty("color", "#000", "important");
        element.textContent = ` [${word}]`;
        anchor.append(element);
        return element;
      });
    },
    { signal },
  );
  view?.addEventListener("afterprint", clear, { signal });
  signal.addEventListener("abort", clear);
}
