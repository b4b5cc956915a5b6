/** The sentences of a language straight from its message file. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { makeWords, type Words } from "../../src/text/words.ts";

function messagesOf(language: string): Record<string, string> {
  const file = join(import.meta.dirname, "../../manifest/_locales", language, "messages.json");
  const messages: Record<string, { message: string }> = JSON.parse(readFileSync(file, "utf8"));
  return Object.fromEntries(Object.entries(messages).map(([key, { message }]) => [key, message]));
}

export function wordsOf(language: string): Words {
  return makeWords(language, messagesOf(language));
}

/** Every sentence in a right-to-left pseudo-language: marked, longer, and laid out from the right. */
export function pseudoMessages(): Record<string, string> {
  return Object.fromEntries(
    Object.entries(messagesOf("en")).map(([key, text]) => [key, `\u05e9\u05dc ${text} \u05d0\u05d1\u05d2`]),
  );
}
