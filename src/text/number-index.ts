/**
 * An index of part numbers in typed arrays: built once, kept as bytes, opened without rebuilding.
 *
 *   canonical number ─▶ hash ─▶ tags (1 byte a slot; most misses end here) ─▶ slots ─▶ entry ─▶ its text, its values
 *   look-alike key   ─▶ hash ─▶ keyTags ─▶ keySlots ─▶ first entry with that key
 *
 * Two open-addressing tables over the same entries: one by canonical number, one by look-alike key (O/0, I/1). Where
 * two numbers of different values share a key, look-alike folding is off for that key. The hash is a polynomial, so
 * that every string one character away from a number is hashed in constant time.
 */
import { Beginnings } from "./beginnings.ts";
import { lookalikeKey, oneCharacterApart } from "./part-number.ts";
import { capacityFor, hashOf, mix, tagOf } from "./slots.ts";

/** The first word of every index. */
export const MAGIC = 0x46464e31;
/** Words before the arrays. */
export const HEADER_WORDS = 8;
/** Tried in turn until no entry lies far from its slot, so that no catalog makes long chains by design. */
export const MULTIPLIERS = [0x01000193, 0x2c1b3c6d, 0x5bd1e995, 0x27d4eb2f];
/** Longest number for which neighbours are looked up; the formats allow 80 printed characters. */
const MAX_NEAR_CHARS = 80;
/** How many neighbours are named at most. */
const MAX_NEAR = 16;
/** Code units of the letters and digits of canonical numbers. */
const ALPHABET = Uint8Array.from("0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ", (character) => character.charCodeAt(0));

const EXACT = 0;
const KEY = 1;
type Which = typeof EXACT | typeof KEY;

/** Part numbers and what they stand for. Made by `number-index-builder.ts` or {@link openNumberIndex}. */
export class NumberIndex {
  readonly #bytes: Uint8Array;
  readonly #multiplier: number;
  readonly #mask: number;
  /** Code units of all numbers, end to end, and where each number starts (one more start at the end). */
  readonly #texts: Uint8Array | Uint16Array;
  readonly #textStart: Uint32Array;
  /** Values of all numbers, end to end, and where each number's start. */
  readonly #values: Uint32Array;
  readonly #valueStart: Uint32Array;
  readonly #slots: readonly [exact: Uint32Array, key: Uint32Array];
  readonly #tags: readonly [exact: Uint8Array, key: Uint8Array];
  /** 1 for the first entry of a key for which folding is off. */
  readonly #exactOnly: Uint8Array;
  /** How many different canonical numbers it holds. */
  readonly size: number;
  /** Made when first asked for. */
  #beginnings: Beginnings | null = null;

  /** @param bytes as {@link layOut} measures and the builder fills them, four-byte aligned */
  constructor(bytes: Uint8Array, layout: Layout) {
    const { buffer, byteOffset } = bytes;
    const words = (at: number, length: number) => new Uint32Array(buffer, byteOffset + at, length);
    const flags = (at: number, length: number) => new Uint8Array(buffer, byteOffset + at, length);
    this.#bytes = bytes;
    this.size = layout.size;
    this.#multiplier = MULTIPLIERS[layout.multiplier] ?? 1;
    this.#mask = layout.capacity - 1;
    this.#textStart = words(layout.textStart, layout.size + 1);
    this.#valueStart = words(layout.valueStart, layout.size + 1);
    this.#values = words(layout.values, layout.valueCount);
    this.#slots = [words(layout.slots, layout.capacity), words(layout.keySlots, layout.capacity)];
    this.#texts =
      layout.unitBytes === 1
        ? flags(layout.texts, layout.unitCount)
        : new Uint16Array(buffer, byteOffset + layout.texts, layout.unitCount);
    this.#tags = [flags(layout.tags, layout.capacity), flags(layout.keyTags, layout.capacity)];
    this.#exactOnly = flags(layout.exactOnly, layout.size);
  }

  /** The whole index as bytes, for {@link openNumberIndex}. A view, not a copy: do not change it. */
  toBytes(): Uint8Array {
    return this.#bytes;
  }

