import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { buildIndex } from "../../src/catalog/index.ts";
import { buildInterval, resolveRevisions, seriesCells } from "../../src/catalog/resolve.ts";
import { checkBench, type Device } from "../../src/formats/bench.ts";
import { type Catalog, checkCatalog } from "../../src/formats/catalog.ts";

const catalog = asCatalog({
  format: "falsefit-catalog/1",
  families: [
    {
      id: "tern-4",
      name: "Tern 4",
      modelNumbers: ["TN-4", "TN-4E"],
      revisions: [
        {
          id: "early",
          boardNumbers: ["VL-2210-1"],
          built: { from: "2019-W06", to: "2021-W14" },
          parts: ["b-low", "fan"],
        },
        { id: "late", boardNumbers: ["VL-2210-5"], built: { from: "2021-W02" }, parts: ["b-high", "fan"] },
        { id: "special", boardNumbers: ["VL-2299-1"], parts: ["b-special", "fan"] },
      ],
    },
    {
      id: "gull-9",
      modelNumbers: ["GU-9"],
      revisions: [{ id: "only", boardNumbers: ["VL-9000-1"], parts: ["b-gull"] }],
    },
    { id: "twin-a", modelNumbers: ["TW-1"], revisions: [{ id: "a", boardNumbers: ["TW-A"] }] },
    { id: "twin-b", modelNumbers: ["TW-1"], revisions: [{ id: "b", boardNumbers: ["TW-B"] }] },
  ],
  parts: [
    { id: "b-low", type: "battery", numbers: ["VB-370"], quantities: { nominalVoltage_V: 7.4 } },
    { id: "b-high", type: "battery", numbers: ["VB-380"], quantities: { nominalVoltage_V: 11.4 } },
    { id: "b-special", type: "battery", numbers: ["VB-390"] },
    { id: "b-gull", type: "battery", numbers: ["VB-900"] },
    { id: "fan", type: "fan", numbers: ["VF-1"] },
  ],
  interchange: [{ numbers: ["VB-370", "KX-77A"] }],
  supersession: [{ old: "VB-375", new: "VB-380" }],
});
const index = buildIndex([catalog]);
const sentences = new Set(
  Object.keys(
    JSON.parse(
      readFileSync(fileURLToPath(new URL("../../manifest/_locales/en/messages.json", import.meta.url)), "utf8"),
    ),
  ),
);

function asCatalog(value: unknown): Catalog {
  const read = checkCatalog(value);
  if (!read.ok) throw new Error(JSON.stringify(read.faults));
  return read.value;
}

function device(fields: object): Device {
  const read = checkBench({ format: "falsefit-bench/1", devices: [{ id: "d", modelNumbers: ["TN-4"], ...fields }] });
  if (!read.ok || !read.value.devices[0]) throw new Error("not a device");
  return read.value.devices[0];
}

function resolved(fields: object): { ids: string[]; pinned: boolean; contradictions: string[]; said: string[] } {
  const found = resolveRevisions(device(fields), index);
  return {
    ids: found.revisions.map(({ id }) => id),
    pinned: found.pinned,
    contradictions: found.contradictions.map(({ code }) => code),
    said: found.evidence.map(({ says }) => says.code),
  };
}

const battery = (number: string, more: object = {}): object => ({
  fitted: [{ type: "battery", numbers: [number], source: "label", ...more }],
});

