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
  /** Start and end of the last word of the list in the folded text; null when none stands there. */
  last(key: PageWordKey, folded: string): { start: number; end: number } | null;
  /** Start and end of the first one. */
  first(key: PageWordKey, folded: string): { start: number; end: number } | null;
}

/** Lower case, punctuation and runs of space as one space, trimmed. */
export function foldWords(text: string): string {
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
  const lists = new Map<PageWordKey, { exact: ReadonlySet<string>; pattern: RegExp | null }>();
  const listOf = (key: PageWordKey) => {
    let list = lists.get(key);
    if (list === undefined) {
      const exact = new Set(sources.flatMap((source) => source.words[key] ?? []).map(foldWords));
      exact.delete("");
      list = { exact, pattern: patternOf([...exact]) };
      lists.set(key, list);
    }
    return list;
  };
  return {
    has: (key, folded) => find(listOf(key).pattern, folded, 0) !== null,
    is: (key, folded) => listOf(key).exact.has(folded),
    first: (key, folded) => find(listOf(key).pattern, folded, 0),
    last: (key, folded) => {
      const { pattern } = listOf(key);
      let found: { start: number; end: number } | null = null;
      for (let at = 0; at <= folded.length; ) {
        const next = find(pattern, folded, at);
        if (next === null) break;
        found = next;
        at = next.start + 1;
      }
      return found;
    },
  };
}

function find(pattern: RegExp | null, folded: string, from: number): { start: number; end: number } | null {
  if (pattern === null) return null;
  pattern.lastIndex = from;
  const match = pattern.exec(folded);
  return match === null ? null : { start: match.index, end: match.index + match[0].length };
}

/** One pattern for a list: whole words, except in scripts that put no space between words. */
function patternOf(words: readonly string[]): RegExp | null {
  if (words.length === 0) return null;
  const longestFirst = [...words].sort((a, b) => b.length - a.length);
  const any = (some: readonly string[]) => some.map((word) => word.replace(/[\\^$.*+?()[\]{}|/]/g, "\\$&")).join("|");
  const spaced = longestFirst.filter((word) => !UNSPACED.test(word));
  const unspaced = longestFirst.filter((word) => UNSPACED.test(word));
  const parts: string[] = [];
  if (spaced.length > 0) parts.push(`(?<![\\p{L}\\p{N}])(?:${any(spaced)})(?![\\p{L}\\p{N}])`);
  if (unspaced.length > 0) parts.push(any(unspaced));
  return new RegExp(parts.join("|"), "gu");
}

const UNSPACED = /^[\p{Script=Han}\p{Script=Hiragana}\p{Script=Katakana}\p{Script=Thai}〜～ー]/u;
