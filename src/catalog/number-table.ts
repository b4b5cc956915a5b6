/** Every number of the catalogs in one compact table: is it a part's, a model's or a board's. */
import { buildNumberIndex, type NumberEntry, type NumberIndex } from "../text/number-index.ts";
import { canonicalNumber } from "../text/part-number.ts";
import type { CatalogIndex, KnownFamily } from "./index.ts";

/** What a number is known as. */
export interface TableEntry {
  /** Canonical. */
  readonly number: string;
  readonly part: boolean;
  readonly model: boolean;
  readonly board: boolean;
}

const PART = 1;
const MODEL = 2;
const BOARD = 4;

/** Numbers of all catalogs, looked up by spelling, by look-alike spelling and by neighbourhood. */
export class NumberTable {
  readonly #numbers: string[] = [];
  readonly #kinds: number[] = [];
  readonly #letters = new Set<string>();
  /** True where a number holds a letter outside ASCII. */
  readonly odd: boolean;
  readonly #index: NumberIndex;

  constructor(index: CatalogIndex) {
    const ids = new Map<string, number>();
    const add = (number: string, kind: number): void => {
      if (number === "") return;
      if (!/\d/.test(number)) this.#letters.add(number);
      const id = ids.get(number);
      if (id === undefined) {
        ids.set(number, this.#numbers.length);
        this.#numbers.push(number);
        this.#kinds.push(kind);
      } else this.#kinds[id] = (this.#kinds[id] ?? 0) | kind;
    };
    for (const number of index.numbers()) add(number, PART);
    for (const family of index.families) {
      for (const number of family.modelNumbers) add(canonicalNumber(number), MODEL);
      for (const name of namesAsModels(family)) add(name, MODEL);
      for (const { boardNumbers } of family.revisions) {
        for (const number of boardNumbers) add(canonicalNumber(number), BOARD);
      }
    }
    this.odd = this.#numbers.some((number) => /[^\x20-\x7e]/.test(number));
    this.#index = buildNumberIndex(this.#numbers.map((number, id): NumberEntry => [number, id]));
  }

  /** The number that a spelling means: exactly, or with O/0 and I/l/1 taken for each other where that is clear. */
  look(canonical: string, written: string): TableEntry | null {
    const exact = this.#index.lookup(canonical);
    return this.#entry(exact.length > 0 ? exact[0] : this.#index.lookupLookAlike(written)[0]);
  }

  /** True for a known number without digits, which only its exact letters can name. */
  hasLetters(canonical: string): boolean {
    return this.#letters.has(canonical);
  }

  #entry(id: number | undefined): TableEntry | null {
    const number = id === undefined ? undefined : this.#numbers[id];
    if (id === undefined || number === undefined) return null;
    const kinds = this.#kinds[id] ?? 0;
    return { number, part: (kinds & PART) > 0, model: (kinds & MODEL) > 0, board: (kinds & BOARD) > 0 };
  }
}

/**
 * A family's name as listings use it in place of a model number: "Lark 20 handheld" is LARK20. A name without a number
 * counts only behind its maker's, up to any of its words: "Velsund Orrin", "Velsund Orrin e-bike".
 */
export function namesAsModels(family: KnownFamily): string[] {
  const words = (family.name ?? "").split(/\s+/);
  const last = words.findLastIndex((word) => /\d/.test(word));
  if (last < 0) return namesBehindMaker(family.maker ?? "", words);
  const alias = canonicalNumber(words.slice(0, last + 1).join(" "));
  return /^[A-Z].*\d/.test(alias) && isAliasLength(alias) ? [alias] : [];
}

/** How many words of a name stand behind its maker's at most. */
const MAX_NAME_WORDS = 4;

function namesBehindMaker(maker: string, words: readonly string[]): string[] {
  const first = canonicalNumber(words[0] ?? "");
  if (canonicalNumber(maker).length < 3 || !/^[A-Z]{3,}$/.test(first)) return [];
  const names = words
    .slice(0, MAX_NAME_WORDS)
    .map((_, i) => canonicalNumber([maker, ...words.slice(0, i + 1)].join(" ")));
  return names.filter(isAliasLength);
}

function isAliasLength(alias: string): boolean {
  return alias.length >= 4 && alias.length <= 24;
}
