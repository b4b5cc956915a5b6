/**
 * One run over a list: rows are judged in short slices, between which the worker answers questions; what is judged is
 * kept every now and then together with how far it is, so that a run can be broken off anywhere and gone on with.
 */
import { type OrderLine, type Standing, standings } from "../../desks/order-check.ts";
import { type OrderTallier, tallier } from "../../desks/order-tally.ts";
import { CHUNK_LINES, type KeptLine, keptLine, kindOf, type ListHead, type RowFault, standingOfKind } from "./kept.ts";
import { listRows } from "./list-rows.ts";
import type { Counts } from "./order-calls.ts";

/** How long is judged before others get their turn, in milliseconds. */
const SLICE_MS = 20;
/** How often the page is told, in milliseconds. */
const TELL_EVERY_MS = 200;
/** Keeping may take this share of the time at most. */
const KEEPING_SHARE = 0.1;
const KEEP_EVERY_MS = 1_000;
/** Rows that could not be read are kept up to this many. */
const MAX_FAULTS = 200;

/** Chunks of lines and their places. */
export type Chunks = readonly { readonly chunk: number; readonly lines: readonly KeptLine[] }[];

/** What a run works with. */
export interface RunSetup {
  readonly content: Blob;
  readonly head: ListHead;
  /** Lines of the last chunk that the head counts, where it is not full. */
  readonly tail: readonly KeptLine[];
  readonly take: (cells: readonly string[], row: number) => OrderLine | null;
  /** @throws when nothing more can be stored */
  readonly keep: (head: ListHead, chunks: Chunks) => Promise<void>;
  readonly tell: (progress: RunProgress) => void;
  readonly signal: AbortSignal;
  /** Milliseconds of a clock that never goes back. */
  readonly now: () => number;
  /** Lets others have their turn. */
  readonly breathe: () => Promise<void>;
}

/** How far a run is, between two times of keeping. */
export interface RunProgress {
  readonly bytesDone: number;
  readonly lines: number;
  readonly counts: Counts;
}

/** Lines by standing. */
export function countKinds(kinds: Uint8Array): Record<Standing, number> {
  const counts = noCounts();
  for (const kind of kinds) counts[standingOfKind(kind)]++;
  return counts;
}

function noCounts(): Record<Standing, number> {
  return Object.fromEntries(standings.map((standing) => [standing, 0])) as Record<Standing, number>;
}

/**
 * Runs to the end of the list or until cancelled; gives the head that was kept last.
 *
 * @throws what `keep` throws; what was kept before that stays
 */
export async function runList(setup: RunSetup): Promise<ListHead> {
  const { content, head, take, signal, now } = setup;
  const gathered = new Gathered(head, setup.tail);
  const pace = new Pace(now);
  for await (const piece of listRows(content, head)) {
    gathered.faults(piece.faults);
    const { bytesDone: from } = gathered;
    for (const [i, { row, cells }] of piece.rows.entries()) {
      if (row <= head.shape.skip || row <= head.tally.row) continue;
      const line = take(cells, row);
      if (line !== null) gathered.add(line);
      if (!pace.sliceOver()) continue;
      gathered.bytesDone = from + ((piece.bytesDone - from) * i) / piece.rows.length;
      if (pace.timeToTell()) setup.tell(gathered.progress());
      if (pace.timeToKeep()) await pace.keeping(() => keep(setup, gathered, "running"));
      await setup.breathe();
      pace.newSlice();
      if (signal.aborted) return keep(setup, gathered, "cancelled");
    }
    gathered.bytesDone = piece.bytesDone;
    if (signal.aborted) return keep(setup, gathered, "cancelled");
  }
  return keep(setup, gathered, "done");
}

async function keep({ keep: store }: RunSetup, gathered: Gathered, phase: ListHead["phase"]): Promise<ListHead> {
  const head = gathered.head(phase);
  await store(head, gathered.chunks());
  gathered.kept();
  return head;
}

/** What has been judged in this run, on top of what the head held. */
class Gathered {
  readonly #start: ListHead;
  readonly #tallier: OrderTallier;
  readonly #cautions: Set<string>;
  readonly counts: Record<Standing, number>;
  #faults: RowFault[];
  #faultsBeyond: number;
  #kinds: Uint8Array;
  #lines: number;
  /** Lines not yet kept, beginning with those of a chunk that is not full. */
  #open: KeptLine[];
  bytesDone: number;

