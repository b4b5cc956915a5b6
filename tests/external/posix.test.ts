/**
 * The command by the conventions for utilities: The Open Group Base Specifications Issue 7 (POSIX.1-2017), XBD 12.2
 * "Utility Syntax Guidelines" (guidelines by number, in our own words), XBD 8.2 (locale variables), XCU 1.4 (standard error for diagnostics,
 * exit status 0 and above 0). Long option names are the GNU convention.
 */
import { spawn } from "node:child_process";
import { describe, expect, it } from "vitest";
import { BENCH, CATALOG, finished, LAUNCHER, run, scratch } from "../headless/run-command.ts";

const file = scratch();
const listing = '{"title":"PB-2240 battery for Lark 20"}\n';
const check = ["check", "--catalog", CATALOG, "--bench", BENCH, "--device", "demo-lark-late"];

describe("XBD 12.2", () => {
  it("guideline 9: options may stand before operands (and, as GNU has it, after them)", async () => {
    const input = file("a.ndjson", listing);
    const before = await run([...check, input]);
    const after = await run(["check", input, ...check.slice(1)]);
    expect(before.code).toBe(0);
    expect(after.out).toBe(before.out);
  });

  it("guideline 10: -- ends options", async () => {
    const { code, err } = await run([...check, "--", "--version"]);
    expect(code).toBe(2);
    expect(err).toMatch(/^--version: There is no such file/);
  });

  it("guideline 11: the order of options does not matter", async () => {
    const shuffled = ["check", "--device", "demo-lark-late", "--bench", BENCH, "--catalog", CATALOG];
    expect((await run(shuffled, listing)).out).toBe((await run(check, listing)).out);
  });

  it("guideline 13: - is standard input, and so is no operand", async () => {
    expect((await run([...check, "-"], listing)).out).toBe((await run(check, listing)).out);
  });
});

describe("XCU 1.4", () => {
  it("diagnostics go to standard error only, and the exit status is above 0", async () => {
    for (const args of [[], ["nonsense"], ["check"], ["check", "--nonsense"], ["check", "--bench", "/nonexistent"]]) {
      const { code, out, err } = await run(args);
      expect(code, args.join(" ")).toBe(2);
      expect(out).toBe("");
      expect(err).not.toBe("");
    }
  });

  it("success is exit status 0 with nothing on standard error", async () => {
    for (const args of [["--help"], ["--version"], ["help", "check"], ["check", "--help"], ["schema"]]) {
      const { code, out, err } = await run(args);
      expect([code, err], args.join(" ")).toEqual([0, ""]);
      expect(out.endsWith("\n")).toBe(true);
    }
  });

  it("text output has no control characters besides line feeds: no colours in a pipe", async () => {
    for (const args of [["--help"], ["check", "--help"], ["nonsense"]]) {
      const { out, err } = await run(args, "", { FORCE_COLOR: "1" });
      // biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what is looked for
      expect(out + err).not.toMatch(/[\u0000-\u0009\u000b-\u001f\u007f\u009b]/);
    }
  });

  it("an empty input is no error", async () => {
    expect(await run(check, "")).toMatchObject({ code: 0, out: "", err: "" });
  });
});

describe("XBD 8.2", () => {
  it("LC_ALL goes before LC_MESSAGES, LC_MESSAGES before LANG; --lang before all", async () => {
    const german = await run(["--help"], "", { LC_ALL: "de_DE.UTF-8", LANG: "fr_FR.UTF-8" });
    expect(german.out).toContain("Befehle:");
    const french = await run(["--help"], "", { LANG: "fr_FR.UTF-8" });
    expect(french.out).toContain("Commandes :");
    const plain = await run(["--help"], "", { LC_ALL: "C" });
    expect(plain.out).toContain("Commands:");
    const asked = await run(["check", "--help", "--lang", "it"], "", { LC_ALL: "de_DE.UTF-8" });
    expect(asked.out).toContain("Opzioni:");
  });
});

describe("a closed pipe (common practice: 128 + the number of SIGPIPE)", () => {
  it("ends the command without a word", async () => {
    const input = file("long.ndjson", listing.repeat(5_000));
    const words = [process.execPath, LAUNCHER, ...check, input].map((word) => `'${word}'`).join(" ");
    const { code, err } = await finished(spawn("bash", ["-c", `set -o pipefail; ${words} | head -n 1 >/dev/null`]));
    expect([code, err]).toEqual([141, ""]);
  });
});
