/**
 * A quick no to "may a known number begin here?": which first three characters known numbers have, look-alike letters and
 * separators taken away. Looks at a handful of characters and makes no string; errs on the side of yes.
 */

const BASE = 36;
const SKIP = 255;
const ODD = 254;
/** How many separators are passed over on the way to the third character. */
const MAX_SKIPPED = 8;

/** ASCII code units → 0–35 for letters and digits; O is 0, I and L are 1. */
const CLASSES = makeClasses();

function makeClasses(): Uint8Array {
  const classes = new Uint8Array(0x80).fill(SKIP);
  for (let unit = 0x30; unit <= 0x39; unit++) classes[unit] = unit - 0x30;
  for (let unit = 0x41; unit <= 0x5a; unit++) classes[unit] = classes[unit + 32] = unit - 0x41 + 10;
  for (const letter of "ILil") classes[letter.charCodeAt(0)] = 1;
  for (const letter of "Oo") classes[letter.charCodeAt(0)] = 0;
  return classes;
}

function classOf(unit: number): number {
  return unit < 0x80 ? (CLASSES[unit] ?? SKIP) : unit === 0xb7 ? SKIP : ODD;
}

/** First characters of known numbers. */
export class Beginnings {
  readonly #threes = new Uint8Array(BASE ** 3);
  readonly #twos = new Uint8Array(BASE ** 2);
  #always = false;
  #longest = 0;

  /** Length of the longest number. */
  get longest(): number {
    return this.#longest;
  }

  /** Adds a canonical number by its length and its first three code units. */
  add(length: number, first: number, second: number, third: number): void {
    const [a, b, c] = [classOf(first), classOf(second), classOf(third)];
    if (length > this.#longest) this.#longest = length;
    if (length === 1) this.#always = true;
    else if (length === 2) {
      if (a >= BASE || b >= BASE) return;
      this.#twos[a * BASE + b] = 1;
      this.#threes.fill(1, (a * BASE + b) * BASE, (a * BASE + b + 1) * BASE);
      // A letter beyond ASCII stands in the text too, and is never denied there.
    } else if (a < BASE && b < BASE && c < BASE) this.#threes[(a * BASE + b) * BASE + c] = 1;
  }

  /** False only where no known number surely begins at this place of a folded text. */
  mayBegin(text: string, at: number): boolean {
    if (this.#always) return true;
    let gram = 0;
    let count = 0;
    for (let i = at; i < text.length && i < at + 3 + MAX_SKIPPED; i++) {
      const each = classOf(text.charCodeAt(i));
      if (each === ODD) return true;
      if (each === SKIP) continue;
      gram = gram * BASE + each;
      if (++count === 3) return this.#threes[gram] === 1;
    }
    return count === 2 && this.#twos[gram] === 1;
  }
}
