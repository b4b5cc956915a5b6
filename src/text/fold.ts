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
import { doubtNumbersAfterRightToLeft, resolveDirections } from "./directions.ts";
import { type Glyphs, isDigit, Kind, readGlyphs, tokenEnd } from "./glyphs.ts";
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

/**
 * Folds a text to what a person sees on the page.
 *
 * @param original any string, lone surrogates included
 */
export function foldVisible(original: string): FoldedText {
  if (isPlain(original)) return new Unfolded(original);
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

/** Only printable ASCII, single spaces and line feeds: nothing to fold (the grave accent is read as an apostrophe). */
function isPlain(text: string): boolean {
  for (let i = 0; i < text.length; i++) {
    const unit = text.charCodeAt(i);
    if ((unit < 0x20 && unit !== 0x0a) || unit > 0x7e || unit === 0x60) return false;
    if (unit === 0x20 && text.charCodeAt(i + 1) === 0x20) return false;
  }
  return true;
}

/** 0, 1, 2, … shared by all texts that need no folding; replaced by a longer one, never changed. */
let counting = countTo(1024);

function countTo(length: number): Uint32Array {
  return Uint32Array.from({ length: length + 2 }, (_, i) => i);
}

/** A text that needs no folding; its offsets are made when they are asked for. */
class Unfolded implements FoldedText {
  readonly doubtful = NONE;

  constructor(readonly text: string) {}

  get at(): ArrayLike<number> {
    return counted(this.text.length + 1).subarray(0, this.text.length + 1);
  }

  get until(): ArrayLike<number> {
    return counted(this.text.length + 1).subarray(1, this.text.length + 1);
  }
}

const NONE: FoldedText["doubtful"] = [];

function counted(length: number): Uint32Array {
  if (counting.length < length + 1) counting = countTo(length * 2);
  return counting;
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
