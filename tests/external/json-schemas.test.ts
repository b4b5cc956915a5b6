/**
 * The published JSON Schemas of the four formats under another validator than the one they were made with: Ajv (npm
 * package `ajv`, JSON Schema draft 2020-12, https://json-schema.org/draft/2020-12). It must accept every fixture and
 * everything that the command writes, refuse bad examples, and agree with the code's own checks on changed documents.
 */
import rules from "falsefit:rules";
import { readdirSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { Ajv2020 } from "ajv/dist/2020.js";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type * as z from "zod";
import { benchSchema, readBench } from "../../src/formats/bench.ts";
import { catalogSchema, readCatalog } from "../../src/formats/catalog.ts";
import { listingLineSchema } from "../../src/formats/listing.ts";
import { verdictLineSchema } from "../../src/formats/verdict.ts";
import { makeLineJudge } from "../../src/headless/judge-lines.ts";
import { loadWords } from "../../src/headless/say.ts";
import { type FormatName, formatSchemas } from "../../src/headless/schemas.ts";

const ROOT = fileURLToPath(new URL("../..", import.meta.url));
const ajv = new Ajv2020({ allErrors: true, strict: true, allowUnionTypes: true });
const published = formatSchemas();
const validators = Object.fromEntries(
  Object.entries(published).map(([name, schema]) => [name, ajv.compile(schema)]),
) as Record<FormatName, ReturnType<typeof ajv.compile>>;
const own: Readonly<Record<FormatName, z.ZodType>> = {
  catalog: catalogSchema,
  bench: benchSchema,
  listing: listingLineSchema,
  verdict: verdictLineSchema,
};

/** Faults that Ajv finds, as text. */
function faults(name: FormatName, value: unknown): string[] {
  const validate = validators[name];
  return validate(value) ? [] : (validate.errors ?? []).map((each) => `${each.instancePath} ${each.message ?? ""}`);
}

function files(ending: string): string[] {
  return ["fixtures/listings/", "rules/catalogs/"].flatMap((folder) =>
    readdirSync(ROOT + folder)
      .filter((file) => file.endsWith(ending))
      .map((file) => folder + file),
  );
}

const text = (path: string): string => readFileSync(ROOT + path, "utf8");
const parsed = (path: string): unknown => JSON.parse(text(path));
const listingLines = files(".open.ndjson").flatMap((path) =>
  text(path)
    .split("\n")
    .filter((line) => line !== ""),
);

/** What the command writes for one listing in `each`, every device of every bench asked. */
async function verdictLines(each: number): Promise<unknown[]> {
  const words = await loadWords("en");
  const decoder = new TextDecoder();
  return files(".bench.json").flatMap((path) => {
    const bench = readBench(text(path));
    const catalog = readCatalog(text(path.replace(".bench.", ".catalog.")));
    if (!bench.ok || !catalog.ok) throw new Error(path);
    const some = listingLines.filter((_, i) => i % each === 0).join("\n");
    const setup = {
      catalogs: { kind: "plain", catalogs: [catalog.value] },
      devices: bench.value.devices,
      everyListing: false,
    } as const;
    const { bytes } = makeLineJudge(setup, rules, words)(new TextEncoder().encode(some), 1);
    return decoder
      .decode(bytes)
      .split("\n")
      .filter((line) => line !== "")
      .map((line) => JSON.parse(line) as unknown);
  });
}

describe("the published schemas", () => {
  it("are themselves valid by the draft's own schema", () => {
    for (const [name, schema] of Object.entries(published)) {
      expect(schema["$schema"], name).toBe("https://json-schema.org/draft/2020-12/schema");
      expect(ajv.validateSchema(schema), name).toBe(true);
    }
  });

  it.each([...files(".catalog.json")])("take the catalog %s", (path) => {
    expect(faults("catalog", parsed(path))).toEqual([]);
  });

  it.each([...files(".bench.json")])("take the bench %s", (path) => {
    expect(faults("bench", parsed(path))).toEqual([]);
  });

  it("take every labelled listing line", () => {
    expect(listingLines.length).toBeGreaterThan(800);
    for (const line of listingLines) expect(faults("listing", JSON.parse(line)), line).toEqual([]);
  });

  it("take every verdict line that the command writes", async () => {
    const lines = await verdictLines(40);
    expect(lines.length).toBeGreaterThan(200);
    for (const line of lines) expect(faults("verdict", line), JSON.stringify(line)).toEqual([]);
  });
});

const catalog = { format: "falsefit-catalog/1", parts: [{ id: "a", type: "fan" }] };
const bench = { format: "falsefit-bench/1", devices: [{ id: "a" }] };
const verdict = {
  id: "L1",
  device: "d",
  partType: "battery",
  verdict: "fits",
  tier: "go",
  parts: ["pb-18"],
  revisions: ["early"],
  hazards: [{ effect: "burns", signal: "WARNING", because: "…" }],
  reasons: [{ code: "c", text: "t", spans: [[0, 2, "title"]] }],
  price: { amount: "36.00", currency: "USD" },
};

describe("bad examples are refused by both", () => {
  it.each<[FormatName, string, unknown]>([
    ["catalog", "another version", { ...catalog, format: "falsefit-catalog/2" }],
    ["catalog", "an unknown field", { ...catalog, colour: 1 }],
    ["catalog", "a part type with capitals", { ...catalog, parts: [{ id: "a", type: "Fan" }] }],
    ["catalog", "a part without an id", { ...catalog, parts: [{ type: "fan" }] }],
    ["catalog", "a list of one number", { ...catalog, interchange: [{ numbers: ["A-1"] }] }],
    [
      "catalog",
      "a build date in words",
      { ...catalog, families: [{ id: "f", revisions: [{ id: "r", built: { from: "May" } }] }] },
    ],
    [
      "catalog",
      "a quantity without a value",
      { ...catalog, parts: [{ id: "a", type: "fan", quantities: { power_W: null } }] },
    ],
    [
      "catalog",
      "a connector of half a position",
      { ...catalog, parts: [{ id: "a", type: "fan", connector: { positions: 4.5 } }] },
    ],
    ["bench", "a device without an id", { ...bench, devices: [{ name: "x" }] }],
    ["bench", "an unknown source", { ...bench, devices: [{ id: "a", fitted: [{ type: "fan", source: "guess" }] }] }],
    [
      "bench",
      "a picture that is an address",
      { ...bench, devices: [{ id: "a", picture: "https://shop.example/x.png" }] },
    ],
    ["bench", "a list instead of an object", []],
    ["listing", "no title", { id: "L1" }],
    ["listing", "money as a number", { title: "t", price: { amount: 36, currency: "USD" } }],
    ["listing", "a currency sign", { title: "t", price: { amount: "36.00", currency: "$" } }],
    ["listing", "a specific that is an object", { title: "t", specifics: { a: { b: 1 } } }],
    ["verdict", "an unknown verdict", { ...verdict, verdict: "maybe" }],
    [
      "verdict",
      "a signal word that is never used",
      { ...verdict, hazards: [{ effect: "burns", signal: "DANGER", because: "" }] },
    ],
    ["verdict", "a span of two", { ...verdict, reasons: [{ code: "c", text: "t", spans: [[0, 2]] }] }],
    ["verdict", "a span of four", { ...verdict, reasons: [{ code: "c", text: "t", spans: [[0, 2, "title", 1]] }] }],
    ["verdict", "no device", { ...verdict, device: undefined }],
  ])("%s: %s", (name, _, value) => {
    const plain: unknown = JSON.parse(JSON.stringify(value));
    expect(faults(name, plain)).not.toEqual([]);
    expect(own[name].safeParse(plain).success).toBe(false);
  });
});

/** Values that stand in the place of others, of every kind and around every bound. */
const stranger = fc.oneof(
  fc.constantFrom<unknown>(null, true, 0, 1, -1, 1.5, 401, 2101, "", "x", "2021", "2021-W14", "36.00", "USD", [], {}),
  fc.constantFrom<unknown>("fan", "Fan", "a-", "1.23456", "falsefit-catalog/1", "falsefit-bench/1", ["x"], ["x", "y"]),
  fc.integer({ min: 1, max: 2_100 }).map((length) => "x".repeat(length)),
  fc.record({ from: fc.constantFrom("2021", "21") }),
);

/** Every place in a document: the way to it from the top. */
function* placesIn(value: unknown, way: readonly string[] = []): Generator<readonly string[]> {
  yield way;
  if (typeof value !== "object" || value === null) return;
  for (const [key, each] of Object.entries(value)) yield* placesIn(each, [...way, key]);
}

/** A copy with the value at one place replaced, or taken out where it is undefined. */
function changed(document: unknown, way: readonly string[], value: unknown): unknown {
  const [key, ...rest] = way;
  if (key === undefined) return value ?? null;
  if (typeof document !== "object" || document === null) return document;
  if (Array.isArray(document)) {
    const all = document.map((each, i) => (String(i) === key ? changed(each, rest, value) : (each as unknown)));
    return rest.length === 0 && value === undefined ? all.filter((_, i) => String(i) !== key) : all;
  }
  const { [key]: old, ...others } = document as Record<string, unknown>;
  return rest.length === 0 && value === undefined ? others : { ...others, [key]: changed(old, rest, value) };
}

const documents: Readonly<Record<FormatName, readonly unknown[]>> = {
  catalog: [parsed("rules/catalogs/demo.catalog.json"), catalog],
  bench: [parsed("rules/catalogs/demo.bench.json"), parsed("fixtures/listings/heron.bench.json"), bench],
  listing: listingLines.slice(0, 40).map((line) => JSON.parse(line) as unknown),
  verdict: [verdict],
};

describe("on changed documents the schema and the code agree", () => {
  it.each(Object.keys(documents) as FormatName[])("%s", (name) => {
    const cases = documents[name].map((document) => ({ document, places: [...placesIn(document)] }));
    const change = fc.tuple(fc.constantFrom(...cases), fc.nat(), fc.option(stranger, { nil: undefined }), fc.boolean());
    let refused = 0;
    fc.assert(
      fc.property(change, ([{ document, places }, place, value, adds]) => {
        const way = places[place % places.length] ?? [];
        const made = changed(document, adds ? [...way, "extra"] : way, value);
        const accepts = own[name].safeParse(made).success;
        if (!accepts) refused++;
        expect(faults(name, made).length === 0, JSON.stringify(made)).toBe(accepts);
      }),
      { numRuns: 1_000 },
    );
    expect(refused).toBeGreaterThan(100);
  });
});
