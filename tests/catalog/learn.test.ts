import { describe, expect, it } from "vitest";
import { changePosterior, sharesOn } from "../../src/catalog/change-point.ts";
import { learnFromObservations, predict } from "../../src/catalog/learn.ts";
import { holdOut } from "../../src/catalog/learn-check.ts";
import { changeWindow, draftCatalog, summarise, upperBound } from "../../src/catalog/learn-draft.ts";
import { groupNumbers, groupOf } from "../../src/catalog/learn-groups.ts";
import { checkCatalog } from "../../src/formats/catalog.ts";
import { type Observation, readObservationLine } from "../../src/formats/observation.ts";
import { dayNumber } from "../../src/text/dates.ts";
import { makeWords } from "../../src/text/words.ts";

/** One device with a battery of some cells; the name tells the number. */
function seen(board: string | null, built: string | null, cells: number, name = `QB-${cells}000`): Observation {
  return {
    model: "TN-4",
    board,
    firmwareDate: null,
    battery: { name, designVoltage_mV: cells * 3800, designCapacity_mWh: cells * 15_000, built },
    memory: ["DDR4"],
  };
}
const days = (year: number, count: number, from = 1): string[] =>
  Array.from({ length: count }, (_, i) => `${year}-${String(1 + ((from + i) % 12)).padStart(2, "0")}-${10 + (i % 15)}`);
const only = (observations: Observation[]) => {
  const [model] = learnFromObservations(observations);
  if (!model) throw new Error("nothing learnt");
  return model;
};

describe("what to expect inside", () => {
  it("is known where every device seen has the same, and not known from a few", () => {
    const many = only(days(2020, 12).map((day) => seen("VL-1", day, 3)));
    expect(predict(many, { board: "VL-1", built: "2020-05-20" }).cells).toMatchObject({ known: true, value: 3 });
    const one = only([seen("VL-1", "2020-05-20", 3)]);
    expect(predict(one, { board: "VL-1" }).cells).toMatchObject({ known: false, likeliest: 3 });
    const none = only([{ ...seen("VL-1", null, 3), battery: null }]);
    expect(predict(none, { board: "VL-1" }).cells).toMatchObject({
      known: false,
      because: { code: "learn-nothing-seen" },
    });
  });

  it("follows the board, and abstains on a board that was seen with both", () => {
    const model = only([
      ...days(2020, 10).map((day) => seen("VL-1", day, 3)),
      ...days(2020, 10).map((day) => seen("VL-2", day, 4)),
      ...days(2020, 6).map((day) => seen("VL-3", day, 3)),
      ...days(2020, 6).map((day) => seen("VL-3", day, 4)),
    ]);
    expect(predict(model, { board: "vl 1" }).cells).toMatchObject({ known: true, value: 3 });
    expect(predict(model, { board: "VL-2" }).cells).toMatchObject({ known: true, value: 4 });
    expect(predict(model, { board: "VL-3" }).cells).toMatchObject({ known: false, because: { code: "learn-mixed" } });
    expect(predict(model, { board: "never seen" }).cells.known).toBe(false);
  });

  it("follows a change in time, and abstains inside the gap", () => {
    const model = only([
      ...days(2018, 12).map((day) => seen("VL-1", day, 3)),
      ...days(2020, 12).map((day) => seen("VL-1", day, 4)),
    ]);
    const on = (built: string) => predict(model, { board: "VL-1", built }).cells;
    expect(on("2018-06-01")).toMatchObject({ known: true, value: 3 });
    expect(on("2020-06-01")).toMatchObject({ known: true, value: 4 });
    expect(on("2019-06-30").known).toBe(false);
    expect(predict(model, { board: "VL-1" }).cells.known).toBe(false);
  });

  it("takes no default day for a date, no placeholder for a number, no noise for a voltage", () => {
    const model = only([
      ...Array.from({ length: 12 }, () => seen("VL-1", "2012-01-01", 3, "Battery 0")),
      ...days(2019, 6).map((day) => seen("Default string", day, 3, "Smart Battery")),
      {
        ...seen("VL-1", null, 3),
        battery: { name: null, designVoltage_mV: 19, designCapacity_mWh: 0, built: "1980-00-00" },
      },
    ]);
    expect(model.defaultDays).toEqual([dayNumber(2012, 1, 1)]);
    expect(model.groups).toEqual([]);
    expect(model.boards.map(({ number }) => number)).toEqual(["VL-1"]);
    expect(model.devices.at(-1)).toMatchObject({ cells: null, day: null, group: null });
    expect(predict(model, { board: "VL-1", built: "2012-01-01" }).cells).toMatchObject({ known: true, value: 3 });
  });
});

