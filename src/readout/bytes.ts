/**
 * From bytes to text and back, by hand: this folder knows no browser and no Node.
 *
 * Dumps arrive as UTF-8, as UTF-16 (text reports of some desktop systems) or as raw tables.
 */

/** Largest dump that is read, in bytes or UTF-16 code units (8 Mi). Larger ones are refused with a sentence. */
export const MAX_DUMP = 8 * 1024 * 1024;

/** Text with the encoding it was found in. */
export interface DecodedText {
  readonly text: string;
  readonly encoding: "utf-8" | "utf-16le" | "utf-16be" | "latin-1";
}

/** Byte `at`, or 0 past the end: callers check lengths where it matters. */
export function byteAt(bytes: Uint8Array, at: number): number {
  return bytes[at] ?? 0;
}

/** Little-endian 16-bit word. */
export function wordAt(bytes: Uint8Array, at: number): number {
  return byteAt(bytes, at) | (byteAt(bytes, at + 1) << 8);
}

/** Little-endian 32-bit word, unsigned. */
export function dwordAt(bytes: Uint8Array, at: number): number {
  return (wordAt(bytes, at) | (wordAt(bytes, at + 2) << 16)) >>> 0;
}

/** Sum of `length` bytes modulo 256: zero for a block that carries its own checksum. */
export function checksum(bytes: Uint8Array, start: number, length: number): number {
  let sum = 0;
  for (let i = start; i < start + length; i++) sum = (sum + byteAt(bytes, i)) & 0xff;
  return sum;
}

/** True when the bytes hold the given 7-bit text at `at`. */
export function holdsText(bytes: Uint8Array, at: number, text: string): boolean {
  if (at + text.length > bytes.length) return false;
  for (let i = 0; i < text.length; i++) if (bytes[at + i] !== text.charCodeAt(i)) return false;
  return true;
}

/** Decodes a dump's text: byte order marks first, then zero bytes in one parity, then UTF-8, else Latin-1. */
export function decodeText(bytes: Uint8Array): DecodedText {
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return { text: utf16(bytes, 2, 0), encoding: "utf-16le" };
  if (bytes[0] === 0xfe && bytes[1] === 0xff) return { text: utf16(bytes, 2, 1), encoding: "utf-16be" };
  const parity = zeroParity(bytes);
  if (parity === 1) return { text: utf16(bytes, 0, 0), encoding: "utf-16le" };
  if (parity === 0) return { text: utf16(bytes, 0, 1), encoding: "utf-16be" };
  const start = bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf ? 3 : 0;
  const text = utf8(bytes, start);
  return text === null ? { text: latin1(bytes, start), encoding: "latin-1" } : { text, encoding: "utf-8" };
}

/** True when the first bytes look like text rather than a table: hardly any control bytes. */
export function looksLikeText(bytes: Uint8Array): boolean {
  if ((bytes[0] === 0xff && bytes[1] === 0xfe) || (bytes[0] === 0xfe && bytes[1] === 0xff)) return true;
  if (zeroParity(bytes) !== null) return true;
  const end = Math.min(bytes.length, 4096);
  let odd = 0;
  for (let i = 0; i < end; i++) {
    const byte = byteAt(bytes, i);
    if (byte < 0x20 && byte !== 9 && byte !== 10 && byte !== 12 && byte !== 13) odd++;
  }
  return odd * 50 <= end;
}

/** 1 where nearly every odd byte is zero and no even one (little-endian text), 0 the other way round, else null. */
function zeroParity(bytes: Uint8Array): 0 | 1 | null {
  const pairs = Math.min(bytes.length >> 1, 1024);
  if (pairs < 4) return null;
  let even = 0;
  let odd = 0;
  let control = 0;
  for (let i = 0; i < pairs; i++) {
    const [first, second] = [byteAt(bytes, 2 * i), byteAt(bytes, 2 * i + 1)];
    if (first === 0) even++;
    if (second === 0) odd++;
    const unit = first === 0 ? second : first;
    if (unit < 0x20 && unit !== 9 && unit !== 10 && unit !== 13) control++;
  }
  if (control * 20 > pairs) return null;
  if (odd * 10 >= pairs * 7 && even === 0) return 1;
  if (even * 10 >= pairs * 7 && odd === 0) return 0;
  return null;
}

function utf16(bytes: Uint8Array, start: number, highFirst: 0 | 1): string {
  const build = new TextBuilder();
  for (let i = start; i + 1 < bytes.length; i += 2) {
    const [a, b] = [byteAt(bytes, i), byteAt(bytes, i + 1)];
    build.add(highFirst ? (a << 8) | b : (b << 8) | a);
  }
  return build.text();
}

function latin1(bytes: Uint8Array, start: number): string {
  const build = new TextBuilder();
  for (let i = start; i < bytes.length; i++) build.add(byteAt(bytes, i));
  return build.text();
}

/** UTF-8 by hand (RFC 3629: no overlong forms, no surrogates, nothing above U+10FFFF); null when it is not UTF-8. */
function utf8(bytes: Uint8Array, start: number): string | null {
  const build = new TextBuilder();
  for (let i = start; i < bytes.length; ) {
    const first = byteAt(bytes, i);
    if (first < 0x80) {
      build.add(first);
      i++;
      continue;
    }
    const extra = first >= 0xf0 && first < 0xf5 ? 3 : first >= 0xe0 ? 2 : first >= 0xc2 ? 1 : 0;
    if (extra === 0 || first >= 0xf5) return null;
    let point = first & (0x3f >> extra);
    for (let k = 1; k <= extra; k++) {
      const next = byteAt(bytes, i + k);
      if ((next & 0xc0) !== 0x80) return null;
      point = (point << 6) | (next & 0x3f);
    }
    const least = [0, 0x80, 0x800, 0x10000][extra] ?? 0;
    if (point < least || point > 0x10ffff || (point >= 0xd800 && point < 0xe000)) return null;
    build.addPoint(point);
    i += extra + 1;
  }
  return build.text();
}

/** Collects code units in slices, so that a long text is not built one character at a time. */
class TextBuilder {
  readonly #slices: string[] = [];
  #units: number[] = [];

  add(unit: number): void {
    this.#units.push(unit);
    if (this.#units.length >= 8192) this.#flush();
  }

  addPoint(point: number): void {
    if (point < 0x10000) this.add(point);
    else {
      this.add(0xd800 + ((point - 0x10000) >> 10));
      this.add(0xdc00 + ((point - 0x10000) & 0x3ff));
    }
  }

  text(): string {
    this.#flush();
    return this.#slices.join("");
  }

  #flush(): void {
    this.#slices.push(String.fromCharCode(...this.#units));
    this.#units = [];
  }
}
