// @ts-check
/**
 * Adds, changes or removes message texts in all languages at once and keeps the files in canonical form
 * (sorted keys, two spaces). Reads one JSON object from standard input:
 *
 *   { "popup_no_device": { "en": "…", "de": "…", "fr": "…", "es": "…", "it": "…", "pl": "…" }, "old_key": null }
 *
 * With no input it only rewrites the files in canonical form.
 */
import { closeSync, existsSync, mkdirSync, openSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";

const LOCALES = fileURLToPath(new URL("./_locales/", import.meta.url));
const LANGUAGES = ["de", "en", "es", "fr", "it", "pl"];

/** @type {Record<string, Record<string, string> | null>} */
const changes = process.stdin.isTTY ? {} : JSON.parse(readFileSync(0, "utf8").trim() || "{}");
const faults = Object.entries(changes).flatMap(([key, texts]) => {
  if (!/^[a-z][A-Za-z0-9_]*$/.test(key)) return [`${key}: keys are letters, digits and underscores`];
  if (texts === null) return [];
  const plurals = ["one", "few", "many", "other"];
  const counted = plurals.some((form) => key.endsWith(`_${form}`));
  return LANGUAGES.filter((language) => typeof texts[language] !== "string" && !counted).map(
    (language) => `${key}: no text for "${language}"`,
  );
});
if (faults.length > 0) {
  console.error(faults.join("\n"));
  process.exit(2);
}

const lock = join(LOCALES, ".lock");
mkdirSync(LOCALES, { recursive: true });
const held = takeLock();
try {
  for (const language of LANGUAGES) {
    const file = join(LOCALES, language, "messages.json");
    mkdirSync(join(LOCALES, language), { recursive: true });
    /** @type {Record<string, { message: string }>} */
    const messages = existsSync(file) ? JSON.parse(readFileSync(file, "utf8")) : {};
    for (const [key, texts] of Object.entries(changes)) {
      const text = texts?.[language];
      if (text === undefined) delete messages[key];
      else messages[key] = { message: text };
    }
    const sorted = Object.fromEntries(
      Object.keys(messages)
        .sort()
        .map((key) => [key, messages[key]]),
    );
    writeFileSync(file, `${JSON.stringify(sorted, null, 2)}\n`);
  }
} finally {
  closeSync(held);
  rmSync(lock);
}

/** Waits for the one lock file, so that two runs side by side do not lose each other's texts. */
function takeLock() {
  for (let tries = 0; ; tries++) {
    try {
      return openSync(lock, "wx");
    } catch (error) {
      if (tries > 200) throw error;
      Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, 50);
    }
  }
}
