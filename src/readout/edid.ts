/**
 * Display identification blocks: VESA E-EDID, structure versions 1.0 to 1.4 (128-byte base block).
 *
 * Only what the base block states is read: maker letters, product code, date, size, first detailed timing and
 * the text descriptors. A block whose checksum does not hold yields nothing but a sentence.
 */
import { byteAt, checksum, dwordAt, wordAt } from "./bytes.ts";
import { type Sentence, sentence } from "./facts.ts";

/** Bytes of one block, base or extension. */
export const EDID_BLOCK = 128;
const HEADER = [0x00, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0x00];
/** Most displays read from one dump. */
const MAX_DISPLAYS = 64;

/** The first detailed timing: for a panel, what it is built to show. */
export interface DetailedTiming {
  readonly width_px: number;
  readonly height_px: number;
  readonly refresh_Hz: number | null;
  /** Size of the picture in millimetres, where stated. */
  readonly size_mm: readonly [number, number] | null;
}

/** One display as its base block describes it. */
export interface DisplayBlock {
  /** Structure version, such as `1.4`. */
  readonly version: string;
  /** Three letters as packed; codes that are no letters show as `@`, `[`, `\\`, `]`, `^` or `_`. */
  readonly maker: string;
  readonly productCode: number;
  readonly serial: number;
  /** Week of manufacture as stated (makers count weeks differently, some state nonsense), or null. */
  readonly week: number | null;
  /** Year of manufacture, or null where only a model year is stated. */
  readonly year: number | null;
  readonly modelYear: number | null;
  readonly size_cm: readonly [number, number] | null;
  readonly timing: DetailedTiming | null;
  /** Free texts (descriptor FE), in order: in built-in panels usually maker and part text. */
  readonly texts: readonly string[];
  /** Further pieces of free texts after a byte that is no text: some panels put their part number there. */
  readonly pieces: readonly string[];
  /** Product name (descriptor FC). */
  readonly name: string | null;
  /** Serial text (descriptor FF). */
  readonly serialText: string | null;
  readonly digital: boolean;
  /** How many extension blocks the base block announces. */
  readonly extensions: number;
  /** Byte where the base block starts. */
  readonly offset: number;
}

/** What {@link readDisplays} found. */
export interface DisplaysRead {
  readonly displays: readonly DisplayBlock[];
  readonly messages: readonly Sentence[];
}

/** True where the eight header bytes of a base block stand at `at`. */
export function isDisplayHeader(bytes: Uint8Array, at: number): boolean {
  return at + HEADER.length <= bytes.length && HEADER.every((byte, i) => bytes[at + i] === byte);
}

/** Finds and reads every base block among the bytes; several displays may follow one another, with anything between. */
export function readDisplays(bytes: Uint8Array): DisplaysRead {
  const displays: DisplayBlock[] = [];
  const messages: Sentence[] = [];
  for (let at = bytes.indexOf(0xff) - 1; at < bytes.length && displays.length < MAX_DISPLAYS; ) {
    if (!isDisplayHeader(bytes, at)) {
      at = nextStart(bytes, at + 1);
      continue;
    }
    const found = readAt(bytes, at, displays.length + 1);
    messages.push(...found.messages);
    if (found.display) displays.push(found.display);
    at = nextStart(bytes, found.end);
  }
  return { displays, messages };
}

/** The next byte from `at` on that could start a header, or the end. */
function nextStart(bytes: Uint8Array, at: number): number {
  const zero = bytes.indexOf(0, Math.max(at, 0));
  return zero < 0 ? bytes.length : zero;
}

function readAt(
  bytes: Uint8Array,
  at: number,
  count: number,
): { display: DisplayBlock | null; messages: Sentence[]; end: number } {
  const messages: Sentence[] = [];
  const left = bytes.length - at;
  if (left < EDID_BLOCK) {
    messages.push(sentence("readout_edid_short", { display: count, bytes: left }));
    return { display: null, messages, end: bytes.length };
  }
  if (checksum(bytes, at, EDID_BLOCK) !== 0) {
    messages.push(sentence("readout_edid_checksum", { display: count }));
    return { display: null, messages, end: at + HEADER.length };
  }
  if (byteAt(bytes, at + 18) !== 1) {
    messages.push(sentence("readout_edid_version", { display: count, version: byteAt(bytes, at + 18) }));
    return { display: null, messages, end: at + EDID_BLOCK };
  }
  const display = readBase(bytes.subarray(at, at + EDID_BLOCK), at);
  let end = at + EDID_BLOCK;
  for (let i = 0; i < display.extensions; i++) {
    const whole = end + EDID_BLOCK <= bytes.length && !isDisplayHeader(bytes, end);
    if (!whole || checksum(bytes, end, EDID_BLOCK) !== 0) {
      messages.push(sentence("readout_edid_extension", { display: count }));
      break;
    }
    end += EDID_BLOCK;
  }
  return { display, messages, end };
}

