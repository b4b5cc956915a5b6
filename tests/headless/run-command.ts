/** Runs the command as a person does: the launcher, real files, real pipes. */
import { type ChildProcess, type SpawnOptions, spawn } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll } from "vitest";

/** The launcher that `npm run falsefit` starts. */
export const LAUNCHER = fileURLToPath(new URL("../../src/headless/launch.mjs", import.meta.url));
/** The built command itself. */
export const COMMAND = fileURLToPath(new URL("../../dist/command/falsefit.mjs", import.meta.url));
/** The demonstration catalog and bench. */
export const CATALOG = fileURLToPath(new URL("../../rules/catalogs/demo.catalog.json", import.meta.url));
export const BENCH = fileURLToPath(new URL("../../rules/catalogs/demo.bench.json", import.meta.url));

/** What a run came to. */
export interface Ran {
  readonly code: number | null;
  readonly out: string;
  readonly err: string;
  /** Output lines, parsed. */
  readonly lines: readonly Record<string, unknown>[];
}

/** Starts the command. */
export function start(args: readonly string[], options: SpawnOptions = {}): ChildProcess {
  const { LANG: _lang, LC_ALL: _all, LC_MESSAGES: _messages, ...env } = process.env;
  return spawn(process.execPath, [LAUNCHER, ...args], { ...options, env: { ...env, ...options.env } });
}

/** Runs the command to its end. */
export async function run(
  args: readonly string[],
  input: string | Buffer = "",
  env: Record<string, string> = {},
): Promise<Ran> {
  const child = start(args, { env: env as NodeJS.ProcessEnv });
  // The command may end before it has read everything.
  child.stdin?.on("error", () => undefined);
  child.stdin?.end(input);
  return finished(child);
}

/** Waits for a started command. */
export function finished(child: ChildProcess): Promise<Ran> {
  const out: Buffer[] = [];
  const err: Buffer[] = [];
  child.stdout?.on("data", (chunk: Buffer) => out.push(chunk));
  child.stderr?.on("data", (chunk: Buffer) => err.push(chunk));
  return new Promise((resolve, reject) => {
    child.on("error", reject);
    child.on("close", (code) => {
      const text = Buffer.concat(out).toString("utf8");
      resolve({ code, out: text, err: Buffer.concat(err).toString("utf8"), lines: parsed(text) });
    });
  });
}

/** The first piece of output; fails when the command ends without one. */
export function firstOutput(child: ChildProcess): Promise<string> {
  return new Promise((resolve, reject) => {
    child.stdout?.once("data", (chunk: Buffer) => resolve(chunk.toString("utf8")));
    child.once("close", (code) => reject(new Error(`ended with exit code ${code} before any output`)));
  });
}

function parsed(text: string): Record<string, unknown>[] {
  if (!text.startsWith("{")) return [];
  const lines = text.split("\n").filter((line) => line !== "");
  return lines.every((line) => line.startsWith("{") && line.endsWith("}"))
    ? lines.map((line) => JSON.parse(line) as Record<string, unknown>)
    : [];
}

/** A folder for the files of one test file; removed when it is done. */
export function scratch(): (name: string, contents: string | Uint8Array) => string {
  const folder = mkdtempSync(join(tmpdir(), "falsefit-command-"));
  afterAll(() => rmSync(folder, { recursive: true, force: true }));
  return (name, contents) => {
    const path = join(folder, name);
    writeFileSync(path, contents);
    return path;
  };
}
