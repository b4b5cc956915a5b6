/** Catalog and bench files from disk: read whole, decoded, checked; every fault named by file, line and field. */
import { closeSync, openSync, readFileSync, readSync, statSync } from "node:fs";
import { type Bench, readBench } from "../formats/bench.ts";
import { type Catalog, readCatalog } from "../formats/catalog.ts";
import type { Fault, Outcome } from "../formats/common.ts";
import type { Words } from "../text/words.ts";
import { shownName, unreadable } from "./input.ts";
import { linesOfFields } from "./locate.ts";

/** Largest file that is read whole, in bytes. */
const MAX_FILE_BYTES = 256 * 1024 * 1024;

/** A value read from a file, or the sentences that say why not. */
export type Loaded<T> = { readonly value: T } | { readonly faults: readonly string[] };

/** Reads one catalog file. */
export function loadCatalog(file: string, words: Words): Loaded<Catalog> {
  return load(file, readCatalog, words);
}

/** Reads one bench file. */
export function loadBench(file: string, words: Words): Loaded<Bench> {
  return load(file, readBench, words);
}

/** `file:line: field: what was wrong`, leaving out what is not known. */
export function faultText(file: string, { field, message, line }: Fault): string {
  const place = line === undefined ? shownName(file) : `${shownName(file)}:${line}`;
  return field === "" ? `${place}: ${message}` : `${place}: ${field}: ${message}`;
}

/** The bytes of a whole file or of standard input (`-`). */
export function readWhole(file: string, words: Words): Loaded<Buffer> {
  try {
    if (file !== "-" && statSync(file).size > MAX_FILE_BYTES) {
      return { faults: [`${file}: ${words.say("command_file_too_big", { most: MAX_FILE_BYTES / 1024 / 1024 })}`] };
    }
    return { value: readFileSync(file === "-" ? 0 : file) };
  } catch (error) {
    return { faults: [unreadable(file, error, words)] };
  }
}

/** Text of a whole UTF-8 file (or UTF-16 with a byte order mark). */
function readText(file: string, words: Words): Loaded<string> {
  const bytes = readWhole(file, words);
  if ("faults" in bytes) return bytes;
  const head = bytes.value;
  const utf16 =
    head[0] === 0xff && head[1] === 0xfe ? "utf-16le" : head[0] === 0xfe && head[1] === 0xff ? "utf-16be" : null;
  try {
    return { value: new TextDecoder(utf16 ?? "utf-8", { fatal: true }).decode(head) };
  } catch {
    // The decoder only says that it failed; the line is ours to find.
    return { faults: [`${shownName(file)}:${firstBadLine(head)}: ${words.say("command_not_utf8")}`] };
  }
}

function firstBadLine(bytes: Buffer): number {
  const text = bytes.toString("utf8");
  const bad = text.indexOf("\ufffd");
  return text.slice(0, Math.max(bad, 0)).split("\n").length;
}

function load<T>(file: string, read: (text: string) => Outcome<T>, words: Words): Loaded<T> {
  const text = readText(file, words);
  if ("faults" in text) return text;
  const outcome = read(text.value);
  if (outcome.ok) return { value: outcome.value };
  return { faults: withLines(outcome.faults, text.value).map((fault) => faultText(file, fault)) };
}

function withLines(faults: readonly Fault[], text: string): Fault[] {
  const named = faults.filter(({ line, field }) => line === undefined && field !== "");
  if (named.length === 0) return [...faults];
  const lines = linesOfFields(
    text,
    named.map(({ field }) => field),
  );
  const lineOf = new Map(named.map((fault, i) => [fault, lines[i]]));
  return faults.map((fault) => {
    const line = lineOf.get(fault);
    return line === undefined ? fault : { ...fault, line };
  });
}

/** How much of a file is looked at to tell what it is, in bytes. */
const HEAD_BYTES = 64 * 1024;

/**
 * True when a word after `--catalog FILE` names a further catalog rather than the listing file: by its name where
 * that says it, else by what the file starts with.
 */
export function namesCatalog(word: string): boolean {
  if (word.endsWith(".catalog.json")) return true;
  if (!word.endsWith(".json")) return headOf(word).includes("falsefit-catalog");
  const head = headOf(word);
  return head.includes("falsefit-catalog") || !/"title"\s*:/.test(head);
}

function headOf(file: string): string {
  try {
    if (!statSync(file).isFile()) return "";
    const descriptor = openSync(file, "r");
    const head = Buffer.alloc(HEAD_BYTES);
    const length = readSync(descriptor, head);
    closeSync(descriptor);
    return head.toString("utf8", 0, length);
  } catch {
    // Whoever reads the file in earnest says why it cannot be read.
    return "";
  }
}