describe("number groups", () => {
  const pack = (name: string, cells: number | null = 3, energy_Wh: number | null = 42) => ({
    name,
    cells,
    volts: cells === null ? null : cells * 3.8,
    energy_Wh,
  });

  it("join batch marks and equal ratings, keep other ratings apart", () => {
    const groups = groupNumbers([
      pack("QUILL WV3K815"),
      pack("QUILL WV3K81A"),
      pack("QUILL WV3K8"),
      pack("QUILL TT7RM", 3, 42.5),
      pack("QUILL TT9XX", 3, 60),
      pack("QUILL WV3K8Z", 4, 56),
      pack("Battery 0"),
    ]);
    expect(groups.map(({ numbers }) => [...numbers].sort())).toEqual([
      ["QUILL TT7RM", "QUILL WV3K8", "QUILL WV3K815", "QUILL WV3K81A"],
      ["QUILL TT9XX"],
      ["QUILL WV3K8Z"],
    ]);
    expect(groupOf(pack("QUILL WV3K899"), groups)).toBe(0);
    expect(groupOf(pack("ELSE 55A21", 3, 60.4), groups)).toBe(1);
    expect(groupOf(pack("ELSE 55A21", 2, 30), groups)).toBe(-1);
    expect(groupOf(pack("Battery 0"), groups)).toBeNull();
  });
});

describe("one change in time", () => {
  const prior = { shares: [0.5, 0.5], weight: 1, changeProbability: 0.3 };
  const draws = (kinds: string, step = 30) =>
    [...kinds].map((kind, i) => ({ kind: kind === "a" ? 0 : 1, day: i * step }));

  it("is found where there is one, and its window narrows with more devices", () => {
    const clear = changePosterior(draws("aaaaaaaaaabbbbbbbbbb"), prior);
    expect(1 - clear.steadyProbability).toBeGreaterThan(0.99);
    const window = changeWindow(clear);
    expect(window.from).toBeLessThanOrEqual(9 * 30);
    expect(window.to).toBeGreaterThanOrEqual(10 * 30);
    const few = changeWindow(changePosterior(draws("aaabbb", 60), prior));
    const many = changeWindow(changePosterior(draws("a".repeat(30) + "b".repeat(30), 6), prior));
    expect(few.to - few.from).toBeGreaterThan(many.to - many.from);
  });

  it("is not seen in a mixture", () => {
    expect(changePosterior(draws("abababababababababab"), prior).steadyProbability).toBeGreaterThan(0.5);
  });

  it("probabilities and shares sum to one, whatever the draws", () => {
    for (const kinds of ["", "a", "ab", "aaaa", "aabbaabb", "abbbbbbbbbbbbbbb"]) {
      const posterior = changePosterior(draws(kinds), prior);
      const sum = posterior.steadyProbability + posterior.changes.reduce((all, each) => all + each.probability, 0);
      expect(sum).toBeCloseTo(1, 9);
      for (const day of [null, -100, 0, 45, 10_000]) {
        expect(sharesOn(posterior, day).reduce((all, share) => all + share, 0)).toBeCloseTo(1, 9);
      }
    }
  });

  it("bounds a share from above as the exact interval does", () => {
    // Clopper & Pearson: with none found, the one-sided 90 % bound is 1 - 0.1^(1/n).
    for (const n of [1, 8, 30]) expect(upperBound(0, n)).toBeCloseTo(1 - 0.1 ** (1 / n), 6);
    expect(upperBound(3, 3)).toBe(1);
    expect(upperBound(2, 20)).toBeGreaterThan(0.1);
  });
});

