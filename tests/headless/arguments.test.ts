import { describe, expect, it } from "vitest";
import { type CommandSpec, nearest, readArguments, spreadCatalogs } from "../../src/headless/arguments.ts";
import { commands } from "../../src/headless/commands.ts";
import { commandHelp, overallHelp } from "../../src/headless/help.ts";
import { environmentLanguage, languages, loadWords } from "../../src/headless/say.ts";

const spec: CommandSpec = {
  name: "check",
  usage: [],
  options: {
    catalog: { value: "FILE", many: true, about: "catalog" },
    bench: { value: "FILE", about: "bench" },
    compose: { about: "compose" },
  },
  operands: 1,
};
const words = await loadWords("en");
const read = (...given: string[]) => readArguments(spec, given, words);

describe("the command line", () => {
  it("takes options before, between and after operands, joined or apart", () => {
    const { arguments: found, faults } = read("--catalog", "a", "x.ndjson", "--catalog=b", "--bench", "c");
    expect(faults).toEqual([]);
    expect(found.values("catalog")).toEqual(["a", "b"]);
    expect(found.value("bench")).toBe("c");
    expect(found.operands).toEqual(["x.ndjson"]);
  });

  it("ends options at -- and takes - for a file", () => {
    expect(read("--", "--bench").arguments.operands).toEqual(["--bench"]);
    expect(read("-").arguments.operands).toEqual(["-"]);
  });

  it("says everything that is wrong at once, with the nearest option", () => {
    const { faults } = read("--benhc", "x", "--compose=yes", "--bench", "--catalog", "c", "a", "b");
    expect(faults).toEqual([
      "There is no option --benhc; did you mean --bench?",
      "--compose takes no value.",
      "--bench needs a value: --bench FILE.",
      expect.stringMatching(/"(?:c|a|b)" is one file too many/),
    ]);
  });

  it("refuses a single option given twice, and names that objects inherit", () => {
    expect(read("--bench", "a", "--bench", "b").faults).toEqual(["--bench was given twice; give it once."]);
    expect(read("--constructor").faults).toEqual(["There is no option --constructor."]);
    expect(read("--__proto__=1").faults).toEqual(["There is no option --__proto__."]);
  });

  it("finds the nearest name", () => {
    expect(nearest("catlog", ["catalog", "bench"])).toBe("catalog");
    expect(nearest("cat", ["catalog", "bench"])).toBe("catalog");
    expect(nearest("zzzz", ["catalog", "bench"])).toBeNull();
  });
});

describe("several files after --catalog", () => {
  const isCatalog = (word: string): boolean => word.startsWith("c");
  it.each([
    [
      ["--catalog", "c1", "c2", "x.ndjson"],
      ["--catalog", "c1", "--catalog", "c2", "x.ndjson"],
    ],
    [
      ["--catalog=c1", "c2", "--bench", "c3", "c4"],
      ["--catalog=c1", "--catalog", "c2", "--bench", "c3", "c4"],
    ],
    [
      ["--catalog", "x", "c2", "-", "c3"],
      ["--catalog", "x", "--catalog", "c2", "-", "c3"],
    ],
    [
      ["--catalog", "c1", "--", "c2"],
      ["--catalog", "c1", "--", "c2"],
    ],
    [["--catalog"], ["--catalog"]],
  ])("%j", (given, spread) => {
    expect(spreadCatalogs(given, isCatalog)).toEqual(spread);
  });
});

describe("languages", () => {
  it("follow POSIX: LC_ALL before LC_MESSAGES before LANG, empty ones not counted", () => {
    expect(environmentLanguage({ LC_ALL: "de_AT.UTF-8", LANG: "fr_FR" })).toBe("de");
    expect(environmentLanguage({ LC_ALL: "", LC_MESSAGES: "pl_PL", LANG: "fr_FR" })).toBe("pl");
    expect(environmentLanguage({ LANG: "C.UTF-8" })).toBe("en");
    expect(environmentLanguage({ LANG: "xx" })).toBe("en");
    expect(environmentLanguage({})).toBe("en");
  });

  it.each(languages)("%s: every help text is there and fits the terminal", async (language) => {
    const say = await loadWords(language);
    const helps = [overallHelp(commands, say), ...commands.map((command) => commandHelp(command, say))];
    for (const help of helps) {
      expect(help).not.toMatch(/\[command_|\{[a-z]+\}/);
      expect(Math.max(...help.split("\n").map((line) => line.length))).toBeLessThanOrEqual(110);
    }
  });

  it("every command's help names every option", () => {
    for (const command of commands) {
      const help = commandHelp(command, words);
      for (const option of Object.keys(command.options)) expect(help).toContain(`--${option}`);
    }
  });
});
