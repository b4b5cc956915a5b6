/**
 * Reads a page that moves: infinite scroll, filters that re-render, cards replaced in place, recycled nodes.
 *
 * The observer only queues. Work is done in slices by the clock ({@link SLICE_MS}); what was found before is
 * compared by card and by address, so that a change is reported once. When re-reading keeps finding nothing the
 * watch ends by itself; an aborted signal ends it at once.
 */
import type { FoundListing, PageOptions } from "./read.ts";
import { readSteps } from "./read.ts";

/** What changed since the last report. */
export interface PageDelta {
  /** Listings that were not there before. */
  readonly added: readonly FoundListing[];
  /** Listings whose card is gone, hidden, or now shows another listing. */
  readonly removed: readonly FoundListing[];
  /** Listings of an address known before, on new nodes or with another price or title. */
  readonly changed: readonly { readonly before: FoundListing; readonly after: FoundListing }[];
  /** Everything that is on the page now, in document order. */
  readonly all: readonly FoundListing[];
}

/** How a page is to be watched; clock and timers can be replaced in tests. */
export interface WatchOptions extends PageOptions {
  /** Milliseconds that only grow. */
  readonly now?: () => number;
  /** Runs a task later; gives back how to call it off. */
  readonly later?: (task: () => void, delayMs: number) => () => void;
  /** True for nodes that the caller itself puts on the page: they are no change. */
  readonly isOwn?: (node: Node) => boolean;
}

/** Longest slice of work before the page gets its turn. */
export const SLICE_MS = 4;
/** Pause between slices. */
export const BREATH_MS = 8;
/** Quiet time after a change before the page is read again. */
export const SETTLE_MS = 120;
/** Longest time that unending changes can put a reading off. */
export const MAX_WAIT_MS = 1_000;
/** Readings in a row that find nothing before the watch ends. */
export const MAX_FRUITLESS = 6;

/**
 * Reads the page now and again whenever it changes, until `signal` is aborted.
 *
 * @param onChange told about every change, first about what is there at the start (if anything)
 */
export function watchPage(
  document: Document,
  options: WatchOptions,
  signal: AbortSignal,
  onChange: (delta: PageDelta) => void,
): void {
  if (signal.aborted) return;
  new Watch(document, options, signal, onChange).start();
}

class Watch {
  readonly #document: Document;
  readonly #options: WatchOptions;
  readonly #signal: AbortSignal;
  readonly #onChange: (delta: PageDelta) => void;
  readonly #observer: MutationObserver | null;
  #known = new Map<Element, FoundListing>();
  #steps: Generator<void, FoundListing[]> | null = null;
  #cancel: (() => void) | null = null;
  #isDirty = false;
  #dirtySince = 0;
  #fruitless = 0;

  constructor(document: Document, options: WatchOptions, signal: AbortSignal, onChange: (delta: PageDelta) => void) {
    this.#document = document;
    this.#options = options;
    this.#signal = signal;
    this.#onChange = onChange;
    const Observer = document.defaultView?.MutationObserver;
    this.#observer = Observer === undefined ? null : new Observer((records) => this.#notice(records));
  }

  start(): void {
    this.#signal.addEventListener("abort", () => this.#stop(), { once: true });
    this.#observer?.observe(this.#document, {
      childList: true,
      subtree: true,
      characterData: true,
      attributes: true,
      attributeFilter: ["class", "style", "hidden", "href"],
    });
    this.#steps = readSteps(this.#document, this.#options);
    this.#slice();
  }

  #stop(): void {
    this.#observer?.disconnect();
    this.#cancel?.();
    this.#cancel = null;
    this.#steps = null;
    this.#known = new Map();
  }

  #now(): number {
    return this.#options.now?.() ?? performance.now();
  }

  #later(task: () => void, delayMs: number): void {
    this.#cancel?.();
    const run = () => {
      this.#cancel = null;
      task();
    };
    if (this.#options.later !== undefined) this.#cancel = this.#options.later(run, delayMs);
    else {
      const timer = setTimeout(run, delayMs);
      this.#cancel = () => clearTimeout(timer);
    }
  }

  #notice(records: readonly MutationRecord[]): void {
    if (records.every((record) => this.#isOwnChange(record))) return;
    if (!this.#isDirty) this.#dirtySince = this.#now();
    this.#isDirty = true;
    if (this.#steps === null) this.#settle();
  }

  #isOwnChange(record: MutationRecord): boolean {
    const isOwn = this.#options.isOwn;
    if (isOwn === undefined) return false;
    if (isOwn(record.target)) return true;
    if (record.type !== "childList") return false;
    return [...record.addedNodes, ...record.removedNodes].every((node) => isOwn(node));
  }

  #settle(): void {
    const waited = this.#now() - this.#dirtySince;
    this.#later(() => this.#readAgain(), Math.max(0, Math.min(SETTLE_MS, MAX_WAIT_MS - waited)));
  }

  #readAgain(): void {
    this.#isDirty = false;
    this.#steps = readSteps(this.#document, this.#options);
    this.#slice();
  }

  #slice(): void {
    const { steps } = { steps: this.#steps };
    if (steps === null) return;
    const until = this.#now() + SLICE_MS;
    do {
      const step = steps.next();
      if (step.done === true) {
        this.#steps = null;
        this.#report(step.value);
        return;
      }
    } while (this.#now() < until);
    this.#later(() => this.#slice(), BREATH_MS);
  }

  #report(all: readonly FoundListing[]): void {
    const delta = compare(this.#known, all);
    this.#known = new Map(all.map((entry) => [entry.card, entry]));
    const isChanged = delta.added.length + delta.removed.length + delta.changed.length > 0;
    this.#fruitless = all.length > 0 ? 0 : this.#fruitless + 1;
    if (isChanged) this.#onChange(delta);
    if (this.#fruitless >= MAX_FRUITLESS) this.#stop();
    else if (this.#isDirty) this.#settle();
  }
}

/** Compares two readings by card, then by address. */
function compare(known: ReadonlyMap<Element, FoundListing>, all: readonly FoundListing[]): PageDelta {
  const gone = new Map(known);
  const fresh: FoundListing[] = [];
  const changed: { before: FoundListing; after: FoundListing }[] = [];
  for (const entry of all) {
    const before = known.get(entry.card);
    if (before === undefined) fresh.push(entry);
    else if (addressOf(before) === addressOf(entry)) {
      gone.delete(entry.card);
      if (!isSame(before, entry)) changed.push({ before, after: entry });
    } else fresh.push(entry);
  }
  const byAddress = new Map([...gone.values()].map((entry) => [addressOf(entry), entry]));
  const added = fresh.filter((entry) => {
    const before = byAddress.get(addressOf(entry));
    if (before === undefined) return true;
    byAddress.delete(addressOf(entry));
    gone.delete(before.card);
    changed.push({ before, after: entry });
    return false;
  });
  return { added, removed: [...gone.values()], changed, all };
}

function addressOf({ listing }: FoundListing): string {
  return listing.url ?? listing.title;
}

function isSame(a: FoundListing, b: FoundListing): boolean {
  return a.anchor === b.anchor && a.related === b.related && JSON.stringify(a.listing) === JSON.stringify(b.listing);
}
