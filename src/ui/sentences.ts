/**
 * Sentences before they are said: a key, and values that may be money. A page hands them to the background, because
 * a browser's formatters for numbers and lists take twenty milliseconds of a page's own time when they are first used.
 */
import type { Hazard } from "../formats/verdict.ts";
import type { Words, WordValue } from "../text/words.ts";
import { hazardText } from "../verdict/hazard-words.ts";

/** An amount of money in a sentence: decimal text and ISO 4217 code. */
export interface MoneyValue {
  readonly amount: string;
  readonly currency: string;
}

/** What is to be said: a message with its values, or what a wrong part would do. */
export type Sentence =
  | { readonly key: string; readonly values?: Readonly<Record<string, WordValue | MoneyValue>> }
  | { readonly hazard: Pick<Hazard, "code" | "values"> };

/** Says each sentence in the language of the words. */
export function sayAll(sentences: readonly Sentence[], words: Words): string[] {
  return sentences.map((sentence) =>
    "hazard" in sentence
      ? hazardText(sentence.hazard, words)
      : words.say(sentence.key, sayValues(sentence.values ?? {}, words)),
  );
}

function sayValues(values: Readonly<Record<string, WordValue | MoneyValue>>, words: Words): Record<string, WordValue> {
  return Object.fromEntries(
    Object.entries(values).map(([name, value]) => [
      name,
      isMoney(value) ? words.money(value.amount, value.currency) : value,
    ]),
  );
}

function isMoney(value: WordValue | MoneyValue): value is MoneyValue {
  return typeof value === "object" && "amount" in value;
}
