/** Loads the sentences of a language from the extension's own `_locales` folder. */
import { type Messages, makeWords, type Words } from "../text/words.ts";

/** Languages that the program speaks, each under its own name. */
export const languageNames: Readonly<Record<string, string>> = {
  en: "English",
  de: "Deutsch",
  fr: "Français",
  es: "Español",
  it: "Italiano",
  pl: "Polski",
};

/** The messages of one language with English where it lacks one: ready to be sent to a page. */
export interface LoadedMessages {
  readonly language: string;
  readonly messages: Messages;
}

/**
 * The language to speak.
 *
 * @param setting `auto`, or a language that a person chose
 * @param preferred languages of the browser, best first, BCP 47
 */
export function chooseLanguage(setting: string, preferred: readonly string[]): string {
  if (setting !== "auto") return setting;
  for (const tag of preferred) {
    const primary = tag.toLowerCase().split("-", 1)[0] ?? "";
    if (primary in languageNames) return primary;
  }
  return "en";
}

/**
 * Reads the message file of a language.
 *
 * @param urlOf address of a file of the extension
 * @throws TypeError when even English cannot be read; another language that cannot falls back to English
 */
export async function loadMessages(language: string, urlOf: (path: string) => string): Promise<LoadedMessages> {
  const english = await readMessages("en", urlOf);
  if (language === "en") return { language, messages: english };
  try {
    return { language, messages: { ...english, ...(await readMessages(language, urlOf)) } };
  } catch (error) {
    console.warn(`No messages for "${language}":`, error);
    return { language: "en", messages: english };
  }
}

/** The sentences of a language, loaded. */
export async function loadWords(language: string, urlOf: (path: string) => string): Promise<Words> {
  const loaded = await loadMessages(language, urlOf);
  return makeWords(loaded.language, loaded.messages);
}

async function readMessages(language: string, urlOf: (path: string) => string): Promise<Record<string, string>> {
  const response = await fetch(urlOf(`_locales/${language.replace("-", "_")}/messages.json`));
  if (!response.ok) throw new TypeError(`No message file for "${language}".`);
  const file: unknown = await response.json();
  const messages: Record<string, string> = {};
  for (const [key, entry] of Object.entries(file ?? {})) {
    if (typeof entry?.message === "string") messages[key] = entry.message;
  }
  return messages;
}
