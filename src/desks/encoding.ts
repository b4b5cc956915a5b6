/** Which character encoding a list is in, told from its first bytes. The decoding itself is the platform's. */

/** Encodings told apart here, by their names in the WHATWG Encoding Standard. */
export type ListEncoding = "utf-8" | "utf-16le" | "utf-16be" | "windows-1252" | "windows-1250";

/** How many bytes are looked at. */
export const ENCODING_HEAD_BYTES = 64 * 1024;

/** Polish letters of windows-1250. Under windows-1252 some are Western letters as well (ê, ñ, æ, œ). */
const POLISH = new Set([0xb3, 0xb9, 0xbf, 0x9c, 0x9f, 0xe6, 0xea, 0xf1, 0xf3, 0xa3, 0xa5, 0xaf, 0x8c, 0x8f, 0xd3]);
/** Of these, the ones that inside a word are nothing but Polish: ł ą ź, and ż after a letter (¿ stands before one). */
const BETWEEN_LETTERS = new Set([0xb3, 0xb9, 0x9f]);
const AFTER_LETTER = 0xbf;

/**
 * Tells the encoding: a byte order mark decides; else zero bytes at odd or even places mean UTF-16, valid UTF-8 is
 * UTF-8, and anything else is an 8-bit code page of Windows, the Polish one where its letters stand inside words.
 *
 * @param head the first bytes of the list, {@link ENCODING_HEAD_BYTES} or fewer
 * @param whole true when `head` is the whole list, so that a character cut off at its end is a fault
 */
export function tellEncoding(head: Uint8Array, whole: boolean): ListEncoding {
  if (head[0] === 0xef && head[1] === 0xbb && head[2] === 0xbf) return "utf-8";
  if (head[0] === 0xff && head[1] === 0xfe) return "utf-16le";
  if (head[0] === 0xfe && head[1] === 0xff) return "utf-16be";
  const zeros = [0, 0];
  for (const [i, byte] of head.entries()) if (byte === 0) zeros[i & 1] = (zeros[i & 1] ?? 0) + 1;
  const [even = 0, odd = 0] = zeros;
  if (odd > head.length / 8 && odd > even * 4) return "utf-16le";
  if (even > head.length / 8 && even > odd * 4) return "utf-16be";
  if (isUtf8(head, whole)) return "utf-8";
  return looksPolish(head) ? "windows-1250" : "windows-1252";
}

/** True when every sequence is valid UTF-8 (RFC 3629); one cut off at the end counts as a fault only if `whole`. */
function isUtf8(bytes: Uint8Array, whole: boolean): boolean {
  for (let i = 0; i < bytes.length; ) {
    const lead = bytes[i] ?? 0;
    const length =
      lead < 0x80 ? 1 : lead >= 0xc2 && lead < 0xe0 ? 2 : lead >= 0xe0 && lead < 0xf0 ? 3 : lead < 0xf5 ? 4 : 0;
    if (length === 0 || (lead >= 0x80 && lead < 0xc2)) return false;
    for (let k = 1; k < length; k++) {
      const byte = bytes[i + k];
      if (byte === undefined) return !whole;
      if (byte < secondLeast(lead, k) || byte > secondMost(lead, k)) return false;
    }
    i += length;
  }
  return true;
}

/** Lowest continuation byte: shuts out overlong forms. */
function secondLeast(lead: number, place: number): number {
  if (place !== 1) return 0x80;
  return lead === 0xe0 ? 0xa0 : lead === 0xf0 ? 0x90 : 0x80;
}

/** Highest continuation byte: shuts out surrogates and what lies beyond Unicode. */
function secondMost(lead: number, place: number): number {
  if (place !== 1) return 0xbf;
  return lead === 0xed ? 0x9f : lead === 0xf4 ? 0x8f : 0xbf;
}

/** True when letters that only Polish has stand inside words, and no others than Polish ones prevail. */
function looksPolish(bytes: Uint8Array): boolean {
  let decisive = 0;
  let polish = 0;
  let other = 0;
  for (const [i, byte] of bytes.entries()) {
    if (byte < 0x80) continue;
    if (POLISH.has(byte)) polish++;
    else other++;
    const after = isLetter(bytes[i - 1]);
    if (after && (byte === AFTER_LETTER || (BETWEEN_LETTERS.has(byte) && isLetter(bytes[i + 1])))) decisive++;
  }
  return decisive > 0 && polish > other;
}

function isLetter(byte: number | undefined): boolean {
  if (byte === undefined) return false;
  const lower = byte | 0x20;
  return (lower >= 0x61 && lower <= 0x7a) || POLISH.has(byte);
}
