import { describe, expect, it } from "vitest";
import { buildIndex } from "../../src/catalog/index.ts";
import { allQuestions } from "../../src/catalog/question.ts";
import { resolveRevisions } from "../../src/catalog/resolve.ts";
import { BENCH_FORMAT, type Bench, checkBench, type Device } from "../../src/formats/bench.ts";
import { readCatalog } from "../../src/formats/catalog.ts";
import type { ReadoutFact } from "../../src/readout/facts.ts";
import { answeredDevice } from "../../src/workbench/bench/answer.ts";
import { kindOf, portraitOf } from "../../src/workbench/bench/portrait.ts";
import { effectOf } from "../../src/workbench/bench/readout-preview.ts";
import { devicesToSave, planRestore } from "../../src/workbench/bench/restore.ts";
import { standingOf } from "../../src/workbench/bench/standing.ts";
import { demoCatalog, demoDevices } from "./tools.ts";

const catalog = readCatalog(demoCatalog);
if (!catalog.ok) throw new Error("bad demonstration");
const index = buildIndex([catalog.value]);
const device = (changes: Partial<Device> = {}): Device => ({
  id: "d",
  modelNumbers: ["PL-20"],
  fitted: [],
  accept: [],
  refuse: [],
  ...changes,
});
const stand = (changes: Partial<Device>) => standingOf(device(changes), index, (type) => type);

describe("how a device stands", () => {
  it("is pinned, open, contradicted or unknown, with what tells", () => {
    expect(stand({ boardNumber: "PW-4410-5" })).toMatchObject({
      word: "pinned",
      possible: ["late board"],
      by: "board",
      next: null,
    });
    expect(stand({ buildDate: "2021-W08" })).toMatchObject({
      word: "open",
      possible: ["early board", "late board"],
      by: "date",
    });
    expect(stand({}).next?.ask.key).toMatch(/^question_/);
    expect(
      stand({ boardNumber: "PW-4410-5", fitted: [{ type: "battery", numbers: ["PB-1840"], source: "label" }] }),
    ).toMatchObject({ word: "contradicted", possible: ["early board", "late board"] });
    expect(stand({ modelNumbers: ["ZX-1"] })).toMatchObject({ word: "unknown", family: null, possible: [] });
  });

  it("tells which parts the family has, for the drawing", () => {
    const kinds = demoDevices.map((each) => kindOf(standingOf(each, index, (type) => type).partTypes));
    expect(kinds).toEqual(["handheld", "tool", "notebook", "appliance"]);
    expect(portraitOf([], 44).attributes["data-kind"]).toBe("board");
    expect(portraitOf([], 44).attributes["aria-hidden"]).toBe("true");
  });
});

describe("an answer to a question", () => {
  const questionsOf = (each: Device) => allQuestions(each, resolveRevisions(each, index), index);

  it("is entered where it says all, and pins the revision", () => {
    const sedge = device({ modelNumbers: ["QS13"] });
    for (const question of questionsOf(sedge)) {
      for (const answer of question.answers) {
        const after = answeredDevice(sedge, question, answer);
        if (after === null) continue;
        expect(checkBench({ format: BENCH_FORMAT, devices: [after] }).ok).toBe(true);
        const left = resolveRevisions(after, index).revisions.map(({ id }) => id);
        expect(left).toEqual(answer.revisions);
      }
    }
  });

  it("is not entered where it is only a range", () => {
    const dates = questionsOf(device()).find(({ check }) => check === "build-date");
    const [answer] = dates?.answers ?? [];
    expect(dates && answer && answeredDevice(device(), dates, answer)).toBeNull();
  });

  it("replaces what was only assumed", () => {
    const assumed = device({ fitted: [{ type: "battery", numbers: ["PB-1840"], source: "assumed" }] });
    const question = questionsOf(device()).find(({ check }) => check === "part-flap");
    const answer = question?.answers.find(({ value }) => value === "PB-2240");
    expect(question && answer && answeredDevice(assumed, question, answer)?.fitted).toEqual([
      { type: "battery", numbers: ["PB-2240"], source: "label" },
    ]);
  });
});

describe("a fact of a readout", () => {
  const board = (value: string): ReadoutFact => ({
    field: "boardNumber",
    value,
    source: "SMBIOS type 2",
    confidence: "certain",
  });
  const battery = (changes: object): ReadoutFact => ({
    field: "fitted",
    type: "battery",
    numbers: ["PB-2240"],
    quantities: { nominalVoltage_V: 3.8 },
    made: null,
    replaceable: true,
    source: "battery report",
    confidence: "likely",
    ...changes,
  });

  it("says beforehand what it would do", () => {
    expect(effectOf(device(), board("PW-4410-5"))).toBe("fills");
    expect(effectOf(device({ boardNumber: "pw 44105" }), board("PW-4410-5"))).toBe("known");
    expect(effectOf(device({ boardNumber: "PW-4410-2" }), board("PW-4410-5"))).toBe("beside");
    expect(effectOf(device(), { ...board("x"), confidence: "rough" })).toBe("kept");
    expect(effectOf(device(), battery({}))).toBe("fills");
    const fitted: Device["fitted"] = [{ type: "battery", numbers: ["PB-2240"], source: "label" }];
    expect(effectOf(device({ fitted }), battery({}))).toBe("adds");
    expect(effectOf(device(), battery({ replaceable: false }))).toBe("not-a-part");
  });
});

describe("restoring", () => {
  const bench: Device[] = [device({ id: "a", name: "A" }), device({ id: "b", picture: "data:image/png;base64,AA==" })];
  const file = (...devices: Device[]): Bench => ({ format: BENCH_FORMAT, devices });

  it("tells what is added, changed, the same and untouched", () => {
    const plan = planRestore(bench, file(device({ id: "b" }), device({ id: "a", name: "B" }), device({ id: "c" })));
    expect(plan.added.map(({ id }) => id)).toEqual(["c"]);
    expect(plan.changed.map(({ after, fields }) => [after.id, fields])).toEqual([["a", ["name"]]]);
    // A file without a picture leaves the picture alone.
    expect(plan.same.map(({ id }) => id)).toEqual(["b"]);
    expect(plan.untouched).toBe(0);
    expect(planRestore(bench, file()).untouched).toBe(2);
  });

  it("does not mind in which order a file names its fields", () => {
    const { id, ...rest } = device({ id: "a", name: "A" });
    expect(planRestore(bench, file({ ...rest, id })).changed).toEqual([]);
  });

  it("keeps mine, takes the file's, or keeps both", () => {
    const plan = planRestore(bench, file(device({ id: "a", name: "B" }), device({ id: "c" })));
    const ids = (choice: "mine" | "file" | "both") =>
      devicesToSave(
        plan,
        () => choice,
        () => "fresh",
      ).map(({ id }) => id);
    expect(ids("mine")).toEqual(["c"]);
    expect(ids("file")).toEqual(["c", "a"]);
    expect(ids("both")).toEqual(["c", "fresh"]);
  });
});
