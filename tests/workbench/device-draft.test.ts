import { describe, expect, it } from "vitest";
import type { Device } from "../../src/formats/bench.ts";
import { dayNumber } from "../../src/text/dates.ts";
import { readDateDraft, readingsToChoose } from "../../src/workbench/bench/build-date-draft.ts";
import {
  type DeviceDraft,
  deviceFrom,
  draftOf,
  emptyFitted,
  quantityValue,
  splitNumbers,
} from "../../src/workbench/bench/device-draft.ts";

const today = dayNumber(2026, 11, 25);
const setting = { today, id: "d", before: undefined, say: ({ key }: { key: string }) => key };
const device: Device = {
  id: "d",
  name: "Lark",
  modelNumbers: ["PL-20", "PL-20E"],
  boardNumber: "PW-4410-5",
  buildDate: { from: "2021-02", to: "2021-07" },
  fitted: [
    {
      type: "battery",
      numbers: ["PB-2240"],
      source: "label",
      quantities: { nominalVoltage_V: 3.8, touch: true },
      note: "swollen",
    },
  ],
  accept: [{ number: "QK-77A", date: "2026-01-02" }],
  refuse: [],
  facts: [{ field: "boardNumber", value: "PW-4410-5", source: "SMBIOS type 2", confidence: "certain" }],
  note: "n",
  archived: true,
};
const from = (draft: DeviceDraft, before?: Device) => deviceFrom(draft, { ...setting, before });
const date = (text: string, rest = {}) => ({ ...draftOf(undefined).built, text, ...rest });

describe("a device in its form", () => {
  it("comes back exactly as it was when nothing is changed", () => {
    expect(from(draftOf(device), device)).toEqual({ ok: true, device });
  });

  it("keeps what the form does not show", () => {
    const changed = from({ ...draftOf(device), name: "New name" }, device);
    expect(changed.ok && changed.device).toEqual({ ...device, name: "New name" });
  });

  it("needs a model number or a name, and says so at the field", () => {
    const empty = from(draftOf(undefined));
    expect(empty.ok ? [] : [...empty.faults]).toEqual([["models", "bench_fault_nameless"]]);
    expect(from({ ...draftOf(undefined), name: "Toaster" }).ok).toBe(true);
  });

  it("names every fault at once", () => {
    const outcome = from({
      ...draftOf(undefined),
      models: "x".repeat(81),
      built: date("spring"),
      fitted: [{ ...emptyFitted("k", ""), numbers: "PB-1" }],
    });
    expect(outcome.ok ? [] : [...outcome.faults]).toEqual([
      ["models", "bench_fault_number_long"],
      ["fitted k", "bench_fault_part_type"],
      ["built", "bench_fault_date"],
    ]);
  });

  it("lets nothing through that the format would refuse", () => {
    const outcome = from({ ...draftOf(undefined), models: "PL-20", fitted: [emptyFitted("k", "Not Kebab")] });
    expect(outcome.ok ? [] : [...outcome.faults.keys()]).toEqual(["devices[0].fitted[0].type"]);
  });
});

describe("a typed build date", () => {
  it("stays as it is written where it is written in full", () => {
    for (const text of ["2021-05", "2021-05-17", "2021-W20"]) {
      expect(readDateDraft(date(text), setting)).toMatchObject({ kind: "date", buildDate: text });
    }
    // Four digits may be a year or a week code: asked.
    expect(readDateDraft(date("2021"), setting).kind).toBe("ask");
    expect(readDateDraft(date("2021-02 – … "), setting)).toMatchObject({ buildDate: { from: "2021-02" } });
    expect(readDateDraft(date("… – 2021-07"), setting)).toMatchObject({ buildDate: { to: "2021-07" } });
  });

  it("is asked about where it can mean several things, and never chosen silently", () => {
    const readings = readingsToChoose(date("2114"), setting);
    expect(readings.length).toBeGreaterThan(1);
    const unanswered = from({ ...draftOf(undefined), models: "PL-20", built: date("2114") });
    expect(unanswered.ok ? [] : [...unanswered.faults]).toEqual([["built", "bench_fault_date_choose"]]);
    const chosen = readings.findIndex(({ kind }) => kind === "year-week");
    const answered = from({ ...draftOf(undefined), models: "PL-20", built: date("2114", { chosen }) });
    expect(answered.ok && answered.device).toMatchObject({
      buildDate: "2021-W14",
      facts: [{ field: "buildDate", value: "2021-W14", source: "date code", confidence: "likely" }],
    });
  });

  it("of a purchase is an upper bound only, and kept with its source", () => {
    const bought = from({
      ...draftOf(undefined),
      models: "PL-20",
      built: date("2021-05-17", { origin: "bought" }),
    });
    expect(bought.ok && bought.device.buildDate).toEqual({ to: "2021-05-17" });
    expect(bought.ok && bought.device.facts?.[0]?.source).toBe("purchase date");
  });

  it("is read out of a serial number by the person's own pattern", () => {
    const serial = date("SN2114XYZ", { origin: "serial", mask: "??YYWW*" });
    expect(readDateDraft(serial, setting)).toMatchObject({ kind: "date", buildDate: "2021-W14" });
    expect(readDateDraft({ ...serial, mask: "??YY*WW*" }, setting)).toMatchObject({
      kind: "unreadable",
      because: { key: "readout_mask_stars" },
    });
  });
});

describe("typed numbers and values", () => {
  it("are taken apart at commas, semicolons and line breaks, each number once", () => {
    expect(splitNumbers(" PB-1840, pb 1840;\nQK-77A,, ")).toEqual(["PB-1840", "QK-77A"]);
  });

  it("become numbers where they are numbers", () => {
    expect([quantityValue(" 3,7 "), quantityValue("14.8"), quantityValue("DDR4"), quantityValue("true")]).toEqual([
      3.7,
      14.8,
      "DDR4",
      true,
    ]);
  });
});
