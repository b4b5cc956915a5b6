/** Packed catalogs held against plain ones: on made-up catalogs of every crossing, both must answer alike. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { buildIndex, type CatalogIndex, indexOver } from "../../src/catalog/index.ts";
import { packCatalogs } from "../../src/catalog/pack.ts";
import type { PackedCatalogs } from "../../src/catalog/packed.ts";
import { packedKnowledge } from "../../src/catalog/packed-knowledge.ts";
import { splitCatalog } from "../../src/catalog/split.ts";
import { type Catalog, readCatalog } from "../../src/formats/catalog.ts";
import { canonicalNumber } from "../../src/text/part-number.ts";
import { bigCatalog } from "../bench/big-catalog.mjs";
import { demoCatalog, judged, makeCatalog, prepare } from "../verdict/bench.ts";

const decode = (bytes: Uint8Array): string => new TextDecoder().decode(bytes);
const allocate = (bytes: number): ArrayBuffer => new ArrayBuffer(bytes);

function packTexts(texts: readonly string[]): PackedCatalogs | null {
  return packCatalogs(
    texts.map((text) => new TextEncoder().encode(text)),
    { decode, allocate },
  );
}

function packedIndex(catalogs: readonly Catalog[]): CatalogIndex {
  const packed = packTexts(catalogs.map((catalog) => JSON.stringify(catalog)));
  if (packed === null) throw new Error("not packed");
  return indexOver(packedKnowledge(packed, decode));
}

const number = fc.constantFrom("A-10", "a 10", "A1O", "B-20", "BI-1", "Bl-1", "C3", "D4", "E5E", "Ж-7", "Q-8", "R9");
const numbers = (most: number) => fc.array(number, { maxLength: most });
const id = fc.constantFrom("x", "y", "z", "x~2", "w", "v");
const distinct = <T extends { id: string }>(of: fc.Arbitrary<T>, most: number) =>
  fc.uniqueArray(of, { maxLength: most, selector: (each) => each.id });
const optional = <T>(of: fc.Arbitrary<T>) => fc.option(of, { nil: undefined });

const part = fc.record({
  id,
  type: fc.constantFrom("fan", "battery"),
  numbers: numbers(3),
  name: optional(fc.constantFrom("Fan", "Pack")),
  quantities: optional(fc.record({ energy_Wh: fc.constantFrom(10, 20) })),
  connector: optional(fc.record({ positions: fc.constantFrom(3, 5) })),
});
const list = fc.record({
  numbers: fc.array(number, { minLength: 2, maxLength: 4 }),
  basis: optional(fc.constant("list")),
});
const succession = fc.record({ old: number, new: number });
const revisionShape = fc.record({
  id: fc.constantFrom("r1", "r2", "r3"),
  boardNumbers: numbers(2),
  parts: fc.array(id),
});
const familyShape = fc.record({
  id,
  maker: optional(fc.constantFrom("Pellworm", "Quillon")),
  name: optional(fc.constantFrom("Lark 20", "Sedge", "Lark 21")),
  modelNumbers: numbers(2),
  revisions: distinct(revisionShape, 3),
});
const catalog = fc
  .record({
    parts: distinct(part, 6),
    families: distinct(familyShape, 3),
    interchange: fc.array(list, { maxLength: 3 }),
    supersession: fc.array(succession, { maxLength: 3 }),
  })
  .map((made) => {
    const known = new Set(made.parts.map((each) => each.id));
    for (const { revisions } of made.families) {
      for (const each of revisions) each.parts = [...new Set(each.parts)].filter((one) => known.has(one));
    }
    return makeCatalog(made);
  });

const ASKED = [
  "A-10",
  "A10",
  "A1O",
  "Al0",
  "B20",
  "BI1",
  "B11",
  "C3",
  "D4",
  "E5E",
  "Ж7",
  "Q8",
  "R9",
  "Z1",
  "",
  "LARK20",
];
const IDS = ["x", "y", "z", "w", "v", "x~2", "x~3", "y~2", "z~2", "x~2~2", "nothing"];

/** Everything that an index says of the numbers and ids of the generator. */
function answers(index: CatalogIndex): unknown {
  return {
    families: index.families,
    parts: index.parts,
    numbers: [...index.numbers()].sort(),
    odd: index.table().odd,
    byId: IDS.map((each) => [index.family(each), index.part(each)]),
    places: IDS.map((each) => [index.revisionsOf(each), index.disputedPlacesOf(each)]),
    byNumber: ASKED.map((each) => ({
      each,
      resolved: index.resolveNumber(each),
      later: index.laterThan(each),
      related: index.related(each),
      beside: new Set(index.listedBeside(each).filter((other) => canonicalNumber(other) !== canonicalNumber(each))),
      models: index.familiesByModel(each),
      boards: index.revisionsByBoard(each),
      look: index.table().look(each, each),
      letters: index.table().hasLetters(each),
      serves: ASKED.map((wanted) => index.serves(each, wanted)),
    })),
  };
}

