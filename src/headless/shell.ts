/** What every subcommand is handed by the entry point. */
import type { Words } from "../text/words.ts";
import type { Arguments } from "./arguments.ts";
import type { Output } from "./output.ts";

/** The command's surroundings. */
export interface Shell {
  readonly words: Words;
  readonly out: Output;
  /** Writes one line to standard error. */
  complain(line: string): void;
  /** Aborted when the person interrupts. */
  readonly signal: AbortSignal;
  /** The folder of the built command, where `worker.mjs` and `page-reader.js` lie. */
  readonly home: URL;
}

/** A subcommand: resolves with the exit code, or throws `Stop`. */
export type Run = (given: Arguments, shell: Shell) => Promise<number>;
