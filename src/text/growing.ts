/** Lists of whole numbers that grow in place: four bytes (or one, or two) each instead of an object. */

/** The arrays that can grow. */
type Numbers = Uint8Array | Uint16Array | Uint32Array;

/** A list of numbers, added at its end. */
export class Growing<T extends Numbers> {
  #array: T;
  readonly #make: (length: number) => T;
  length = 0;

  /** @param make `(length) => new Uint32Array(length)`, or another of them */
  constructor(make: (length: number) => T) {
    this.#make = make;
    this.#array = make(64);
  }

  push(value: number): void {
    if (this.length === this.#array.length) {
      const wider = this.#make(this.length * 2);
      wider.set(this.#array);
      this.#array = wider;
    }
    this.#array[this.length++] = value;
  }

  /** The number at a place; 0 beyond the end. */
  at(place: number): number {
    return this.#array[place] ?? 0;
  }

  set(place: number, value: number): void {
    this.#array[place] = value;
  }

  /** What has been added. A view, not a copy: adding may leave it behind. */
  view(): T {
    return this.#array.subarray(0, this.length) as T;
  }
}

/** A list of numbers from 0 to 2³²−1. */
export function growing32(): Growing<Uint32Array> {
  return new Growing((length) => new Uint32Array(length));
}

/** A list of UTF-16 code units. */
export function growingUnits(): Growing<Uint16Array> {
  return new Growing((length) => new Uint16Array(length));
}
