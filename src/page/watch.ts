/**
 * Reads a page that moves: infinite scroll, client-side navigation, filters that re-render, cards replaced in place,
 * virtual lists that recycle their nodes.
 *
 *   MutationObserver ── queue (nothing else) ── settle ── slices by the clock ── compare ── one report
 *
 * Only what came or changed is read, with a few known cards beside it (parts.ts). The whole page is read again when
 * its address changed, when most of what was known is gone, or when nothing was known. Elements that keep changing
 * without ever bringing a listing are left alone; a page that keeps bringing none ends the watch; an aborted signal
 * ends it at once.
 */
import { MAX_CHANGED, outermost, scopeOf } from "./parts.ts";
import { type FoundListing, groundOf, type PageGround, type PageOptions, readGround, readSteps } from "./read.ts";
import { type Sight, sightOf } from "./sight.ts";

/** What changed since the last report. */
export interface PageDelta {
  /** Listings that were not there before. */
  readonly added: readonly FoundListing[];
  /** Listings whose card is gone, hidden, or now shows another listing. */
  readonly removed: readonly FoundListing[];
  /** Listings of an address known before, on new nodes or with another price or title. */
  readonly changed: readonly { readonly before: FoundListing; readonly after: FoundListing }[];
  /** Everything that is on the page now, in document order (put in order when asked for). */
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
const SLICE_MS = 4;
/** Pause between slices. */
const BREATH_MS = 8;
/** Quiet time after a change before it is read. */
export const SETTLE_MS = 120;
/** Longest time that unending changes can put a reading off. */
const MAX_WAIT_MS = 1_000;
/** Readings in a row that find nothing on a page without listings before the watch ends. */
export const MAX_FRUITLESS = 6;
/** How long a page without listings is watched when nothing on it changes. */
export const PATIENCE_MS = 15_000;
/** Changes of one element that brought nothing before it is left alone. */
const MAX_NOISE = 8;
/** Readings within {@link BUSY_WINDOW_MS} above which the pauses grow. */
const MAX_READINGS = 40;
const BUSY_WINDOW_MS = 10_000;
/** Pause of a page that keeps changing faster than that. */
const BUSY_PAUSE_MS = 2_000;

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

type Reading = Generator<void, FoundListing[]>;

class Watch {
  readonly #document: Document;
  readonly #options: WatchOptions;
  readonly #signal: AbortSignal;
  readonly #onChange: (delta: PageDelta) => void;
  readonly #observer: MutationObserver | null;
  #known = new Map<Element, FoundListing>();
  #ground: PageGround | null = null;
  #address = "";
  /** The reading under way, and the elements it reads again (null: the whole page). */
  #steps: Reading | null = null;
  #part: readonly Element[] | null = null;
  #changed: readonly Element[] = [];
  #cancel: (() => void) | null = null;
  #dirty = new Set<Element>();
  #dirtySince = 0;
  #fruitless = 0;
  #noise = new WeakMap<Element, number>();
  #readings: number[] = [];

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
    this.#readWhole();
  }

