#!/usr/bin/env node
/** The command `falsefit`: finds the subcommand, hands it its surroundings, turns its outcome into an exit code. */
import { version } from "../../package.json";
import { nearest, readArguments, spreadCatalogs } from "./arguments.ts";
import { type Command, commands } from "./commands.ts";
import { exits, Stop } from "./exits.ts";
import { commandHelp, overallHelp } from "./help.ts";
import { namesCatalog } from "./load.ts";
import { type Output, standardOutput } from "./output.ts";
import { environmentLanguage, knownLanguage, languages, loadWords } from "./say.ts";

const HOME = new URL(".", import.meta.url);

// Every write has been waited for by now; an input that never ends must not keep the process.
process.exit(await main(process.argv.slice(2)));

async function main(given: readonly string[]): Promise<number> {
  const complain = (line: string): void => {
    process.stderr.write(`${line}\n`);
  };
  // A closed standard error leaves nobody to tell.
  process.stderr.on("error", () => undefined);
  const words = await loadWords(environmentLanguage(process.env));
  const out = standardOutput(words);
  try {
    const [first = "", ...rest] = given;
    if (first === "--version" || first === "-V") return await finish(out, `falsefit ${version}\n`);
    if (first === "--help" || first === "-h") return await finish(out, overallHelp(commands, words));
    const [name, wordsOfCommand] = first === "help" ? [rest[0] ?? "", ["--help"]] : [first, rest];
    if (first === "help" && name === "") return await finish(out, overallHelp(commands, words));
    const command = commands.find((each) => each.name === name);
    if (command) return await runCommand(command, wordsOfCommand, out, complain);
    complain(unknownCommand(name, words));
    complain(words.say("command_see_help", { command: "falsefit" }));
    return exits.usage;
  } catch (error) {
    return failed(error, complain);
  }
}

function unknownCommand(name: string, words: Awaited<ReturnType<typeof loadWords>>): string {
  if (name === "") return words.say("command_none_given");
  const near = nearest(
    name,
    commands.map((each) => each.name),
  );
  return near
    ? words.say("command_unknown_hint", { command: name, hint: near })
    : words.say("command_unknown", { command: name });
}

async function finish(out: Output, text: string): Promise<number> {
  await out.write(text);
  return exits.done;
}

async function runCommand(
  command: Command,
  given: readonly string[],
  out: Output,
  complain: (line: string) => void,
): Promise<number> {
  const spread = "catalog" in command.options ? spreadCatalogs(given, namesCatalog) : given;
  const asked = languageAsked(spread);
  const words = await loadWords(knownLanguage(asked ?? "") ?? environmentLanguage(process.env));
  const { arguments: read, faults } = readArguments(command, spread, words);
  if (read.has("help")) return finish(out, commandHelp(command, words));
  if (asked !== null && asked !== "" && knownLanguage(asked) === null) {
    faults.push(words.say("command_unknown_language", { language: asked, known: languages }));
  }
  if (faults.length > 0) {
    for (const fault of faults) complain(`falsefit ${command.name}: ${fault}`);
    complain(words.say("command_see_help", { command: `falsefit ${command.name}` }));
    return exits.usage;
  }
  const interruption = interruptible();
  try {
    const run = await command.load();
    const code = await run(read, { words, out, complain, signal: interruption.signal, home: HOME });
    return interruption.exit() ?? code;
  } finally {
    interruption.end();
  }
}

/** The value of `--lang` before anything else is read, so that even faults are told in that language. */
function languageAsked(given: readonly string[]): string | null {
  for (const [i, word] of given.entries()) {
    if (word === "--") return null;
    if (word === "--lang") return given[i + 1] ?? "";
    if (word.startsWith("--lang=")) return word.slice("--lang=".length);
  }
  return null;
}

/** SIGINT and SIGTERM ask the command to finish what it has begun; a second one ends it at once. */
function interruptible(): { signal: AbortSignal; exit(): number | null; end(): void } {
  const controller = new AbortController();
  let exit: number | null = null;
  const on = (code: number) => () => {
    if (exit !== null) process.exit(code);
    exit = code;
    controller.abort();
  };
  const interrupted = on(exits.interrupted);
  const terminated = on(exits.terminated);
  process.on("SIGINT", interrupted);
  process.on("SIGTERM", terminated);
  return {
    signal: controller.signal,
    exit: () => exit,
    end: () => {
      process.off("SIGINT", interrupted);
      process.off("SIGTERM", terminated);
    },
  };
}

function failed(error: unknown, complain: (line: string) => void): number {
  if (error instanceof Stop) {
    for (const line of error.lines) complain(line);
    return error.exit;
  }
  complain(`falsefit: ${error instanceof Error ? (error.stack ?? error.message) : String(error)}`);
  return exits.usage;
}
