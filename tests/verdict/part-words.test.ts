/** Words for parts that are everyday words: they name a part only for devices whose catalog has such a part. */
import { describe, expect, it } from "vitest";
import { judged, makeCatalog, prepare } from "./bench.ts";

const catalog = makeCatalog({
  title: "Bread machines and a sister of theirs (invented)",
  publisher: "Invented for this test",
  published: "2026-01-01",
  license: "CC0-1.0",
  families: [
    {
      id: "tolmer-500",
      maker: "Vennick",
      name: "Tolmer 500 bread machine",
      modelNumbers: ["VT-500", "Tolmer 500"],
      revisions: [
        { id: "a", name: "first board", boardNumbers: ["VTB-11"], parts: ["lid-a", "blade-a", "seal", "tray", "dock"] },
        {
          id: "b",
          name: "second board",
          boardNumbers: ["VTB-12"],
          parts: ["lid-b", "blade-b", "seal", "tray", "dock"],
        },
      ],
    },
    { id: "tolmer-zoom", maker: "Vennick", name: "Tolmer Duo bread machine", modelNumbers: ["VT-2D"], revisions: [] },
  ],
  parts: [
    { id: "lid-a", type: "lid", numbers: ["LV1"] },
    { id: "lid-b", type: "lid", numbers: ["LV2"] },
    { id: "blade-a", type: "kneading-blade", numbers: ["K51"], quantities: { shaft_mm: 8 } },
    { id: "blade-b", type: "kneading-blade", numbers: ["K52"], quantities: { shaft_mm: 10 } },
    { id: "seal", type: "door-seal", numbers: ["7204316"] },
    { id: "tray", type: "crumb-tray", numbers: ["CT-77"] },
    { id: "dock", type: "yeast-dispenser", name: "yeast box", numbers: ["YD-40"] },
  ],
});
const mine = prepare({ modelNumbers: ["VT-500"], boardNumber: "VTB-11" }, [catalog]);
const verdictOf = (title: string): string => judged(title, mine).verdict;

describe("a part of a type that the catalog has", () => {
  it.each([
    "Pokrywa LV1 do wypiekacza Vennick",
    "Deckel LV1 Vennick Tolmer 500",
    "Couvercle LV1 de machine à pain Vennick",
    "Uszczelka 7204316 Vennick Tolmer 500",
    "Goma de puerta 7204316 Vennick",
    "Yeast dispenser YD-40 Vennick",
    "Blaszka CT-77 Vennick Tolmer 500",
    "Pala amasadora K51 Vennick Tolmer 500",
  ])("is one by its number: %s", (title) => {
    expect(verdictOf(title)).toBe("fits");
  });

  it.each([
    "Pokrywa do wypiekacza Vennick Tolmer 500",
    "Deckel Vennick VT-500",
    "Vassoio Vennick Tolmer 500",
    "Couvercle machine à pain Vennick 500",
    "Yeast boxes for Vennick Tolmer 500",
  ])("is one by its model alone, to be asked about: %s", (title) => {
    expect(verdictOf(title)).toBe("ambiguous");
  });

  it("is told by the measure of its shaft", () => {
    expect(verdictOf("Knethaken Vennick VT-500 für 10-mm-Welle")).toBe("other-revision");
  });
});

describe("a family's name", () => {
  it("is not lost to that of a sister that begins alike", () => {
    expect(verdictOf("Deckel LV1 Vennick Tolmer 500")).toBe("fits");
    expect(verdictOf("Lid LV2 Vennick Tolmer 500")).toBe("other-revision");
  });
});

describe("an everyday word for a part that the device does not have", () => {
  it.each(["Armlehne Vennick VT-500"])("is none: %s", (title) => {
    expect(verdictOf(title)).toBe("unrelated");
  });
});
