/**
 * Numbers run together with what stands beside them, parted: "nr5820174", "2xPB-2240", "PB-2240x2", "batteryPB2240",
 * "PB1840PB2240". A cut is made only where a known number comes out of it and the rest is a word, a count or another
 * known number; a longer number that nobody knows stays whole.
 */
import { canonicalNumber } from "../text/part-number.ts";
import { plainWord } from "../text/plain-word.ts";
import { kindOfToken, type Token } from "../text/tokens.ts";
import type { Field } from "./fields.ts";
import { type KnownNumbers, TYPE_KIND, type Wording } from "./vocabulary.ts";

/** How many tokens are tried to be parted in one field; the rest is not read. */
const MAX_PARTED = 500;
const MAX_TOKEN_CHARS = 40;
/** How many tokens one number may be split into. */
const MAX_JOINED = 5;
/** Shortest number that is cut out, and the fewest digits of one without letters. */
const MIN_NUMBER = 4;
const MIN_DIGITS = 5;
/** Longest beginning of a number in letters that a word is glued to: the PB of "batteryPB-2240". */
const MAX_LETTERS = 6;
/** What may stand between the pieces of a number here. */
const TIED = /^[-_./ ]$/;
const COUNT_BEFORE = /^\d{1,2}[xX]/;
const COUNT_BEHIND = /x\d{1,3}$/;
const LETTERS_BEHIND = /\p{L}{3,24}$/u;
const LETTERS_BEFORE = /^\p{L}+/u;
/** A word that capitals are glued to: "batteryPB". */
const CAPITALS_BEHIND = /\p{Ll}\p{Lu}{1,6}$/u;

/** The field with such tokens parted; the same field where there are none. */
export function unglue(field: Field, known: KnownNumbers, wording: Wording): Field {
  const parter = new Parter(field, known, wording);
  const tokens = parter.parted();
  const unread = field.unread || parter.gaveUp;
  return tokens.length === field.tokens.length && !parter.gaveUp
    ? field
    : { ...field, tokens, words: parter.words, unread };
}

class Parter {
  readonly #field: Field;
  readonly #text: string;
  readonly #known: KnownNumbers;
  readonly #wording: Wording;
  readonly words: string[] = [];
  #tried = 0;

  constructor(field: Field, known: KnownNumbers, wording: Wording) {
    this.#field = field;
    this.#text = field.folded.text;
    this.#known = known;
    this.#wording = wording;
  }

  /** True where there were more tokens than are tried. */
  get gaveUp(): boolean {
    return this.#tried > MAX_PARTED;
  }

