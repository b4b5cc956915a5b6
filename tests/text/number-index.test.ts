import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type NumberIndex, openNumberIndex } from "../../src/text/number-index.ts";
import { buildNumberIndex, type NumberEntry } from "../../src/text/number-index-builder.ts";
import { canonicalNumber, lookalikeKey, oneCharacterApart } from "../../src/text/part-number.ts";

const entries: NumberEntry[] = [
  ["PB-1840", 0],
  ["PB1840-R", 0],
  ["PB-1860", 1],
  ["QK-77A", 2],
  ["OI-100", 3],
  ["0I-100", 4],
  ["PB-1840", 5],
  ["--", 9],
  ["БР-1840", 6],
];

function reopened(index: NumberIndex): NumberIndex {
  const opened = openNumberIndex(index.toBytes());
  if (opened === null) throw new Error("the bytes were refused");
  return opened;
}

describe.each([
  ["built", buildNumberIndex(entries)],
  ["opened from its bytes", reopened(buildNumberIndex(entries))],
])("an index %s", (_, index) => {
  it("finds exact numbers with all their values", () => {
    expect(index.size).toBe(7);
    expect(index.lookup("PB1840")).toEqual([0, 5]);
    expect(index.lookup("PB1840R")).toEqual([0]);
    expect(index.lookup("БР1840")).toEqual([6]);
    expect(index.lookup("PB1841")).toEqual([]);
    expect(index.lookup("")).toEqual([]);
    expect(index.has("QK77A")).toBe(true);
    expect(index.has("QK77")).toBe(false);
  });

  it("folds O/0 and I/l/1, but not where two known numbers would meet, nor a capital L", () => {
    expect(index.lookupLookAlike("PB-184O")).toEqual([0, 5]);
    expect(index.lookupLookAlike("PBl84O")).toEqual([0, 5]);
    expect(index.lookupLookAlike("PBL840")).toEqual([]);
    expect(index.lookupLookAlike("0I-1OO")).toEqual([]);
    expect(index.lookup("OI100")).toEqual([3]);
  });

  it("names the numbers one character apart", () => {
    expect(index.nearestNumbers("PB1850")).toEqual(["PB1840", "PB1860"]);
    expect(index.nearest("PB1850")).toEqual([0, 1, 5]);
    expect(index.nearestNumbers("QK77")).toEqual(["QK77A"]);
    expect(index.nearestNumbers("QK7A7")).toEqual(["QK77A"]);
    expect(index.nearestNumbers("QQK77A")).toEqual(["QK77A"]);
    expect(index.nearestNumbers("PB1B4O")).toEqual(["PB1840"]);
    expect(index.nearestNumbers("PB1860")).toEqual(["PB1840"]);
    expect(index.nearest("ZZZZ")).toEqual([]);
    expect(index.nearest("X".repeat(500))).toEqual([]);
  });
});

describe("bytes", () => {
  it("are opened at any offset and refused when they are no index", () => {
    const bytes = buildNumberIndex(entries).toBytes();
    const shifted = new Uint8Array(bytes.length + 1);
    shifted.set(bytes, 1);
    expect(openNumberIndex(shifted.subarray(1))?.lookup("QK77A")).toEqual([2]);
    expect(openNumberIndex(new ArrayBuffer(4))).toBeNull();
    expect(openNumberIndex(new ArrayBuffer(400))).toBeNull();
    expect(openNumberIndex(bytes.slice(0, bytes.length - 1))).toBeNull();
    expect(openNumberIndex(bytes.slice().buffer)?.size).toBe(7);
  });

  it("that are damaged give wrong answers at worst", () => {
    const bytes = buildNumberIndex(entries).toBytes();
    for (let i = 24; i < bytes.length; i++) {
      const damaged = bytes.slice();
      damaged[i] = 0xff;
      const index = openNumberIndex(damaged);
      expect(Array.isArray(index?.lookup("PB1840") ?? [])).toBe(true);
      expect(Array.isArray(index?.nearest("PB1850") ?? [])).toBe(true);
    }
  });

  it("of no numbers work too", () => {
    const index = reopened(buildNumberIndex([]));
    expect([index.size, index.lookup("A"), index.nearest("A")]).toEqual([0, [], []]);
  });
});

describe("properties", () => {
  const number = fc.stringMatching(/^[A-C01OIl]{1,6}$/);
  const numbers = fc.array(number, { minLength: 1, maxLength: 30 });

  it("agrees with plain comparison of all numbers", () => {
    fc.assert(
      fc.property(numbers, number, (known, asked) => {
        const index = buildNumberIndex(known.map((each, i) => [each, i]));
        const canonicals = known.map(canonicalNumber);
        const wanted = canonicalNumber(asked);
        expect(index.lookup(wanted)).toEqual(
          canonicals.flatMap((each, i) => (each === wanted ? [i] : [])).sort((a, b) => a - b),
        );
        const near = [...new Set(canonicals.filter((each) => oneCharacterApart(each, wanted)))].sort();
        if (near.length > 0 && near.length <= 16) expect(index.nearestNumbers(wanted)).toEqual(near);
        const alike = [...new Set(canonicals.filter((each) => lookalikeKey(each) === lookalikeKey(asked)))];
        const found = index.lookupLookAlike(asked);
        if (alike.length === 1) expect(found).toEqual(index.lookup(alike[0] ?? ""));
        else expect(found).toEqual([]);
      }),
      { numRuns: 500 },
    );
  });

  it("is not slowed down by numbers made to collide", () => {
    const flood: NumberEntry[] = Array.from({ length: 1 << 14 }, (_, i) => [
      i.toString(2).padStart(15, "0").replaceAll("1", "O"),
      i,
    ]);
    const start = performance.now();
    const index = buildNumberIndex(flood);
    expect(index.lookup(canonicalNumber(flood[77]?.[0] ?? ""))).toEqual([77]);
    expect(index.lookupLookAlike("O".repeat(15))).toEqual([]);
    expect(performance.now() - start).toBeLessThan(5_000);
  });
});
