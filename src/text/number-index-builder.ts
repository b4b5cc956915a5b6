/**
 * Builds a {@link NumberIndex} number by number. Everything is kept in typed arrays from the start, so that a million
 * numbers need little more memory while they are gathered than afterwards.
 */
import { type Growing, growing32, growingUnits } from "./growing.ts";
import { foldUnit, HEADER_WORDS, type Layout, layOut, MAGIC, MULTIPLIERS, NumberIndex } from "./number-index.ts";
import { canonicalNumber } from "./part-number.ts";
import { capacityFor, hashOf, mix, Slots } from "./slots.ts";

/** A part number and what it stands for: a small integer (0 to 2³²−1) of the caller's choosing. */
export type NumberEntry = readonly [number: string, value: number];

/** When an entry lies farther from its slot than this, another multiplier is tried. */
const MAX_PROBES = 256;
/** For how many numbers room is made at most before they come. */
const MAX_EXPECTED = 4_000_000;
/** The end of a chain of values. */
const NONE = 0xffff_ffff;

/** How an index is laid out. */
export interface BuildOptions {
  /**
   * When spellings that look alike mean each other: while all of them have the `same-values`, or only while there is
   * `one-number`.
   */
  readonly foldWhile?: "same-values" | "one-number";
  /** Gives the memory that the index lies in, zeroed. */
  readonly allocate?: (bytes: number) => ArrayBufferLike;
}

/** Gathers numbers for an index. */
export class NumberIndexBuilder {
  readonly #units = growingUnits();
  readonly #textStart = growing32();
  /** The last value of each number in {@link #values}, and for each value the one before it. */
  readonly #lastValue = growing32();
  readonly #values = growing32();
  readonly #before = growing32();
  #widest = 0;
  #multiplier = 0;
  #exact: Slots;

  /** @param expected about how many numbers will come; more may */
  constructor(expected = 0) {
    this.#exact = Slots.ofCapacity(capacityFor(Math.min(expected, MAX_EXPECTED)));
  }