function readBase(block: Uint8Array, offset: number): DisplayBlock {
  const texts: string[] = [];
  const pieces: string[] = [];
  let name: string | null = null;
  let serialText: string | null = null;
  for (const at of [54, 72, 90, 108]) {
    if (wordAt(block, at) !== 0) continue;
    const tag = byteAt(block, at + 3);
    const [text = "", ...more] = descriptorTexts(block, at);
    if (tag === 0xfe) {
      texts.push(text);
      pieces.push(...more);
    } else if (tag === 0xfc) name ??= text.trim();
    else if (tag === 0xff) serialText ??= text.trim();
  }
  const [width, height] = [byteAt(block, 21), byteAt(block, 22)];
  return {
    version: `1.${byteAt(block, 19)}`,
    maker: makerLetters(block),
    productCode: wordAt(block, 10),
    serial: dwordAt(block, 12),
    ...statedDate(byteAt(block, 16), byteAt(block, 17)),
    // One of the two zero: an aspect ratio (1.4) or a projector, not a size.
    size_cm: width > 0 && height > 0 ? [width, height] : null,
    timing: firstTiming(block),
    texts,
    pieces,
    name,
    serialText,
    digital: (byteAt(block, 20) & 0x80) !== 0,
    extensions: byteAt(block, 126),
    offset,
  };
}

/** Bytes 16 and 17: week (0 not given, 255 the year is a model year) and years since 1990. */
function statedDate(week: number, since: number): Pick<DisplayBlock, "week" | "year" | "modelYear"> {
  if (week === 0xff) return { week: null, year: null, modelYear: 1990 + since };
  return { week: week === 0 ? null : week, year: 1990 + since, modelYear: null };
}

/** Bytes 8 and 9, big-endian: three letters of five bits, A = 1. Bit 15 is reserved. */
function makerLetters(block: Uint8Array): string {
  const packed = (byteAt(block, 8) << 8) | byteAt(block, 9);
  return String.fromCharCode(...[packed >> 10, packed >> 5, packed].map((bits) => 64 + (bits & 31)));
}

/**
 * Text of a display descriptor: 13 bytes from byte 5, ended by a line feed, padded with spaces. It ends at the
 * first byte that is no printable text; what follows such a byte is given apart.
 */
function descriptorTexts(block: Uint8Array, at: number): string[] {
  const pieces = [""];
  for (let i = at + 5; i < at + 18; i++) {
    const byte = byteAt(block, i);
    if (byte === 0x0a) break;
    if (byte >= 0x20 && byte < 0x7f) pieces[pieces.length - 1] += String.fromCharCode(byte);
    else pieces.push("");
  }
  return pieces.map((piece) => piece.trimEnd()).filter((piece, i) => i === 0 || piece !== "");
}

/** The detailed timing in the first descriptor, where there is one. */
function firstTiming(block: Uint8Array): DetailedTiming | null {
  const at = 54;
  const clock = wordAt(block, at);
  if (clock === 0) return null;
  const width = byteAt(block, at + 2) | ((byteAt(block, at + 4) & 0xf0) << 4);
  const widthBlank = byteAt(block, at + 3) | ((byteAt(block, at + 4) & 0x0f) << 8);
  const lines = byteAt(block, at + 5) | ((byteAt(block, at + 7) & 0xf0) << 4);
  const linesBlank = byteAt(block, at + 6) | ((byteAt(block, at + 7) & 0x0f) << 8);
  const interlaced = (byteAt(block, at + 17) & 0x80) !== 0;
  const millimetres: [number, number] = [
    byteAt(block, at + 12) | ((byteAt(block, at + 14) & 0xf0) << 4),
    byteAt(block, at + 13) | ((byteAt(block, at + 14) & 0x0f) << 8),
  ];
  if (width === 0 || lines === 0) return null;
  const perPicture = (width + widthBlank) * (lines + linesBlank);
  return {
    width_px: width,
    height_px: interlaced ? lines * 2 : lines,
    refresh_Hz: perPicture > 0 ? (clock * 10_000) / perPicture : null,
    size_mm: millimetres[0] > 0 && millimetres[1] > 0 ? millimetres : null,
  };
}
