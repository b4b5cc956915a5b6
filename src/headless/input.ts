/**
 * Line input with flat memory: bytes in, batches of whole lines out.
 *
 * Lines are cut at line feeds only (a carriage return before one is white space to JSON). A line longer than
 * {@link MAX_LINE_BYTES} is not gathered: it is told of, and reading goes on after it.
 */
import { createReadStream } from "node:fs";
import type { Words } from "../text/words.ts";
import { exits, Stop } from "./exits.ts";

/** Longest line that is gathered, in bytes; the listing schema allows four million characters. */
export const MAX_LINE_BYTES = 16 * 1024 * 1024;
/** How much is read at a time, in bytes. */
const CHUNK_BYTES = 256 * 1024;
const LINE_FEED = 0x0a;

/** Some whole lines, or word of one that was too long. */
export type LineBatch =
  | { readonly kind: "lines"; readonly bytes: Uint8Array; readonly firstLine: number; readonly lines: number }
  | { readonly kind: "too-long"; readonly firstLine: number };

/** How a file operand is named in messages; `-` is standard input. */
export function shownName(file: string): string {
  return file === "-" ? "<stdin>" : file;
}

/**
 * The bytes of a file or of standard input (`-`).
 *
 * @param as `utf-8`: text marked as UTF-16 by its byte order mark comes as UTF-8; `raw`: bytes as they are
 * @throws Stop when the file cannot be read
 */
export async function* bytesOf(
  file: string,
  signal: AbortSignal,
  words: Words,
  as: "utf-8" | "raw" = "utf-8",
): AsyncGenerator<Buffer> {
  const stream = file === "-" ? process.stdin : createReadStream(file, { highWaterMark: CHUNK_BYTES });
  const stop = () => stream.destroy();
  signal.addEventListener("abort", stop);
  try {
    const chunks = stream as AsyncIterable<Buffer>;
    yield* as === "raw" ? chunks : asUtf8(chunks);
  } catch (error) {
    if (signal.aborted) return;
    throw new Stop(exits.usage, [unreadable(file, error, words)]);
  } finally {
    signal.removeEventListener("abort", stop);
    stream.destroy();
  }
}

/** Why a file could not be read, as `file: sentence`. */
export function unreadable(file: string, error: unknown, words: Words): string {
  const { code, message } = error as NodeJS.ErrnoException;
  const known: Readonly<Record<string, string>> = {
    ENOENT: "command_file_missing",
    EISDIR: "command_file_is_folder",
    EACCES: "command_file_forbidden",
    EPERM: "command_file_forbidden",
  };
  const key = known[code ?? ""];
  return `${shownName(file)}: ${key ? words.say(key) : words.say("command_file_unreadable", { because: message ?? String(error) })}`;
}

async function* asUtf8(chunks: AsyncIterable<Buffer>): AsyncGenerator<Buffer> {
  let decoder: TextDecoder | null | undefined;
  for await (const chunk of chunks) {
    if (decoder === undefined) decoder = utf16Decoder(chunk);
    yield decoder ? Buffer.from(decoder.decode(chunk, { stream: true }), "utf8") : chunk;
  }
}

function utf16Decoder(head: Buffer): TextDecoder | null {
  if (head[0] === 0xff && head[1] === 0xfe) return new TextDecoder("utf-16le");
  if (head[0] === 0xfe && head[1] === 0xff) return new TextDecoder("utf-16be");
  return null;
}

/**
 * Cuts bytes into batches of whole lines, in order. The last line needs no line feed, unless reading was broken off.
 *
 * @param firstLine number of the first line, one-based
 */
export async function* lineBatches(
  chunks: AsyncIterable<Uint8Array>,
  signal: AbortSignal,
  firstLine: number = 1,
): AsyncGenerator<LineBatch> {
  let carried: Uint8Array[] = [];
  let carriedBytes = 0;
  let line = firstLine;
  let skipping = false;
  for await (const chunk of chunks) {
    let rest = chunk;
    if (skipping) {
      const end = rest.indexOf(LINE_FEED);
      if (end < 0) continue;
      rest = rest.subarray(end + 1);
      skipping = false;
      line++;
    }
    const last = rest.lastIndexOf(LINE_FEED);
    if (last >= 0) {
      const bytes = joined([...carried, rest.subarray(0, last + 1)]);
      const lines = countLines(bytes);
      yield { kind: "lines", bytes, firstLine: line, lines };
      line += lines;
      carried = [];
      carriedBytes = 0;
      rest = rest.subarray(last + 1);
    }
    if (rest.length > 0) carried.push(rest);
    carriedBytes += rest.length;
    if (carriedBytes > MAX_LINE_BYTES) {
      yield { kind: "too-long", firstLine: line };
      carried = [];
      carriedBytes = 0;
      skipping = true;
    }
  }
  if (carriedBytes > 0 && !signal.aborted) yield { kind: "lines", bytes: joined(carried), firstLine: line, lines: 1 };
}

function joined(pieces: readonly Uint8Array[]): Uint8Array {
  const only = pieces[0];
  return pieces.length === 1 && only ? only : Buffer.concat(pieces);
}

function countLines(bytes: Uint8Array): number {
  let lines = 0;
  for (let at = bytes.indexOf(LINE_FEED); at >= 0; at = bytes.indexOf(LINE_FEED, at + 1)) lines++;
  return lines;
}
