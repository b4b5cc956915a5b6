/**
 * The line filter at the heart of `check`: bytes of whole NDJSON lines in, verdict lines out. It keeps nothing from
 * one line to the next, so any split of the input gives the same lines. Runs in the main thread for short inputs
 * and in every worker for long ones.
 */
import { type DeviceVerdict, judgeFor, judgeForAll, shareDevices } from "../desks/shared-devices.ts";
import type { Device } from "../formats/bench.ts";
import type { Fault } from "../formats/common.ts";
import { type Listing, readListingLine } from "../formats/listing.ts";
import type { RawRules } from "../formats/rules.ts";
import type { VerdictLine } from "../formats/verdict.ts";
import type { Words } from "../text/words.ts";
import { verdictLine } from "../verdict/index.ts";
import { indexOf, type ReadCatalogs } from "./catalogs.ts";
import { linesOf } from "./lines.ts";

/** What is judged against: can be sent to a worker. */
export interface JudgeSetup {
  readonly catalogs: ReadCatalogs;
  readonly devices: readonly Device[];
  /** True where one device was asked for: then every listing gets its line. */
  readonly everyListing: boolean;
}

/** What came of a batch of lines. */
export interface JudgedLines {
  /** Verdict lines, UTF-8, each ended by a line feed: threads hand them over without copying. */
  readonly bytes: Uint8Array<ArrayBuffer>;
  /** Lines that could not be read, in order, with their line numbers. */
  readonly faults: readonly Fault[];
  /** How many listings were judged. */
  readonly judged: number;
}

/** Judges batches of lines. */
export type LineJudge = (bytes: Uint8Array, firstLine: number) => JudgedLines;

/** Prepares the devices once and gives the filter. */
export function makeLineJudge(setup: JudgeSetup, rules: RawRules, words: Words): LineJudge {
  const index = indexOf(setup.catalogs);
  const devices = shareDevices(setup.devices, index, rules);
  const judgeAll = setup.everyListing
    ? (listing: Listing): DeviceVerdict[] => devices.map((device) => judgeFor(listing, device))
    : judgeForAll(devices);
  const encoder = new TextEncoder();
  const notUtf8 = words.say("command_not_utf8");
  return (bytes, firstLine) => {
    const faults: Fault[] = [];
    let text = "";
    let judged = 0;
    for (const [i, line] of linesOf(bytes).entries()) {
      const number = firstLine + i;
      if (line === null) faults.push({ field: "", message: notUtf8, line: number });
      if (line === null || line.trim() === "") continue;
      const read = readListingLine(line);
      if (!read.ok) {
        faults.push(...read.faults.map((fault) => ({ ...fault, line: number })));
        continue;
      }
      try {
        const verdicts = linesFor(read.value, number, judgeAll(read.value), words);
        text += verdicts.map((each) => `${JSON.stringify(each)}\n`).join("");
        judged++;
      } catch (error) {
        // A defect of ours; one listing must not stop the others.
        const because = error instanceof Error ? `${error.name}: ${error.message}` : String(error);
        faults.push({ field: "", message: words.say("command_listing_failed", { because }), line: number });
      }
    }
    return { bytes: encoder.encode(text), faults, judged };
  };
}

/** The verdict lines of one listing, in the order of the devices. */
function linesFor(listing: Listing, line: number, judged: readonly DeviceVerdict[], words: Words): VerdictLine[] {
  const lines = judged.map(({ verdict }) => verdictLine(listing, line, verdict, words));
  return lines.length > 0 ? lines : [unrelatedLine(listing, line)];
}

/** The line of a listing that concerns none of the devices. */
function unrelatedLine(listing: Listing, line: number): VerdictLine {
  return {
    ...(listing.id === undefined ? { line } : { id: listing.id }),
    device: null,
    partType: null,
    verdict: "unrelated",
    tier: "none",
    parts: [],
    revisions: [],
    hazards: [],
    reasons: [],
    ...(listing.price === undefined ? {} : { price: listing.price }),
  };
}
