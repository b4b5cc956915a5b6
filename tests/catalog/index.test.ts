import { describe, expect, it } from "vitest";
import { buildIndex, sliceFor } from "../../src/catalog/index.ts";
import { demoCatalog, judged, larks, makeCatalog, makeDevice, prepare } from "../verdict/bench.ts";

const index = buildIndex([demoCatalog]);

function served(number: string, catalogs = index): string[][] {
  return catalogs.resolveNumber(number).candidates.map(({ serves }) => serves.map(({ part }) => part.id));
}

describe("one catalog", () => {
  it("finds parts by every spelling of a number", () => {
    for (const spelling of ["PB-1840", "pb 1840", "PB1840", "ＰＢ－１８４０"])
      expect(served(spelling)).toEqual([["pb-18"]]);
  });

  it("follows interchange both ways and supersession to the earlier number only", () => {
    expect(served("QK-77A")).toEqual([["pb-18"]]);
    expect(served("PB-2240A")).toEqual([["pb-22"]]);
    expect(index.serves("PB-2240A", "PB-2240")).toBe(true);
    expect(index.serves("PB-2240", "PB-2240A")).toBe(false);
    expect(index.laterThan("PB-2240")).toEqual(["PB2240A"]);
  });

  it("knows nothing of other numbers", () => {
    expect(index.resolveNumber("PB-9999")).toMatchObject({ known: false, candidates: [] });
    expect(index.resolveNumber("")).toMatchObject({ known: false });
  });

  it("finds families by model and revisions by board", () => {
    expect(index.familiesByModel("pl 20e").map(({ id }) => id)).toEqual(["lark-20"]);
    expect(index.revisionsByBoard("PW44105").map(({ revision }) => revision.id)).toEqual(["late"]);
  });

  it("gives a number that two parts bear two candidates, and ends chains there", () => {
    const shared = buildIndex([
      makeCatalog({
        parts: [
          { id: "a", type: "fan", numbers: ["AA-100", "SH-1"] },
          { id: "b", type: "fan", numbers: ["BB-200", "SH-1"] },
        ],
      }),
    ]);
    expect(served("SH-1", shared)).toEqual([["a"], ["b"]]);
    expect(served("AA-100", shared)).toEqual([["a"]]);
  });

  it("leaves out supersessions that run in a circle and says so", () => {
    const circle = buildIndex([
      makeCatalog({
        parts: [
          { id: "a", type: "fan", numbers: ["AA-100"] },
          { id: "b", type: "fan", numbers: ["BB-200"] },
        ],
        supersession: [
          { old: "AA-100", new: "BB-200" },
          { old: "BB-200", new: "AA-100" },
        ],
      }),
    ]);
    expect(served("AA-100", circle)).toEqual([["a"]]);
    expect(circle.resolveNumber("AA-100").disagreements.map(({ code }) => code)).toEqual(["supersession-in-circle"]);
  });

  it("does not let a list join parts with different connectors", () => {
    const joined = buildIndex([
      makeCatalog({
        ...demoCatalog,
        interchange: [{ numbers: ["PB-1840", "XX-500"] }, { numbers: ["XX-500", "PB-2240"] }],
      }),
    ]);
    expect(served("PB-1840", joined)).toEqual([["pb-18"]]);
    expect(served("XX-500", joined)).toEqual([["pb-18"], ["pb-22"]]);
    expect(joined.resolveNumber("PB-1840").disagreements.map(({ code }) => code)).toContain(
      "lists-join-different-parts",
    );
  });
});

describe("several catalogs", () => {
  const second = (revisions: object[], parts: object[], more: object = {}) =>
    makeCatalog({ families: [{ id: "x", modelNumbers: ["PL20"], revisions }], parts, ...more });

  it("become one family with the parts of both", () => {
    const both = buildIndex([
      demoCatalog,
      second([{ id: "early", parts: ["s"] }], [{ id: "s", type: "switch", numbers: ["PS-1"] }]),
    ]);
    const family = both.familiesByModel("PL-20")[0];
    expect(family?.revisions.map(({ id }) => id)).toEqual(["early", "late"]);
    expect(family?.revisions[0]?.parts).toContain("s");
    expect(both.family("x")).toBe(family);
  });

  it("are read the stricter way where they disagree about a part's place", () => {
    const other = second(
      [
        { id: "early", parts: [] },
        { id: "late", parts: ["p"] },
      ],
      [{ id: "p", type: "battery", numbers: ["PB-1840"] }],
    );
    const both = buildIndex([demoCatalog, other]);
    expect(both.revisionsOf("pb-18")).toEqual([]);
    expect(both.disputedPlacesOf("pb-18").map(({ revision }) => revision.id)).toEqual(["early", "late"]);
    const early = prepare({ modelNumbers: ["PL-20"], boardNumber: "PW-4410-2" }, both);
    const verdict = judged("Battery PB-1840", early);
    expect(verdict.verdict).toBe("other-revision");
    expect(verdict.reasons.map(({ code }) => code)).toContain("number-disputed");
  });

  it("chain their lists together", () => {
    const lists = [
      makeCatalog({ interchange: [{ numbers: ["QK-77A", "M-1000"] }] }),
      makeCatalog({ interchange: [{ numbers: ["M-1000", "M-2000"] }] }),
    ];
    expect(served("M-2000", buildIndex([demoCatalog, ...lists]))).toEqual([["pb-18"]]);
  });

  it("say where they describe a part differently, and a listing must agree with both", () => {
    const other = makeCatalog({
      parts: [{ id: "p", type: "battery", numbers: ["PB-1840"], quantities: { nominalVoltage_V: 7.4 } }],
    });
    const both = buildIndex([demoCatalog, other]);
    expect(both.resolveNumber("PB-1840").disagreements.map(({ code }) => code)).toEqual(["catalogs-disagree"]);
    const early = prepare({ modelNumbers: ["PL-20"], boardNumber: "PW-4410-2" }, both);
    expect(judged("Battery PB-1840", early).verdict).toBe("fits");
    expect(judged("Battery PB-1840 3.7V", early).verdict).toBe("conflicting");
  });
});

