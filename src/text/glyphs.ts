/**
 * A text as glyphs: each character with its marks folded to what is drawn (Unicode NFKC, dashes, spaces and quotes
 * unified, invisible characters dropped), and what kind of character each folded unit is.
 */
import { LOOK_ALIKES } from "./look-alikes.ts";

/** What a folded unit is, for the passes over words and directions. */
export const Kind = {
  other: 0,
  space: 1,
  ascii: 2,
  lookAlike: 3,
  plainLetter: 4,
  oddLetter: 5,
  rightToLeft: 6,
} as const;
export type Kind = (typeof Kind)[keyof typeof Kind];

/** How much of a pile of marks on one character is looked at, in code units; the rest is dropped like the pile. */
const MAX_MARK_UNITS = 8;
/** A character that folds to more units than this (an Arabic phrase in one sign) stays as it is. */
const MAX_FOLDED_UNITS = 8;

const SPACES = /[\p{Zs}\t\v\f\u3164\uffa0\u115f\u1160\u2800]/u;
const NEW_LINES = /[\r\n\u0085\u2028\u2029]/;
const DASHES = /[\p{Pd}\u2212\u2043\u02d7\u2796]/u;
const INVISIBLE = /[\p{Default_Ignorable_Code_Point}\p{Cc}\ufff9-\ufffb]/u;
const SINGLE_QUOTES = /[\u2018-\u201b\u2032\u2035\u02b9\u02bc\u02c8\u00b4\u0060\uff40]/;
const DOUBLE_QUOTES = /[\u201c-\u201f\u2033\u2036\u02ba\u3003\u00ab\u00bb]/;
const SLASHES = /[\u2044\u2215\u2571\u29f8]/;
const DOTS = /[\u00b7\u2022\u2027\u30fb\uff65\u2219\u22c5]/;
const MARKS_OF_TRADE = /[\u2122\u00ae\u00a9\u2120]/;
/** Characters drawn raised, lowered, circled or bracketed: read as their letters and digits, but doubted. */
const RAISED =
  /[\u00b2\u00b3\u00b9\u2070-\u209c\u2460-\u24ff\u2776-\u2793\u3200-\u32ff\u{1f100}-\u{1f12b}\u{1f130}-\u{1f189}]/u;
const FRACTION = /[\u00bc-\u00be\u2150-\u215f\u2189]/;
const MARK = /\p{M}/u;
/** The box drawn around a digit of a telephone keypad; the digit stays readable. */
const KEYCAP = "\u20e3";
const LETTER_OR_NUMBER = /[\p{L}\p{N}]/u;
/** Letters that nobody takes for a plain Latin letter or digit, so that they may be glued to a part number. */
const PLAIN_LETTER =
  /[\u00c0-\u0130\u0132-\u017f\u0200-\u021b\u1e00-\u1e9b\u1ea0-\u1efe\u03bc\u03a9\p{Script=Han}\p{Script=Hiragana}\p{Script=Katakana}\p{Script=Hangul}\p{Script=Thai}\p{Script=Devanagari}]/u;
const RIGHT_TO_LEFT = /[\u0590-\u08ff\ufb1d-\ufdff\ufe70-\ufefc\u{10800}-\u{10fff}\u{1e800}-\u{1efff}]/u;
/** Direction controls of Unicode Standard Annex 9. */
export const Direction = {
  rightToLeftMark: 0x200f,
  arabicLetterMark: 0x061c,
  leftEmbedding: 0x202a,
  rightEmbedding: 0x202b,
  endOfEmbedding: 0x202c,
  leftOverride: 0x202d,
  rightOverride: 0x202e,
  leftIsolate: 0x2066,
  rightIsolate: 0x2067,
  firstStrongIsolate: 0x2068,
  endOfIsolate: 0x2069,
} as const;
const DIRECTIONS: ReadonlySet<number> = new Set(Object.values(Direction));
/** A direction control and the folded unit before which it stands. */
interface Control {
  readonly code: number;
  readonly at: number;
}

/** What one character (with its marks) becomes: units and their kinds. */
interface Folded {
  readonly units: readonly number[];
  readonly kinds: readonly Kind[];
  readonly doubtful: boolean;
}

/** Folded units while they are gathered. */
export class Glyphs {
  readonly units: number[] = [];
  readonly at: number[] = [];
  readonly until: number[] = [];
  readonly kinds: Kind[] = [];
  /** 1 for each unit that could not be folded safely. */
  readonly doubts: number[] = [];
  readonly controls: Control[] = [];
  /** Characters already folded in this text. */
  readonly known = new Map<string, Folded>();

  /** Lets the last unit end later in the original. */
  widen(to: number): void {
    this.until[this.until.length - 1] = to;
  }

  push(unit: number, kind: Kind, from: number, to: number): void {
    this.units.push(unit);
    this.kinds.push(kind);
    this.at.push(from);
    this.until.push(to);
    this.doubts.push(0);
  }

  doubt(start: number, end: number): void {
    this.doubts.fill(1, start, end);
  }
}

const SPACE = 0x20;

export function readGlyphs(original: string): Glyphs {
  const glyphs = new Glyphs();
  let i = 0;
  while (i < original.length) {
    const unit = original.charCodeAt(i);
    // A printable ASCII character that no mark follows is itself.
    if (unit > 0x20 && unit < 0x7f && unit !== 0x60 && !(original.charCodeAt(i + 1) >= 0x300)) {
      glyphs.push(unit, isAlphanumeric(unit) ? Kind.ascii : Kind.other, i, i + 1);
      i++;
    } else i = readCharacter(original, i, glyphs);
  }
  return glyphs;
}

