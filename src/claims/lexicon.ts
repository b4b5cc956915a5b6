/**
 * The wording files compiled into trees of words, so that a text is read in one pass whatever the number of
 * languages and phrases: at each word the longest phrase that starts there is found by walking down a tree. There is a
 * tree for every first word; it grows when a text first holds that word, as a page uses few of all phrases.
 */

import { plainWord } from "../text/plain-word.ts";

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

/** How a node was reached: what is said word for word outweighs an ending, an ending outweighs a beginning. */
interface Reached {
  readonly node: Node;
  readonly weight: number;
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
  const seeds: Seeds = { exact: new Map(), stems: new Map(), tails: new Map() };
  for (const entry of entries) {
    if (mayStandForTooMany(entry.phrase)) readings(entry.phrase, entry.language);
    for (const word of firstWords(entry)) {
      const { among, key } = placeOf(word, seeds);
      const seed = among.get(key);
      if (seed === undefined) among.set(key, { entries: [entry], root: null });
      else if (seed.entries.at(-1) !== entry) seed.entries.push(entry);
    }
  }
  return { find: (words, at, end = words.length) => find(seeds, words, at, end) };
}

/** Phrases with one beginning, and their tree once a text has asked for it. */
interface Seed {
  readonly entries: PhraseEntry[];
  root: Node | null;
}

/** Seeds by a whole first word, by the first two letters of `kompatib*`, and by the last two of `*kabel`. */
interface Seeds {
  readonly exact: Map<string, Seed>;
  readonly stems: Map<string, Seed>;
  readonly tails: Map<string, Seed>;
}

function placeOf(word: string, { exact, stems, tails }: Seeds): { among: Map<string, Seed>; key: string } {
  if (word.startsWith("*")) return { among: tails, key: word.slice(-2) };
  if (word.endsWith("*")) return { among: stems, key: word.slice(0, 2) };
  return { among: exact, key: word };
}

/** The tree of a seed; grown from the phrases' readings that begin as the seed does. */
function grown(seed: Seed, among: Map<string, Seed>, key: string, seeds: Seeds): Node {
  if (seed.root !== null) return seed.root;
  const root = newNode();
  for (const { phrase, kind, language } of seed.entries) {
    for (const words of readings(phrase, language)) {
      const place = placeOf(words[0] ?? "", seeds);
      if (place.among === among && place.key === key) addWords(root, words, { kind, language });
    }
  }
  seed.root = root;
  return root;
}

/** Every step of a phrase doubles its readings at most once a sign, so few signs cannot make too many. */
function mayStandForTooMany(phrase: string): boolean {
  let signs = 0;
  for (const sign of phrase) if (sign === "|" || sign === "(") signs++;
  return 2 ** signs > MAX_READINGS;
}

/** The words that a phrase can begin with, plain. */
function firstWords({ phrase, language }: PhraseEntry): readonly string[] {
  const first: string[] = [];
  for (const word of firstWritten(phrase)) {
    const plain = plainWord(word);
    if (!first.includes(plain)) first.push(plain);
    const spelled = language === "de" ? plainWord(spellUmlauts(word)) : plain;
    if (!first.includes(spelled)) first.push(spelled);
  }
  return first;
}

