/** `falsefit check`: listing lines in, verdict lines out, in order, on every core, with flat memory. */

import rules from "falsefit:rules";
import { statSync } from "node:fs";
import { availableParallelism } from "node:os";
import type { Device } from "../formats/bench.ts";
import type { Words } from "../text/words.ts";
import type { Arguments } from "./arguments.ts";
import { readCatalogs } from "./catalogs.ts";
import { exits, Stop } from "./exits.ts";
import { bytesOf, type LineBatch, lineBatches, MAX_LINE_BYTES } from "./input.ts";
import { type JudgedLines, type JudgeSetup, makeLineJudge } from "./judge-lines.ts";
import { faultText, loadBench } from "./load.ts";
import { mapInOrder, type Pool, startPool } from "./pool.ts";
import type { Run, Shell } from "./shell.ts";
import { AHEAD_PER_THREAD, type CheckTask, MAX_WORKERS } from "./worker-setup.ts";

/** Inputs up to this size are judged without starting threads, in bytes. */
const INLINE_BYTES = 1024 * 1024;

/** Runs `check`. */
export const check: Run = async (given, shell) => {
  const file = given.operands[0] ?? "-";
  const firstLine = wholeNumber(given, "first-line", 1, Number.MAX_SAFE_INTEGER, shell.words) ?? 1;
  const workers = workersAsked(given, shell.words);
  const judges = makeJudges(loadSetup(given, shell.words), workers, file, shell);
  const tally = { judged: 0, bad: 0, lastLine: firstLine - 1 };
  try {
    await mapInOrder(
      lineBatches(bytesOf(file, shell.signal, shell.words), shell.signal, firstLine),
      Math.max(1, workers) * AHEAD_PER_THREAD,
      async (batch) => ({ batch, result: await judges.judge(batch) }),
      async ({ batch, result }) => {
        if (result.bytes.length > 0) await shell.out.write(result.bytes);
        for (const fault of result.faults) shell.complain(faultText(file, fault));
        tally.judged += result.judged;
        tally.bad += result.faults.length;
        tally.lastLine = batch.firstLine + (batch.kind === "lines" ? batch.lines : 1) - 1;
      },
    );
  } catch (error) {
    if (error instanceof Stop && error.exit === exits.output) {
      throw new Stop(error.exit, [...error.lines, shell.words.say("command_check_kept", { line: tally.lastLine })]);
    }
    throw error;
  } finally {
    await judges.end();
  }
  if (shell.signal.aborted) {
    shell.complain(shell.words.say("command_check_interrupted", { count: tally.judged, line: tally.lastLine }));
  }
  return tally.bad > 0 ? exits.someBad : exits.done;
};

/** How many threads judge a long input: as many as asked for, else as there are cores. */
export function workersAsked(given: Arguments, words: Words): number {
  return wholeNumber(given, "workers", 0, MAX_WORKERS, words) ?? Math.min(availableParallelism(), MAX_WORKERS);
}

/**
 * Catalogs and devices that a command line names; every fault of every file is told at once.
 *
 * @throws Stop when a file is bad or a device is not on the bench
 */
export function loadSetup(given: Arguments, words: Words): JudgeSetup {
  const faults: string[] = [];
  const catalogs = readCatalogs(given, words, faults);
  const benchFile = given.value("bench");
  if (benchFile === undefined) faults.push(words.say("command_needs_option", { option: "--bench FILE" }));
  const bench = benchFile === undefined ? null : loadBench(benchFile, words);
  if (bench && "faults" in bench) faults.push(...bench.faults);
  const wanted = given.value("device");
  let devices: readonly Device[] = [];
  if (bench && "value" in bench) {
    devices = bench.value.devices.filter((each) => (wanted === undefined ? !each.archived : each.id === wanted));
    if (wanted !== undefined && devices.length === 0) {
      faults.push(unknownDevice(wanted, benchFile ?? "", bench.value.devices, words));
    }
  }
  if (faults.length > 0) throw new Stop(exits.usage, faults);
  return { catalogs, devices, everyListing: wanted !== undefined };
}

/** How many ids are named where an unknown one was asked for. */
const IDS_NAMED = 20;

/** The sentence for a device that is not on the bench. */
export function unknownDevice(wanted: string, file: string, devices: readonly Device[], words: Words): string {
  if (devices.length === 0) return `${file}: ${words.say("command_no_devices", { device: wanted })}`;
  const known = devices.slice(0, IDS_NAMED).map(({ id }) => id);
  const more = devices.length - known.length;
  return `${file}: ${words.say("command_unknown_device", { device: wanted, known: more > 0 ? [...known, `+${more}`] : known })}`;
}

/**
 * The whole number that an option gives.
 *
 * @throws Stop when it is none or out of range
 */
export function wholeNumber(given: Arguments, name: string, least: number, most: number, words: Words): number | null {
  const text = given.value(name);
  if (text === undefined) return null;
  const value = Number(text);
  if (/^\d{1,16}$/.test(text) && value >= least && value <= most) return value;
  throw new Stop(exits.usage, [
    words.say("command_not_whole_number", { option: `--${name}`, value: text, least, most }),
  ]);
}

/** Judges batches: here while little has come, in threads when it goes on. */
function makeJudges(
  setup: JudgeSetup,
  workers: number,
  file: string,
  shell: Shell,
): { judge(batch: LineBatch): Promise<JudgedLines>; end(): Promise<void> } {
  const tooLong = shell.words.say("command_line_too_long", { most: MAX_LINE_BYTES / 1024 / 1024 });
  let pool: Pool<CheckTask, JudgedLines> | null = null;
  let here: ReturnType<typeof makeLineJudge> | null = null;
  // Let go of once the threads have it: big catalogs are not kept a third time.
  let unsent: JudgeSetup | null = setup;
  let inlineBytesLeft = workers === 0 ? Number.POSITIVE_INFINITY : isLong(file) ? 0 : INLINE_BYTES;
  return {
    async judge(batch) {
      if (batch.kind === "too-long") {
        return { bytes: new Uint8Array(), faults: [{ field: "", message: tooLong, line: batch.firstLine }], judged: 0 };
      }
      if (inlineBytesLeft > 0 && unsent) {
        inlineBytesLeft -= batch.bytes.length;
        here ??= makeLineJudge(unsent, rules, shell.words);
        return here(batch.bytes, batch.firstLine);
      }
      if (unsent) {
        const { language } = shell.words;
        pool = startPool(new URL("worker.mjs", shell.home), workers, { kind: "check", setup: unsent, language });
        here = null;
        unsent = null;
      }
      if (!pool) throw new Error("the threads have ended");
      // A copy: what is handed over is lost here, and a Buffer shares its memory with others.
      const bytes = new Uint8Array(batch.bytes);
      return pool.run({ bytes, firstLine: batch.firstLine }, [bytes.buffer]);
    },
    end: async () => pool?.end(),
  };
}

function isLong(file: string): boolean {
  if (file === "-") return false;
  const stats = statSync(file, { throwIfNoEntry: false });
  return stats?.isFile() === true && stats.size > INLINE_BYTES;
}
