/**
 * Where the overlay stands in a page: one element after the page's body, outside of whatever a framework renders or
 * hydrates, with a closed shadow root. Nothing is ever put among the page's own elements (but for the moment of
 * printing), so no rule of the page that counts children can notice, and nothing of the page can shift.
 */
import { overlayCss } from "./style.ts";
import { OVERLAY_TAG } from "./tag.ts";

/** How often the page may take the element away within {@link RESTORE_WINDOW_MS} before we leave it alone. */
const MOST_RESTORES = 10;
const RESTORE_WINDOW_MS = 10_000;

/** How the overlay looks. */
export interface Look {
  readonly language: string;
  readonly direction: "ltr" | "rtl";
  readonly scheme: "light" | "dark";
  readonly contrast: "system" | "more";
}

/** The overlay's layers. */
export interface Root {
  readonly host: HTMLElement;
  readonly shadow: ShadowRoot;
  /** Lies on the document and scrolls with it; its children are placed by geometry. */
  readonly sheet: HTMLElement;
  /** Stands still in the window. */
  readonly frame: HTMLElement;
  dress(look: Look): void;
}

/**
 * Puts the overlay into the page and keeps it there while the signal is not raised.
 *
 * @param open true gives tests a way in
 * @param onGivenUp the page keeps taking the element away; it is left out from now on
 */
export function raiseRoot(
  document: Document,
  options: { open: boolean; signal: AbortSignal; onGivenUp: () => void },
): Root {
  const host = document.createElement(OVERLAY_TAG);
  const shadow = host.attachShadow({ mode: options.open ? "open" : "closed" });
  addStyle(document, shadow);
  const sheet = layer(document, "sheet");
  const frame = layer(document, "frame");
  shadow.append(sheet, frame);
  document.documentElement.append(host);
  keepInPlace(document, host, options);
  return {
    host,
    shadow,
    sheet,
    frame,
    dress({ language, direction, scheme, contrast }) {
      for (const each of [sheet, frame]) {
        each.lang = language;
        each.dir = direction;
        each.dataset["scheme"] = scheme;
        each.dataset["contrast"] = contrast;
      }
    },
  };
}

function layer(document: Document, name: string): HTMLElement {
  const element = document.createElement("div");
  element.className = `ff-root ${name}`;
  return element;
}

/** A constructed sheet is not subject to the page's policy; where the browser refuses it here, a style element is. */
function addStyle(document: Document, shadow: ShadowRoot): void {
  try {
    const sheet = new CSSStyleSheet();
    sheet.replaceSync(overlayCss);
    shadow.adoptedStyleSheets = [sheet];
  } catch {
    // Content scripts of some browsers may not hand constructed sheets to the page's document.
    const style = document.createElement("style");
    style.textContent = overlayCss;
    shadow.append(style);
  }
}

/** Puts the element back when the page takes it away, but does not fight: ten times in ten seconds is enough. */
function keepInPlace(
  document: Document,
  host: HTMLElement,
  { signal, onGivenUp }: { signal: AbortSignal; onGivenUp: () => void },
): void {
  let restored: number[] = [];
  const observer = new MutationObserver(() => {
    if (host.isConnected || signal.aborted) return;
    const now = performance.now();
    restored = restored.filter((at) => now - at < RESTORE_WINDOW_MS);
    if (restored.length >= MOST_RESTORES) {
      observer.disconnect();
      onGivenUp();
      return;
    }
    restored.push(now);
    document.documentElement?.append(host);
  });
  observer.observe(document, { childList: true });
  observer.observe(document.documentElement, { childList: true });
  signal.addEventListener("abort", () => {
    observer.disconnect();
    host.remove();
  });
}
