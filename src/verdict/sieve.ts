/**
 * Tells in one pass over the characters that a text names none of a device's numbers, so that most listings are done with
 * at once; and, for many devices together, which of them it may name. It may say "perhaps" wrongly, never "no".
 *
 * A text is read as letters and digits only, look-alikes folded; each run of three characters is looked up. A part number
 * with one wrong character keeps its first three or its last three; a model or a board is named only where both stand.
 */
import type { Listing } from "../formats/listing.ts";
import { foldVisible } from "../text/fold.ts";

/** What texts may name of one device. */
export interface Needles {
  /** Numbers that count when they are nearly right, canonical. */
  readonly near: Iterable<string>;
  /** Numbers that count only when they are right, canonical. */
  readonly exact: Iterable<string>;
  /** The maker's name; beside it, numbers made like those of the device's parts count. */
  readonly maker: string;
}

const BASE = 36;
const SIZE = BASE ** 3;
const SKIP = 255;
const STOP = 254;
const UNSURE = 253;

/** Code units → 0–35 for letters and digits, or what else they mean. */
const CLASSES = makeClasses();

function makeClasses(): Uint8Array {
  const classes = new Uint8Array(0x250).fill(SKIP);
  for (let unit = 0x30; unit <= 0x39; unit++) classes[unit] = unit - 0x30;
  for (let unit = 0x41; unit <= 0x5a; unit++) classes[unit] = classes[unit + 32] = unit - 0x41 + 10;
  for (const letter of "ILil") classes[letter.charCodeAt(0)] = 1;
  for (const letter of "Oo") classes[letter.charCodeAt(0)] = 0;
  for (let unit = 0xc0; unit < 0x250; unit++) classes[unit] = STOP;
  // Letters and digits drawn raised, and characters that fold to letters.
  for (const unit of [0xaa, 0xb2, 0xb3, 0xb9, 0xba, 0xad, 0xb5]) classes[unit] = UNSURE;
  return classes;
}

function classOf(unit: number): number {
  return unit < CLASSES.length ? (CLASSES[unit] ?? UNSURE) : isMark(unit) ? SKIP : UNSURE;
}

/** Dashes, quotes, bullets, the euro and trade-mark signs: they part words and hide nothing. */
function isMark(unit: number): boolean {
  return (unit >= 0x2010 && unit <= 0x2027) || unit === 0x20ac || unit === 0x2122;
}

/** A place of the gram table: what a run of three characters is of the numbers that hold it. */
type Role = "near" | "first" | "last";

/** The runs that stand for a number; null where any text may name it. */
function gramsOf(number: string): { first: number; last: number } | null {
  const classes = Array.from(number, (_, i) => CLASSES[number.charCodeAt(i)] ?? UNSURE);
  if (classes.length < 3 || classes.some((each) => each >= BASE)) return null;
  const gram = (start: number): number => {
    const [a = 0, b = 0, c = 0] = classes.slice(start, start + 3);
    return (a * BASE + b) * BASE + c;
  };
  return { first: gram(0), last: gram(classes.length - 3) };
}

/** Adds the runs of a device; returns false where any text may name it. */
function addNeedles({ near, exact }: Needles, add: (gram: number, role: Role) => void): boolean {
  for (const number of near) {
    const grams = gramsOf(number);
    if (grams === null) return false;
    add(grams.first, "near");
    add(grams.last, "near");
  }
  for (const number of exact) {
    const grams = gramsOf(number);
    if (grams === null) return false;
    add(grams.first, "first");
    add(grams.last, "last");
  }
  return true;
}

/**
 * Goes through the runs of a text; ends early where `take` says so. A text with characters of which it is not sure is
 * gone through anew as a person sees it.
 *
 * @returns true where a letter or digit may be anything even then
 */
function eachGram(text: string, take: (gram: number) => boolean): boolean {
  return goThrough(text, classOf, take) && goThrough(foldVisible(text).text, classOfSeen, take);
}

/** @returns true where a character may be anything */
function goThrough(text: string, classify: (unit: number) => number, take: (gram: number) => boolean): boolean {
  let gram = 0;
  let length = 0;
  for (let i = 0; i < text.length; i++) {
    const each = classify(text.charCodeAt(i));
    if (each < BASE) {
      gram = (gram * BASE + each) % SIZE;
      if (++length >= 3 && take(gram)) return false;
    } else if (each === UNSURE) return true;
    else if (each === STOP) length = 0;
  }
  return false;
}

