/**
 * The command line by POSIX conventions (XBD 12.2): options before or between operands, `--` ends options, `-` is
 * standard input. Everything wrong is found and said at once, with the nearest option there is.
 */
import { parseArgs } from "node:util";
import type { Words } from "../text/words.ts";

/** One option of a subcommand. */
export interface OptionSpec {
  /** Placeholder of its value in the help, such as `FILE`; an option without one is a switch. */
  readonly value?: string;
  /** May be given several times. */
  readonly many?: boolean;
  /** Its help is the message `command_option_<about>`. */
  readonly about: string;
}

/** What a subcommand takes. */
export interface CommandSpec {
  readonly name: string;
  /** Usage after `falsefit <name>`, in the notation of the POSIX utility pages. */
  readonly usage: readonly string[];
  readonly options: Readonly<Record<string, OptionSpec>>;
  /** Largest number of operands. */
  readonly operands: number;
}

/** A command line as read. */
export interface Arguments {
  /** Last value of an option. */
  value(name: string): string | undefined;
  /** Every value of an option, in order. */
  values(name: string): readonly string[];
  /** True when a switch was given. */
  has(name: string): boolean;
  readonly operands: readonly string[];
}

/** Options that every subcommand has. */
export const commonOptions: Readonly<Record<string, OptionSpec>> = {
  lang: { value: "LANG", about: "lang" },
  help: { about: "help" },
};

/** Reads a subcommand's words. `faults` is empty when all of them make sense. */
export function readArguments(
  spec: CommandSpec,
  words: readonly string[],
  say: Words,
): { arguments: Arguments; faults: string[] } {
  const options = { ...spec.options, ...commonOptions };
  const { tokens } = parseArgs({
    args: [...words],
    strict: false,
    allowPositionals: true,
    tokens: true,
    options: {
      ...Object.fromEntries(
        Object.entries(options).map(([name, { value }]) => [name, { type: value ? "string" : "boolean" } as const]),
      ),
      help: { type: "boolean", short: "h" },
    },
  });
  const found = new Map<string, string[]>();
  const operands: string[] = [];
  const faults: string[] = [];
  for (const token of tokens) {
    if (token.kind === "positional") operands.push(token.value);
    if (token.kind !== "option") continue;
    const option = Object.hasOwn(options, token.name) ? options[token.name] : undefined;
    const fault = option ? optionFault(option, token, found, say) : unknownOption(token.rawName, options, say);
    if (fault) faults.push(fault);
    found.set(token.name, [...(found.get(token.name) ?? []), token.value ?? ""]);
  }
  if (operands.length > spec.operands) {
    faults.push(say.say("command_too_many_operands", { operand: operands[spec.operands] ?? "", most: spec.operands }));
  }
  return {
    arguments: {
      value: (name) => found.get(name)?.at(-1),
      values: (name) => found.get(name) ?? [],
      has: (name) => found.has(name),
      operands,
    },
    faults,
  };
}

interface OptionToken {
  readonly name: string;
  readonly rawName: string;
  readonly value: string | undefined;
  readonly inlineValue: boolean | undefined;
}

function optionFault(
  option: OptionSpec,
  token: OptionToken,
  found: ReadonlyMap<string, unknown>,
  say: Words,
): string | null {
  const name = token.rawName;
  if (!option.value) return token.value === undefined ? null : say.say("command_option_takes_none", { option: name });
  const looksLikeOption = !token.inlineValue && /^-./.test(token.value ?? "");
  if (token.value === undefined || token.value === "" || looksLikeOption) {
    return say.say("command_option_needs_value", { option: name, value: option.value });
  }
  if (!option.many && found.has(token.name)) return say.say("command_option_twice", { option: name });
  return null;
}

function unknownOption(rawName: string, options: Readonly<Record<string, OptionSpec>>, say: Words): string {
  const near = nearest(rawName.replace(/^-+/, ""), Object.keys(options));
  return near
    ? say.say("command_unknown_option_hint", { option: rawName, hint: `--${near}` })
    : say.say("command_unknown_option", { option: rawName });
}

/** The nearest of some names: it starts with what was typed, or at most two edits away; null when none is near. */
export function nearest(typed: string, names: readonly string[]): string | null {
  const short = typed.slice(0, 40).toLowerCase();
  const starting = names.find((name) => short.length > 1 && name.startsWith(short));
  if (starting) return starting;
  const ranked = names.map((name) => ({ name, edits: edits(short, name) })).sort((a, b) => a.edits - b.edits);
  const best = ranked[0];
  return best && best.edits <= 2 && best.edits < best.name.length ? best.name : null;
}

/** Levenshtein distance, for words of a few letters. */
function edits(a: string, b: string): number {
  let row = Array.from({ length: b.length + 1 }, (_, i) => i);
  for (let i = 1; i <= a.length; i++) {
    const next = [i];
    for (let j = 1; j <= b.length; j++) {
      const same = a[i - 1] === b[j - 1] ? 0 : 1;
      next.push(Math.min((next[j - 1] ?? 0) + 1, (row[j] ?? 0) + 1, (row[j - 1] ?? 0) + same));
    }
    row = next;
  }
  return row[b.length] ?? 0;
}

/**
 * `--catalog A B C` means all three: repeats the option before each further word that names a catalog, so that a
 * listing file may still stand after it.
 *
 * @param isCatalog tells whether a word names a catalog file
 */
export function spreadCatalogs(words: readonly string[], isCatalog: (word: string) => boolean): string[] {
  const spread: string[] = [];
  let taking: "no" | "first" | "more" = "no";
  for (const [i, word] of words.entries()) {
    if (word === "--") return [...spread, ...words.slice(i)];
    if (word === "--catalog") taking = "first";
    else if (word.startsWith("--catalog=")) taking = "more";
    else if (taking === "first") taking = "more";
    else if (taking === "more" && !word.startsWith("-") && isCatalog(word)) spread.push("--catalog");
    else taking = "no";
    spread.push(word);
  }
  return spread;
}
