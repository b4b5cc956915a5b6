import { readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { readBench } from "../../src/formats/bench.ts";
import { readCatalog } from "../../src/formats/catalog.ts";
import { isWellFormed, MAX_DEPTH, type Outcome, pathText, readJson } from "../../src/formats/common.ts";
import { readListingLine } from "../../src/formats/listing.ts";

const demoCatalog = readFileSync(new URL("../../rules/catalogs/demo.catalog.json", import.meta.url), "utf8");
const demoBench = readFileSync(new URL("../../rules/catalogs/demo.bench.json", import.meta.url), "utf8");

/** The faults of an input that must be refused. */
function faultsOf(outcome: Outcome<unknown>): readonly { field: string; message: string; line?: number }[] {
  expect(outcome.ok).toBe(false);
  return outcome.ok ? [] : outcome.faults;
}

function catalogWith(change: (catalog: Record<string, unknown>) => void): string {
  const catalog = JSON.parse(demoCatalog) as Record<string, unknown>;
  change(catalog);
  return JSON.stringify(catalog);
}

describe("catalog files", () => {
  it("reads the demonstration catalog and fills in what may be left out", () => {
    const outcome = readCatalog(demoCatalog);
    expect(outcome.ok && outcome.value.families.map((family) => family.id)).toEqual([
      "lark-20",
      "marlow-300",
      "sedge-13",
      "w7",
    ]);
    const bare = readCatalog('{"format":"falsefit-catalog/1"}');
    expect(bare.ok && bare.value.parts).toEqual([]);
  });

  it("names the line where a truncated file breaks off", () => {
    const cut = demoCatalog.slice(0, 900);
    const [first] = faultsOf(readCatalog(cut));
    expect(first?.message).toContain("Not valid JSON");
    expect(first?.line).toBeGreaterThan(5);
  });

  it("refuses an unknown major version and another kind of file, saying what it reads", () => {
    for (const format of ["falsefit-catalog/2", "falsefit-bench/1", "falsefit-catalog", 1, null]) {
      const [first] = faultsOf(readCatalog(catalogWith((catalog) => Object.assign(catalog, { format }))));
      expect(first?.field).toBe("format");
      expect(first?.message).toContain("falsefit-catalog/1");
    }
  });

  it("lists every wrong field by its path, not only the first", () => {
    const text = catalogWith((catalog) => {
      const families = catalog["families"] as { revisions: Record<string, unknown>[] }[];
      Object.assign(families[0]?.revisions[0] ?? {}, { years: ["2019"], built: { from: "2019-W6" }, color: "red" });
      Object.assign((catalog["parts"] as object[])[1] ?? {}, { type: "Battery Pack" });
    });
    const fields = faultsOf(readCatalog(text)).map((fault) => fault.field);
    expect(fields).toContain("families[0].revisions[0].years[0]");
    expect(fields).toContain("families[0].revisions[0].built.from");
    expect(fields).toContain("families[0].revisions[0].color");
    expect(fields).toContain("parts[1].type");
  });

  it("refuses parts that are named but not listed and ids used twice", () => {
    const text = catalogWith((catalog) => {
      const families = catalog["families"] as { id: string; revisions: { parts: string[] }[] }[];
      families[0]?.revisions[0]?.parts.push("pb-99");
      if (families[1]) families[1].id = "lark-20";
    });
    const faults = faultsOf(readCatalog(text));
    expect(faults.map((fault) => fault.field)).toEqual(["families[0].revisions[0].parts[2]", "families[1].id"]);
    expect(faults[0]?.message).toContain("pb-99");
  });

  it("refuses deep nesting, prototype keys and half surrogates, each with its own sentence", () => {
    const deep = `{"format":"falsefit-catalog/1","families":${"[".repeat(MAX_DEPTH + 5)}`;
    expect(faultsOf(readCatalog(deep))[0]?.message).toContain("Nesting deeper");
    expect(faultsOf(readCatalog('{"format":"falsefit-catalog/1","__proto__":{"polluted":1}}'))[0]?.message).toContain(
      "__proto__",
    );
    expect(Object.hasOwn(Object.prototype, "polluted")).toBe(false);
    const half = '{"format":"falsefit-catalog/1","parts":[{"id":"a","type":"battery","numbers":["PB-\\ud83d"]}]}';
    expect(faultsOf(readCatalog(half))[0]).toMatchObject({ field: "parts[0].numbers[0]" });
  });

  it("refuses 50 MB of nesting or noise without hanging", () => {
    expect(readCatalog("[".repeat(50_000_000)).ok).toBe(false);
    expect(readCatalog(`{"format":"falsefit-catalog/1","note":"${"x".repeat(50_000_000)}"}`).ok).toBe(false);
    expect(faultsOf(readJson("1234", 3))[0]?.message).toContain("at most 3");
  });

  it("never throws, whatever the text", () => {
    fc.assert(
      fc.property(fc.oneof(fc.string(), fc.json(), fc.string({ unit: "binary" })), (text) => {
        for (const read of [readCatalog, readBench, readListingLine]) expect(typeof read(text).ok).toBe("boolean");
      }),
      { numRuns: 500 },
    );
  });

  it("reads what it wrote", () => {
    const first = readCatalog(demoCatalog);
    const again = first.ok && readCatalog(JSON.stringify(first.value));
    expect(again).toEqual(first);
  });
});

describe("bench files", () => {
  it("reads the demonstration bench", () => {
    const outcome = readBench(demoBench);
    expect(outcome.ok && outcome.value.devices).toHaveLength(4);
  });

  it("takes every form of build date and refuses others by name", () => {
    const bench = (buildDate: unknown) =>
      readBench(JSON.stringify({ format: "falsefit-bench/1", devices: [{ id: "d", buildDate }] }));
    for (const good of ["2021", "2021-05", "2021-05-17", "2021-W20", { to: "2021-05" }, {}]) {
      expect(bench(good).ok).toBe(true);
    }
    for (const bad of ["21", "2021-W5", "May 2021", 2021, { before: "2021" }]) {
      expect(faultsOf(bench(bad))[0]?.field).toContain("devices[0].buildDate");
    }
  });

  it("refuses two devices with one id", () => {
    const text = '{"format":"falsefit-bench/1","devices":[{"id":"d"},{"id":"d"}]}';
    expect(faultsOf(readBench(text))[0]?.field).toBe("devices[1].id");
  });
});

describe("listing lines", () => {
  it("takes a feed's own fields without reading them and turns numeric specifics into text", () => {
    const outcome = readListingLine('{"id":7,"title":"Battery","specifics":{"Cells":6,"For":["A","B"]},"truth":1}');
    expect(outcome.ok && outcome.value).toEqual({ id: 7, title: "Battery", specifics: { Cells: "6", For: "A, B" } });
  });

  it("says which field was wrong and what was expected", () => {
    expect(faultsOf(readListingLine('{"id":"x"}'))[0]?.field).toBe("title");
    expect(faultsOf(readListingLine('{"title":"x","price":{"amount":36,"currency":"USD"}}'))[0]?.field).toBe(
      "price.amount",
    );
    const currency = faultsOf(readListingLine('{"title":"x","price":{"amount":"36.00","currency":"$"}}'))[0];
    expect(currency?.message).toContain("ISO 4217");
    expect(faultsOf(readListingLine("[1]"))[0]?.message).toContain("one JSON object");
  });
});

describe("small tools", () => {
  it("tells half a surrogate pair from a whole one", () => {
    expect(isWellFormed("PB-1840 🔋")).toBe(true);
    expect(isWellFormed("PB\ud83d")).toBe(false);
    expect(isWellFormed("\udd0bPB")).toBe(false);
  });

  it("writes paths as a person would", () => {
    expect(pathText(["families", 0, "built", "from"])).toBe("families[0].built.from");
    expect(pathText([])).toBe("");
  });
});

describe("values of listing lines", () => {
  const read = (listing: object) => {
    const outcome = readListingLine(JSON.stringify(listing));
    return outcome.ok ? outcome.value : outcome.faults;
  };

  it("take null for absent, everywhere but in the title", () => {
    const all = { id: null, price: null, shipping: null, condition: null, specifics: null, description: null };
    expect(read({ title: "x", ...all, url: null, language: null, related: null })).toEqual({ title: "x" });
    expect(read({ title: "x", specifics: { MPN: null, Brand: "y" } })).toEqual({
      title: "x",
      specifics: { Brand: "y" },
    });
    expect(read({ title: "x", price: { amount: "1.00", currency: "EUR", max: null, from: null } })).toEqual({
      title: "x",
      price: { amount: "1.00", currency: "EUR" },
    });
    expect(read({ title: null })).toMatchObject([{ field: "title" }]);
  });

  it("take numbers, yes and no, and lists as the text of a specific", () => {
    expect(read({ title: "x", specifics: { Voltage: 3.7, Tested: true, Fits: ["A", 2, null] } })).toEqual({
      title: "x",
      specifics: { Voltage: "3.7", Tested: "true", Fits: "A, 2" },
    });
  });

  it("keep an id as it is given", () => {
    expect(read({ id: 7, title: "x" })).toEqual({ id: 7, title: "x" });
    expect(read({ id: "007", title: "x" })).toEqual({ id: "007", title: "x" });
    const long = readListingLine('{"id": 12345678901234567890, "title": "x"}');
    expect(long.ok && long.value.id).toBe("12345678901234567890");
  });
});
