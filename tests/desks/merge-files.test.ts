import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { mergeCatalogFiles } from "../../src/desks/merge-files.ts";
import { type Catalog, checkCatalog, readCatalog } from "../../src/formats/catalog.ts";

function catalog(text: string): Catalog {
  const read = readCatalog(text);
  if (!read.ok) throw new Error(JSON.stringify(read.faults));
  return read.value;
}

const demo = catalog(readFileSync("rules/catalogs/demo.catalog.json", "utf8"));

function withChanges(change: (copy: Catalog) => void): Catalog {
  const copy = structuredClone(demo);
  change(copy);
  return copy;
}

describe("catalog files merged", () => {
  it("a catalog with itself is itself, whatever is said twice said once", () => {
    const { catalog: merged, disagreements } = mergeCatalogFiles([demo, demo]);
    expect(disagreements).toEqual([]);
    expect(merged.parts).toEqual(demo.parts.map(({ note: _, ...part }) => part));
    expect(merged.families.map(({ id }) => id)).toEqual(demo.families.map(({ id }) => id));
    expect(merged.interchange).toEqual(demo.interchange);
    expect(merged.supersession).toEqual(demo.supersession);
  });

  it("is a valid catalog", () => {
    const other = withChanges((copy) => {
      for (const family of copy.families) family.id = `other-${family.id}`;
      for (const family of copy.families) family.modelNumbers = family.modelNumbers.map((model) => `Z${model}`);
    });
    const { catalog: merged } = mergeCatalogFiles([demo, other]);
    expect(checkCatalog(merged).ok).toBe(true);
    expect(merged.families).toHaveLength(demo.families.length * 2);
  });

  it("what they disagree on is left out and named", () => {
    const other = withChanges((copy) => {
      const part = copy.parts.find(({ id }) => id === "pb-18");
      if (part) {
        part.quantities = { ...part.quantities, energy_Wh: 99 };
        part.connector = { ...part.connector, positions: 6 };
      }
      const early = copy.families[0]?.revisions[0];
      const late = copy.families[0]?.revisions[1];
      if (early && late) {
        early.parts = early.parts.filter((id) => id !== "pb-18");
        late.parts = [...late.parts, "pb-18"];
        early.built = { from: "2018-W01", to: "2020-W50" };
      }
    });
    const { catalog: merged, disagreements } = mergeCatalogFiles([demo, other]);
    expect(disagreements).toEqual(
      expect.arrayContaining([
        { kind: "quantity", at: "pb-18", what: "energy_Wh" },
        { kind: "connector", at: "pb-18", what: "" },
        { kind: "place", at: "lark-20/early", what: "pb-18" },
        { kind: "place", at: "lark-20/late", what: "pb-18" },
        { kind: "built", at: "lark-20/early", what: "" },
      ]),
    );
    const part = merged.parts.find(({ id }) => id === "pb-18");
    expect(part?.quantities).toEqual({ nominalVoltage_V: 3.7 });
    expect(part?.connector).toBeUndefined();
    const [early, late] = merged.families[0]?.revisions ?? [];
    expect(early?.parts).not.toContain("pb-18");
    expect(late?.parts).not.toContain("pb-18");
    expect(early?.built).toEqual({ from: "2018-W01", to: "2021-W14" });
  });

  it("an end of the build dates that one leaves open stays open", () => {
    const other = withChanges((copy) => {
      const late = copy.families[0]?.revisions[1];
      if (late) late.built = { from: "2021-W05", to: "2022-W01" };
    });
    const { catalog: merged } = mergeCatalogFiles([demo, other]);
    expect(merged.families[0]?.revisions[1]?.built).toEqual({ from: "2021-W02" });
  });
});
