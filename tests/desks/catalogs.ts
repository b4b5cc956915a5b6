/** Catalogs for the tests of the desks: the demonstration, the labelled families, and random ones. */
import { readdirSync, readFileSync } from "node:fs";
import fc from "fast-check";
import { type Catalog, readCatalog } from "../../src/formats/catalog.ts";

/** Reads a catalog file that must be good. */
export function catalogFile(path: string): Catalog {
  const read = readCatalog(readFileSync(path, "utf8"));
  if (!read.ok) throw new Error(`${path}: ${JSON.stringify(read.faults)}`);
  return read.value;
}

/** Every catalog of the repository, by name; second opinions left out. */
export const shippedCatalogs: readonly (readonly [string, Catalog])[] = [
  "rules/catalogs/demo.catalog.json",
  ...readdirSync("fixtures/listings")
    .filter((name) => name.endsWith(".catalog.json") && !name.includes(".second."))
    .map((name) => `fixtures/listings/${name}`),
].map((path) => [path.split("/").at(-1) ?? path, catalogFile(path)] as const);

const letters = fc.string({ unit: fc.constantFrom(..."ABCDEFGHJKMNPQRSTUVWXYZ"), minLength: 2, maxLength: 2 });

/**
 * A catalog of one to three families with two or three revisions; parts of each revision's own and parts that
 * several share. All numbers differ, as the numbers of a maker do.
 */
export const randomCatalog: fc.Arbitrary<Catalog> = fc
  .record({
    prefixes: fc.uniqueArray(letters, { minLength: 4, maxLength: 4 }),
    families: fc.array(
      fc.record({ revisions: fc.integer({ min: 2, max: 3 }), boards: fc.integer({ min: 0, max: 2 }) }),
      {
        minLength: 1,
        maxLength: 3,
      },
    ),
    types: fc.subarray(["battery", "display-panel", "keyboard", "charger", "fan"], { minLength: 1, maxLength: 3 }),
    shared: fc.boolean(),
    seed: fc.integer({ min: 10, max: 79 }),
  })
  .map(({ prefixes, families, types, shared, seed }) => {
    const [partPrefix = "QA", boardPrefix = "QB", modelPrefix = "QC", sharedPrefix = "QD"] = prefixes;
    const parts: Catalog["parts"] = [];
    const made = families.map(({ revisions, boards }, f): Catalog["families"][number] => {
      const common = shared ? [`common-${f}`] : [];
      if (shared) parts.push({ id: `common-${f}`, type: "cable", numbers: [`${sharedPrefix}-${seed}${f}7`] });
      return {
        id: `family-${f}`,
        modelNumbers: [`${modelPrefix}-${seed}${f}`],
        revisions: Array.from({ length: revisions }, (_, r) => ({
          id: `r${r}`,
          boardNumbers: Array.from({ length: boards }, (_, b) => `${boardPrefix}-${f}${r}${b}${seed}`),
          parts: [
            ...common,
            ...types.map((type, t) => {
              const id = `part-${f}-${r}-${t}`;
              parts.push({ id, type, numbers: [`${partPrefix}-${seed}${f}${t}${r * 3 + 1}`] });
              return id;
            }),
          ],
        })),
      };
    });
    return { format: "falsefit-catalog/1", families: made, parts, interchange: [], supersession: [] };
  });
