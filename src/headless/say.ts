/** The command's sentences: which languages there are, which one to speak, and loading only that one. */
import { type Messages, makeWords, type Words } from "../text/words.ts";

type MessageFile = Record<string, { message: string }>;

const files: Readonly<Record<string, () => Promise<{ default: MessageFile }>>> = {
  en: () => import("../../manifest/_locales/en/messages.json"),
  de: () => import("../../manifest/_locales/de/messages.json"),
  fr: () => import("../../manifest/_locales/fr/messages.json"),
  es: () => import("../../manifest/_locales/es/messages.json"),
  it: () => import("../../manifest/_locales/it/messages.json"),
  pl: () => import("../../manifest/_locales/pl/messages.json"),
};

/** Languages that the command speaks, BCP 47. */
export const languages: readonly string[] = Object.keys(files);

/**
 * The language to speak where none was asked for: POSIX `LC_ALL`, `LC_MESSAGES`, `LANG`, in this order (XBD 8.2),
 * English where they name none that we have.
 */
export function environmentLanguage(environment: Readonly<Record<string, string | undefined>>): string {
  const named = ["LC_ALL", "LC_MESSAGES", "LANG"].map((name) => environment[name]).find((value) => value) ?? "";
  return knownLanguage(named) ?? "en";
}

/** `de`, `de_AT.UTF-8`, `de-AT` → `de`; null for a language that the command does not speak. */
export function knownLanguage(tag: string): string | null {
  const primary = (tag.split(/[-_.@]/, 1)[0] ?? "").toLowerCase();
  return languages.includes(primary) ? primary : null;
}

/** The sentences of one language (English where it lacks one). */
export async function loadWords(language: string): Promise<Words> {
  const own = await messagesOf(language);
  return makeWords(language, own, language === "en" ? {} : await messagesOf("en"));
}

async function messagesOf(language: string): Promise<Messages> {
  const load = files[language] ?? files["en"];
  if (!load) return {};
  const { default: file } = await load();
  return Object.fromEntries(Object.entries(file).map(([key, { message }]) => [key, message]));
}
