/** Open addressing in typed arrays: which entry lies under a hash. One byte of the hash beside it ends most misses. */

/** A table with a power of two of slots, at most two thirds of them filled. */
export class Slots {
  readonly slots: Uint32Array;
  readonly tags: Uint8Array;
  /** How far the farthest entry lies from its slot. */
  farthest = 0;

  /** @param slots all free where `tags` are 0; as long as `tags`, a power of two */
  constructor(slots: Uint32Array, tags: Uint8Array) {
    this.slots = slots;
    this.tags = tags;
  }

  static ofCapacity(capacity: number): Slots {
    return new Slots(new Uint32Array(capacity), new Uint8Array(capacity));
  }

  /** @param spread from {@link mix} */
  add(spread: number, entry: number): void {
    const mask = this.slots.length - 1;
    let probe = 0;
    while (this.tags[(spread + probe) & mask] !== 0) probe++;
    this.slots[(spread + probe) & mask] = entry;
    this.tags[(spread + probe) & mask] = tagOf(spread);
    this.farthest = Math.max(this.farthest, probe);
  }

  /** The first entry under a hash that `is` accepts, or -1. */
  find(spread: number, is: (entry: number) => boolean): number {
    const mask = this.slots.length - 1;
    const tag = tagOf(spread);
    for (let probe = 0; probe <= mask; probe++) {
      const at = (spread + probe) & mask;
      if (this.tags[at] === 0) return -1;
      const entry = this.slots[at] ?? 0;
      if (this.tags[at] === tag && is(entry)) return entry;
    }
    return -1;
  }
}

/** Slots for so many entries: a power of two, at least half as many again. */
export function capacityFor(entries: number): number {
  let capacity = 4;
  while (capacity < entries * 1.5) capacity *= 2;
  return capacity;
}

/** Polynomial hash of a string modulo 2³²: Σ unitᵢ · multiplier^(n−1−i). */
export function hashOf(text: string, multiplier: number): number {
  let hash = 0;
  for (let i = 0; i < text.length; i++) hash = (Math.imul(hash, multiplier) + text.charCodeAt(i)) | 0;
  return hash;
}

/** Spreads a polynomial hash over all 32 bits (the finaliser of MurmurHash3, in the public domain). */
export function mix(hash: number): number {
  let h = hash;
  h = Math.imul(h ^ (h >>> 16), 0x85ebca6b);
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35);
  return (h ^ (h >>> 16)) >>> 0;
}

/** One byte of a spread hash, never 0 (an empty slot). */
export function tagOf(spread: number): number {
  return spread >>> 24 || 1;
}
