/** Words of listings for what catalogs state by a word or as true: "USB-C" of a socket, "with touch" of a panel. */
import type { KnownPart } from "../catalog/index.ts";
import { compileLexicon, type PhraseEntry } from "../claims/lexicon.ts";
import { NAMED_DIMENSION, type NamedQuantity, type NamedWords } from "../claims/vocabulary.ts";
import type { NumberFormatOf } from "../formats/number-format-rule.ts";
import type { RawRules } from "../formats/rules.ts";
import { plainWord } from "../text/plain-word.ts";

/** The name under which a part's connector family stands among its quantities. */
export const CONNECTOR = "connectorFamily";

type ValueWords = NumberFormatOf<"value-words">;

/** The words for each value that tells parts of one type apart. */
export function valueWordsOf(parts: Iterable<KnownPart>, rules: RawRules): NamedWords {
  const entries: PhraseEntry[] = [];
  const namedQuantities = new Map<string, NamedQuantity>();
  const files = rules.numberFormats.flatMap((rule) => (rule.kind === "value-words" ? [rule] : []));
  const ruled = new Set(rules.partTypes.flatMap(({ id, named }) => (named ?? []).map(({ name }) => `${id} ${name}`)));
  for (const [subject, { type, name, values }] of statedWords(parts)) {
    if (values.size < 2 || ruled.has(subject)) continue;
    for (const value of values) {
      const kind = `${subject} ${value}`;
      const words = files.flatMap((file) => wordsFor(name, value, file));
      namedQuantities.set(kind, { name, value: String(value), dimension: NAMED_DIMENSION + type });
      for (const phrase of words) entries.push({ phrase, kind, language: "" });
    }
  }
  return { named: compileLexicon(entries), namedQuantities };
}

interface StatedWords {
  readonly type: string;
  readonly name: string;
  readonly values: Set<string | boolean>;
}

function statedWords(parts: Iterable<KnownPart>): Map<string, StatedWords> {
  const stated = new Map<string, StatedWords>();
  for (const { type, readings } of parts) {
    for (const { part } of readings) {
      const { family } = part.connector ?? {};
      const words = Object.entries({ ...part.quantities, ...(family === undefined ? {} : { [CONNECTOR]: family }) });
      for (const [name, value] of words) {
        if (typeof value === "number") continue;
        const subject = `${type} ${name}`;
        const entry = stated.get(subject) ?? { type, name, values: new Set() };
        entry.values.add(value);
        stated.set(subject, entry);
      }
    }
  }
  return stated;
}

/** All the words for a value; none where no list holds it. */
function wordsFor(name: string, value: string | boolean, { values, flags }: ValueWords): readonly string[] {
  if (typeof value === "boolean") {
    const flag = flags.find(({ names }) => names.includes(name));
    return flag === undefined ? [] : value ? flag.yes : flag.no;
  }
  const plain = value.split(/[^\p{L}\p{N}]+/u).map(plainWord);
  return (
    values.find(({ words }) =>
      words.some(
        (phrase) => compileLexicon([{ phrase, kind: "", language: "" }]).find(plain, 0)?.length === plain.length,
      ),
    )?.words ?? []
  );
}
