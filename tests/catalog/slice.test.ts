/** Slices held against a plain statement of what they are, on made-up catalogs with many parts and families. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { buildIndex, sliceFor } from "../../src/catalog/index.ts";
import { resolveRevisions } from "../../src/catalog/resolve.ts";
import type { Device } from "../../src/formats/bench.ts";
import type { Catalog } from "../../src/formats/catalog.ts";
import { canonicalNumber } from "../../src/text/part-number.ts";
import { bigCatalog } from "../bench/big-catalog.mjs";
import { makeCatalog, makeDevice } from "../verdict/bench.ts";

/** Ids of families and parts that a slice holds for the device's sake, straight from the definition. */
function ownIds(catalogs: readonly Catalog[], device: Device): { families: string[]; parts: string[] }[] {
  const index = buildIndex(catalogs);
  const { family } = resolveRevisions(device, index);
  const listed = (family?.revisions ?? []).flatMap(({ parts, disputed }) => [...parts, ...disputed]);
  const printed = [
    ...listed.flatMap((id) => index.part(id)?.numbers ?? []),
    ...device.fitted.flatMap(({ numbers }) => numbers),
  ];
  const tied = printed.flatMap((number) => index.related(number));
  return catalogs.map((catalog) => {
    const families = catalog.families.filter(
      ({ modelNumbers }) => family?.modelNumbers.some((model) => modelNumbers.includes(model)) === true,
    );
    const named = families.flatMap(({ revisions }) => revisions.flatMap(({ parts }) => parts));
    const parts = catalog.parts.filter(
      ({ id, numbers }) => named.includes(id) || numbers.some((number) => tied.includes(canonicalNumber(number))),
    );
    return { families: families.map(({ id }) => id), parts: parts.map(({ id }) => id) };
  });
}

describe("a slice", () => {
  it("holds a device's own families and parts first, whole, then others by their numbers alone", () => {
    const second = { ...bigCatalog(40), families: [], parts: bigCatalog(80).parts.slice(3) };
    const catalogs = [makeCatalog(bigCatalog(200)), makeCatalog(second)];
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 11 }), fc.constantFrom("fan", "battery"), (family, type) => {
        const device = makeDevice({
          modelNumbers: [`md ${family}`],
          fitted: [{ type, numbers: ["SS2Z"], source: "label" }],
        });
        const own = ownIds(catalogs, device);
        for (const [i, slice] of sliceFor(catalogs, [device]).entries()) {
          const catalog = catalogs[i];
          const ids = own[i] ?? { families: [], parts: [] };
          expect(slice.parts.slice(0, ids.parts.length)).toEqual(
            catalog?.parts.filter(({ id }) => ids.parts.includes(id)),
          );
          expect(slice.parts.slice(ids.parts.length)).toEqual(
            catalog?.parts
              .filter(({ id }) => !ids.parts.includes(id))
              .map(({ id, type, numbers }) => ({ id, type, numbers })),
          );
          expect(slice.families.slice(0, ids.families.length)).toEqual(
            catalog?.families.filter(({ id }) => ids.families.includes(id)),
          );
          expect(slice.families.map(({ id }) => id).sort()).toEqual(catalog?.families.map(({ id }) => id).sort());
        }
      }),
    );
  });

  it("carries at most 2,000 parts and families of other devices", () => {
    const catalog = makeCatalog(bigCatalog(6_000));
    const [slice] = sliceFor([catalog], [makeDevice({ modelNumbers: ["MD-7"] })]);
    expect(slice?.parts).toHaveLength(10 + 2_000);
    expect(slice?.families).toHaveLength(1);
    expect(slice?.parts.slice(0, 10)).toEqual(catalog.parts.slice(70, 80));
  });
});
