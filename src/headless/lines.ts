/** Input lines as text, one by one, for subcommands that need no second core. */
import { isUtf8 } from "node:buffer";
import { bytesOf, lineBatches, MAX_LINE_BYTES } from "./input.ts";
import type { Shell } from "./shell.ts";

/** One input line that is not blank; `text` is null where it cannot be used, and `fault` says why. */
export interface TextLine {
  /** One-based. */
  readonly number: number;
  readonly text: string | null;
  readonly fault: string;
}

/** The lines of a file or of standard input (`-`). */
export async function* textLines(file: string, { signal, words }: Shell): AsyncGenerator<TextLine> {
  for await (const batch of lineBatches(bytesOf(file, signal, words), signal)) {
    if (batch.kind === "too-long") {
      const fault = words.say("command_line_too_long", { most: MAX_LINE_BYTES / 1024 / 1024 });
      yield { number: batch.firstLine, text: null, fault };
      continue;
    }
    for (const [i, text] of linesOf(batch.bytes).entries()) {
      const number = batch.firstLine + i;
      if (text === null) yield { number, text, fault: words.say("command_not_utf8") };
      else if (text.trim() !== "") yield { number, text, fault: "" };
    }
  }
}

/** Lines of whole-line bytes as text; null for one that is not UTF-8. */
export function linesOf(bytes: Uint8Array): (string | null)[] {
  const whole = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  if (isUtf8(bytes)) return withoutLastEmpty(whole.toString("utf8").split("\n"));
  const lines: (string | null)[] = [];
  for (let at = 0; at < whole.length; ) {
    const feed = whole.indexOf(0x0a, at);
    const end = feed < 0 ? whole.length : feed;
    const line = whole.subarray(at, end);
    lines.push(isUtf8(line) ? line.toString("utf8") : null);
    at = end + 1;
  }
  return lines;
}

function withoutLastEmpty(lines: string[]): string[] {
  if (lines.at(-1) === "") lines.pop();
  return lines;
}
