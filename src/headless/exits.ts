/** Exit codes of the command, by the usual conventions; `falsefit --help` states them. */
export const exits = {
  /** All done. */
  done: 0,
  /** Some input lines were bad and reported; all others were handled. */
  someBad: 1,
  /** Wrong usage, or a catalog, bench or other file that cannot be read. Nothing was written. */
  usage: 2,
  /** The output could not be written (disk full, for example). */
  output: 3,
  /** Interrupted by the person (128 + SIGINT). */
  interrupted: 130,
  /** The reader of our output went away (128 + SIGPIPE). */
  closedPipe: 141,
  /** Told to end (128 + SIGTERM). */
  terminated: 143,
} as const;

/** A condition that ends the command with a message for the person; not a defect of the program. */
export class Stop extends Error {
  readonly exit: number;
  /** Every line to show on standard error. */
  readonly lines: readonly string[];

  constructor(exit: number, lines: readonly string[]) {
    super(lines[0] ?? "");
    this.exit = exit;
    this.lines = lines;
  }
}
