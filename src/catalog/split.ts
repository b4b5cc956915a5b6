/**
 * Where in the bytes of a catalog file each part, family and list entry stands, so that a big file need never be held
 * as objects. Only the frame is read here; what stands inside an element is left to whoever reads it.
 */

/** The lists of a catalog. */
export const listNames = ["families", "parts", "interchange", "supersession"] as const;
/** One of them. */
export type ListName = (typeof listNames)[number];

/** A catalog file taken apart. */
export interface SplitCatalog {
  /** For each list: where its elements start and end, in bytes, one after the other. */
  readonly lists: Readonly<Record<ListName, readonly number[]>>;
  /** The bytes outside the lists' elements: spans whose texts, put together, are a catalog with empty lists. */
  readonly frame: readonly (readonly [from: number, to: number])[];
}

const QUOTE = 0x22;
const BACKSLASH = 0x5c;
const COMMA = 0x2c;
const COLON = 0x3a;
const OPEN_ARRAY = 0x5b;
const CLOSE_ARRAY = 0x5d;
const OPEN_OBJECT = 0x7b;
const CLOSE_OBJECT = 0x7d;

/**
 * Takes a catalog file apart; one pass.
 *
 * @param bytes UTF-8
 * @returns `null` for anything that is not laid out as a catalog is: read it whole, then, and say what is wrong
 */
export function splitCatalog(bytes: Uint8Array): SplitCatalog | null {
  const lists: Partial<Record<ListName, number[]>> = {};
  const frame: [number, number][] = [];
  let at = spaceEnd(bytes, startsWithMark(bytes) ? 3 : 0);
  let frameStart = 0;
  if (bytes[at] !== OPEN_OBJECT) return null;
  at = spaceEnd(bytes, at + 1);
  while (bytes[at] === QUOTE) {
    const keyEnd = stringEnd(bytes, at);
    const name = listNames.find((each) => isName(bytes, at + 1, keyEnd - 1, each));
    at = spaceEnd(bytes, keyEnd);
    if (bytes[at] !== COLON) return null;
    at = spaceEnd(bytes, at + 1);
    if (name !== undefined) {
      if (bytes[at] !== OPEN_ARRAY || lists[name] !== undefined) return null;
      const elements = elementsFrom(bytes, at + 1);
      if (elements === null) return null;
      lists[name] = elements.spans;
      frame.push([frameStart, at + 1]);
      frameStart = elements.end;
      at = elements.end + 1;
    } else at = valueEnd(bytes, at);
    at = spaceEnd(bytes, at);
    if (bytes[at] !== COMMA) break;
    at = spaceEnd(bytes, at + 1);
  }
  if (bytes[at] !== CLOSE_OBJECT || spaceEnd(bytes, at + 1) !== bytes.length) return null;
  frame.push([frameStart, bytes.length]);
  const { families = [], parts = [], interchange = [], supersession = [] } = lists;
  return { lists: { families, parts, interchange, supersession }, frame };
}

/** Objects between commas up to the closing bracket, whose place is `end`. */
function elementsFrom(bytes: Uint8Array, from: number): { spans: number[]; end: number } | null {
  const spans: number[] = [];
  let at = spaceEnd(bytes, from);
  if (bytes[at] === CLOSE_ARRAY) return { spans, end: at };
  while (bytes[at] === OPEN_OBJECT) {
    const end = valueEnd(bytes, at);
    spans.push(at, end);
    at = spaceEnd(bytes, end);
    if (bytes[at] === CLOSE_ARRAY) return { spans, end: at };
    if (bytes[at] !== COMMA) return null;
    at = spaceEnd(bytes, at + 1);
  }
  return null;
}

/** Behind the value that starts at `from`: a string, a balanced bracket, or a word up to what ends one. */
function valueEnd(bytes: Uint8Array, from: number): number {
  let depth = 0;
  for (let at = from; at < bytes.length; at++) {
    const byte = bytes[at];
    if (byte === QUOTE) {
      at = stringEnd(bytes, at) - 1;
      if (depth === 0) return at + 1;
    } else if (byte === OPEN_ARRAY || byte === OPEN_OBJECT) depth++;
    else if (byte === CLOSE_ARRAY || byte === CLOSE_OBJECT) {
      if (depth === 0) return at;
      if (--depth === 0) return at + 1;
    } else if (depth === 0 && byte === COMMA) return at;
  }
  return bytes.length;
}

/** Behind the closing quote of the string that starts at `from`. */
function stringEnd(bytes: Uint8Array, from: number): number {
  for (let at = from + 1; at < bytes.length; at++) {
    if (bytes[at] === BACKSLASH) at++;
    else if (bytes[at] === QUOTE) return at + 1;
  }
  return bytes.length;
}

function spaceEnd(bytes: Uint8Array, from: number): number {
  let at = from;
  while (bytes[at] === 0x20 || bytes[at] === 0x0a || bytes[at] === 0x0d || bytes[at] === 0x09) at++;
  return at;
}

function startsWithMark(bytes: Uint8Array): boolean {
  return bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf;
}

/** True where the bytes spell the name. One written with escapes is not told, and then the frame does not fit. */
function isName(bytes: Uint8Array, from: number, to: number, name: string): boolean {
  if (to - from !== name.length) return false;
  for (let i = 0; i < name.length; i++) if (bytes[from + i] !== name.charCodeAt(i)) return false;
  return true;
}
