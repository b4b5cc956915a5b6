/**
 * One list in its slot: started, run, cancelled, gone on with, taken away. Its state changes with a number that grows,
 * so that the page can ask for news without asking in vain.
 */

import type { TableShape } from "../../desks/columns.ts";
import type { OrderLine } from "../../desks/order-check.ts";
import { startOrderRun } from "../../desks/order-check.ts";
import { EMPTY_TALLY } from "../../desks/order-tally.ts";
import type { RawRules } from "../../formats/rules.ts";
import type { ListSlot, ListSource, ListStore } from "../../store/lists.ts";
import type { BenchHolder, BenchKnowledge } from "./bench-holder.ts";
import { CHUNK_LINES, chunkSchema, headSchema, type KeptLine, type ListHead } from "./kept.ts";
import { type Chunks, countKinds, type RunProgress, runList } from "./list-run.ts";
import type { ListNews, ListState, Reading } from "./order-calls.ts";

/** What a check works with. */
export interface CheckTools {
  readonly lists: ListStore;
  readonly rules: RawRules;
  readonly bench: BenchHolder;
  readonly now: () => number;
  /** Lets messages in. */
  readonly breathe: () => Promise<void>;
  /** Does the work unless another window holds the name; false when it does. */
  readonly alone: (name: string, work: () => Promise<void>) => Promise<boolean>;
}

/** Why a check could not go on. */
class CannotGoOn extends Error {
  readonly failure: Exclude<ListState["failure"], "">;

  constructor(failure: Exclude<ListState["failure"], "">, cause?: unknown) {
    super(failure, { cause });
    this.failure = failure;
  }
}

/** Chunks that are kept in memory. */
const CHUNKS_AT_HAND = 32;

/** One list. */
export class ListCheck {
  readonly #slot: ListSlot;
  readonly #tools: CheckTools;
  #head: ListHead | null = null;
  #loading: Promise<void> | null = null;
  #run: { readonly stop: AbortController; readonly ended: Promise<void> } | null = null;
  #progress: RunProgress | null = null;
  #failure: ListState["failure"] = "";
  #elsewhere = false;
  #version = 1;
  #hearers: (() => void)[] = [];
  readonly #chunks = new Map<number, Promise<readonly KeptLine[]>>();

  constructor(slot: ListSlot, tools: CheckTools) {
    this.#slot = slot;
    this.#tools = tools;
  }