  /** Values of a canonical number, ascending; empty where it is not known. */
  lookup(canonical: string): readonly number[] {
    return this.valuesAt(this.#find(EXACT, canonical));
  }

  /** Place of a canonical number among all of them, or -1. */
  placeOf(canonical: string): number {
    return this.#find(EXACT, canonical);
  }

  /** Place of the number that {@link lookupLookAlike} finds, or -1. */
  placeOfLookAlike(number: string): number {
    const entry = this.#find(KEY, lookalikeKey(number));
    return entry >= 0 && this.#exactOnly[entry] === 0 ? entry : -1;
  }

  /** The canonical number at a place from 0 to {@link size} − 1. */
  numberAt(place: number): string {
    return String.fromCharCode(...this.#texts.subarray(this.#textStart[place], this.#textStart[place + 1]));
  }

  /** Values of the number at a place, ascending; none at -1. */
  valuesAt(place: number): number[] {
    if (place < 0) return [];
    return Array.from(this.#values.subarray(this.#valueStart[place], this.#valueStart[place + 1]));
  }

  /** False only where no known number surely begins at this place of a folded text. Makes no string. */
  mayBegin(text: string, at: number): boolean {
    this.#beginnings ??= this.#gatherBeginnings();
    return this.#beginnings.mayBegin(text, at);
  }

  /** Length of the longest canonical number. */
  get longest(): number {
    this.#beginnings ??= this.#gatherBeginnings();
    return this.#beginnings.longest;
  }

  #gatherBeginnings(): Beginnings {
    const beginnings = new Beginnings();
    const texts = this.#texts;
    for (let entry = 0; entry < this.size; entry++) {
      const start = this.#textStart[entry] ?? 0;
      const length = (this.#textStart[entry + 1] ?? start) - start;
      beginnings.add(length, texts[start] ?? 0, texts[start + 1] ?? 0, texts[start + 2] ?? 0);
    }
    return beginnings;
  }

  /** True where the canonical number is known. */
  has(canonical: string): boolean {
    return this.#find(EXACT, canonical) >= 0;
  }

  /**
   * Values of the number that differs from this one at most in O/0 and I/l/1; empty where none is known or where
   * known numbers of different parts would meet.
   *
   * @param number as written (a small l counts as 1) or canonical
   */
  lookupLookAlike(number: string): readonly number[] {
    return this.valuesAt(this.placeOfLookAlike(number));
  }

  /** Values of all known numbers one character apart from this one, ascending (at most 16 numbers are looked at). */
  nearest(canonical: string): readonly number[] {
    const values = this.#near(canonical).flatMap((entry) => this.valuesAt(entry));
    return [...new Set(values)].sort((a, b) => a - b);
  }

  /** The known canonical numbers one character apart from this one, in order; at most 16. */
  nearestNumbers(canonical: string): readonly string[] {
    return this.#near(canonical)
      .map((entry) => this.numberAt(entry))
      .sort();
  }

  /** Entries one character apart; where none is, those one character apart after folding look-alikes. */
  #near(canonical: string): number[] {
    if (canonical.length === 0 || canonical.length > MAX_NEAR_CHARS) return [];
    const exact = this.#nearIn(EXACT, canonical, (entry) => this.numberAt(entry));
    return exact.length > 0
      ? exact
      : this.#nearIn(KEY, lookalikeKey(canonical), (entry) => lookalikeKey(this.numberAt(entry)));
  }

  #nearIn(which: Which, text: string, textOf: (entry: number) => string): number[] {
    const found = new Set<number>();
    eachNeighbourHash(text, this.#multiplier, (hash) => {
      if (found.size >= MAX_NEAR) return;
      const spread = mix(hash);
      // Most hashes end at their first slot: only the rest is worth a string.
      for (let probe = this.#next(which, spread, 0); probe >= 0; probe = this.#next(which, spread, probe + 1)) {
        const entry = this.#entryAt(which, spread, probe);
        if (entry >= 0 && oneCharacterApart(textOf(entry), text)) found.add(entry);
      }
    });
    return [...found];
  }

