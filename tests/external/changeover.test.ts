/**
 * Learning on real observations: a third of each model's devices is hidden, the rest learnt from, the hidden
 * part predicted from board and build date. Source: linuxhw/DMI, commit 57b21bc6fd (January 2025), CC BY 4.0,
 * reduced to 10,886 observations of 300 models with maker and model replaced by a running number.
 */
import { existsSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { learnFromObservations } from "../../src/catalog/learn.ts";
import { type Baseline, type Figures, holdOut } from "../../src/catalog/learn-check.ts";
import { draftCatalog } from "../../src/catalog/learn-draft.ts";
import { checkCatalog } from "../../src/formats/catalog.ts";
import { type Observation, readObservationLine } from "../../src/formats/observation.ts";
import { makeWords } from "../../src/text/words.ts";

const FILE = fileURLToPath(new URL("../../../shared/data/smbios-observations.ndjson", import.meta.url));
const SEEDS = [1, 2, 3, 4, 5];

const percent = (part: number, all: number): string => `${((100 * part) / all).toFixed(1)} %`;
const baseline = (name: string, { answered, wrong, wrongOnAnswered }: Baseline, figures: Figures): string =>
  `${name}: ${percent(wrong, answered)} wrong of all, ${percent(wrongOnAnswered, figures.answered)} of those answered`;
const line = (name: string, figures: Figures): string =>
  [
    `${name}: ${figures.asked} asked, ${percent(figures.answered, figures.asked)} answered, ${percent(figures.wrong, figures.answered)} of these wrong`,
    `forced to answer all: ${percent(figures.wrongIfForced, figures.asked)} wrong`,
    baseline("model only", figures.modelOnly, figures),
    baseline("most recent", figures.mostRecent, figures),
  ].join("; ");

describe.skipIf(!existsSync(FILE))("300 notebook models seen 20 times and more (skipped without ../shared)", () => {
  const observations: Observation[] = existsSync(FILE)
    ? readFileSync(FILE, "utf8")
        .split("\n")
        .filter((text) => text !== "")
        .map((text) => {
          const read = readObservationLine(text);
          if (!read.ok) throw new Error(JSON.stringify(read.faults));
          return read.value;
        })
    : [];

  it.each(SEEDS)("predicts cells and number group of hidden devices, or abstains (seed %i)", (seed) => {
    const { cells, numbers } = holdOut(observations, seed);
    console.log(`seed ${seed}\n  ${line("cells in series", cells)}\n  ${line("number group", numbers)}`);
    expect(cells.wrong / cells.answered).toBeLessThanOrEqual(0.02);
    expect(cells.answered / cells.asked).toBeGreaterThanOrEqual(0.8);
    for (const figures of [cells, numbers]) {
      for (const rival of [figures.modelOnly, figures.mostRecent]) {
        // Clearly better: fewer than a third of the rival's errors where we answer, fewer errors even when forced.
        expect(figures.wrong / figures.answered).toBeLessThan(rival.wrong / rival.answered / 3);
        expect(figures.wrongIfForced / figures.asked).toBeLessThan(rival.wrong / rival.answered);
      }
    }
    expect(numbers.wrong / numbers.answered).toBeLessThanOrEqual(0.04);
    expect(numbers.answered / numbers.asked).toBeGreaterThanOrEqual(0.6);
  });

  it("proposes a catalog that passes its own check", () => {
    const say = makeWords("en", {});
    const { catalog } = draftCatalog(learnFromObservations(observations), say);
    expect(checkCatalog(JSON.parse(JSON.stringify(catalog)))).toMatchObject({ ok: true });
    expect(catalog.families.length).toBeGreaterThan(150);
  });
});
