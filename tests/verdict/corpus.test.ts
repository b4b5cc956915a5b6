/**
 * The labelled corpus: every listing of `fixtures/listings/*.open.ndjson` judged for the device that it names. A sealed
 * part runs only with FALSEFIT_SEALED=1. `npm run bench -- corpus` prints the same figures in full.
 */
import { describe, expect, it } from "vitest";
import { tierOf } from "../../src/formats/verdict.ts";
import { confusion, judgeCorpus, shareOf, sharesBy } from "./corpus.ts";

const FOLDER = new URL("../../fixtures/listings/", import.meta.url);
const halves = process.env["FALSEFIT_SEALED"] === "1" ? ["open", "sealed"] : ["open"];

describe.each(halves)("the %s part of the corpus", (half) => {
  const judged = judgeCorpus(FOLDER, half);
  console.table(confusion(judged));
  console.table(sharesBy(judged, "language"));

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

describe("figures of a corpus", () => {
  const base = { family: "f", partType: "fan", line: "" };
  const judged = [
    { ...base, truth: "fits", said: "fits", language: "en" },
    { ...base, truth: "other-revision", said: "fits", language: "de" },
    { ...base, truth: "other-revision", said: "conflicting", language: "de" },
    { ...base, truth: "ambiguous", said: "ambiguous", language: "de" },
  ] as const;

  it("count exact words, stops and false `fits` of each group, the weakest first", () => {
    expect(Object.entries(sharesBy(judged, "language"))).toEqual([
      ["de", { listings: 3, exact_percent: 33.33, stopped_percent: 50, false_fits: 1 }],
      ["en", { listings: 1, exact_percent: 100, stopped_percent: null, false_fits: 0 }],
    ]);
    expect(shareOf(judged)).toEqual({ listings: 4, exact_percent: 50, stopped_percent: 50, false_fits: 1 });
  });
});
