/**
 * The wording files compiled into one tree of words, so that a text is read in one pass whatever the number of
 * languages and phrases: at each word the longest phrase that starts there is found by walking down the tree.
 */

/** What a phrase is: its kind, and the language whose file holds it. */
export interface Meaning {
  readonly kind: string;
  readonly language: string;
}

/** A phrase found in a text: how many words it takes and everything that it can mean. */
export interface Found {
  readonly length: number;
  readonly meanings: readonly Meaning[];
}

/** Phrases compiled for reading. Make one with {@link compileLexicon}. */
export interface Lexicon {
  /**
   * The longest phrase that starts at a word and ends before `end`, or null. Words as {@link plainWord} gives them; `""`
   * words are skipped.
   */
  find(words: readonly string[], at: number, end?: number): Found | null;
}

/** One phrase before compiling, in the notation of the wording files. */
export interface PhraseEntry {
  readonly phrase: string;
  readonly kind: string;
  readonly language: string;
}

interface Node {
  readonly next: Map<string, Node>;
  /** Words that stand for any ending: `kompatib*`, by their first two letters. */
  readonly stems: Map<string, { readonly stem: string; readonly node: Node }[]>;
  /** Words that stand for any beginning: `*kabel`, by their last two letters. */
  readonly tails: Map<string, { readonly tail: string; readonly node: Node }[]>;
  readonly meanings: Meaning[];
}

/** Most word sequences that one phrase with its alternatives may stand for; more is a fault of the rule file. */
const MAX_READINGS = 400;
/** Most words of a phrase. */
const MAX_WORDS = 12;

/**
 * Compiles phrases.
 *
 * @throws RangeError for a phrase that stands for more than 400 sequences of words: a fault of the rule file
 */
export function compileLexicon(entries: Iterable<PhraseEntry>): Lexicon {
  const root = newNode();
  for (const { phrase, kind, language } of entries) {
    for (const words of readings(phrase, language)) addWords(root, words, { kind, language });
  }
  return { find: (words, at, end = words.length) => find(root, words, at, end) };
}

/** A word as phrases are compared: lower case, without accents. */
export function plainWord(text: string): string {
  const lower = text.toLowerCase();
  for (let i = 0; i < lower.length; i++) if (lower.charCodeAt(i) > 0x7e) return withoutAccents(lower);
  return lower;
}

const ACCENT = /\p{M}/gu;
const LETTERS: Readonly<Record<string, string>> = { ß: "ss", ł: "l", æ: "ae", œ: "oe", ø: "o", đ: "d", ı: "i" };

function withoutAccents(lower: string): string {
  let plain = "";
  for (const character of lower.normalize("NFKD").replace(ACCENT, "")) plain += LETTERS[character] ?? character;
  return plain;
}

function newNode(): Node {
  return { next: new Map(), stems: new Map(), tails: new Map(), meanings: [] };
}

/** Every sequence of words that a phrase stands for. */
function readings(phrase: string, language: string): string[][] {
  let all: string[][] = [[]];
  for (const element of elementsOf(phrase)) {
    const { words, optional } = element;
    const grown = all.flatMap((before) => words.map((word) => [...before, word]));
    all = optional ? [...all, ...grown] : grown;
    if (all.length > MAX_READINGS) throw new RangeError(`The phrase "${phrase}" stands for too many word sequences.`);
  }
  const spelled = language === "de" ? all.flatMap((words) => [words, words.map(spellUmlauts)]) : all;
  return spelled.map((words) => words.map(plainWord)).filter((words) => words.length > 0 && words.length <= MAX_WORDS);
}

/** `compatible (with|to) x*` as its words: alternatives each, and whether they may be missing. */
function elementsOf(phrase: string): { words: string[]; optional: boolean }[] {
  const elements: { words: string[]; optional: boolean }[] = [];
  for (const part of phrase.split(" ")) {
    if (part === "") continue;
    const optional = part.startsWith("(") && part.endsWith(")");
    const words = (optional ? part.slice(1, -1) : part).split("|").filter((word) => word !== "");
    if (words.length > 0) elements.push({ words, optional });
  }
  return elements;
}

function spellUmlauts(word: string): string {
  return word.replaceAll("ä", "ae").replaceAll("ö", "oe").replaceAll("ü", "ue");
}

function addWords(root: Node, words: readonly string[], meaning: Meaning): void {
  let node = root;
  for (const word of words) node = child(node, word);
  if (!node.meanings.some(({ kind, language }) => kind === meaning.kind && language === meaning.language)) {
    node.meanings.push(meaning);
  }
}

function child(node: Node, word: string): Node {
  if (word.startsWith("*")) return wildChild(node.tails, word.slice(1), word.slice(-2), "tail");
  if (word.endsWith("*")) return wildChild(node.stems, word.slice(0, -1), word.slice(0, 2), "stem");
  const known = node.next.get(word);
  if (known !== undefined) return known;
  const made = newNode();
  node.next.set(word, made);
  return made;
}

function wildChild<K extends "stem" | "tail">(
  into: Map<string, ({ readonly node: Node } & Readonly<Record<K, string>>)[]>,
  text: string,
  key: string,
  name: K,
): Node {
  const list = into.get(key) ?? [];
  into.set(key, list);
  const known = list.find((each) => each[name] === text);
  if (known !== undefined) return known.node;
  const node = newNode();
  list.push({ node, [name]: text } as { readonly node: Node } & Readonly<Record<K, string>>);
  return node;
}

/** Walks all branches at once; at most {@link MAX_WORDS} words deep. */
function find(root: Node, words: readonly string[], at: number, end: number): Found | null {
  let branches: Node[] = [root];
  let found: Found | null = null;
  let depth = 0;
  for (let i = at; i < end && depth <= MAX_WORDS; i++) {
    const word = words[i] ?? "";
    if (word === "") {
      if (i === at) return null;
      continue;
    }
    const reached: Node[] = [];
    for (const node of branches) step(node, word, reached);
    if (reached.length === 0) break;
    depth++;
    const meanings = reached.length === 1 ? (reached[0]?.meanings ?? []) : reached.flatMap((node) => node.meanings);
    if (meanings.length > 0) found = { length: i + 1 - at, meanings };
    branches = reached;
  }
  return found;
}

function step(node: Node, word: string, reached: Node[]): void {
  const exact = node.next.get(word);
  if (exact !== undefined) reached.push(exact);
  if (node.stems.size > 0) {
    for (const { stem, node: next } of node.stems.get(word.slice(0, 2)) ?? []) {
      if (word.startsWith(stem)) reached.push(next);
    }
  }
  if (node.tails.size > 0) {
    for (const { tail, node: next } of node.tails.get(word.slice(-2)) ?? []) {
      if (word.length > tail.length && word.endsWith(tail)) reached.push(next);
    }
  }
}
