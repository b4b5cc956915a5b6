/** What a listing is read with: the wording of all languages, and what numbers are known. Compiled once. */
import type { PartTypeRule } from "../formats/part-type-rule.ts";
import type { RawRules } from "../formats/rules.ts";
import type { StatedQuantity } from "../text/quantities.ts";
import { compileLexicon, type Lexicon, type PhraseEntry } from "./lexicon.ts";

/** What a known number can be. A number may be several things; what stands around it decides. */
export interface Named {
  /** As the catalogs, the device or the person knows it, canonical. */
  readonly number: string;
  readonly part: boolean;
  readonly model: boolean;
  readonly board: boolean;
}

/** The numbers that a text may name. */
export interface KnownNumbers {
  /**
   * @param canonical separators dropped, upper case
   * @param written as the text has it, for look-alike letters (a small l is drawn like 1)
   */
  look(canonical: string, written: string): Named | null;
  /** False only where no known number surely begins at this place of a folded text: quick, where a look-up makes strings. */
  mayBegin(text: string, at: number): boolean;
  /** Length of the longest canonical number. */
  longest(): number;
  /** True where some known number holds a letter outside ASCII, so that words with accents must be looked up. */
  readonly odd: boolean;
  /** True where a number without digits is known. */
  hasLetters(canonical: string): boolean;
  /** Known part numbers one character apart from an unknown one, as the text writes that. */
  near(written: string): readonly string[];
  /** True where the beginning or the length is that of known part numbers of the device in hand. */
  resembles(canonical: string): boolean;
  /** Names of revisions, as phrases of kind `revision:<id>`. */
  readonly revisionNames: Lexicon;
  /** Words for what the catalogs state of the family's parts by a word. */
  readonly valueWords?: NamedWords;
}

/** Wording ready to read with. */
export interface Wording {
  /** Phrases of all wording files, part-type words as `type:<id>`, their accessories as `accessory`. */
  readonly lexicon: Lexicon;
  /** Ids of rule files that this program does not understand. */
  readonly faults: readonly string[];
}

/** The kind under which the words of a part type stand in the lexicon. */
export const TYPE_KIND = "type:";
/** The kind under which the maker's name of the device stands. */
export const MAKER_KIND = "maker";
/** The kind of ordinal words: `ordinal:1` for "first". */
export const ORDINAL_KIND = "ordinal:";

/**
 * Compiles wording and part-type words. A file of another format version is left out and named in `faults`;
 * verdicts then never say `fits`.
 */
export function compileWording(rules: RawRules): Wording {
  const faults: string[] = [];
  const entries: PhraseEntry[] = [];
  for (const rule of rules.wording) {
    if (rule.format !== "falsefit-wording/1") {
      faults.push(String((rule as { language?: unknown }).language ?? "wording"));
      continue;
    }
    for (const [kind, phrases] of Object.entries(rule.phrases)) {
      for (const phrase of phrases) entries.push({ phrase, kind, language: rule.language });
    }
    for (const [i, words] of rule.ordinals.entries()) {
      for (const phrase of words.split("|")) {
        entries.push({ phrase, kind: `${ORDINAL_KIND}${i + 1}`, language: rule.language });
      }
    }
  }
  for (const rule of rules.partTypes) {
    if (rule.format !== "falsefit-part-type/1") {
      faults.push(String((rule as { id?: unknown }).id ?? "part type"));
      continue;
    }
    entries.push(...cueEntries(rule.words, `${TYPE_KIND}${rule.id}`), ...cueEntries(rule.accessories, "accessory"));
  }
  return { lexicon: compileLexicon(entries), faults };
}

/** The words that name a part type for devices that have such a part, for a lexicon. */
export function everydayWords({ id, everyday = {} }: PartTypeRule): Iterable<PhraseEntry> {
  return cueEntries(everyday, `${TYPE_KIND}${id}`);
}

function* cueEntries(cues: Readonly<Record<string, readonly string[]>>, kind: string): Generator<PhraseEntry> {
  for (const [language, phrases] of Object.entries(cues)) {
    for (const phrase of phrases) yield { phrase, kind, language };
  }
}

/** A quantity that a word states, for one part type: its dimension is `named:<type>`. */
export type NamedQuantity = Pick<StatedQuantity, "name" | "value" | "dimension">;

/** The dimension of quantities that a word states. */
export const NAMED_DIMENSION = "named:";

/** Words that state a quantity, and which. */
export interface NamedWords {
  readonly named: Lexicon;
  readonly namedQuantities: ReadonlyMap<string, NamedQuantity>;
}

/** Compiles the words by which listings state quantities ("without frame"). */
export function compileNamed(rules: RawRules): NamedWords {
  const entries: PhraseEntry[] = [];
  const namedQuantities = new Map<string, NamedQuantity>();
  for (const { id, named } of rules.partTypes) {
    for (const { name, values } of named ?? []) {
      for (const { value, words } of values) {
        const kind = `${id} ${name} ${value}`;
        namedQuantities.set(kind, { name, value: plainValue(value), dimension: `${NAMED_DIMENSION}${id}` });
        for (const phrase of words) entries.push({ phrase, kind, language: "" });
      }
    }
  }
  return { named: compileLexicon(entries), namedQuantities };
}

function plainValue(value: string | number | boolean): string | number {
  return typeof value === "boolean" ? String(value) : value;
}
