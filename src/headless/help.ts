/** `--help`: made from the same tables as the reading of the command line, in the person's language. */
import type { Words } from "../text/words.ts";
import { type CommandSpec, commonOptions } from "./arguments.ts";
import { exits } from "./exits.ts";

const WIDTH = 96;

/** The help of one subcommand. */
export function commandHelp(spec: CommandSpec, words: Words): string {
  const options = Object.entries({ ...spec.options, ...commonOptions }).map(
    ([name, { value, about }]): [string, string] => [
      value ? `--${name} ${value}` : `--${name}`,
      words.say(`command_option_${about}`),
    ],
  );
  return [
    ...usage(spec.usage.map((line) => `falsefit ${spec.name} ${line}`.trimEnd())),
    "",
    ...wrapped(words.say(`command_${spec.name}_about`)),
    "",
    words.say("command_help_options"),
    ...table(options),
    "",
  ].join("\n");
}

/** The help of the command as a whole. */
export function overallHelp(specs: readonly CommandSpec[], words: Words): string {
  const commands = specs.map((spec): [string, string] => [spec.name, words.say(`command_${spec.name}_short`)]);
  const codes: [string, string][] = [
    [String(exits.done), words.say("command_exit_done")],
    [String(exits.someBad), words.say("command_exit_some_bad")],
    [String(exits.usage), words.say("command_exit_usage")],
    [String(exits.output), words.say("command_exit_output")],
    [String(exits.interrupted), words.say("command_exit_interrupted")],
  ];
  return [
    ...usage(["falsefit COMMAND [--OPTION…] [FILE…|-]", "falsefit COMMAND --help", "falsefit --version"]),
    "",
    ...wrapped(words.say("command_about")),
    "",
    words.say("command_help_commands"),
    ...table(commands),
    "",
    words.say("command_help_exits"),
    ...table(codes),
    "",
    ...wrapped(words.say("command_help_streams")),
    "",
  ].join("\n");
}

/** Usage lines; a long one goes on behind its name, never broken inside brackets. */
function usage(lines: readonly string[]): string[] {
  return lines.flatMap((line, i) => {
    const [name = "", ...groups] = line.split(/ (?=\[)/);
    const start = i === 0 ? "Usage: " : "       ";
    const behind = " ".repeat(start.length + name.length + 1);
    const rows = [`${start}${name}`];
    for (const group of groups) {
      const row = rows.at(-1) ?? "";
      if (row.length + 1 + group.length <= WIDTH) rows[rows.length - 1] = `${row} ${group}`;
      else rows.push(`${behind}${group}`);
    }
    return rows;
  });
}

function table(rows: readonly (readonly [string, string])[]): string[] {
  const first = Math.max(...rows.map(([name]) => name.length)) + 2;
  return rows.flatMap(([name, text]) => {
    const lines = wrapped(text, WIDTH - first - 2);
    return lines.map((line, i) => `  ${(i === 0 ? name : "").padEnd(first)}${line}`);
  });
}

function wrapped(text: string, width: number = WIDTH): string[] {
  const lines: string[] = [];
  let line = "";
  for (const word of text.split(" ")) {
    if (line !== "" && line.length + 1 + word.length > width) {
      lines.push(line);
      line = word;
    } else line = line === "" ? word : `${line} ${word}`;
  }
  return line === "" ? lines : [...lines, line];
}
