/**
 * The labelled corpus: every listing of `fixtures/listings/*.open.ndjson` judged for the device that it names, all catalogs
 * loaded together. The sealed third runs only with FALSEFIT_SEALED=1.
 */
import { readdirSync, readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { buildIndex } from "../../src/catalog/index.ts";
import { readBench } from "../../src/formats/bench.ts";
import { readListingLine } from "../../src/formats/listing.ts";
import { tierOf, type VerdictWord, verdictWords } from "../../src/formats/verdict.ts";
import { judge, type PreparedDevice, prepareDevice } from "../../src/verdict/index.ts";
import { loadCatalog, rules } from "./bench.ts";

const FOLDER = new URL("../../fixtures/listings/", import.meta.url);
const files = readdirSync(FOLDER);
const halves = process.env["FALSEFIT_SEALED"] === "1" ? ["open", "sealed"] : ["open"];

interface Judged {
  readonly truth: VerdictWord;
  readonly said: VerdictWord;
  readonly line: string;
}

const devices = prepareAll();

function prepareAll(): Map<string, PreparedDevice> {
  const catalogs = files
    .filter((file) => file.endsWith(".catalog.json"))
    .map((file) => loadCatalog(new URL(file, FOLDER)));
  const index = buildIndex(catalogs);
  const prepared = new Map<string, PreparedDevice>();
  for (const file of files.filter((each) => each.endsWith(".bench.json"))) {
    const bench = readBench(readFileSync(new URL(file, FOLDER), "utf8"));
    if (!bench.ok) throw new Error(`${file}: ${JSON.stringify(bench.faults)}`);
    for (const device of bench.value.devices) prepared.set(device.id, prepareDevice(device, index, rules));
  }
  return prepared;
}

function judgeHalf(half: string): Judged[] {
  return files
    .filter((file) => file.endsWith(`.${half}.ndjson`))
    .flatMap((file) => readFileSync(new URL(file, FOLDER), "utf8").split("\n"))
    .filter((line) => line !== "")
    .map(judgeLine);
}

function judgeLine(line: string): Judged {
  const listing = readListingLine(line);
  if (!listing.ok) throw new Error(`${line}: ${JSON.stringify(listing.faults)}`);
  const { truth } = JSON.parse(line) as { truth: { device: string; verdict: VerdictWord } };
  const device = devices.get(truth.device);
  if (device === undefined) throw new Error(`no device ${truth.device}`);
  return { truth: truth.verdict, said: judge(listing.value, device).verdict, line };
}

/** Rows: the truth; columns: what was said. */
function confusion(judged: readonly Judged[]): Record<string, Record<string, number>> {
  const count = (truth: VerdictWord, said: VerdictWord): number =>
    judged.filter((each) => each.truth === truth && each.said === said).length;
  return Object.fromEntries(
    verdictWords.map((truth) => [truth, Object.fromEntries(verdictWords.map((said) => [said, count(truth, said)]))]),
  );
}

describe.each(halves)("the %s part of the corpus", (half) => {
  const judged = judgeHalf(half);
  console.table(confusion(judged));

  it("holds listings", () => {
    expect(judged.length).toBeGreaterThan(half === "open" ? 800 : 400);
  });

  it("has no false `fits`", () => {
    expect(judged.filter(({ truth, said }) => said === "fits" && truth !== "fits").map(({ line }) => line)).toEqual([]);
  });

  it("stops at least 99 % of what must be stopped", () => {
    const stops = judged.filter(({ truth }) => tierOf[truth] === "stop");
    const stopped = stops.filter(({ said }) => tierOf[said] === "stop");
    expect(stopped.length / stops.length).toBeGreaterThanOrEqual(0.99);
  });

  it("is right word for word in at least 97 %", () => {
    const exact = judged.filter(({ truth, said }) => truth === said);
    expect(exact.length / judged.length).toBeGreaterThanOrEqual(0.97);
  });
});
