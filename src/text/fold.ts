/**
 * What a person sees decides: listing text folded to what the page shows, with every offset kept.
 *
 *   original ─ code point by code point ─▶ Glyphs (width folded, invisible dropped, dashes, spaces, quotes unified)
 *            ─ per word ─────────────────▶ look-alike letters of other scripts become Latin, mixed words are doubted
 *            ─ per direction control ────▶ forced right-to-left stretches turned into the order the eye reads
 *
 * Width folding is Unicode NFKC, applied a character (with its combining marks) at a time; look-alikes are those of
 * Unicode Technical Standard 39; direction controls are those of Unicode Standard Annex 9. What cannot be folded with
 * certainty is listed as `doubtful`: it may be read, but must not support a verdict. Linear time; never throws.
 */
import { LOOK_ALIKES } from "./look-alikes.ts";

/** A text as a person sees it, and where each of its units stands in the original. */
export interface FoldedText {
  readonly text: string;
  /** For each folded unit the UTF-16 index in the original where it starts; then one more: the original's length. */
  readonly at: ArrayLike<number>;
  /** For each folded unit the UTF-16 index in the original where it ends. */
  readonly until: ArrayLike<number>;
  /** Half-open ranges of `text` that could not be folded safely, in order, not touching each other. */
  readonly doubtful: readonly (readonly [start: number, end: number])[];
}

/** What a folded unit is, for the passes over words and directions. */
const Kind = { other: 0, space: 1, ascii: 2, lookAlike: 3, plainLetter: 4, oddLetter: 5, rightToLeft: 6 } as const;
type Kind = (typeof Kind)[keyof typeof Kind];

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
/** Brackets turn round where text runs from right to left (Unicode Standard Annex 9, rule L4). */
const MIRRORED: ReadonlyMap<number, number> = new Map(
  ["()", ")(", "[]", "][", "{}", "}{", "<>", "><"].map((pair) => [pair.charCodeAt(0), pair.charCodeAt(1)]),
);

