/**
 * A glance at a page before anything else is done for it: does it hold anything that looks like a price or says that
 * it is a product? It costs a millisecond or two, so that pages without listings cost nothing more. It is generous:
 * only the page reader tells listings from other amounts.
 */

/** Most text nodes that a glance looks at. */
const MOST_TEXTS = 4_000;
/** Longest text that can be a price. */
const LONGEST_CHARS = 80;

const STRUCTURED = '[itemtype*="Product"],[itemtype*="Offer"],[typeof*="Product"],meta[property^="product:"]';
/** A currency sign, an amount with a fraction, or a number beside a short currency word. */
const AMOUNT =
  /\p{Sc}|\d[.,'’]\d{2,3}(?!\d)|\d\s?(?:kr|zł|Kč|Ft|lei|лв|руб|грн|TL|din|円|元)|\b[A-Z]{3}\s?\d|\d\s?[A-Z]{3}\b/u;

/** True when the page may hold listings. */
export function mayHoldListings(document: Document): boolean {
  if (document.querySelector(STRUCTURED) !== null) return true;
  for (const script of document.querySelectorAll('script[type^="application/ld+json"]')) {
    if (script.textContent?.includes("Product")) return true;
  }
  if (document.body === null) return false;
  const texts = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  for (let count = 0; count < MOST_TEXTS && texts.nextNode() !== null; count++) {
    const text = texts.currentNode.nodeValue ?? "";
    if (text.length >= 2 && text.length <= LONGEST_CHARS && AMOUNT.test(text)) return true;
  }
  return false;
}

/** Quiet time after a change before the next glance, and glances before we stop looking. */
const PAUSE_MS = 500;
const MOST_GLANCES = 8;

/**
 * Runs the work once the page may hold listings: now, or when something is added that looks like it. After a few
 * glances in vain nothing is left running.
 */
export function onceListingsAppear(document: Document, signal: AbortSignal, work: () => void): void {
  if (mayHoldListings(document)) {
    work();
    return;
  }
  let left = MOST_GLANCES;
  let timer: ReturnType<typeof setTimeout> | undefined;
  const observer = new MutationObserver(() => {
    timer ??= setTimeout(look, PAUSE_MS);
  });
  const stop = () => {
    observer.disconnect();
    clearTimeout(timer);
  };
  const look = () => {
    timer = undefined;
    left--;
    const found = mayHoldListings(document);
    if (found || left === 0) stop();
    if (found && !signal.aborted) work();
  };
  observer.observe(document, { childList: true, subtree: true });
  signal.addEventListener("abort", stop);
}