  #stop(): void {
    this.#observer?.disconnect();
    this.#cancel?.();
    this.#cancel = null;
    this.#steps = null;
    this.#ground = null;
    this.#known = new Map();
    this.#dirty = new Set();
  }

  // Queueing

  #notice(records: readonly MutationRecord[]): void {
    const before = this.#dirty.size;
    for (const record of records) {
      for (const element of this.#touched(record)) {
        if ((this.#noise.get(element) ?? 0) < MAX_NOISE) this.#dirty.add(element);
      }
    }
    if (this.#dirty.size === before && !this.#isElsewhere()) return;
    if (before === 0) this.#dirtySince = this.#now();
    if (this.#steps === null) this.#settle();
  }

  /** The elements that a change touches; none for the caller's own nodes. */
  #touched(record: MutationRecord): Element[] {
    const isOwn = this.#options.isOwn ?? (() => false);
    if (isOwn(record.target)) return [];
    const target = record.target.nodeType === ELEMENT ? (record.target as Element) : record.target.parentElement;
    if (record.type !== "childList") return target === null ? [] : [target];
    const added = Array.from(record.addedNodes).filter((node) => !isOwn(node));
    const elements = added.filter((node): node is Element => node.nodeType === ELEMENT);
    const hasText = added.some((node) => node.nodeType === TEXT);
    const isGone = Array.from(record.removedNodes).some((node) => !isOwn(node));
    if (target !== null && (hasText || (isGone && this.#cardAround(target) !== null))) return [target];
    return isGone && elements.length === 0 && target !== null ? [target] : elements;
  }

  #cardAround(element: Element): Element | null {
    for (let at: Element | null = element; at !== null; at = at.parentElement) if (this.#known.has(at)) return at;
    return null;
  }

  #isElsewhere(): boolean {
    return this.#document.URL !== this.#address;
  }

  // Timing

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

  #settle(): void {
    const now = this.#now();
    this.#readings = this.#readings.filter((at) => now - at < BUSY_WINDOW_MS);
    const isBusy = this.#readings.length > MAX_READINGS;
    const waited = now - this.#dirtySince;
    const pause = isBusy ? BUSY_PAUSE_MS : Math.max(0, Math.min(SETTLE_MS, MAX_WAIT_MS - waited));
    this.#later(() => this.#readAgain(), pause);
  }

  // Reading

  #readAgain(): void {
    const changed = outermost(this.#dirty).filter((element) => element.isConnected);
    this.#dirty = new Set();
    if (this.#needsWhole(changed)) this.#readWhole();
    else this.#readPart(changed);
  }

  #needsWhole(changed: readonly Element[]): boolean {
    if (this.#ground === null || this.#known.size === 0 || this.#isElsewhere() || changed.length > MAX_CHANGED)
      return true;
    const all = [...this.#known.values()];
    const gone = all.filter((entry) => !entry.card.isConnected).length;
    if (gone > all.length / 2) return true;
    const main = all.find((entry) => entry.kind === "detail");
    if (main !== undefined && changed.some((element) => main.card.contains(element) || element.contains(main.card)))
      return true;
    return changed.some((element) => element === this.#document.body || element === this.#document.documentElement);
  }

  #readWhole(): void {
    this.#address = this.#document.URL;
    this.#ground = null;
    this.#part = null;
    this.#begin(readSteps(this.#document, this.#options));
  }

  #readPart(changed: readonly Element[]): void {
    const ground = this.#ground;
    if (ground === null) return;
    this.#changed = changed;
    const cards = changed.map((element) => this.#cardAround(element) ?? element);
    this.#part = [...new Set(cards)];
    this.#begin(readGround(ground, this.#options, scopeOf(this.#part, this.#known)));
  }

  #begin(steps: Reading): void {
    this.#steps = steps;
    this.#readings.push(this.#now());
    this.#slice();
  }

  #slice(): void {
    const steps = this.#steps;
    if (steps === null) return;
    const until = this.#now() + SLICE_MS;
    do {
      const step = steps.next();
      if (step.done === true) {
        this.#steps = null;
        this.#finish(step.value);
        return;
      }
    } while (this.#now() < until);
    this.#later(() => this.#slice(), BREATH_MS);
  }

  // Reporting

  #finish(found: readonly FoundListing[]): void {
    const part = this.#part;
    const now = part === null ? new Map(found.map((entry) => [entry.card, entry])) : this.#merged(part, found);
    const delta = compare(this.#known, now, part === null ? found : null);
    this.#known = now;
    const isChanged = delta.added.length + delta.removed.length + delta.changed.length > 0;
    if (part !== null && !isChanged) this.#noteNoise();
    this.#fruitless = now.size > 0 ? 0 : this.#fruitless + 1;
    if (now.size > 0) this.#ground ??= groundOf(this.#document, this.#options);
    if (isChanged) this.#onChange(delta);
    if (this.#signal.aborted) return;
    if (this.#fruitless >= MAX_FRUITLESS) this.#stop();
    else if (this.#dirty.size > 0) this.#settle();
    else if (now.size === 0) this.#later(() => this.#stop(), PATIENCE_MS);
  }

  /** Counts changes outside of cards that brought nothing: tickers, counters, clocks. */
  #noteNoise(): void {
    for (const element of this.#changed) {
      if (this.#cardAround(element) === null) this.#noise.set(element, (this.#noise.get(element) ?? 0) + 1);
    }
  }

  /** What is known after a part was read: gone and hidden cards leave, cards of the part are replaced. */
  #merged(part: readonly Element[], found: readonly FoundListing[]): Map<Element, FoundListing> {
    const sight = this.#options.sight ?? sightOf(this.#document);
    const merged = new Map<Element, FoundListing>();
    for (const [card, entry] of this.#known) {
      if (isStillThere(card, sight) && !part.some((element) => element.contains(card))) merged.set(card, entry);
    }
    for (const entry of found) {
      if (!part.some((element) => element.contains(entry.card))) continue;
      if (!overlapsKnown(entry.card, merged)) merged.set(entry.card, this.#inItsRun(entry));
    }
    return merged;
  }

  /** A new card beside known ones is related when they are: the heading over the run may not have been read again. */
  #inItsRun(entry: FoundListing): FoundListing {
    const beside = Array.from(entry.card.parentElement?.children ?? [])
      .map((sibling) => this.#known.get(sibling))
      .find((known) => known !== undefined && known.card !== entry.card);
    if (beside === undefined || beside.related === entry.related) return entry;
    const { related, ...listing } = entry.listing;
    return beside.related
      ? { ...entry, related: true, listing: { ...listing, related: true } }
      : { ...entry, related: false, listing: related === undefined ? entry.listing : listing };
  }
}

const ELEMENT = 1;
const TEXT = 3;

function isStillThere(card: Element, sight: Sight): boolean {
  return card.isConnected && sight.isRendered(card);
}

/** True when the card lies in a known card or holds one. */
function overlapsKnown(card: Element, known: ReadonlyMap<Element, FoundListing>): boolean {
  for (let at = card.parentElement; at !== null; at = at.parentElement) if (known.has(at)) return true;
  return false;
}

/** Compares two readings by card, then by address. */
function compare(
  known: ReadonlyMap<Element, FoundListing>,
  now: ReadonlyMap<Element, FoundListing>,
  ordered: readonly FoundListing[] | null,
): PageDelta {
  const gone = new Map(known);
  const fresh: FoundListing[] = [];
  const changed: { before: FoundListing; after: FoundListing }[] = [];
  for (const [card, entry] of now) {
    const before = known.get(card);
    if (before === undefined) fresh.push(entry);
    else if (before === entry) gone.delete(card);
    else if (addressOf(before) === addressOf(entry)) {
      gone.delete(card);
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
  let all = ordered;
  return {
    added,
    removed: [...gone.values()],
    changed,
    get all() {
      all ??= inOrder([...now.values()]);
      return all;
    },
  };
}

function inOrder(entries: FoundListing[]): FoundListing[] {
  return entries.sort((a, b) => (a.anchor.compareDocumentPosition(b.anchor) & FOLLOWING ? -1 : 1));
}

const FOLLOWING = 4;

function addressOf({ listing }: FoundListing): string {
  return listing.url ?? listing.title;
}

function isSame(a: FoundListing, b: FoundListing): boolean {
  return a.anchor === b.anchor && a.related === b.related && JSON.stringify(a.listing) === JSON.stringify(b.listing);
}