describe("one piece of evidence", () => {
  it("leaves every revision without any", () => {
    expect(resolved({})).toEqual({ ids: ["early", "late", "special"], pinned: false, contradictions: [], said: [] });
  });

  it("is pinned by a board number, however it is spelt", () => {
    expect(resolved({ boardNumber: "vl 2210/5" })).toMatchObject({
      ids: ["late"],
      pinned: true,
      said: ["resolver-board-says"],
    });
  });

  it("says so when no catalog knows the board, and points at a misreading one character away", () => {
    expect(resolved({ boardNumber: "ZZ-1" })).toMatchObject({
      ids: ["early", "late", "special"],
      said: ["resolver-board-unknown"],
    });
    expect(resolved({ boardNumber: "VL-2210-2" })).toMatchObject({ pinned: false, said: ["resolver-board-near"] });
    expect(resolved({ boardNumber: "VL-9000-1" })).toMatchObject({
      pinned: false,
      said: ["resolver-board-other-family"],
    });
  });

  it("a date decides outside the changeover only, and never excludes a revision without dates", () => {
    expect(resolved({ buildDate: "2019-W20" }).ids).toEqual(["early", "special"]);
    expect(resolved({ buildDate: "2021-W10" })).toMatchObject({
      ids: ["early", "late", "special"],
      said: ["resolver-date-changeover"],
    });
    expect(resolved({ buildDate: { from: "2021-05" } }).ids).toEqual(["late", "special"]);
    expect(resolved({ buildDate: "2021" }).said).toEqual(["resolver-date-leaves"]);
    expect(resolved({ buildDate: "2021-W77" })).toMatchObject({ said: ["resolver-date-unreadable"], pinned: false });
  });

  it("the touch of one day with a changeover keeps both sides", () => {
    expect(resolved({ buildDate: "2021-01-10" }).ids).not.toContain("late");
    expect(resolved({ buildDate: "2021-01-11" }).ids).toEqual(["early", "late", "special"]);
    expect(resolved({ buildDate: "2021-04-11" }).ids).toEqual(["early", "late", "special"]);
    expect(resolved({ buildDate: "2021-04-12" }).ids).toEqual(["late", "special"]);
  });

  it("a fitted number decides, through interchange and backwards through supersession", () => {
    expect(resolved(battery("VB-370"))).toMatchObject({ ids: ["early"], pinned: true });
    expect(resolved(battery("KX 77A"))).toMatchObject({ ids: ["early"], pinned: true });
    expect(resolved(battery("VB-375"))).toMatchObject({ ids: ["late"], pinned: true });
    expect(resolved({ fitted: [{ type: "fan", numbers: ["VF-1"] }] })).toMatchObject({
      pinned: false,
      said: ["resolver-part-everywhere"],
    });
  });

  it("evidence that matches nothing is said and excludes nothing", () => {
    expect(resolved(battery("XX-1"))).toMatchObject({ pinned: false, said: ["resolver-part-unknown"] });
    expect(resolved(battery("VB-900"))).toMatchObject({ pinned: false, said: ["resolver-part-elsewhere"] });
    expect(resolved({ fitted: [{ type: "fan", numbers: ["VB-370"] }] })).toMatchObject({
      said: ["resolver-part-unknown"],
    });
  });

  it("cells in series tell a battery that no catalog knows, but only when they were read off it", () => {
    const read = battery("XX-1", { quantities: { nominalVoltage_V: 11.1 }, source: "readout" });
    expect(resolved(read)).toMatchObject({
      ids: ["late", "special"],
      said: ["resolver-part-unknown", "resolver-cells-say"],
    });
    const assumed = battery("XX-1", { quantities: { nominalVoltage_V: 11.1 }, source: "assumed" });
    expect(resolved(assumed).ids).toEqual(["early", "late", "special"]);
  });

  it("the person's own word counts, a name that the catalog lacks does not", () => {
    expect(resolved({ revision: "late" })).toMatchObject({ ids: ["late"], pinned: true });
    expect(resolved({ revision: "third" })).toMatchObject({ pinned: false, said: ["resolver-stated-unknown"] });
  });
});

describe("evidence together", () => {
  it("meets where it agrees", () => {
    expect(resolved({ buildDate: "2021-W30", ...battery("VB-380") })).toMatchObject({ ids: ["late"], pinned: true });
  });

  it("keeps both sides and names the contradiction: an early board with a late battery", () => {
    expect(resolved({ boardNumber: "VL-2210-1", ...battery("VB-380") })).toMatchObject({
      ids: ["early", "late"],
      pinned: false,
      contradictions: ["resolver-board-against-part"],
    });
  });

  it("keeps both sides when the board says early and the date only late", () => {
    const found = resolved({ boardNumber: "VL-2210-1", buildDate: "2022-W02" });
    expect(found.ids).toEqual(["early", "late", "special"]);
    expect(found.contradictions).toEqual(["resolver-board-against-date"]);
  });

  it("a date in the changeover adds nothing to a quarrel and excludes nobody from it", () => {
    const found = resolved({ boardNumber: "VL-2210-1", buildDate: "2021-W10", ...battery("VB-390") });
    expect(found.ids).toEqual(["early", "special"]);
    expect(found.contradictions).toEqual(["resolver-board-against-part"]);
  });

  it("shows what the strongest evidence points at", () => {
    const found = resolveRevisions(device({ boardNumber: "VL-2210-1", ...battery("VB-380") }), index);
    expect(found.strongest).toEqual(["early"]);
  });
});

