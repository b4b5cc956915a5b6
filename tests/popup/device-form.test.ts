import { describe, expect, it } from "vitest";
import { checkBench } from "../../src/formats/bench.ts";
import { deviceOf, draftFaults, EMPTY_DRAFT } from "../../src/popup/device-form.ts";

describe("the first form", () => {
  it("needs a model number and nothing else", () => {
    expect(draftFaults(EMPTY_DRAFT)).toEqual({ model: "popup_model_missing" });
    expect(draftFaults({ ...EMPTY_DRAFT, model: "  " })).toEqual({ model: "popup_model_missing" });
    expect(draftFaults({ ...EMPTY_DRAFT, model: "PL-20" })).toEqual({});
  });

  it.each(["2021", "2021-05", "2021-05-17", "2021-W14", ""])("takes %j for a build date", (built) => {
    expect(draftFaults({ ...EMPTY_DRAFT, model: "PL-20", built })).toEqual({});
  });
  it.each(["spring", "21", "2021/05", "05-2021"])("does not take %j for one", (built) => {
    expect(draftFaults({ ...EMPTY_DRAFT, model: "PL-20", built })).toEqual({ built: "popup_built_wrong" });
  });

  it("makes a device that the bench format takes, with several models and no empty fields", () => {
    const device = deviceOf({ name: " ", model: "PL-20, PL-20E", board: " PW-4410-5 ", built: "2021-W20" }, "a");
    expect(device).toEqual({
      id: "a",
      modelNumbers: ["PL-20", "PL-20E"],
      boardNumber: "PW-4410-5",
      buildDate: "2021-W20",
      fitted: [],
      accept: [],
      refuse: [],
    });
    expect(checkBench({ format: "falsefit-bench/1", devices: [device] }).ok).toBe(true);
  });
});
