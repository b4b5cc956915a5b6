/**
 * A folded text cut into runs of letters and digits, and the runs joined again to what may be a part number.
 *
 * "fits PB 1840-R, new" → fits · PB · 1840 · R · new; from `PB` on the candidates are PB, PB 1840, PB 1840-R.
 */
import { canonicalNumber } from "./part-number.ts";

/** One run of letters and digits of a folded text. */
export interface Token {
  readonly text: string;
  readonly start: number;
  readonly end: number;
  /** What stands between this token and the next one. */
  readonly gap: string;
  /** Which of letters and digits it holds. */
  readonly kind: "letters" | "digits" | "mixed";
}

/** Signs between tokens with every run of spaces as one. */
function narrowed(gap: string): string {
  return gap.length < 2 ? gap : gap.replace(/[^\S\n]+/g, " ");
}

/** Neighbouring tokens read as one number. */
export interface NumberCandidate {
  /** Index of the first token, and one after the last. */
  readonly first: number;
  readonly last: number;
  readonly start: number;
  readonly end: number;
  /** As written, separators included. */
  readonly text: string;
  readonly canonical: string;
}

/** How many tokens after the first one may belong to a number, and how long it may be as written. */
const MAX_NEIGHBOURS = 4;
const MAX_CANDIDATE_CHARS = 40;
/** What may stand inside one number: one separator, or one with spaces around it. */
const INSIDE_A_NUMBER = /^(?: ?[-/_.:#+()[\]\u00b7] ?| )$/;

const DIGIT = 1;
const LETTER = 2;
const OTHER_LETTER = /[\p{L}\p{N}\p{M}]/u;

/** Cuts a folded text into runs of letters and digits; linear. */
export function tokenise(text: string): Token[] {
  const tokens: Token[] = [];
  const { length } = text;
  let at = pastSigns(text, 0);
  while (at < length) {
    const start = at;
    let has = 0;
    for (let each = classAt(text, at); each !== 0; each = classAt(text, at)) {
      has |= each;
      at += widthAt(text, at);
    }
    const end = at;
    at = pastSigns(text, at);
    const gap = at === end + 1 && text.charCodeAt(end) === 0x20 ? " " : narrowed(text.slice(end, at));
    const kind = has === DIGIT ? "digits" : has === LETTER ? "letters" : "mixed";
    tokens.push({ text: text.slice(start, end), start, end, gap, kind });
  }
  return tokens;
}

/** The first letter or digit from a place on. */
function pastSigns(text: string, from: number): number {
  let at = from;
  while (at < text.length && classAt(text, at) === 0) at += widthAt(text, at);
  return at;
}

/** What stands at a place; 0 for signs and past the end. */
function classAt(text: string, at: number): number {
  const unit = text.charCodeAt(at);
  if (unit < 0x80) return ASCII_CLASSES[unit] ?? 0;
  return at < text.length ? classOf(text.codePointAt(at) ?? 0) : 0;
}

function widthAt(text: string, at: number): number {
  const unit = text.charCodeAt(at);
  return unit >= 0xd800 && unit <= 0xdbff && (text.codePointAt(at) ?? 0) > 0xffff ? 2 : 1;
}

/**
 * Every reading of the tokens from `first` on as one number, shortest first: the token alone, then joined with its
 * neighbours as long as only separators of numbers stand between them (at most 4 neighbours and 40 characters).
 *
 * @param longest canonical length from which on no reading is wanted
 */
export function numberCandidates(
  text: string,
  tokens: readonly Token[],
  first: number,
  longest = MAX_CANDIDATE_CHARS,
): NumberCandidate[] {
  const candidates: NumberCandidate[] = [];
  const start = tokens[first]?.start ?? 0;
  let canonical = "";
  let plain = true;
  for (let i = first; i <= first + MAX_NEIGHBOURS; i++) {
    const token = tokens[i];
    if (token === undefined || token.end - start > MAX_CANDIDATE_CHARS) break;
    if (canonical.length + token.text.length > longest) break;
    const written = text.slice(start, token.end);
    plain &&= isAscii(token);
    // Letters of other scripts are folded by what stands beside them.
    canonical = plain ? canonical + token.text.toUpperCase() : canonicalNumber(written);
    candidates.push({ first, last: i + 1, start, end: token.end, text: written, canonical });
    if (token.gap !== " " && !INSIDE_A_NUMBER.test(token.gap)) break;
  }
  return candidates;
}

function isAscii({ text, gap }: Token): boolean {
  for (let i = 0; i < text.length; i++) if (text.charCodeAt(i) > 0x7e) return false;
  for (let i = 0; i < gap.length; i++) if (gap.charCodeAt(i) > 0x7e) return false;
  return true;
}

/**
 * True where a canonical number has the make-up of a part number: 4 to 24 letters and digits, both of them. Says
 * nothing about quantities, designations and sizes that have the same make-up; sort those out first.
 */
export function looksLikePartNumber(canonical: string): boolean {
  if (canonical.length < 4 || canonical.length > 24) return false;
  let has = 0;
  for (let i = 0; i < canonical.length; i++) has |= classOf(canonical.charCodeAt(i));
  return has === (DIGIT | LETTER);
}

/** Which of letters and digits a run of them holds. */
export function kindOfToken(text: string): Token["kind"] {
  let has = 0;
  for (let i = 0; i < text.length; i++) has |= classOf(text.charCodeAt(i));
  return has === DIGIT ? "digits" : has === LETTER ? "letters" : "mixed";
}

/** True for four digits that are read as a year: 1980 to 2039. */
export function isYearLike(text: string): boolean {
  return /^(?:19[89]\d|20[0-3]\d)$/.test(text);
}

/**
 * True for a GTIN (8, 12, 13 or 14 digits with a right check digit, GS1 General Specifications 7.9.1), which names a
 * packed product and is never a part number. A right check digit is no proof: swapped neighbours can pass.
 */
export function isGtin(digits: string): boolean {
  if (!/^(?:\d{8}|\d{12,14})$/.test(digits)) return false;
  return gtinCheckDigit(digits.slice(0, -1)) === Number(digits.slice(-1));
}

/** The GS1 check digit of a number's other digits: weights 3, 1, 3, … from the right, modulo 10. */
export function gtinCheckDigit(body: string): number {
  let sum = 0;
  for (let i = 0; i < body.length; i++) sum += Number(body[body.length - 1 - i]) * (i % 2 === 0 ? 3 : 1);
  return (10 - (sum % 10)) % 10;
}

function classOf(code: number): number {
  if (code < 0x80) {
    if (code >= 0x30 && code <= 0x39) return DIGIT;
    return (code >= 0x41 && code <= 0x5a) || (code >= 0x61 && code <= 0x7a) ? LETTER : 0;
  }
  return OTHER_LETTER.test(String.fromCodePoint(code)) ? LETTER : 0;
}

const ASCII_CLASSES = Uint8Array.from({ length: 0x80 }, (_, code) => classOf(code));