  parted(): readonly Token[] {
    const all = this.#field.tokens;
    const tokens: Token[] = [];
    for (const [i, token] of all.entries()) {
      const cuts = this.#mayBeGlued(i, token) ? this.#cutsOf(i, token) : [];
      let start = token.start;
      for (const end of [...cuts, token.end]) {
        const whole = cuts.length === 0;
        const piece = whole ? token : pieceOf(this.#text, start, end, end === token.end ? token.gap : "");
        tokens.push(piece);
        this.words.push(whole ? (this.#field.words[i] ?? "") : wordOf(piece.text));
        start = end;
      }
    }
    return tokens;
  }

  #mayBeGlued(i: number, { text, kind, gap }: Token): boolean {
    if (kind === "digits" || text.length < MIN_NUMBER - 1 || text.length > MAX_TOKEN_CHARS) return false;
    if (kind === "letters") {
      const next = this.#field.tokens[i + 1];
      if (next === undefined || next.kind === "letters" || !TIED.test(gap)) return false;
      if (gap === " " && !CAPITALS_BEHIND.test(text)) return false;
    }
    return this.#tried++ < MAX_PARTED;
  }

  /** Where the token is cut, in order; empty where it is of one piece. */
  #cutsOf(i: number, token: Token): number[] {
    if (this.#numberFrom(i, token.start, token.end)) return [];
    for (const cut of headCuts(token.text)) {
      const at = token.start + cut;
      if (!this.#isGlue(token.text.slice(0, cut), token.start)) continue;
      if (this.#numberFrom(i, at, token.end) || this.#isCuedDigits(token.text, cut)) return [at];
      for (const end of this.#tailEnds(token)) if (end > at && this.#numberFrom(i, at, end)) return [at, end];
    }
    for (const end of this.#tailEnds(token)) if (this.#numberTo(i, end)) return [end];
    return [];
  }

  /** "nr40718828": digits behind a word for part numbers are one, known or not. */
  #isCuedDigits(text: string, cut: number): boolean {
    if (!/^\d{5,}$/.test(text.slice(cut))) return false;
    return this.#means(text.slice(0, cut), (kind) => kind === "numberCue");
  }

  /** True where a known number starts at an offset and ends at `end`, or with a later token. */
  #numberFrom(i: number, start: number, end: number): boolean {
    if (!this.#known.mayBegin(this.#text, start)) return false;
    const { tokens } = this.#field;
    if (this.#isNumber(start, end)) return true;
    if (end !== tokens[i]?.end) return false;
    for (let last = i + 1; last < i + MAX_JOINED; last++) {
      if (!TIED.test(tokens[last - 1]?.gap ?? "")) return false;
      const token = tokens[last];
      if (token === undefined) return false;
      if (this.#isNumber(start, token.end)) return true;
      for (const tail of this.#tailEnds(token)) if (this.#isNumber(start, tail)) return true;
    }
    return false;
  }

  /** True where a known number ends at an offset, having begun with this token or one before it. */
  #numberTo(i: number, end: number): boolean {
    const { tokens } = this.#field;
    for (let first = i; first > i - MAX_JOINED && first >= 0; first--) {
      if (first < i && !TIED.test(tokens[first]?.gap ?? "")) return false;
      const token = tokens[first];
      if (token === undefined) return false;
      if (this.#isNumber(token.start, end)) return true;
      if (first === i) continue;
      for (const cut of headCuts(token.text)) {
        if (this.#isNumber(token.start + cut, end) && this.#isGlue(token.text.slice(0, cut), token.start)) return true;
      }
    }
    return false;
  }

  #isNumber(start: number, end: number): boolean {
    if (!this.#known.mayBegin(this.#text, start)) return false;
    const written = this.#text.slice(start, end);
    const canonical = canonicalNumber(written);
    if (canonical.length < MIN_NUMBER || !/\d/.test(canonical)) return false;
    if (/^\d+$/.test(canonical) && canonical.length < MIN_DIGITS) return false;
    return this.#known.look(canonical, written) !== null;
  }

  /** Where the token may end if a word, a count or another number is glued behind. */
  #tailEnds({ text, start, kind }: Token): number[] {
    if (kind !== "mixed") return [];
    const ends: number[] = [];
    const count = COUNT_BEHIND.exec(text);
    if (count !== null && count.index > 0) ends.push(start + count.index);
    const letters = LETTERS_BEHIND.exec(text);
    if (letters !== null) {
      for (let at = letters.index; at <= text.length - 3; at++)
        if (at > 0 && this.#means(text.slice(at), () => true)) ends.push(start + at);
    }
    for (let at = MIN_NUMBER; at <= text.length - MIN_NUMBER; at++) {
      if (this.#isNumber(start, start + at) && this.#isNumber(start + at, start + text.length)) ends.push(start + at);
    }
    return ends;
  }

  /** A count, a word, two words run together or a known number. */
  #isGlue(head: string, start: number): boolean {
    if (head.length === 1) return /n/i.test(head) && /\bp\/$/i.test(this.#text.slice(Math.max(0, start - 3), start));
    if (COUNT_BEFORE.exec(head)?.[0] === head) return true;
    if (head.length === 2) return this.#means(head, (kind) => kind === "numberCue" || kind === "stockCue");
    if (this.#means(head, () => true)) return true;
    for (let cut = 3; cut <= head.length - 2; cut++) {
      const cue = (kind: string): boolean => kind === "numberCue" || kind === "stockCue" || kind.startsWith(TYPE_KIND);
      if (this.#means(head.slice(cut), cue) && this.#means(head.slice(0, cut), () => true)) return true;
    }
    return false;
  }

  #means(text: string, is: (kind: string) => boolean): boolean {
    const found = this.#wording.lexicon.find([plainWord(text)], 0);
    return found?.meanings.some(({ kind }) => is(kind)) === true;
  }
}

/** After how many characters of a token a number may begin behind a count or a word. */
function headCuts(text: string): number[] {
  const count = COUNT_BEFORE.exec(text)?.[0].length ?? 0;
  if (count > 0) return count < text.length ? [count] : [];
  const letters = LETTERS_BEFORE.exec(text)?.[0].length ?? 0;
  const cuts: number[] = [];
  const most = Math.min(letters, text.length - 1);
  for (let cut = most; cut >= Math.max(1, letters - MAX_LETTERS); cut--) cuts.push(cut);
  return cuts;
}

function pieceOf(text: string, start: number, end: number, gap: string): Token {
  const own = text.slice(start, end);
  return { text: own, start, end, gap, kind: kindOfToken(own) };
}

/** "no5820174": glued to a number it is the sign of one and no negation. */
function wordOf(text: string): string {
  const word = plainWord(text);
  return word === "no" ? "nr" : word;
}