/** Direction controls of Unicode Standard Annex 9. */
const Direction = {
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
/** Controls that set text from right to left, or may. */
const RIGHTWARD: ReadonlySet<number> = new Set([
  Direction.rightEmbedding,
  Direction.rightOverride,
  Direction.rightIsolate,
  Direction.firstStrongIsolate,
]);

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
class Glyphs {
  readonly units: number[] = [];
  readonly at: number[] = [];
  readonly until: number[] = [];
  readonly kinds: Kind[] = [];
  /** 1 for each unit that could not be folded safely. */
  readonly doubts: number[] = [];
  readonly controls: Control[] = [];
  /** Characters already folded in this text. */
  readonly known = new Map<string, Folded>();

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

/**
 * Folds a text to what a person sees on the page.
 *
 * @param original any string, lone surrogates included
 */
export function foldVisible(original: string): FoldedText {
  if (isPlain(original)) return identity(original);
  const glyphs = readGlyphs(original);
  resolveDirections(glyphs);
  foldWords(glyphs);
  doubtNumbersAfterRightToLeft(glyphs);
  glyphs.at.push(original.length);
  return {
    text: textOf(glyphs.units),
    at: glyphs.at,
    until: glyphs.until,
    doubtful: runsOf(glyphs.doubts),
  };
}

/**
 * Where a half-open range of the folded text stands in the original.
 *
 * @returns the smallest half-open range of the original that holds every folded unit of the range
 */
export function originalSpan(folded: FoldedText, start: number, end: number): [number, number] {
  const first = Math.max(0, Math.min(start, folded.text.length));
  const last = Math.max(first, Math.min(end, folded.text.length));
  if (first === last) return [folded.at[first] ?? 0, folded.at[first] ?? 0];
  let from = Number.POSITIVE_INFINITY;
  let to = 0;
  for (let i = first; i < last; i++) {
    from = Math.min(from, folded.at[i] ?? 0);
    to = Math.max(to, folded.until[i] ?? 0);
  }
  return [from, to];
}

/** True where the half-open range of the folded text touches a doubtful one. */
export function isDoubtful(folded: FoldedText, start: number, end: number): boolean {
  return folded.doubtful.some(([from, to]) => from < end && start < to);
}

/** Only printable ASCII and line feeds: nothing to fold (the grave accent is read as an apostrophe). */
function isPlain(text: string): boolean {
  for (let i = 0; i < text.length; i++) {
    const unit = text.charCodeAt(i);
    if ((unit < 0x20 && unit !== 0x0a) || unit > 0x7e || unit === 0x60) return false;
  }
  return true;
}

/** 0, 1, 2, … shared by all texts that need no folding; replaced by a longer one, never changed. */
let counting = countTo(1024);

function countTo(length: number): Uint32Array {
  return Uint32Array.from({ length: length + 2 }, (_, i) => i);
}

function identity(text: string): FoldedText {
  if (counting.length < text.length + 2) counting = countTo(text.length * 2);
  return {
    text,
    at: counting.subarray(0, text.length + 1),
    until: counting.subarray(1, text.length + 1),
    doubtful: [],
  };
}

function readGlyphs(original: string): Glyphs {
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
  for (const [i, unit] of folded.units.entries()) glyphs.push(unit, folded.kinds[i] ?? Kind.other, start, end);
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

/** A run of letters and digits, and what it is made of. */
interface Word {
  readonly start: number;
  readonly end: number;
  readonly ascii: boolean;
  readonly lookAlike: boolean;
  readonly odd: boolean;
}

/**
 * Makes look-alike letters Latin where a person would read Latin: in words that hold Latin letters or digits, in
 * words joined to such a word, and everywhere in a text that holds no word truly of the other script.
 */
function foldWords(glyphs: Glyphs): void {
  const words = wordsOf(glyphs);
  const otherScript = words.some((word) => word.odd && !word.ascii && word.end - word.start > 1);
  for (const word of words) {
    const joined = isJoined(glyphs, word);
    if (word.odd) {
      if (word.ascii || joined) glyphs.doubt(word.start, word.end);
    } else if (word.lookAlike) {
      if (word.ascii || joined || !otherScript) makeLatin(glyphs, word);
      else if (looksLikePrefix(glyphs, word)) glyphs.doubt(word.start, tokenEnd(glyphs, word.end + 1));
    }
  }
}

function wordsOf(glyphs: Glyphs): Word[] {
  const words: Word[] = [];
  let i = 0;
  while (i < glyphs.kinds.length) {
    const start = i;
    const has = [false, false, false, false, false, false, false];
    while (i < glyphs.kinds.length && (glyphs.kinds[i] ?? Kind.other) >= Kind.ascii) {
      has[glyphs.kinds[i] ?? Kind.other] = true;
      i++;
    }
    if (i === start) i++;
    else if (has[Kind.lookAlike] || has[Kind.oddLetter])
      words.push({
        start,
        end: i,
        ascii: has[Kind.ascii] ?? false,
        lookAlike: has[Kind.lookAlike] ?? false,
        odd: has[Kind.oddLetter] ?? false,
      });
  }
  return words;
}

/** True where a hyphen, slash, dot or underscore ties the word to Latin letters or digits. */
function isJoined(glyphs: Glyphs, { start, end }: Word): boolean {
  const joiner = (at: number) => {
    const unit = glyphs.units[at];
    return unit === 0x2d || unit === 0x2f || unit === 0x2e || unit === 0x5f;
  };
  return (
    (joiner(start - 1) && glyphs.kinds[start - 2] === Kind.ascii) ||
    (joiner(end) && glyphs.kinds[end + 1] === Kind.ascii)
  );
}

function makeLatin(glyphs: Glyphs, { start, end }: Word): void {
  for (let i = start; i < end; i++) {
    const latin = LOOK_ALIKES.get(glyphs.units[i] ?? 0);
    if (glyphs.kinds[i] !== Kind.lookAlike || latin === undefined) continue;
    glyphs.units[i] = latin;
    glyphs.kinds[i] = Kind.ascii;
  }
}

/** In a text of another script: capitals that could be Latin ones, standing before a number ("РВ 1840"). */
function looksLikePrefix(glyphs: Glyphs, { start, end }: Word): boolean {
  const capitals = glyphs.units.slice(start, end).every((unit) => {
    const latin = LOOK_ALIKES.get(unit) ?? unit;
    return latin >= 0x30 && latin <= 0x5a;
  });
  return capitals && glyphs.kinds[end] === Kind.space && isDigit(glyphs.units[end + 1] ?? 0);
}

/** A stretch of text under direction controls, up to where the outermost of them ends. */
interface Stretch {
  readonly start: number;
  /** The only control in it, or `null` where controls are nested. */
  readonly only: number | null;
  /** True where one of the controls sets text from right to left, or may do so. */
  readonly right: boolean;
}

/**
 * Puts forced right-to-left stretches into the order the eye reads; doubts what is not that simple.
 *
 * Embeddings and isolates are matched by rules X5 to X7 of the standard; only outermost stretches are looked at.
 */
function resolveDirections(glyphs: Glyphs): void {
  const open = new OpenControls();
  let markedTo = -1;
  let stretch: Stretch | null = null;
  let drawn: Drawn | null = null;
  for (const { code, at } of glyphs.controls) {
    if (code === Direction.rightToLeftMark || code === Direction.arabicLetterMark) {
      if (at >= markedTo) markedTo = doubtAround(glyphs, at);
      continue;
    }
    if (!open.take(code)) {
      stretch = withControl(stretch, code, at);
    } else if (open.isEmpty && stretch !== null) {
      drawn = resolveStretch(glyphs, stretch, at, drawn);
      stretch = null;
    }
  }
  const end = glyphs.units.length;
  if (stretch !== null) drawn = resolveStretch(glyphs, stretch, end, drawn);
  if (drawn !== null) heldAgainst(glyphs, drawn, end);
}

/** A stretch that begins at a control, or goes on with one more. */
function withControl(stretch: Stretch | null, code: number, at: number): Stretch {
  const right = RIGHTWARD.has(code);
  return stretch === null
    ? { start: at, only: code, right }
    : { ...stretch, only: null, right: right || stretch.right };
}

/** The embeddings and isolates that are open at a point of the text. */
class OpenControls {
  /** For each whether it is an isolate, and how many are. */
  readonly #open: boolean[] = [];
  #isolates = 0;

  get isEmpty(): boolean {
    return this.#open.length === 0;
  }

  /** Opens or closes; true for a control that closes. */
  take(code: number): boolean {
    if (code === Direction.endOfEmbedding) {
      if (this.#open.at(-1) === false) this.#open.pop();
      return true;
    }
    if (code === Direction.endOfIsolate) {
      if (this.#isolates === 0) return true;
      while (this.#open.at(-1) === false) this.#open.pop();
      this.#open.pop();
      this.#isolates--;
      return true;
    }
    const isolate = code >= Direction.leftIsolate;
    this.#open.push(isolate);
    if (isolate) this.#isolates++;
    return false;
  }
}

/** A stretch under direction controls that what follows it may still be drawn into. */
interface Drawn {
  readonly start: number;
  readonly end: number;
  readonly right: boolean;
  /** True where it is doubted already, so that no range is doubted twice. */
  readonly doubted: boolean;
}

/**
 * Resolves one outermost stretch. Stretches with no left-to-right letter between them share a line of reversal: if one
 * of them runs from right to left, all are doubted.
 */
function resolveStretch(glyphs: Glyphs, { start, only, right }: Stretch, end: number, earlier: Drawn | null): Drawn {
  const before = earlier === null ? null : heldAgainst(glyphs, earlier, start);
  const runsRight = right && (only !== Direction.firstStrongIsolate || startsRightToLeft(glyphs, start, end));
  if (before !== null) {
    const doubted = before.right || runsRight;
    if (doubted) glyphs.doubt(before.doubted ? before.end : before.start, end);
    return { start: before.start, end, right: doubted, doubted };
  }
  if (!runsRight) return { start, end, right: false, doubted: false };
  if (only === Direction.rightOverride) reverse(glyphs, start, end);
  else glyphs.doubt(start, end);
  return { start, end, right: true, doubted: only !== Direction.rightOverride };
}

/**
 * Holds a stretch against what follows it up to `limit`. Digits that come before any left-to-right letter are drawn to
 * the left of a right-to-left stretch (rules W7 and I1), so both are doubted.
 *
 * @returns the stretch with what it reaches over, or `null` where a letter ends its reach
 */
function heldAgainst(glyphs: Glyphs, drawn: Drawn, limit: number): Drawn | null {
  let { doubted } = drawn;
  for (let i = drawn.end; i < limit; i++) {
    if (isLeftLetter(glyphs, i)) return null;
    if (!drawn.right || !isDigit(glyphs.units[i] ?? 0)) continue;
    glyphs.doubt(doubted ? i : drawn.start, i + 1);
    doubted = true;
  }
  return { ...drawn, end: limit, doubted };
}

function isLeftLetter(glyphs: Glyphs, at: number): boolean {
  const kind = glyphs.kinds[at] ?? Kind.other;
  return kind >= Kind.ascii && kind !== Kind.rightToLeft && !isDigit(glyphs.units[at] ?? 0);
}

/** A right-to-left mark moves what stands on both sides: its token and the neighbours are doubted. */
function doubtAround(glyphs: Glyphs, at: number): number {
  const end = tokenEnd(glyphs, at);
  glyphs.doubt(tokenStart(glyphs, tokenStart(glyphs, at) - 1), tokenEnd(glyphs, end + 1));
  return end;
}

/** True where the first letter of a stretch is of a right-to-left script. */
function startsRightToLeft(glyphs: Glyphs, start: number, end: number): boolean {
  for (let i = start; i < end; i++) {
    if (glyphs.kinds[i] === Kind.rightToLeft) return true;
    if (isLeftLetter(glyphs, i)) return false;
  }
  return false;
}

/** Reverses the characters of a stretch (a character that folded to several units stays as it is) and turns brackets. */
function reverse(glyphs: Glyphs, start: number, end: number): void {
  const order: number[] = [];
  for (let i = end; i > start; ) {
    let first = i - 1;
    while (first > start && glyphs.at[first - 1] === glyphs.at[i - 1]) first--;
    for (let j = first; j < i; j++) order.push(j);
    i = first;
  }
  const take = <T>(list: T[]) => {
    const old = list.slice(start, end);
    for (const [i, from] of order.entries()) {
      const value = old[from - start];
      if (value !== undefined) list[start + i] = value;
    }
  };
  take(glyphs.units);
  take(glyphs.kinds);
  take(glyphs.at);
  take(glyphs.until);
  take(glyphs.doubts);
  for (let i = start; i < end; i++) {
    const unit = glyphs.units[i] ?? 0;
    glyphs.units[i] = MIRRORED.get(unit) ?? unit;
    if (unit === 0x0a) glyphs.doubt(start, end);
  }
}

/** A number that starts after a word of a right-to-left script is moved by the page: its token is doubted. */
function doubtNumbersAfterRightToLeft(glyphs: Glyphs): void {
  let afterRightToLeft = false;
  for (let i = 0; i < glyphs.units.length; i++) {
    const kind = glyphs.kinds[i] ?? Kind.other;
    if (kind === Kind.rightToLeft) afterRightToLeft = true;
    else if (kind === Kind.ascii && isDigit(glyphs.units[i] ?? 0)) {
      if (!afterRightToLeft) continue;
      const end = tokenEnd(glyphs, i);
      glyphs.doubt(tokenStart(glyphs, i), end);
      i = end - 1;
    } else if (kind >= Kind.ascii) afterRightToLeft = false;
  }
}

/** First unit of the run without spaces that holds the unit before or at `at`. */
function tokenStart(glyphs: Glyphs, at: number): number {
  let start = Math.max(0, at);
  while (start > 0 && glyphs.kinds[start - 1] !== Kind.space) start--;
  return start;
}

/** One after the last unit of the run without spaces that holds `at`. */
function tokenEnd(glyphs: Glyphs, at: number): number {
  let end = Math.min(at, glyphs.units.length);
  while (end < glyphs.units.length && glyphs.kinds[end] !== Kind.space) end++;
  return end;
}

function textOf(units: readonly number[]): string {
  const parts: string[] = [];
  for (let i = 0; i < units.length; i += 8192) parts.push(String.fromCharCode(...units.slice(i, i + 8192)));
  return parts.join("");
}

/** Half-open ranges of the units that are set. */
function runsOf(flags: readonly number[]): [number, number][] {
  const runs: [number, number][] = [];
  for (let i = flags.indexOf(1); i >= 0; i = flags.indexOf(1, i)) {
    const end = flags.indexOf(0, i);
    runs.push([i, end < 0 ? flags.length : end]);
    if (end < 0) break;
    i = end;
  }
  return runs;
}

function isAlphanumeric(unit: number): boolean {
  return isDigit(unit) || (unit >= 0x41 && unit <= 0x5a) || (unit >= 0x61 && unit <= 0x7a);
}

function isDigit(unit: number): boolean {
  return unit >= 0x30 && unit <= 0x39;
}