  /** Waits until the state differs from the one seen, or until the signal. */
  async news(seen: number, signal: AbortSignal): Promise<ListNews> {
    await this.#load();
    if (seen === this.#version && !signal.aborted) {
      await new Promise<void>((resolve) => {
        this.#hearers.push(resolve);
        signal.addEventListener("abort", () => resolve(), { once: true });
      });
    }
    const version = this.#version;
    return { seen: version, state: await this.#state() };
  }

  /** How far the check has got, as it was last kept. */
  async head(): Promise<ListHead | null> {
    await this.#load();
    return this.#head?.removed ? null : this.#head;
  }

  async start(source: ListSource, reading: Reading, shape: TableShape): Promise<void> {
    await this.#stop();
    this.#loading = Promise.resolve();
    const head = newHead(source, reading, shape);
    await this.#tools.lists.start(this.#slot, source, head);
    this.#take(head);
    this.#begin();
  }

  /** Goes on with a list that was cancelled or broken off. */
  async goOn(): Promise<void> {
    // Another window has been at it: what it kept counts.
    if (this.#elsewhere) this.#loading = null;
    await this.#load();
    if (this.#head !== null && this.#head.phase !== "done" && this.#run === null) this.#begin();
    this.#changed();
  }

  /** Begins the same list again. */
  async again(reading: Reading | undefined, shape: TableShape | undefined): Promise<void> {
    const source = await this.source();
    const head = this.#head;
    if (source !== null && head !== null) await this.start(source, reading ?? head, shape ?? head.shape);
  }

  async cancel(): Promise<void> {
    await this.#stop();
  }

  async remove(removed: boolean): Promise<void> {
    await this.#load();
    await this.#stop();
    if (this.#head === null) return;
    this.#head = { ...this.#head, removed };
    await this.#tools.lists.keep(this.#slot, this.#head, []);
    this.#changed();
  }

  async source(): Promise<ListSource | null> {
    await this.#load();
    return (await this.#tools.lists.source(this.#slot)) ?? null;
  }

  /** The line at a place, counted from zero. */
  async line(place: number): Promise<KeptLine | null> {
    const lines = await this.chunk(Math.floor(place / CHUNK_LINES));
    return lines[place % CHUNK_LINES] ?? null;
  }

  /** One chunk of lines; empty where there is none. What is asked for at the same time is fetched once. */
  chunk(chunk: number): Promise<readonly KeptLine[]> {
    const atHand = this.#chunks.get(chunk);
    if (atHand !== undefined) return atHand;
    const lines = this.#tools.lists.lines(this.#slot, chunk, chunkSchema).then((found) => found ?? []);
    if (this.#run !== null) return lines;
    const [oldest = chunk] = this.#chunks.keys();
    if (this.#chunks.size >= CHUNKS_AT_HAND) this.#chunks.delete(oldest);
    this.#chunks.set(chunk, lines);
    lines.catch(() => this.#chunks.delete(chunk));
    return lines;
  }

  /** What is known has changed: how the list stands may have, too. */
  refresh(): void {
    this.#changed();
  }

  #take(head: ListHead | null): void {
    this.#head = head;
    this.#progress = null;
    this.#chunks.clear();
  }

  #load(): Promise<void> {
    this.#loading ??= this.#open();
    return this.#loading;
  }

  async #open(): Promise<void> {
    const { lists } = this.#tools;
    const head = (await lists.head(this.#slot, headSchema)) ?? null;
    if (head?.removed) await lists.drop(this.#slot);
    this.#take(head?.removed ? null : head);
    this.#elsewhere = false;
    if (this.#head?.phase === "running") this.#begin();
  }

  #begin(): void {
    const stop = new AbortController();
    this.#failure = "";
    this.#elsewhere = false;
    const ended = this.#tools
      .alone(`falsefit-list-${this.#slot}`, () => this.#work(stop.signal))
      .then((done) => {
        this.#elsewhere = !done;
      })
      .catch((error: unknown) => {
        console.error("Falsefit:", error);
        this.#failure = error instanceof CannotGoOn ? error.failure : "broken";
      })
      .then(() => {
        this.#run = null;
        this.#progress = null;
        this.#chunks.clear();
        this.#changed();
      });
    this.#run = { stop, ended };
    this.#changed();
  }

  async #stop(): Promise<void> {
    this.#run?.stop.abort();
    await this.#run?.ended;
  }

  async #work(signal: AbortSignal): Promise<void> {
    const { lists, rules, bench, now, breathe } = this.#tools;
    const source = await lists.source(this.#slot);
    if (source === undefined || this.#head === null) throw new CannotGoOn("source");
    const known = await bench.get();
    const head: ListHead = { ...headFor(this.#head, known), phase: "running" };
    // From here on a reload breaks it off, and it goes on by itself.
    await this.#keep(head, []);
    const run = startOrderRun({ devices: known.devices, index: known.index, rules, shape: head.shape });
    const take = (cells: readonly string[], row: number): OrderLine | null => run.take(cells, row);
    const tail = head.lines % CHUNK_LINES === 0 ? [] : await this.chunk(Math.floor(head.lines / CHUNK_LINES));
    const tell = (progress: RunProgress): void => {
      this.#progress = progress;
      this.#changed();
    };
    const keep = (next: ListHead, chunks: Chunks): Promise<void> => this.#keep(next, chunks);
    await runList({ content: source.content, head, tail, take, keep, tell, signal, now, breathe });
  }

  async #keep(head: ListHead, chunks: Chunks): Promise<void> {
    try {
      await this.#tools.lists.keep(this.#slot, head, chunks);
    } catch (error) {
      throw new CannotGoOn("storage", error);
    }
    this.#head = head;
  }

  #changed(): void {
    this.#version++;
    const hearers = this.#hearers;
    this.#hearers = [];
    for (const hear of hearers) hear();
  }

  async #state(): Promise<ListState | null> {
    const head = this.#head;
    if (head === null || head.removed) return null;
    const running = this.#run !== null;
    const known = running ? null : await this.#tools.bench.get();
    const stale = known !== null && head.stamp !== known.stamp;
    const progress = this.#progress ?? { ...head, counts: countKinds(head.kinds) };
    return {
      name: head.name,
      phase: this.#elsewhere ? "elsewhere" : running ? "running" : this.#failure === "" ? head.phase : "failed",
      stale,
      done: head.bytes === 0 ? 1 : progress.bytesDone / head.bytes,
      counts: progress.counts,
      lines: progress.lines,
      shape: head.shape,
      reading: { encoding: head.encoding, delimiter: head.delimiter },
      faults: head.faults,
      faultsBeyond: head.faultsBeyond,
      cautions: head.cautions,
      unreadable: known?.unreadable ?? [],
      failure: this.#failure,
    };
  }
}

/** A list of which nothing has been judged. */
function newHead({ name, content }: ListSource, { encoding, delimiter }: Reading, shape: TableShape): ListHead {
  return {
    name,
    encoding,
    delimiter,
    shape,
    stamp: "",
    phase: "running",
    removed: false,
    bytesDone: 0,
    bytes: content.size,
    lines: 0,
    kinds: new Uint8Array(),
    cautions: [],
    faults: [],
    faultsBeyond: 0,
    tally: EMPTY_TALLY,
  };
}

/** The head to go on with: from the beginning where other knowledge judged the lines so far. */
function headFor(head: ListHead, { stamp }: BenchKnowledge): ListHead {
  if (head.stamp === stamp) return head;
  const { name, encoding, delimiter, shape, bytes } = head;
  return { ...newHead({ name, content: new Blob() }, { encoding, delimiter }, shape), bytes, stamp };
}