  /** Adds a canonical number, or one more value to a known one; `""` is left out. */
  add(canonical: string, value: number): void {
    if (canonical === "") return;
    const spread = mix(hashOf(canonical, this.#multiplierNow()));
    const known = this.#exact.find(spread, (entry) => this.#is(entry, canonical));
    const entry = known >= 0 ? known : this.#append(canonical, spread);
    this.#before.push(this.#lastValue.at(entry));
    this.#lastValue.set(entry, this.#values.length);
    this.#values.push(value);
  }

  /** The index of everything added so far; more may be added afterwards for another one. */
  finish({ foldWhile = "same-values", allocate = (bytes) => new ArrayBuffer(bytes) }: BuildOptions = {}): NumberIndex {
    const values = this.#sortedValues();
    if (this.#exact.slots.length !== capacityFor(this.#textStart.length)) this.#rehash();
    for (;;) {
      const layout = layOut({
        size: this.#textStart.length,
        unitBytes: this.#widest > 0xff ? 2 : 1,
        multiplier: this.#multiplier,
        unitCount: this.#units.length,
        valueCount: values.all.length,
      });
      const buffer = allocate(layout.byteLength);
      this.#fill(buffer, layout, values);
      const farthest = this.#fillKeys(buffer, layout, values, foldWhile);
      if (farthest <= MAX_PROBES || !this.#nextMultiplier()) return new NumberIndex(new Uint8Array(buffer), layout);
    }
  }

  #multiplierNow(): number {
    return MULTIPLIERS[this.#multiplier] ?? 1;
  }

  #append(canonical: string, spread: number): number {
    const entry = this.#textStart.length;
    this.#textStart.push(this.#units.length);
    for (let i = 0; i < canonical.length; i++) {
      const unit = canonical.charCodeAt(i);
      this.#widest = Math.max(this.#widest, unit);
      this.#units.push(unit);
    }
    this.#lastValue.push(NONE);
    if (capacityFor(entry + 1) > this.#exact.slots.length) this.#rehash();
    else this.#exact.add(spread, entry);
    if (this.#exact.farthest > MAX_PROBES) this.#nextMultiplier();
    return entry;
  }

  /** Takes another multiplier; false where none is left. */
  #nextMultiplier(): boolean {
    if (this.#multiplier === MULTIPLIERS.length - 1) return false;
    this.#multiplier++;
    this.#rehash();
    return true;
  }

  #rehash(): void {
    const size = this.#textStart.length;
    this.#exact = Slots.ofCapacity(capacityFor(size));
    for (let entry = 0; entry < size; entry++) this.#exact.add(mix(this.#hashAt(entry, (unit) => unit)), entry);
  }

  #endOf(entry: number): number {
    return entry + 1 < this.#textStart.length ? this.#textStart.at(entry + 1) : this.#units.length;
  }

  #hashAt(entry: number, fold: (unit: number) => number): number {
    const multiplier = this.#multiplierNow();
    const end = this.#endOf(entry);
    let hash = 0;
    for (let i = this.#textStart.at(entry); i < end; i++)
      hash = (Math.imul(hash, multiplier) + fold(this.#units.at(i))) | 0;
    return hash;
  }

  #is(entry: number, text: string): boolean {
    const start = this.#textStart.at(entry);
    if (this.#endOf(entry) - start !== text.length) return false;
    for (let i = 0; i < text.length; i++) if (this.#units.at(start + i) !== text.charCodeAt(i)) return false;
    return true;
  }

  /** True where two numbers look alike. */
  #alike(a: number, b: number): boolean {
    const [startA, startB] = [this.#textStart.at(a), this.#textStart.at(b)];
    const length = this.#endOf(a) - startA;
    if (this.#endOf(b) - startB !== length) return false;
    for (let i = 0; i < length; i++) {
      if (foldUnit(this.#units.at(startA + i)) !== foldUnit(this.#units.at(startB + i))) return false;
    }
    return true;
  }

  /** Values of all numbers end to end, each number's ascending and once, and where each number's start. */
  #sortedValues(): SortedValues {
    const all = growing32();
    const starts = new Uint32Array(this.#textStart.length + 1);
    for (let entry = 0; entry < this.#textStart.length; entry++) {
      starts[entry] = all.length;
      const own: number[] = [];
      for (let at = this.#lastValue.at(entry); at !== NONE; at = this.#before.at(at)) own.push(this.#values.at(at));
      if (own.length === 1) all.push(own[0] ?? 0);
      else for (const value of [...new Set(own)].sort((a, b) => a - b)) all.push(value);
    }
    starts[this.#textStart.length] = all.length;
    return { all, starts };
  }

  #fill(buffer: ArrayBufferLike, layout: Layout, { all, starts }: SortedValues): void {
    const { size, unitBytes, multiplier, unitCount, valueCount, capacity } = layout;
    new Uint32Array(buffer, 0, HEADER_WORDS).set([MAGIC, size, unitBytes, multiplier, unitCount, valueCount]);
    const textStart = new Uint32Array(buffer, layout.textStart, size + 1);
    textStart.set(this.#textStart.view());
    textStart[size] = unitCount;
    new Uint32Array(buffer, layout.valueStart, size + 1).set(starts);
    new Uint32Array(buffer, layout.values, valueCount).set(all.view());
    const units = this.#units.view();
    if (unitBytes === 1) new Uint8Array(buffer, layout.texts, unitCount).set(units);
    else new Uint16Array(buffer, layout.texts, unitCount).set(units);
    new Uint32Array(buffer, layout.slots, capacity).set(this.#exact.slots);
    new Uint8Array(buffer, layout.tags, capacity).set(this.#exact.tags);
  }

  /** Fills the table of look-alike keys; returns how far the farthest entry of both tables lies from its slot. */
  #fillKeys(buffer: ArrayBufferLike, layout: Layout, values: SortedValues, foldWhile: string): number {
    const { size, capacity } = layout;
    const exactOnly = new Uint8Array(buffer, layout.exactOnly, size);
    const keys = new Slots(
      new Uint32Array(buffer, layout.keySlots, capacity),
      new Uint8Array(buffer, layout.keyTags, capacity),
    );
    for (let entry = 0; entry < size; entry++) {
      const spread = mix(this.#hashAt(entry, foldUnit));
      const first = keys.find(spread, (other) => this.#alike(other, entry));
      if (first < 0) keys.add(spread, entry);
      else if (foldWhile === "one-number" || !sameValues(values, first, entry)) exactOnly[first] = 1;
    }
    return Math.max(this.#exact.farthest, keys.farthest);
  }
}

interface SortedValues {
  readonly all: Growing<Uint32Array>;
  readonly starts: Uint32Array;
}

function sameValues({ all, starts }: SortedValues, a: number, b: number): boolean {
  const [startA = 0, startB = 0] = [starts[a], starts[b]];
  const count = (starts[a + 1] ?? 0) - startA;
  if ((starts[b + 1] ?? 0) - startB !== count) return false;
  for (let i = 0; i < count; i++) if (all.at(startA + i) !== all.at(startB + i)) return false;
  return true;
}

/**
 * Builds an index. Numbers are made canonical; those with nothing left are skipped; a number may have several values.
 */
export function buildNumberIndex(entries: Iterable<NumberEntry>, options?: BuildOptions): NumberIndex {
  const builder = new NumberIndexBuilder();
  for (const [number, value] of entries) builder.add(canonicalNumber(number), value);
  return builder.finish(options);
}
