import { describe, expect, it } from "vitest";
import { buildIndex } from "../../src/catalog/index.ts";
import { allQuestions, nextQuestion, type Question, type QuestionOptions } from "../../src/catalog/question.ts";
import { resolveRevisions } from "../../src/catalog/resolve.ts";
import { checkBench, type Device } from "../../src/formats/bench.ts";
import { checkCatalog } from "../../src/formats/catalog.ts";

function catalogOf(families: object[], parts: object[]): ReturnType<typeof buildIndex> {
  const read = checkCatalog({ format: "falsefit-catalog/1", families, parts });
  if (!read.ok) throw new Error(JSON.stringify(read.faults));
  return buildIndex([read.value]);
}

function device(fields: object = {}): Device {
  const read = checkBench({ format: "falsefit-bench/1", devices: [{ id: "d", modelNumbers: ["TN-4"], ...fields }] });
  if (!read.ok || !read.value.devices[0]) throw new Error("not a device");
  return read.value.devices[0];
}

const notebook = catalogOf(
  [
    {
      id: "tern-4",
      modelNumbers: ["TN-4"],
      revisions: [
        {
          id: "a",
          name: "first",
          boardNumbers: ["VL-1"],
          built: { from: "2018-01", to: "2019-06" },
          parts: ["b2", "p40", "m3", "chg"],
        },
        {
          id: "b",
          name: "second",
          boardNumbers: ["VL-2"],
          built: { from: "2019-04" },
          parts: ["b3", "p30", "m4", "chg"],
        },
      ],
    },
  ],
  [
    { id: "b2", type: "battery", numbers: ["VB-2"], quantities: { nominalVoltage_V: 7.6 } },
    { id: "b3", type: "battery", numbers: ["VB-3"], quantities: { nominalVoltage_V: 11.4 } },
    { id: "p40", type: "display-panel", numbers: ["VP-40"], quantities: { width_px: 1366, height_px: 768 } },
    { id: "p30", type: "display-panel", numbers: ["VP-30"], quantities: { width_px: 1366, height_px: 768 } },
    { id: "m3", type: "memory-module", numbers: ["VM-3"], quantities: { supplyVoltage_V: 1.35 } },
    { id: "m4", type: "memory-module", numbers: ["VM-4"], quantities: { supplyVoltage_V: 1.2 } },
    { id: "chg", type: "charger", numbers: ["VC-1"] },
  ],
);

const vacuum = catalogOf(
  [
    {
      id: "tern-4",
      modelNumbers: ["TN-4"],
      revisions: [
        { id: "six", boardNumbers: ["OF-6"], parts: ["p6", "c6"], tellBy: "six screws under the base" },
        { id: "seven", boardNumbers: ["OF-7"], parts: ["p7", "c7"] },
      ],
    },
  ],
  [
    { id: "p6", type: "battery", numbers: ["OP-6"], quantities: { nominalVoltage_V: 21.6 } },
    { id: "p7", type: "battery", numbers: ["OP-7"], quantities: { nominalVoltage_V: 25.2 } },
    { id: "c6", type: "charger", numbers: ["OC-6"] },
    { id: "c7", type: "charger", numbers: ["OC-7"] },
  ],
);

const questions = (index: typeof notebook, fields: object = {}, options: QuestionOptions = {}): Question[] =>
  allQuestions(device(fields), resolveRevisions(device(fields), index), index, options);
const inShort = (found: readonly Question[]): string[] =>
  found.map(({ check, effort, decides }) => `${effort} ${check} ${decides}`);

describe("the next question", () => {
  it("is a command where the machine can answer", () => {
    const [first] = questions(notebook);
    expect(first).toMatchObject({ effort: "command", decides: "yes" });
    expect(
      inShort(questions(notebook))
        .slice(0, 5)
        .every((each) => each.startsWith("command")),
    ).toBe(true);
  });

  it("names what each answer would mean", () => {
    const battery = questions(notebook).find(({ check }) => check === "battery-voltage");
    expect(battery?.answers).toEqual([
      { value: "7.2–7.7 V", revisions: ["a"], names: ["first"] },
      { value: "10.8–11.6 V", revisions: ["b"], names: ["second"] },
    ]);
    const board = questions(notebook).find(({ check }) => check === "board-readout");
    expect(board?.answers.map(({ value }) => value)).toEqual(["VL-1", "VL-2"]);
  });

  it("does not ask what tells nothing: equal resolutions, the same charger", () => {
    const asked = inShort(questions(notebook)).join("\n");
    expect(asked).not.toContain("display-resolution");
    expect(asked).not.toContain("part-label");
    expect(asked).toContain("command part-readout yes");
  });

  it("goes from outside in where nothing can be printed", () => {
    expect(inShort(questions(vacuum))).toEqual([
      "label part-label yes",
      "flap part-flap yes",
      "flap tell-by yes",
      "open board-inside yes",
    ]);
    expect(inShort(questions(vacuum, {}, { prints: true }))[0]).toBe("command battery-voltage yes");
  });

  it("a date decides unless it falls into the changeover", () => {
    expect(inShort(questions(notebook, {}, { prints: false }))[0]).toBe("label build-date unless_changeover");
    expect(inShort(questions(notebook, { buildDate: "2019-05-02" })).join()).not.toContain("build-date");
    expect(inShort(questions(notebook, { buildDate: "2019" })).join()).toContain("build-date");
  });

  it("is not asked again once it is answered", () => {
    const fitted = [{ type: "battery", numbers: ["UNKNOWN-7"], source: "readout" }];
    const asked = questions(notebook, { boardNumber: "ZZ-9", fitted }).map(({ check }) => check);
    expect(asked).not.toContain("battery-voltage");
    expect(asked).not.toContain("board-readout");
    expect(asked).not.toContain("board-inside");
  });

  it("settles a contradiction by what is left to look at", () => {
    const contradictory = { boardNumber: "VL-1", fitted: [{ type: "battery", numbers: ["VB-3"], source: "readout" }] };
    const asked = questions(notebook, contradictory);
    expect(asked[0]).toMatchObject({ effort: "command", decides: "yes" });
    expect(asked.map(({ partType }) => partType)).not.toContain("battery");
    expect(asked.map(({ check }) => check)).toContain("memory-type");
  });

  it("is none once the revision is pinned, without a family, or where nothing differs", () => {
    const next = (index: typeof notebook, fields: object): Question | null =>
      nextQuestion(device(fields), resolveRevisions(device(fields), index), index);
    expect(next(notebook, { boardNumber: "VL-1" })).toBeNull();
    expect(next(notebook, { modelNumbers: ["ZZ"] })).toBeNull();
    const same = catalogOf([{ id: "x", modelNumbers: ["TN-4"], revisions: [{ id: "a" }, { id: "b" }] }], []);
    expect(next(same, {})).toBeNull();
  });
});
