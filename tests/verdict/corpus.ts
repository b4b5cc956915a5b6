/** The labelled corpus judged: every listing for the device that it names, all catalogs loaded together. */
import rules from "falsefit:rules";
import { readdirSync, readFileSync } from "node:fs";
import { buildIndex } from "../../src/catalog/index.ts";
import { readBench } from "../../src/formats/bench.ts";
import { readCatalog } from "../../src/formats/catalog.ts";
import type { Outcome } from "../../src/formats/common.ts";
import { readListingLine } from "../../src/formats/listing.ts";
import { tierOf, type VerdictWord, verdictWords } from "../../src/formats/verdict.ts";
import { judge, type PreparedDevice, prepareDevice } from "../../src/verdict/index.ts";

/** One listing, its truth and what was said of it. */
export interface Judged {
  readonly truth: VerdictWord;
  readonly said: VerdictWord;
  /** Name of the catalog's file: `heron`. */
  readonly family: string;
  readonly language: string;
  /** `no part` for what is none. */
  readonly partType: string;
  readonly line: string;
}

/** A group of listings in figures. */
export interface Share {
  readonly listings: number;
  /** Right word for word, in percent with two decimals. */
  readonly exact_percent: number;
  /** Of those that must be stopped: stopped, in percent; null where there are none. */
  readonly stopped_percent: number | null;
  readonly false_fits: number;
}

/**
 * @param folder holds `*.catalog.json`, `*.bench.json` and `*.<half>.ndjson`
 * @param half `open` or `sealed`
 */
export function judgeCorpus(folder: URL, half: string): Judged[] {
  const files = readdirSync(folder);
  const devices = prepareAll(folder, files);
  return files
    .filter((file) => file.endsWith(`.${half}.ndjson`))
    .flatMap((file) => {
      const lines = readFileSync(new URL(file, folder), "utf8").split("\n");
      return lines.filter((line) => line !== "").map((line) => judgeLine(line, file.split(".")[0] ?? "", devices));
    });
}

function prepareAll(folder: URL, files: readonly string[]): Map<string, PreparedDevice> {
  const catalogs = files
    .filter((file) => file.endsWith(".catalog.json"))
    .map((file) => opened(file, readCatalog(readFileSync(new URL(file, folder), "utf8"))));
  const index = buildIndex(catalogs);
  const prepared = new Map<string, PreparedDevice>();
  for (const file of files.filter((each) => each.endsWith(".bench.json"))) {
    const bench = opened(file, readBench(readFileSync(new URL(file, folder), "utf8")));
    for (const device of bench.devices) prepared.set(device.id, prepareDevice(device, index, rules));
  }
  return prepared;
}

function opened<T>(name: string, read: Outcome<T>): T {
  if (read.ok) return read.value;
  throw new Error(`${name}: ${JSON.stringify(read.faults)}`);
}

interface Truth {
  readonly device: string;
  readonly verdict: VerdictWord;
  readonly language: string;
  readonly partType: string | null;
}

function judgeLine(line: string, family: string, devices: ReadonlyMap<string, PreparedDevice>): Judged {
  const listing = opened(line, readListingLine(line));
  const { truth } = JSON.parse(line) as { truth: Truth };
  const device = devices.get(truth.device);
  if (device === undefined) throw new Error(`no device ${truth.device}`);
  const { language } = truth;
  const partType = truth.partType ?? "no part";
  return { truth: truth.verdict, said: judge(listing, device).verdict, family, language, partType, line };
}

/** Rows: the truth; columns: what was said. */
export function confusion(judged: readonly Judged[]): Record<string, Record<string, number>> {
  const count = (truth: VerdictWord, said: VerdictWord): number =>
    judged.filter((each) => each.truth === truth && each.said === said).length;
  return Object.fromEntries(
    verdictWords.map((truth) => [truth, Object.fromEntries(verdictWords.map((said) => [said, count(truth, said)]))]),
  );
}

/** How well each group of listings is judged, the weakest first. */
export function sharesBy(judged: readonly Judged[], by: "language" | "family" | "partType"): Record<string, Share> {
  const groups = new Map<string, Judged[]>();
  for (const each of judged) groups.set(each[by], [...(groups.get(each[by]) ?? []), each]);
  const shares = [...groups].map(([name, group]) => [name, shareOf(group)] as const);
  return Object.fromEntries(shares.sort(([, a], [, b]) => a.exact_percent - b.exact_percent));
}

/** One group in figures. */
export function shareOf(group: readonly Judged[]): Share {
  const stops = group.filter(({ truth }) => tierOf[truth] === "stop");
  const stopped = stops.filter(({ said }) => tierOf[said] === "stop");
  return {
    listings: group.length,
    exact_percent: percent(group.filter(({ truth, said }) => truth === said).length, group.length),
    stopped_percent: stops.length === 0 ? null : percent(stopped.length, stops.length),
    false_fits: group.filter(({ truth, said }) => said === "fits" && truth !== "fits").length,
  };
}

function percent(part: number, whole: number): number {
  return Math.round((part / whole) * 10_000) / 100;
}
