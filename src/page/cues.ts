/**
 * The words of `rules/page-words/` made ready for matching: per list one pattern and one set. Matching is on
 * folded text ({@link foldWords}): lower case, punctuation as spaces.
 */
import type { PageWordKey, PageWords } from "../formats/page-words.ts";

/** Page words of the languages that one page may use. */
export interface Cues {
  /** True when a word of the list stands in the folded text. */
  has(key: PageWordKey, folded: string): boolean;
  /** True when the folded text is a word of the list and nothing else. */
  is(key: PageWordKey, folded: string): boolean;
  /** The words of several lists as they stand in their files. */
  exact(keys: readonly PageWordKey[]): ReadonlySet<string>;
  /** Start and end of the last word of the list in the folded text; null when none stands there. */
  last(key: PageWordKey, folded: string): { start: number; end: number } | null;
  /** Start and end of the first one. */
  first(key: PageWordKey, folded: string): { start: number; end: number } | null;
}

/** Longest text whose folding and findings are remembered: labels and buttons recur from card to card. */
const MAX_REMEMBERED = 48;
/** Most texts that are remembered before all are forgotten. */
const REMEMBERED = 600;
const folds = new Map<string, string>();

/** Lower case, punctuation and runs of space as one space, trimmed. */
export function foldWords(text: string): string {
  if (text.length > MAX_REMEMBERED) return fold(text);
  const known = folds.get(text);
  if (known !== undefined) return known;
  const folded = fold(text);
  if (folds.size >= REMEMBERED) folds.clear();
  folds.set(text, folded);
  return folded;
}

function fold(text: string): string {
  return text
    .toLowerCase()
    .replace(/[\s.,:;()[\]!?*"“”„«»|•·…\u00ad\u200b-\u200f]+/g, " ")
    .trim();
}

/**
 * Readies the words that may stand on a page.
 *
 * @param all every language's words that are at hand
 * @param language of the page; with a language that has a file, that one and English are used, else all
 */
export function cuesFor(all: readonly PageWords[], language: string | undefined): Cues {
  const wanted = wordsForPage(all, language);
  const key = wanted.map((words) => words.language).join(" ");
  const known = kept.get(key);
  if (known !== undefined && known.source === all) return known.cues;
  const cues = makeCues(wanted);
  kept.set(key, { source: all, cues });
  return cues;
}

const kept = new Map<string, { source: readonly PageWords[]; cues: Cues }>();

/** The word lists that a page of a language needs: its own and English, or all when it has none or says none. */
export function wordsForPage(all: readonly PageWords[], language: string | undefined): readonly PageWords[] {
  const primary = (language ?? "").toLowerCase().split(/[-_]/)[0] ?? "";
  const own = all.some((words) => words.language === primary);
  return own ? all.filter((words) => words.language === primary || words.language === "en") : all;
}

function makeCues(sources: readonly PageWords[]): Cues {
  const lists = new Map<PageWordKey, WordList>();
  const listOf = (key: PageWordKey): WordList => {
    let list = lists.get(key);
    if (list === undefined) {
      list = new WordList(sources.flatMap((source) => source.words[key] ?? []));
      lists.set(key, list);
    }
    return list;
  };
  const unions = new Map<string, ReadonlySet<string>>();
  return {
    exact: (keys) => {
      const name = keys.join(" ");
      let union = unions.get(name);
      if (union === undefined) {
        union = new Set(sources.flatMap((source) => keys.flatMap((key) => source.words[key] ?? [])));
        unions.set(name, union);
      }
      return union;
    },
    has: (key, folded) => listOf(key).find(folded) !== null,
    is: (key, folded) => listOf(key).exact.has(folded),
    first: (key, folded) => listOf(key).find(folded)?.first ?? null,
    last: (key, folded) => listOf(key).find(folded)?.last ?? null,
  };
}

interface Place {
  readonly start: number;
  readonly end: number;
}

/** One list of words with what was found of it in short texts. */
class WordList {
  readonly exact: ReadonlySet<string>;
  readonly #longestFirst: readonly string[];
  readonly #pattern: RegExp | null;
  readonly #remembered = new Map<string, { first: Place; last: Place } | null>();

  constructor(words: readonly string[]) {
    const exact = new Set(words.map(fold));
    exact.delete("");
    this.exact = exact;
    this.#longestFirst = [...exact].sort((a, b) => b.length - a.length);
    this.#pattern = finderOf(this.#longestFirst);
  }

  /** The first and the last word of the list in a folded text. */
  find(folded: string): { first: Place; last: Place } | null {
    if (folded === "") return null;
    if (folded.length > MAX_REMEMBERED) return this.#search(folded);
    const known = this.#remembered.get(folded);
    if (known !== undefined) return known;
    const found = this.#search(folded);
    if (this.#remembered.size >= REMEMBERED) this.#remembered.clear();
    this.#remembered.set(folded, found);
    return found;
  }

  #search(folded: string): { first: Place; last: Place } | null {
    const pattern = this.#pattern;
    if (pattern === null) return null;
    let first: Place | null = null;
    let last: Place | null = null;
    for (let at = 0; at <= folded.length; ) {
      pattern.lastIndex = at;
      const match = pattern.exec(folded);
      if (match === null) break;
      const start = match.index;
      const word = this.#longestFirst.find((each) => stands(each, folded, start));
      if (word !== undefined) {
        last = { start, end: start + word.length };
        first ??= last;
      }
      at = start + 1;
    }
    return first === null || last === null ? null : { first, last };
  }
}

/**
 * One pattern that finds where a word of the list may stand. Whether it is a whole word is looked at where it stands:
 * a pattern that asks for Unicode's letters takes as long to make as a card to read, and there are dozens of lists.
 */
function finderOf(longestFirst: readonly string[]): RegExp | null {
  if (longestFirst.length === 0) return null;
  return new RegExp(longestFirst.map((word) => word.replace(/[\\^$.*+?()[\]{}|/]/g, "\\$&")).join("|"), "g");
}

/** True when the word stands there, whole; scripts that put no space between words have no wholes. */
function stands(word: string, text: string, start: number): boolean {
  if (!text.startsWith(word, start)) return false;
  return UNSPACED.test(word) || !(endsInLetter(text, start) || startsWithLetter(text, start + word.length));
}

function endsInLetter(text: string, end: number): boolean {
  return end > 0 && LETTER_LAST.test(text.slice(Math.max(0, end - 2), end));
}

function startsWithLetter(text: string, start: number): boolean {
  return start < text.length && LETTER_FIRST.test(text.slice(start, start + 2));
}

const LETTER_LAST = /[\p{L}\p{N}]$/u;
const LETTER_FIRST = /^[\p{L}\p{N}]/u;
const UNSPACED = /^[\p{Script=Han}\p{Script=Hiragana}\p{Script=Katakana}\p{Script=Thai}〜～ー]/u;