  /** The entry whose number (or look-alike key) is this text, or -1. */
  #find(which: Which, text: string): number {
    if (text === "") return -1;
    const spread = mix(hashOf(text, this.#multiplier));
    for (let probe = this.#next(which, spread, 0); probe >= 0; probe = this.#next(which, spread, probe + 1)) {
      const entry = this.#entryAt(which, spread, probe);
      if (entry >= 0 && this.#is(which, entry, text)) return entry;
    }
    return -1;
  }

  /** The next probe from `probe` on that meets the tag of a spread hash, or -1 at the end of its chain. */
  #next(which: Which, spread: number, probe: number): number {
    const tags = this.#tags[which];
    const tag = tagOf(spread);
    for (let at = probe; at <= this.#mask; at++) {
      const found = tags[(spread + at) & this.#mask];
      if (found === tag) return at;
      if (found === 0) return -1;
    }
    return -1;
  }

  /** The entry at a probe; -1 in damaged bytes. */
  #entryAt(which: Which, spread: number, probe: number): number {
    const entry = this.#slots[which][(spread + probe) & this.#mask] ?? 0;
    return entry < this.size ? entry : -1;
  }

  /** True where an entry's number (or look-alike key) is this text. */
  #is(which: Which, entry: number, text: string): boolean {
    const start = this.#textStart[entry] ?? 0;
    if ((this.#textStart[entry + 1] ?? 0) - start !== text.length) return false;
    for (let i = 0; i < text.length; i++) {
      const unit = this.#texts[start + i] ?? 0;
      if ((which === KEY ? foldUnit(unit) : unit) !== text.charCodeAt(i)) return false;
    }
    return true;
  }
}

/**
 * Opens an index from its bytes; nothing is rebuilt and, where they start at a multiple of four, nothing is copied.
 *
 * @returns `null` for bytes that are no index of this version
 */
export function openNumberIndex(bytes: ArrayBufferLike | Uint8Array): NumberIndex | null {
  const given = bytes instanceof Uint8Array ? bytes : new Uint8Array(bytes);
  const aligned = given.byteOffset % 4 === 0 ? given : given.slice();
  if (aligned.byteLength < HEADER_WORDS * 4) return null;
  const header = new Uint32Array(aligned.buffer, aligned.byteOffset, HEADER_WORDS);
  const [magic = 0, size = 0, unitBytes = 0, multiplier = 0, unitCount = 0, valueCount = 0] = header;
  if (magic !== MAGIC || (unitBytes !== 1 && unitBytes !== 2) || multiplier >= MULTIPLIERS.length) return null;
  const layout = layOut({ size, unitBytes, multiplier, unitCount, valueCount });
  return layout.byteLength === aligned.byteLength ? new NumberIndex(aligned, layout) : null;
}

/** What the header says; everything else about the layout follows from it. */
export interface Measures {
  readonly size: number;
  /** Bytes a code unit: 1 where all numbers are Latin, else 2. */
  readonly unitBytes: number;
  /** Which of {@link MULTIPLIERS} hashes. */
  readonly multiplier: number;
  readonly unitCount: number;
  readonly valueCount: number;
}

/** Where each array starts, in bytes. */
export interface Layout extends Measures {
  /** Slots in each table: a power of two, at least half as many again as entries. */
  readonly capacity: number;
  readonly textStart: number;
  readonly valueStart: number;
  readonly values: number;
  readonly slots: number;
  readonly keySlots: number;
  readonly texts: number;
  readonly tags: number;
  readonly keyTags: number;
  readonly exactOnly: number;
  readonly byteLength: number;
}

/** Where each array of an index of these measures starts. */
export function layOut(measures: Measures): Layout {
  const capacity = capacityFor(measures.size);
  let at = HEADER_WORDS * 4;
  const take = (bytes: number) => {
    const start = at;
    at += bytes;
    return start;
  };
  return {
    ...measures,
    capacity,
    textStart: take((measures.size + 1) * 4),
    valueStart: take((measures.size + 1) * 4),
    values: take(measures.valueCount * 4),
    slots: take(capacity * 4),
    keySlots: take(capacity * 4),
    texts: take(measures.unitCount * measures.unitBytes),
    tags: take(capacity),
    keyTags: take(capacity),
    exactOnly: take(measures.size),
    byteLength: at,
  };
}

/**
 * Hashes of every string one deletion, swap of neighbours, substitution or insertion away from a text; some of them
 * more than once, and the text's own among them.
 */
function eachNeighbourHash(text: string, multiplier: number, visit: (hash: number) => void): void {
  const length = text.length;
  const power = new Int32Array(length + 1).fill(1);
  for (let i = 0; i < length; i++) power[i + 1] = Math.imul(power[i] ?? 1, multiplier);
  const whole = hashOf(text, multiplier);
  let head = 0;
  for (let i = 0; i <= length; i++) {
    const unit = i < length ? text.charCodeAt(i) : 0;
    const rest = length - i;
    const [powRest = 1, powAfter = 0, powNext = 0] = [power[rest], power[rest - 1], power[rest - 2]];
    // What stands from here to the end, hashed by itself.
    const tail = (whole - Math.imul(head, powRest)) | 0;
    const shifted = Math.imul(head, multiplier);
    for (const put of ALPHABET) {
      visit((Math.imul((shifted + put) | 0, powRest) + tail) | 0);
      if (rest > 0) visit((whole + Math.imul(put - unit, powAfter)) | 0);
    }
    if (rest === 0) break;
    const afterUnit = (tail - Math.imul(unit, powAfter)) | 0;
    visit((Math.imul(head, powAfter) + afterUnit) | 0);
    if (rest > 1) visit((whole + Math.imul(text.charCodeAt(i + 1) - unit, (powAfter - powNext) | 0)) | 0);
    head = (shifted + unit) | 0;
  }
}

/** The look-alike of one code unit of a canonical number. */
export function foldUnit(unit: number): number {
  return unit === 0x4f ? 0x30 : unit === 0x49 ? 0x31 : unit;
}