/** Reads one code point with the marks that follow it; returns the index after them. */
function readCharacter(original: string, start: number, glyphs: Glyphs): number {
  const code = original.codePointAt(start) ?? 0;
  let end = start + (code > 0xffff ? 2 : 1);
  if (DIRECTIONS.has(code)) {
    glyphs.controls.push({ code, at: glyphs.units.length });
    return end;
  }
  const marksFrom = end;
  while (end < original.length && original.charCodeAt(end) >= 0x300) {
    const mark = original.codePointAt(end) ?? 0;
    if (!isMark(mark)) break;
    end += mark > 0xffff ? 2 : 1;
  }
  const cluster = original.slice(start, Math.min(end, marksFrom + MAX_MARK_UNITS));
  let folded = glyphs.known.get(cluster);
  if (folded === undefined) {
    folded = foldCluster(cluster);
    glyphs.known.set(cluster, folded);
  }
  const before = glyphs.units.length;
  for (const [i, unit] of folded.units.entries()) {
    // However wide a gap is drawn, it is one.
    if (unit === SPACE && glyphs.units.at(-1) === SPACE) glyphs.widen(end);
    else glyphs.push(unit, folded.kinds[i] ?? Kind.other, start, end);
  }
  // A mark that stands alone is drawn over the character before it.
  if (folded.doubtful) glyphs.doubt(folded.units.length > 0 ? before : Math.max(0, before - 1), glyphs.units.length);
  return end;
}

/** A combining mark, or a half-width form of one. */
function isMark(code: number): boolean {
  return code === 0xff9e || code === 0xff9f || MARK.test(String.fromCodePoint(code));
}

/** Folds one character with its marks. */
function foldCluster(cluster: string): Folded {
  const base = String.fromCodePoint(cluster.codePointAt(0) ?? 0);
  const marks = [...cluster.slice(base.length)].filter((mark) => mark !== KEYCAP && !INVISIBLE.test(mark)).join("");
  const simple = asPunctuation(base);
  if (simple !== null) return fold(simple, marks !== "");
  if (FRACTION.test(base) || LOOK_ALIKES.has(base.charCodeAt(0))) return fold(base + marks, marks !== "");
  const composed = (base + marks).normalize("NFKC");
  if (composed.length > MAX_FOLDED_UNITS) return fold(base, true);
  let doubtful = RAISED.test(base);
  let seen = "";
  for (const character of composed) {
    if (!MARK.test(character)) seen += asPunctuation(character) ?? character;
    else if (PLAIN_LETTER.test(base) || RIGHT_TO_LEFT.test(base)) seen += character;
    else doubtful = true;
  }
  return fold(seen, doubtful);
}

function fold(text: string, doubtful: boolean): Folded {
  const units: number[] = [];
  const kinds: Kind[] = [];
  for (const character of text) {
    const kind = kindOf(character);
    for (let i = 0; i < character.length; i++) {
      units.push(character.charCodeAt(i));
      kinds.push(kind);
    }
  }
  return { units, kinds, doubtful };
}

/** The ASCII that stands for a separator, quote, invisible or control character; `null` for all others. */
function asPunctuation(character: string): string | null {
  if (NEW_LINES.test(character)) return "\n";
  if (SPACES.test(character) || MARKS_OF_TRADE.test(character)) return " ";
  if (INVISIBLE.test(character)) return "";
  if (DASHES.test(character)) return "-";
  if (SINGLE_QUOTES.test(character)) return "'";
  if (DOUBLE_QUOTES.test(character)) return '"';
  if (SLASHES.test(character)) return "/";
  if (DOTS.test(character)) return "\u00b7";
  return character === "\u00d7" ? "x" : null;
}

function kindOf(character: string): Kind {
  const unit = character.charCodeAt(0);
  if (unit < 0x80) return isAlphanumeric(unit) ? Kind.ascii : unit === 0x20 || unit === 0x0a ? Kind.space : Kind.other;
  if (LOOK_ALIKES.has(unit)) return Kind.lookAlike;
  if (RIGHT_TO_LEFT.test(character)) return Kind.rightToLeft;
  if (PLAIN_LETTER.test(character) || MARK.test(character)) return Kind.plainLetter;
  return LETTER_OR_NUMBER.test(character) ? Kind.oddLetter : Kind.other;
}

/** First unit of the run without spaces that holds the unit before or at `at`. */
export function tokenStart(glyphs: Glyphs, at: number): number {
  let start = Math.max(0, at);
  while (start > 0 && glyphs.kinds[start - 1] !== Kind.space) start--;
  return start;
}

/** One after the last unit of the run without spaces that holds `at`. */
export function tokenEnd(glyphs: Glyphs, at: number): number {
  let end = Math.min(at, glyphs.units.length);
  while (end < glyphs.units.length && glyphs.kinds[end] !== Kind.space) end++;
  return end;
}

function isAlphanumeric(unit: number): boolean {
  return isDigit(unit) || (unit >= 0x41 && unit <= 0x5a) || (unit >= 0x61 && unit <= 0x7a);
}

export function isDigit(unit: number): boolean {
  return unit >= 0x30 && unit <= 0x39;
}
