/**
 * Tells in one pass over the characters that a text names none of a device's numbers, so that most listings of a page
 * are done with at once. It may say "perhaps" wrongly, never "no".
 *
 * A text is read as letters and digits only, look-alikes folded; each run of three characters is looked up in a table
 * that holds, for every number, its first three and its last three: a number with one wrong character keeps one.
 */
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

/** A sieve for a set of numbers. */
export class Sieve {
  readonly #table = new Uint8Array(SIZE);

  /** @param numbers canonical */
  constructor(numbers: Iterable<string>) {
    for (const number of numbers) this.#add(number);
  }

  #add(number: string): void {
    const classes = Array.from(number, (_, i) => CLASSES[number.charCodeAt(i)] ?? UNSURE);
    if (classes.some((each) => each >= BASE)) {
      this.#table.fill(1);
      return;
    }
    if (classes.length < 3) {
      const [a = 0, b = 0] = classes.length === 1 ? [0, ...classes] : classes;
      for (let first = 0; first < BASE; first++) {
        this.#table[(first * BASE + a) * BASE + b] = 1;
        this.#table[(a * BASE + b) * BASE + first] = 1;
      }
      if (classes.length === 1) this.#table.fill(1);
      return;
    }
    for (const start of new Set([0, classes.length - 3])) {
      const [a = 0, b = 0, c = 0] = classes.slice(start, start + 3);
      this.#table[(a * BASE + b) * BASE + c] = 1;
    }
  }

  /** False only where the text surely names none of the numbers. */
  mayName(text: string): boolean {
    let gram = 0;
    let length = 0;
    for (let i = 0; i < text.length; i++) {
      const unit = text.charCodeAt(i);
      const each = unit < CLASSES.length ? (CLASSES[unit] ?? UNSURE) : isMark(unit) ? SKIP : UNSURE;
      if (each < BASE) {
        gram = (gram * BASE + each) % SIZE;
        if (++length >= 3 && this.#table[gram] === 1) return true;
      } else if (each === UNSURE) return true;
      else if (each === STOP) length = 0;
    }
    return length === 2 && this.#table[gram % (BASE * BASE)] === 1;
  }
}

/** Dashes, quotes, bullets, the euro and trade-mark signs: they part words and hide nothing. */
function isMark(unit: number): boolean {
  return (unit >= 0x2010 && unit <= 0x2027) || unit === 0x20ac || unit === 0x2122;
}