describe("the catalog draft", () => {
  const say = makeWords("en", {});

  it("proposes a changeover with open outer ends, and says so", () => {
    const model = only([
      ...days(2018, 14).map((day) => seen("VL-1", day, 3)),
      ...days(2020, 14).map((day) => seen("VL-1", day, 4)),
    ]);
    const { revisions, changeover } = summarise(model);
    expect(changeover).toMatchObject({ earlier: "3s", later: "4s" });
    expect(revisions[0]).toMatchObject({ id: "3s", builtFrom: null, builtTo: changeover?.to });
    expect(revisions[1]).toMatchObject({ id: "4s", builtFrom: changeover?.from, builtTo: null });
    const draft = draftCatalog([model], say);
    expect(draft.catalog.families[0]?.revisions.map(({ built }) => built)).toEqual([
      { to: expect.stringMatching(/^20\d\d-W\d\d$/) },
      { from: expect.stringMatching(/^20\d\d-W\d\d$/) },
    ]);
    expect(draft.notes.map(({ says }) => says.code)).toContain("learn-changeover");
  });

  it("says that kinds stood side by side, and gives a shared board to both", () => {
    const model = only([
      ...days(2020, 9).map((day) => seen("VL-3", day, 3)),
      ...days(2020, 9).map((day) => seen("VL-3", day, 4)),
    ]);
    const { catalog, notes } = draftCatalog([model], say);
    expect(catalog.families[0]?.revisions.map(({ boardNumbers }) => boardNumbers)).toEqual([["VL-3"], ["VL-3"]]);
    expect(notes.map(({ says }) => says.code)).toContain("learn-side-by-side");
  });

  it("leaves a swapped battery out and names it", () => {
    const model = only([
      ...days(2020, 30).map((day) => seen("VL-1", day, 3)),
      seen("VL-1", "2023-01-10", 4),
      ...days(2020, 10).map((day) => seen("VL-2", day, 4)),
    ]);
    const { outliers, revisions } = summarise(model);
    expect(outliers).toMatchObject([{ device: 30, board: "VL1", found: "4s", usual: "3s" }]);
    expect(revisions.find(({ id }) => id === "4s")?.boards.map(({ number }) => number)).toEqual(["VL-2"]);
  });

  it("is a valid catalog and never loses a model silently", () => {
    const empty: Observation = { model: "Ünique model №1", board: null };
    const draft = draftCatalog(learnFromObservations([empty, seen("VL-1", null, 3), seen("VL-1", null, 3)]), say);
    expect(checkCatalog(JSON.parse(JSON.stringify(draft.catalog)))).toMatchObject({ ok: true });
    expect(draft.notes).toContainEqual(
      expect.objectContaining({
        model: "Ünique model №1",
        says: expect.objectContaining({ code: "learn-nothing-seen" }),
      }),
    );
  });
});

describe("observation lines", () => {
  it("are read leniently where collections are sloppy, and refused with the field", () => {
    expect(readObservationLine('{"model":"a","board":null,"battery":null,"memory":[],"more":1}')).toMatchObject({
      ok: true,
    });
    expect(readObservationLine('{"board":"x"}')).toMatchObject({ ok: false, faults: [{ field: "model" }] });
    expect(readObservationLine('{"model":"a","battery":{"designVoltage_mV":"11"}}')).toMatchObject({
      ok: false,
      faults: [{ field: "battery.designVoltage_mV" }],
    });
    expect(readObservationLine("nonsense")).toMatchObject({ ok: false });
  });

  it("held out are the same devices for the same seed", () => {
    const all = [
      ...days(2020, 20).map((day) => seen("VL-1", day, 3)),
      ...days(2020, 20).map((day) => seen("VL-2", day, 4)),
    ];
    expect(holdOut(all, 5)).toEqual(holdOut(all, 5));
    expect(holdOut(all, 5)).toMatchObject({ models: 1, hidden: 13, cells: { asked: 13 } });
  });
});
