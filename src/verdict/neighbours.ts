/** Which of some numbers are one character apart from a given one, look-alike letters taken for each other. */
import { canonicalNumber, lookalikeKey, oneCharacterApart } from "../text/part-number.ts";

/** How many characters at each end are looked up; one wrong character leaves one of the two ends whole. */
const END = 2;
/** Shortest number that has neighbours: of shorter ones everything is one. */
const SHORTEST = 2;

/** Numbers by their two ends. */
export class Neighbours {
  readonly #byStart = new Map<string, string[]>();
  readonly #byEnd = new Map<string, string[]>();
  /** Numbers so short that one wrong character may touch both ends. */
  readonly #short: string[] = [];

  /** @param numbers canonical */
  constructor(numbers: Iterable<string>) {
    for (const number of new Set(numbers)) {
      if (number.length < SHORTEST) continue;
      const key = lookalikeKey(number);
      if (number.length <= END * 2) this.#short.push(number);
      push(this.#byStart, key.slice(0, END), number);
      push(this.#byEnd, key.slice(-END), number);
    }
  }

  /**
   * The numbers one character apart, in order; empty for very short ones.
   *
   * @param written as the text has it: a small l is drawn like 1
   */
  of(written: string): readonly string[] {
    const key = lookalikeKey(written);
    if (key.length < SHORTEST || key.length > LONGEST) return NONE;
    const canonical = canonicalNumber(written);
    const found = new Set<string>();
    const short = key.length <= END * 2 + 1 ? this.#short : NONE;
    for (const list of [short, this.#byStart.get(key.slice(0, END)), this.#byEnd.get(key.slice(-END))]) {
      for (const number of list ?? NONE) {
        if (oneCharacterApart(number, canonical) || oneCharacterApart(lookalikeKey(number), key)) found.add(number);
      }
    }
    return [...found].sort();
  }
}

/** Longest number that is compared; the formats allow 80 printed characters. */
const LONGEST = 80;
const NONE: readonly string[] = [];

function push(into: Map<string, string[]>, key: string, number: string): void {
  const list = into.get(key);
  if (list === undefined) into.set(key, [number]);
  else list.push(number);
}
