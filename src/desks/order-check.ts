/**
 * The shop buyer's desk: jobs (saved devices) against an order or a stock list.
 *
 *   rows ── readEntry ──► entries ── judge for its job, or for each ──► lines ── OrderTally ──► summary
 *
 * Each line is judged on its own; what concerns several lines (totals, duplicates, what is missing, where a right
 * number already stands) is gathered in a tally of plain data. A run may be broken off after any row and gone on
 * with from the tally, in another worker or after a reload.
 */
import type { CatalogIndex } from "../catalog/index.ts";
import type { Device } from "../formats/bench.ts";
import type { Listing } from "../formats/listing.ts";
import type { RawRules } from "../formats/rules.ts";
import type { Effect, Verdict } from "../formats/verdict.ts";
import { canonicalNumber } from "../text/part-number.ts";
import type { TableShape } from "./columns.ts";
import { type Entry, entryListing, readEntry } from "./entries.ts";
import { type RightNumberFinder, type RightNumbers, rightNumberFinder } from "./right-numbers.ts";
import { type DeviceVerdict, judgeFor, judgeForAll, type SharedDevice, shareDevices } from "./shared-devices.ts";

/** What a line amounts to for the shop. */
export const standings = ["right", "ask", "wrong", "other-job", "no-job"] as const;
/** One of {@link standings}: `other-job` has nothing to do with the job it names, `no-job` with any of them. */
export type Standing = (typeof standings)[number];

/** A line's verdict for one job. */
export interface JobVerdict {
  /** Id of the saved device. */
  readonly device: string;
  readonly verdict: Verdict;
}

/** One line of the list, judged. */
export interface OrderLine {
  readonly entry: Entry;
  readonly standing: Standing;
  /** True where the list names a job that is on the bench. */
  readonly jobKnown: boolean;
  /** Verdicts for the job named, or for every job that the line concerns, the best first. */
  readonly verdicts: readonly JobVerdict[];
  /** Worst effect for the job in question; null where nothing is at risk. */
  readonly effect: Effect | null;
  /** For a line that is wrong: what would be right. */
  readonly right: RightNumbers | null;
  /** Jobs, other than the one named, for which the line would be right. */
  readonly rightFor: readonly string[];
  /** Revisions, as `family/revision`, that the part of the number column belongs to. */
  readonly revisions: readonly string[];
}

/** Everything that a run needs. */
export interface OrderSetup {
  readonly devices: readonly Device[];
  readonly index: CatalogIndex;
  readonly rules: RawRules;
  readonly shape: TableShape;
}

/** Judges rows one by one. */
export interface OrderRun {
  /**
   * @param cells one row
   * @param row its one-based number in the list
   * @returns null for an empty row
   */
  take(cells: readonly string[], row: number): OrderLine | null;
}

/** Starts a run. */
export function startOrderRun({ devices, index, rules, shape }: OrderSetup): OrderRun {
  const jobs = shareDevices(devices, index, rules);
  const judgeAll = judgeForAll(jobs);
  const finder = rightNumberFinder(index);
  const byJob = jobsByName(jobs);
  return {
    take(cells, row) {
      const entry = readEntry(cells, row, shape);
      return entry === null ? null : judgeEntry(entry, judgeAll, byJob, finder, index);
    },
  };
}

/** Jobs by what a list may call them: id, job number or name. A name that two devices bear is none. */
function jobsByName(jobs: readonly SharedDevice[]): ReadonlyMap<string, SharedDevice> {
  const found = new Map<string, SharedDevice | null>();
  for (const job of jobs) {
    for (const name of new Set([job.device.id, job.device.job ?? "", job.device.name ?? ""].map(jobKey))) {
      if (name !== "") found.set(name, found.has(name) ? null : job);
    }
  }
  return new Map([...found].flatMap(([name, job]) => (job === null ? [] : [[name, job] as const])));
}

function jobKey(name: string): string {
  return name
    .normalize("NFKC")
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]/gu, "");
}

const TIER_ORDER = { go: 0, check: 1, stop: 2, none: 3 } as const;

function judgeEntry(
  entry: Entry,
  judgeAll: (listing: Listing) => DeviceVerdict[],
  byJob: ReadonlyMap<string, SharedDevice>,
  finder: RightNumberFinder,
  index: CatalogIndex,
): OrderLine {
  const listing = entryListing(entry);
  const named = byJob.get(jobKey(entry.job));
  const concerned = (): DeviceVerdict[] =>
    judgeAll(listing).sort((a, b) => TIER_ORDER[a.verdict.tier] - TIER_ORDER[b.verdict.tier]);
  const all = named ? [judgeFor(listing, named)] : concerned();
  const decisive = all[0];
  const standing = standingOf(decisive, named !== undefined);
  const wrong = standing === "wrong" || standing === "other-job";
  const partType = decisive?.verdict.partType;
  return {
    entry,
    standing,
    jobKnown: named !== undefined,
    verdicts: all.map(({ device, verdict }) => ({ device: device.id, verdict })),
    effect: standing === "wrong" || standing === "ask" ? (decisive?.verdict.hazards[0]?.effect ?? null) : null,
    right: wrong && partType ? finder.rightFor(decisive.device, partType) : null,
    rightFor:
      named && wrong
        ? concerned()
            .filter(({ verdict }) => verdict.tier === "go")
            .map(({ device }) => device.id)
        : [],
    revisions: revisionsOfNumber(entry.number, index),
  };
}

function standingOf(decisive: DeviceVerdict | undefined, named: boolean): Standing {
  if (decisive === undefined) return "no-job";
  const { tier } = decisive.verdict;
  if (tier === "none") return named ? "other-job" : "no-job";
  return tier === "go" ? "right" : tier === "check" ? "ask" : "wrong";
}

/** Where the part of a number belongs, by every reading of the number. */
function revisionsOfNumber(number: string, index: CatalogIndex): string[] {
  if (number === "") return [];
  const parts = index.resolveNumber(number).candidates.flatMap(({ serves }) => serves.map(({ part }) => part.id));
  const places = parts.flatMap((id) => index.revisionsOf(id));
  return [...new Set(places.map(({ family, revision }) => `${family.id}/${revision.id}`))];
}

/** The canonical form under which a line's number is remembered; `""` without one. */
export function lineNumberKey(line: OrderLine): string {
  return canonicalNumber(line.entry.number);
}