  constructor(head: ListHead, tail: readonly KeptLine[]) {
    this.#start = head;
    this.#tallier = tallier(head.tally);
    this.#cautions = new Set(head.cautions);
    this.#faults = [...head.faults];
    this.#faultsBeyond = head.faultsBeyond;
    this.#kinds = Uint8Array.from({ length: Math.max(1024, head.lines * 2) }, (_, i) => head.kinds[i] ?? 0);
    this.counts = countKinds(head.kinds.subarray(0, head.lines));
    this.#lines = head.lines;
    this.#open = [...tail];
    this.bytesDone = 0;
  }

  add(line: OrderLine): void {
    this.#tallier.add(line);
    this.#open.push(keptLine(line));
    if (this.#lines === this.#kinds.length) this.#grow();
    this.#kinds[this.#lines++] = kindOf(line.standing, line.effect);
    this.counts[line.standing]++;
    if (line.standing !== "wrong" && line.standing !== "ask") return;
    for (const { caution } of line.verdicts[0]?.verdict.hazards ?? [])
      if (caution !== null) this.#cautions.add(caution);
  }

  /** Faults of rows that an earlier run has passed are known already. */
  faults(found: readonly RowFault[]): void {
    for (const fault of found) {
      if (fault.row <= this.#start.tally.row) continue;
      if (this.#faults.length < MAX_FAULTS) this.#faults.push(fault);
      else this.#faultsBeyond++;
    }
  }

  progress(): RunProgress {
    return { bytesDone: this.bytesDone, lines: this.#lines, counts: { ...this.counts } };
  }

  head(phase: ListHead["phase"]): ListHead {
    return {
      ...this.#start,
      phase,
      bytesDone: Math.max(this.bytesDone, this.#start.bytesDone),
      lines: this.#lines,
      kinds: this.#kinds.slice(0, this.#lines),
      cautions: [...this.#cautions],
      faults: [...this.#faults],
      faultsBeyond: this.#faultsBeyond,
      tally: this.#tallier.tally(),
    };
  }

  /** The chunks that hold lines not yet kept. */
  chunks(): Chunks {
    const first = Math.floor((this.#lines - this.#open.length) / CHUNK_LINES);
    const count = Math.ceil(this.#open.length / CHUNK_LINES);
    return Array.from({ length: count }, (_, i) => ({
      chunk: first + i,
      lines: this.#open.slice(i * CHUNK_LINES, (i + 1) * CHUNK_LINES),
    }));
  }

  /** Lets go of what is kept now, but for a chunk that will grow. */
  kept(): void {
    const whole = Math.floor(this.#open.length / CHUNK_LINES) * CHUNK_LINES;
    this.#open = this.#open.slice(whole);
  }

  #grow(): void {
    const wider = new Uint8Array(this.#kinds.length * 2);
    wider.set(this.#kinds);
    this.#kinds = wider;
  }
}

/** When to give way, to tell and to keep. */
class Pace {
  readonly #now: () => number;
  #slice: number;
  #told: number;
  #nextKeep: number;

  constructor(now: () => number) {
    this.#now = now;
    this.#slice = now();
    this.#told = now();
    this.#nextKeep = now() + KEEP_EVERY_MS;
  }

  sliceOver(): boolean {
    return this.#now() - this.#slice >= SLICE_MS;
  }

  newSlice(): void {
    this.#slice = this.#now();
  }

  timeToTell(): boolean {
    if (this.#now() - this.#told < TELL_EVERY_MS) return false;
    this.#told = this.#now();
    return true;
  }

  timeToKeep(): boolean {
    return this.#now() >= this.#nextKeep;
  }

  /** Keeps, and puts the next time off in proportion to how long it took. */
  async keeping(work: () => Promise<unknown>): Promise<void> {
    const start = this.#now();
    await work();
    const took = this.#now() - start;
    this.#nextKeep = this.#now() + Math.max(KEEP_EVERY_MS, took / KEEPING_SHARE);
  }
}
