/** `falsefit read`: saved pages in, listing lines out, in document order. */
import { isUtf8 } from "node:buffer";
import { resolve } from "node:path";
import { pathToFileURL } from "node:url";
import type { Words } from "../text/words.ts";
import type { Arguments } from "./arguments.ts";
import { exits, Stop } from "./exits.ts";
import { shownName } from "./input.ts";
import { readWhole } from "./load.ts";
import type { Run, Shell } from "./shell.ts";

/** A saved page. */
export interface SavedPage {
  readonly bytes: Buffer;
  /** Address that its links are taken from. */
  readonly url: string;
  /** MIME type, with the encoding where the page does not say it itself. */
  readonly contentType: string;
}

/** Reads pages one after the other: NDJSON of their listings, without a line feed at the end. */
export interface PageReader {
  read(page: SavedPage): Promise<string>;
  end(): Promise<void>;
}

const places = ["jsdom", "chromium"] as const;

/** Runs `read`. */
export const read: Run = async (given, shell) => {
  const { words } = shell;
  if (given.operands.length === 0) {
    throw new Stop(exits.usage, [words.say("command_needs_operand", { value: "PAGE.html" })]);
  }
  const stated = statedUrl(given, words);
  const reader = await openReader(given, shell);
  let bad = 0;
  try {
    for (const file of given.operands) {
      if (shell.signal.aborted) break;
      const problem = await readFile(file, stated, reader, shell);
      if (problem === null) continue;
      bad++;
      for (const line of problem) shell.complain(line);
    }
  } finally {
    await reader.end();
  }
  if (bad === 0) return exits.done;
  return bad === given.operands.length ? exits.usage : exits.someBad;
};

/** Writes the listings of one page; gives what was wrong with it, or null. */
async function readFile(
  file: string,
  stated: string | null,
  reader: PageReader,
  { words, out }: Shell,
): Promise<readonly string[] | null> {
  const loaded = readWhole(file, words);
  if ("faults" in loaded) return loaded.faults;
  const bytes = loaded.value;
  const page = { bytes, url: stated ?? savedFrom(bytes) ?? fileUrl(file), contentType: contentTypeOf(file, bytes) };
  let lines: string;
  try {
    lines = await reader.read(page);
  } catch (error) {
    if (error instanceof Stop) throw error;
    const because = error instanceof Error ? error.message : String(error);
    return [`${shownName(file)}: ${words.say("command_page_unreadable", { because })}`];
  }
  if (lines !== "") await out.write(`${lines}\n`);
  return null;
}

async function openReader(given: Arguments, shell: Shell): Promise<PageReader> {
  const place = given.value("in") ?? "jsdom";
  if (place === "jsdom") return (await import("./read-jsdom.ts")).jsdomReader(shell.words);
  if (place === "chromium") return (await import("./read-chromium.ts")).chromiumReader(given.value("browser"), shell);
  throw new Stop(exits.usage, [shell.words.say("command_not_one_of", { option: "--in", value: place, known: places })]);
}

function statedUrl(given: Arguments, words: Words): string | null {
  const text = given.value("url");
  if (text === undefined) return null;
  const url = URL.canParse(text) ? new URL(text) : null;
  if (url?.protocol === "http:" || url?.protocol === "https:") return url.href;
  throw new Stop(exits.usage, [words.say("command_not_url", { value: text })]);
}

/** How far into a page the note "saved from url" is looked for, in bytes. */
const NOTE_BYTES = 2048;

/** The address in the comment that browsers put at the head of a saved page: `<!-- saved from url=(0023)https://… -->`. */
function savedFrom(bytes: Buffer): string | null {
  const head = bytes.toString("latin1", 0, NOTE_BYTES);
  const text = /<!--\s{0,4}saved from url=\(\d{4}\)([^\s>]{1,2000})/i.exec(head)?.[1];
  const url = text !== undefined && URL.canParse(text) ? new URL(text) : null;
  return url?.protocol === "http:" || url?.protocol === "https:" ? url.href : null;
}

/** A page without an address of its own lies where its file lies; standard input nowhere. */
function fileUrl(file: string): string {
  return file === "-" ? "file:///stdin.html" : pathToFileURL(resolve(file)).href;
}

/** How far into a page its own statement of an encoding is looked for (HTML, "prescan a byte stream"), in bytes. */
const PRESCAN_BYTES = 1024;

/** UTF-8 pages that do not say so are said to be UTF-8; what a page says itself is left to it. */
function contentTypeOf(file: string, bytes: Buffer): string {
  const type = /\.xht(?:ml)?$/i.test(file) ? "application/xhtml+xml" : "text/html";
  const hasMark = (bytes[0] === 0xfe && bytes[1] === 0xff) || (bytes[0] === 0xff && bytes[1] === 0xfe);
  const says = /charset|encoding=/i.test(bytes.toString("latin1", 0, PRESCAN_BYTES));
  return !hasMark && !says && isUtf8(bytes) ? `${type}; charset=utf-8` : type;
}