/** Of a folded text only letters and digits of other scripts are left unsure; pictures and signs hide nothing. */
function classOfSeen(unit: number): number {
  const each = classOf(unit);
  return each === UNSURE && !/[\p{L}\p{N}]/u.test(String.fromCharCode(unit)) ? SKIP : each;
}

/** Roles as bits of one device's table. */
const BIT: Readonly<Record<Role, number>> = { near: 1, first: 2, last: 4 };

/** A sieve for one device. */
export class Sieve {
  readonly #needles: Needles;
  readonly #maker: RegExp | null;
  /** Made when first needed: a shop has a thousand devices, and one sieve for them all. */
  #table: Uint8Array | "anything" | null = null;

  constructor(needles: Needles) {
    this.#needles = needles;
    this.#maker = makerPattern(needles.maker);
  }

  /** False only where the listing surely names nothing of the device. */
  mayConcern(listing: Listing): boolean {
    if (this.mayName(listing.title) || this.#maker?.test(listing.title)) return true;
    if (listing.description !== undefined && this.mayName(listing.description)) return true;
    for (const value of Object.values(listing.specifics ?? {})) if (this.mayName(value)) return true;
    return false;
  }

  /** False only where the text surely names none of the numbers. */
  mayName(text: string): boolean {
    this.#table ??= tableOf(this.#needles);
    const table = this.#table;
    if (table === "anything") return true;
    let begun = false;
    let found = false;
    const unsure = eachGram(text, (gram) => {
      const bits = table[gram] ?? 0;
      if ((bits & BIT.first) > 0) begun = true;
      found = (bits & BIT.near) > 0 || (begun && (bits & BIT.last) > 0);
      return found;
    });
    return found || unsure;
  }
}

function tableOf(needles: Needles): Uint8Array | "anything" {
  const table = new Uint8Array(SIZE);
  const add = (gram: number, role: Role): void => {
    table[gram] = (table[gram] ?? 0) | BIT[role];
  };
  return addNeedles(needles, add) ? table : "anything";
}

function makerPattern(name: string): RegExp | null {
  const plain = name.trim();
  if (plain.length < 4 || plain.length > 40) return null;
  const words = plain.split(/\s+/).map((word) => word.replace(/[^\p{L}\p{N}]/gu, "\\$&"));
  return new RegExp(words.join("\\s+"), "i");
}

/** One sieve for many devices: finds those that a listing may concern at the cost of one. */
export class SharedSieve {
  readonly #places: Readonly<Record<Role, Map<number, number[]>>> = {
    near: new Map(),
    first: new Map(),
    last: new Map(),
  };
  readonly #anything: number[] = [];
  readonly #makers = new Map<string, { readonly pattern: RegExp; readonly places: number[] }>();
  readonly #count: number;

  /** @param devices what each is to be found by; a device is known by its place here */
  constructor(devices: readonly Needles[]) {
    this.#count = devices.length;
    for (const [place, needles] of devices.entries()) {
      const sure = addNeedles(needles, (gram, role) => push(this.#places[role], gram, place));
      if (!sure) this.#anything.push(place);
      const pattern = makerPattern(needles.maker);
      if (pattern === null) continue;
      const known = this.#makers.get(pattern.source);
      if (known === undefined) this.#makers.set(pattern.source, { pattern, places: [place] });
      else known.places.push(place);
    }
  }

  /** Places of the devices that the listing may concern, in order; the others it surely does not. */
  find(listing: Listing): number[] {
    const found = new Set(this.#anything);
    const texts = [listing.title, ...Object.values(listing.specifics ?? {}), listing.description ?? ""];
    for (const text of texts) if (!this.#findIn(text, found)) return Array.from({ length: this.#count }, (_, i) => i);
    for (const { pattern, places } of this.#makers.values()) {
      if (pattern.test(listing.title)) for (const place of places) found.add(place);
    }
    return [...found].sort((a, b) => a - b);
  }

  /** @returns false where the text may name anything */
  #findIn(text: string, found: Set<number>): boolean {
    const begun = new Set<number>();
    const unsure = eachGram(text, (gram) => {
      for (const place of this.#places.near.get(gram) ?? NOWHERE) found.add(place);
      for (const place of this.#places.first.get(gram) ?? NOWHERE) begun.add(place);
      for (const place of this.#places.last.get(gram) ?? NOWHERE) if (begun.has(place)) found.add(place);
      return false;
    });
    return !unsure;
  }
}

const NOWHERE: readonly number[] = [];

function push(into: Map<number, number[]>, gram: number, place: number): void {
  const list = into.get(gram);
  if (list === undefined) into.set(gram, [place]);
  else if (list.at(-1) !== place) list.push(place);
}
