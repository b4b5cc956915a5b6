/**
 * Which languages a listing is written in, told by its own phrases, so that a short word of another language ("do", "per",
 * "no") is not read as that. A mixed title keeps all its languages.
 */
import type { Item } from "./items.ts";
import type { Meaning } from "./lexicon.ts";

/** Kinds that turn the whole listing into something else: only words of the listing's own languages do. */
const DECIDING = new Set([
  "service",

  "nothing",
  "one",
  "both",
  "stockCue",

  "choice",
  "all",
]);
/** Kinds that speak against or cast doubt: a short word of any language is believed in these. */
const CAUTIOUS = new Set(["not", "against", "againstAfter", "except", "hedge"]);
/** A language with at least this share of the leading one's weight is one of the listing's. */
const SHARE = 0.4;
/** Weight of the language that the listing states. */
const STATED = 1.5;

/** "Fits all" said in several words is believed in any language. */
function isBelieved(kind: string, inWords: boolean): boolean {
  return !DECIDING.has(kind) || (kind === "all" && inWords);
}

/** A word for a part type names it in any language. */
function isType({ kind }: Meaning): boolean {
  return kind.startsWith("type:");
}

/** Adds up how much each language is spoken in some items. */
export function weighLanguages(items: readonly Item[], words: readonly string[], weights: Map<string, number>): void {
  for (const item of items) {
    if (item.type !== "phrase") continue;
    const telling = item.meanings.filter(({ kind, language }) => language !== "" && !DECIDING.has(kind));
    const languages = new Set(telling.map(({ language }) => language));
    let letters = 0;
    for (let i = item.first; i < item.last; i++) letters += words[i]?.length ?? 0;
    const weight = (letters <= 2 ? 0.2 : letters <= 3 ? 0.5 : 1) / Math.max(1, languages.size);
    for (const language of languages) weights.set(language, (weights.get(language) ?? 0) + weight);
  }
}

/** The languages spoken, or null where nothing tells. */
export function spokenLanguages(
  weights: ReadonlyMap<string, number>,
  stated: string | undefined,
): ReadonlySet<string> | null {
  const all = new Map(weights);
  const own = stated?.slice(0, 2).toLowerCase();
  if (own !== undefined && own !== "") all.set(own, (all.get(own) ?? 0) + STATED);
  const most = Math.max(0, ...all.values());
  if (most === 0) return null;
  return new Set([...all].flatMap(([language, weight]) => (weight >= most * SHARE ? [language] : [])));
}

/** Items with the meanings of languages that are not spoken taken out, where others remain or the word is short. */
export function keepSpoken(
  items: readonly Item[],
  words: readonly string[],
  spoken: ReadonlySet<string> | null,
): Item[] {
  if (spoken === null) return [...items];
  return items.map((item) => {
    if (item.type !== "phrase") return item;
    const isSpoken = ({ language }: Meaning): boolean => language === "" || spoken.has(language);
    const own = item.meanings.filter(isSpoken);
    if (own.length === item.meanings.length) return item;
    const cautious = item.meanings.filter((each) => !isSpoken(each) && isType(each));
    if (own.length > 0) return { ...item, meanings: [...own, ...cautious] };
    let letters = 0;
    for (let i = item.first; i < item.last; i++) letters += words[i]?.length ?? 0;
    const whole = item.last > item.first + 1;
    const kept = item.meanings.filter(({ kind }) => (letters <= 3 ? CAUTIOUS.has(kind) : isBelieved(kind, whole)));
    if (kept.length > 0) return { ...item, meanings: kept };
    return { type: "word", first: item.first, last: item.last };
  });
}