describe("a slice", () => {
  it("gives the same verdicts as the whole", () => {
    const fields = { modelNumbers: ["PL-20"], boardNumber: "PW-4410-2" };
    const slice = prepare(fields, sliceFor([demoCatalog], [makeDevice(fields)]));
    const titles = [
      "PB-1840",
      "PB-2240A battery",
      "Battery QK-77A",
      "OF-B216",
      "Battery for MV300",
      "PB-1840 for PW-4410-5",
    ];
    for (const title of titles) expect(judged(title, slice)).toEqual(judged(title, larks.early));
  });

  it("leaves out what other devices' parts are like", () => {
    const [slice] = sliceFor([demoCatalog], [makeDevice({ modelNumbers: ["PL-20"] })]);
    const foreign = slice?.parts.find(({ id }) => id === "qd-40");
    expect(foreign).toEqual({ id: "qd-40", type: "display-panel", numbers: ["QD133-40F"] });
    expect(slice?.parts.find(({ id }) => id === "pb-18")?.connector?.positions).toBe(5);
  });
});

describe("lists that contradict themselves or each other", () => {
  const families = [
    {
      id: "f",
      modelNumbers: ["FM-6"],
      revisions: [
        { id: "a", boardNumbers: ["FB-1"], parts: ["one"] },
        { id: "b", boardNumbers: ["FB-2"], parts: ["two"] },
      ],
    },
  ];
  const parts = [
    { id: "one", type: "pump", numbers: ["FP-100"] },
    { id: "two", type: "pump", numbers: ["FP-200"] },
  ];
  const device = (board: string, ...catalogs: object[]) =>
    prepare({ modelNumbers: ["FM-6"], boardNumber: board }, catalogs.map(makeCatalog));

  it("keep a number in a circle where what it replaces belongs, and show the circle", () => {
    const circle = [
      { families, parts, supersession: [{ old: "FP-200", new: "FP-250" }] },
      { supersession: [{ old: "FP-250", new: "FP-200" }] },
    ];
    const [mine, other] = ["FB-2", "FB-1"].map((board) => judged("Pump FP-250", device(board, ...circle)));
    expect(other?.verdict).toBe("other-revision");
    expect(mine?.verdict).toBe("ambiguous");
    for (const verdict of [mine, other])
      expect(verdict?.reasons.map(({ code }) => code)).toContain("supersession-in-circle");
  });

  it("let one number take the place of the parts of two revisions", () => {
    const catalog = {
      families,
      parts,
      supersession: [
        { old: "FP-100", new: "FP-900" },
        { old: "FP-200", new: "FP-900" },
      ],
    };
    for (const board of ["FB-1", "FB-2"]) {
      const verdict = judged("Pump FP-900", device(board, catalog));
      expect(verdict.verdict).toBe("fits");
      expect(verdict.reasons.map(({ code }) => code)).toEqual(["number-supersedes"]);
    }
  });

  it("say that a number stands for unlike parts, not that the device is open", () => {
    const pumps = [
      { id: "one", type: "pump", numbers: ["FP-100"], connector: { family: "k", positions: 4 } },
      { id: "two", type: "pump", numbers: ["FP-200"], connector: { family: "k", positions: 6 } },
    ];
    const list = [{ numbers: ["FP-100", "FX-7700"] }, { numbers: ["FX-7700", "FP-200"] }];
    const verdict = judged("Pump FX-7700", device("FB-1", { families, parts: pumps, interchange: list }));
    expect(verdict.verdict).toBe("ambiguous");
    expect(verdict.reasons.map(({ code }) => code)).toEqual(["number-unlike-parts", "lists-join-different-parts"]);
  });

  it("count the stricter catalog and say that they disagree", () => {
    const both = [{ ...families[0], revisions: families[0]?.revisions.map((each) => ({ ...each, parts: ["one"] })) }];
    const verdict = judged("Pump FP-100", device("FB-2", { families: both, parts }, { families, parts }));
    expect(verdict.verdict).toBe("other-revision");
    expect(verdict.reasons.map(({ code }) => code)).toContain("number-disputed");
  });

  it("keep an earlier number, listed nowhere, where what replaced it belongs", () => {
    const catalog = { families, parts, supersession: [{ old: "FP-150", new: "FP-200" }] };
    expect(judged("Pump FP-150", device("FB-1", catalog)).verdict).toBe("other-revision");
    expect(judged("Pump FP-150", device("FB-2", catalog)).verdict).toBe("ambiguous");
  });
});