function firstWritten(phrase: string): readonly string[] {
  const end = phrase.search(/[ '(|-]/);
  if (end < 0) return [phrase];
  // Most phrases begin with one plain word; what is in signs needs its steps.
  if (end > 0 && phrase[end] !== "(" && phrase[end] !== "|") return [phrase.slice(0, end)];
  const words: string[] = [];
  for (const { choices, optional } of elementsOf(phrase)) {
    for (const [word] of choices) if (word !== undefined) words.push(word);
    if (!optional && choices.every((each) => each.length > 0)) break;
  }
  return words;
}

function newNode(): Node {
  return { next: new Map(), stems: new Map(), tails: new Map(), meanings: [] };
}

/** Every sequence of words that a phrase stands for. */
function readings(phrase: string, language: string): string[][] {
  let all: string[][] = [[]];
  for (const element of elementsOf(phrase)) {
    const { choices, optional } = element;
    const grown = all.flatMap((before) => choices.map((words) => [...before, ...words]));
    all = optional ? [...all, ...grown] : grown;
    if (all.length > MAX_READINGS) throw new RangeError(`The phrase "${phrase}" stands for too many word sequences.`);
  }
  const spelled = language === "de" ? all.flatMap((words) => [words, words.map(spellUmlauts)]) : all;
  return spelled.map((words) => words.map(plainWord)).filter((words) => words.length > 0 && words.length <= MAX_WORDS);
}

/** `compatible (with|to) x*` as its steps: the word sequences that may stand there, and whether none may. */
function elementsOf(phrase: string): { choices: string[][]; optional: boolean }[] {
  const elements: { choices: string[][]; optional: boolean }[] = [];
  const spaced = phrase.replaceAll("'", " ").replaceAll("-", " ");
  for (const [i, piece] of spaced.split(/[()]/).entries()) {
    const optional = i % 2 === 1;
    const words = piece.split(" ").filter((word) => word !== "");
    if (optional)
      elements.push({
        choices: piece
          .split("|")
          .map(wordsOf)
          .filter((each) => each.length > 0),
        optional,
      });
    else for (const word of words) elements.push({ choices: word.split("|").map(wordsOf), optional });
  }
  return elements;
}

function wordsOf(text: string): string[] {
  return text.split(" ").filter((word) => word !== "");
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

/** Weights of {@link Reached}: the word itself, else one with an inflection, else a longer ending before a shorter one, else a beginning. */
const LITERAL = 1_001;
const INFLECTED = 1_000;
const TAIL = 100;
/** Letters that an inflection adds at most. */
const MAX_INFLECTION = 3;

/** Walks all branches at once; at most {@link MAX_WORDS} words deep. */
function find(seeds: Seeds, words: readonly string[], at: number, end: number): Found | null {
  let branches: readonly Reached[] = [];
  let found: Found | null = null;
  let depth = 0;
  for (let i = at; i < end && depth <= MAX_WORDS; i++) {
    const word = words[i] ?? "";
    if (word === "") {
      if (i === at) return null;
      continue;
    }
    const reached: Reached[] = [];
    if (i === at) start(seeds, word, reached);
    else for (const { node } of branches) step(node, word, reached);
    if (reached.length === 0) break;
    depth++;
    const meanings = weightiest(reached);
    if (meanings.length > 0) found = { length: i + 1 - at, meanings };
    branches = reached;
  }
  return found;
}

/** The first step, down every tree that the word may begin. */
function start(seeds: Seeds, word: string, reached: Reached[]): void {
  const { exact, stems, tails } = seeds;
  const begin = (among: Map<string, Seed>, key: string): void => {
    const seed = among.get(key);
    if (seed !== undefined) step(grown(seed, among, key, seeds), word, reached);
  };
  begin(exact, word);
  begin(stems, word.slice(0, 2));
  begin(tails, word.slice(-2));
}

/** A beginning that leaves only an inflection open says as much as the word. */
function stemWeight(word: string, stem: string): number {
  const rest = word.length - stem.length;
  if (rest === 0) return LITERAL;
  return rest <= MAX_INFLECTION ? INFLECTED : stem.length;
}

/** Kinds that name what a thing is; among them the word or ending that says most decides. */
const NOUN = /^(?:type:|accessory$|device$)/;

/** Everything that the reached phrases mean; of nouns only those of the word or ending that says most. */
function weightiest(reached: readonly Reached[]): readonly Meaning[] {
  const ended = reached.filter(({ node }) => node.meanings.length > 0);
  if (ended.length <= 1) return ended[0]?.node.meanings ?? [];
  const most = Math.max(...ended.map(({ node, weight }) => (hasNoun(node) ? weight : 0)));
  const least = most === LITERAL && !ended.some(isAccessoryOnly) ? INFLECTED : most;
  return ended.flatMap(({ node, weight }) =>
    weight >= least ? node.meanings : node.meanings.filter(({ kind }) => !NOUN.test(kind)),
  );
}

function hasNoun({ meanings }: Node): boolean {
  return meanings.some(({ kind }) => NOUN.test(kind));
}

/** An accessory named word for word is none of the parts that its name begins like ("akkubox"). */
function isAccessoryOnly({ node: { meanings }, weight }: Reached): boolean {
  if (weight !== LITERAL) return false;
  return meanings.some(({ kind }) => kind === "accessory") && !meanings.some(({ kind }) => kind.startsWith("type:"));
}

function step(node: Node, word: string, reached: Reached[]): void {
  const exact = node.next.get(word);
  if (exact !== undefined) reached.push({ node: exact, weight: LITERAL });
  if (node.stems.size > 0) {
    for (const { stem, node: next } of node.stems.get(word.slice(0, 2)) ?? []) {
      if (word.startsWith(stem)) reached.push({ node: next, weight: stemWeight(word, stem) });
    }
  }
  if (node.tails.size > 0) {
    for (const { tail, node: next } of node.tails.get(word.slice(-2)) ?? []) {
      if (!word.endsWith(tail) || /\d/.test(word)) continue;
      reached.push({ node: next, weight: word === tail ? LITERAL : TAIL + tail.length });
    }
  }
}