describe("packed catalogs", () => {
  it("say of every number, part and family what plain ones say", () => {
    fc.assert(
      fc.property(fc.array(catalog, { minLength: 1, maxLength: 3 }), (catalogs) => {
        expect(answers(packedIndex(catalogs))).toEqual(answers(buildIndex(catalogs)));
      }),
      { numRuns: 200 },
    );
  });

  it("say it in the other order of asking too: answers made alone are those made together", () => {
    fc.assert(
      fc.property(fc.array(catalog, { minLength: 2, maxLength: 3 }), (catalogs) => {
        const plain = buildIndex(catalogs);
        for (const each of ASKED) expect(packedIndex(catalogs).resolveNumber(each)).toEqual(plain.resolveNumber(each));
      }),
      { numRuns: 60 },
    );
  });

  it("give the same family and part for as long as one is held", () => {
    const index = packedIndex([makeCatalog(bigCatalog(10_000))]);
    const held = index.family("f3");
    const part = index.part("p31");
    for (let i = 0; i < 500; i++) index.family(`f${i}`);
    for (let i = 0; i < 5_000; i++) index.part(`p${i}`);
    expect(index.familiesByModel("MD-3")[0]).toBe(held);
    expect(index.revisionsOf("p31")[0]?.family).toBe(held);
    expect(index.part("p31")).toBe(part);
  });

  it("lead to the same verdicts", () => {
    const index = packedIndex([demoCatalog]);
    const fields = { modelNumbers: ["PL-20"], boardNumber: "PW-4410-5" };
    const [plain, packed] = [prepare(fields), prepare(fields, index)];
    for (const title of ["PB-1840 battery for Lark 20", "PB-2240A", "PB 224O A", "fan OF-FAN-3", "battery for PL-20"]) {
      expect(judged(title, packed)).toEqual(judged(title, plain));
    }
  });
});

describe("packing", () => {
  const good = '{ "format": "falsefit-catalog/1", "parts": [ {"id":"a","type":"fan","numbers":["A-1"]} ] }';

  it("takes exactly the files that reading whole takes", () => {
    const [cut, insert] = [fc.nat({ max: good.length }), fc.constantFrom(",", "{", "}", "]", '"', " ", "\\", "1", "")];
    fc.assert(
      fc.property(cut, cut, insert, (from, length, put) => {
        const text = good.slice(0, from) + put + good.slice(from + (length % 4));
        const taken = packTexts([text]) !== null;
        // What is packed must be good; what is good but oddly laid out may be left to the plain reader.
        if (taken) expect(readCatalog(text).ok).toBe(true);
      }),
      { numRuns: 3_000 },
    );
    expect(packTexts([good])).not.toBeNull();
    expect(packTexts([`\ufeff${good}`])).not.toBeNull();
  });

  it.each([
    ["an unknown part", '"families":[{"id":"f","revisions":[{"id":"r","parts":["b"]}]}]'],
    ["a part id used twice", '"parts":[{"id":"a","type":"fan"},{"id":"a","type":"fan"}]'],
    ["a family id used twice", '"families":[{"id":"f"},{"id":"f"}]'],
    ["a revision id used twice", '"families":[{"id":"f","revisions":[{"id":"r"},{"id":"r"}]}]'],
    ["a list given twice", '"parts":[],"parts":[]'],
    ["an unknown field", '"colour":1'],
    ["an unknown field of a part", '"parts":[{"id":"a","type":"fan","colour":1}]'],
    ["a forbidden key", '"parts":[{"id":"a","type":"fan","__proto__":{}}]'],
    ["an element that is no object", '"parts":[7]'],
    ["a comma too many", '"parts":[{"id":"a","type":"fan"},]'],
  ])("leaves a catalog with %s to the plain reader", (_, fields) => {
    expect(packTexts([`{"format":"falsefit-catalog/1",${fields}}`])).toBeNull();
  });

  it("finds every element, whatever stands in its strings", () => {
    const text = '{"parts" : [ {"id":"]}\\"{","n":[1,[2]]} , {} ] ,"title":"\\\\","families":[]}';
    const split = splitCatalog(new TextEncoder().encode(text));
    const spans = split?.lists.parts ?? [];
    expect(text.slice(spans[0], spans[1])).toBe('{"id":"]}\\"{","n":[1,[2]]}');
    expect(text.slice(spans[2], spans[3])).toBe("{}");
    expect(split?.frame.map(([from, to]) => text.slice(from, to)).join("")).toBe(
      '{"parts" : [] ,"title":"\\\\","families":[]}',
    );
  });
});