describe("whatever the evidence", () => {
  const evidence = fc.record(
    {
      revision: fc.constantFrom("early", "late", "special", "third"),
      boardNumber: fc.constantFrom("VL-2210-1", "VL-2210-5", "VL-2299-1", "VL-9000-1", "ZZ-1", "---"),
      buildDate: fc.oneof(
        fc.constantFrom("2019-W20", "2021-W10", "2022", "1999", "2021-13", "2021-02-30"),
        fc.record(
          { from: fc.constantFrom("2018", "2021-W20"), to: fc.constantFrom("2020", "2023") },
          { requiredKeys: [] },
        ),
      ),
      fitted: fc.array(
        fc.record({
          type: fc.constantFrom("battery", "fan"),
          numbers: fc.array(fc.constantFrom("VB-370", "KX-77A", "VB-375", "VB-380", "VB-390", "VB-900", "VF-1", "Q"), {
            maxLength: 3,
          }),
          source: fc.constantFrom("label", "readout", "assumed"),
          quantities: fc.record({ nominalVoltage_V: fc.constantFrom(7.4, 11.4, 12, 0.019) }),
        }),
        { maxLength: 3 },
      ),
    },
    { requiredKeys: [] },
  );

  it("R is never empty, lies in the family, and is what all evidence leaves unless it contradicts itself", () => {
    fc.assert(
      fc.property(evidence, (fields) => {
        const found = resolveRevisions(device(fields), index);
        const ids = found.revisions.map(({ id }) => id);
        expect(ids.length).toBeGreaterThan(0);
        expect(["early", "late", "special"]).toEqual(expect.arrayContaining(ids));
        const telling = found.evidence.flatMap(({ leaves }) => (leaves === null ? [] : [leaves]));
        const agreed = ["early", "late", "special"].filter((id) => telling.every((leaves) => leaves.includes(id)));
        if (agreed.length > 0) expect(ids).toEqual(agreed);
        expect(found.contradictions.length > 0).toBe(agreed.length === 0);
        expect(found.pinned).toBe(ids.length === 1 && agreed.length > 0);
        for (const each of [...found.contradictions, found.familyBy, ...found.evidence.map(({ says }) => says)]) {
          expect(sentences.has(`reason_${each.code.replaceAll("-", "_")}`), each.code).toBe(true);
        }
      }),
      { numRuns: 2_000, seed: 7 },
    );
  });

  it("leaving one piece of agreeing evidence out never makes R smaller", () => {
    fc.assert(
      fc.property(evidence, fc.nat(), (fields, pick) => {
        const names = Object.keys(fields);
        const dropped = names[pick % Math.max(1, names.length)];
        const less = Object.fromEntries(Object.entries(fields).filter(([name]) => name !== dropped));
        const all = resolveRevisions(device(fields), index);
        if (all.contradictions.length > 0) return;
        const fewer = resolveRevisions(device(less), index).revisions.map(({ id }) => id);
        expect(fewer).toEqual(expect.arrayContaining(all.revisions.map(({ id }) => id)));
      }),
      { numRuns: 1_000, seed: 11 },
    );
  });
});

describe("finding the family", () => {
  it("by id, model, board or fitted parts, and says when none or several are meant", () => {
    const by = (fields: object): [string | undefined, string] => {
      const found = resolveRevisions(device(fields), index);
      return [found.family?.id, found.familyBy.code];
    };
    expect(by({ family: "gull-9" })).toEqual(["gull-9", "resolver-family-stated"]);
    expect(by({ modelNumbers: ["tn4e"] })).toEqual(["tern-4", "resolver-family-by-model"]);
    expect(by({ modelNumbers: [], boardNumber: "VL-9000-1" })).toEqual(["gull-9", "resolver-family-by-board"]);
    expect(by({ modelNumbers: [], ...battery("VB-900") })).toEqual(["gull-9", "resolver-family-by-part"]);
    expect(by({ modelNumbers: ["QQ-1"] })).toEqual([undefined, "resolver-no-family"]);
    expect(by({ modelNumbers: [] })).toEqual([undefined, "resolver-no-model"]);
    expect(by({ modelNumbers: ["TW-1"] })).toEqual([undefined, "resolver-several-families"]);
    expect(by({ modelNumbers: ["TW-1"], boardNumber: "TW-B" })).toEqual(["twin-b", "resolver-family-by-model"]);
  });
});

describe("small pieces", () => {
  it("counts cells from nominal volts", () => {
    expect([3.7, 7.4, 7.7, 10.8, 11.1, 11.4, 11.55, 14.4, 15.2, 15.4, 18, 25.2].map(seriesCells)).toEqual([
      1, 2, 2, 3, 3, 3, 3, 4, 4, 4, 5, 7,
    ]);
    expect([0, -1, 0.019, 12, 12.8, 46.8, Number.NaN].map(seriesCells)).toEqual([
      null,
      null,
      null,
      null,
      null,
      null,
      null,
    ]);
  });

  it("reads a build date of any form and refuses what is none", () => {
    expect(buildInterval(undefined)).toBeNull();
    expect(buildInterval({ from: "2021-W02", to: "2021-W01" })).toBeNull();
    expect(buildInterval({ to: "2021-13" })).toBeNull();
    expect(buildInterval({})).toEqual({ from: null, to: null });
  });
});
