/**
 * Standard output: whole lines, waiting for a slow reader, and plain words when it cannot be written.
 *
 * A regular file is written with our own loop, because a nearly full disk takes part of a buffer: what was taken of
 * the last line is cut off again, so that the file holds whole lines only.
 */
import { fstatSync, ftruncateSync, writeSync } from "node:fs";
import type { Words } from "../text/words.ts";
import { exits, Stop } from "./exits.ts";

/** Where a subcommand writes. */
export interface Output {
  /** Writes whole lines; resolves when more may be written. Throws {@link Stop} when it cannot. */
  write(text: string | Uint8Array): Promise<void>;
}

/** Standard output as an {@link Output}. */
export function standardOutput(words: Words): Output {
  const file = regularFile();
  return file ? fileOutput(1, words) : streamOutput(process.stdout, words);
}

function regularFile(): boolean {
  try {
    return fstatSync(1).isFile();
  } catch (error) {
    // EBADF: standard output was closed before we started (`>&-`).
    if ((error as NodeJS.ErrnoException).code === "EBADF") return false;
    throw error;
  }
}

function fileOutput(descriptor: number, words: Words): Output {
  return {
    async write(text) {
      const bytes = typeof text === "string" ? Buffer.from(text, "utf8") : text;
      let written = 0;
      try {
        while (written < bytes.length) written += writeSync(descriptor, bytes, written);
      } catch (error) {
        const torn = written - (Buffer.from(bytes.subarray(0, written)).lastIndexOf(0x0a) + 1);
        if (torn > 0) ftruncateSync(descriptor, fstatSync(descriptor).size - torn);
        throw outputStop(error, words);
      }
    },
  };
}

function streamOutput(stream: NodeJS.WriteStream, words: Words): Output {
  let failure: unknown = null;
  let wake: (() => void) | null = null;
  stream.on("error", (error) => {
    failure = error;
    wake?.();
  });
  return {
    async write(text) {
      if (failure) throw outputStop(failure, words);
      await new Promise<void>((resolve) => {
        wake = resolve;
        stream.write(text, () => resolve());
      });
      wake = null;
      if (failure) throw outputStop(failure, words);
    },
  };
}

/** What a failed write means for the person. A closed pipe is no news to them: they closed it. */
function outputStop(error: unknown, words: Words): Stop {
  const { code, message } = error as NodeJS.ErrnoException;
  if (code === "EPIPE") return new Stop(exits.closedPipe, []);
  const full = code === "ENOSPC" || code === "EDQUOT" || code === "EFBIG";
  const because = full ? words.say("command_disk_full") : (message ?? String(error));
  return new Stop(exits.output, [words.say("command_output_failed", { because })]);
}
