/** Catalogs kept as they were read, with maps beside them: for what fits into memory easily. */
import type { Catalog } from "../formats/catalog.ts";
import { canonicalNumber } from "../text/part-number.ts";
import type { Knowledge, RevisionPlace } from "./knowledge.ts";
import { linksOf } from "./links.ts";
import { mergeCatalogs } from "./merge.ts";
import { type NumberTable, numberTable } from "./number-table.ts";

/** Merges catalogs; the first one names what several describe. Linear in their size. */
export function plainKnowledge(catalogs: readonly Catalog[]): Knowledge {
  const { parts, families, readings } = mergeCatalogs(catalogs);
  const partsById = new Map(parts.map((part) => [part.id, part]));
  const familiesById = new Map(families.flatMap((family) => family.aliases.map((id) => [id, family] as const)));
  for (const family of families) familiesById.set(family.id, family);
  const bearers = gather(parts, (part) => part.numbers.map(canonicalNumber));
  const places = families.flatMap((family) =>
    family.revisions.map((revision): RevisionPlace => ({ family, revision })),
  );
  const models = gather(families, (family) => family.modelNumbers.map(canonicalNumber));
  const boards = gather(places, ({ revision }) => revision.boardNumbers.map(canonicalNumber));
  const listed = gather(places, ({ revision }) => revision.parts);
  const disputed = gather(places, ({ revision }) => revision.disputed);
  const endsChain = (number: string): boolean => (bearers.get(number)?.length ?? 0) > 1;
  const links = gather(
    [...catalogs.entries()].flatMap(([catalog, each]) => [...linksOf(each, catalog, endsChain)]),
    (link) => link.numbers,
  );
  function* numbers(): Generator<string> {
    yield* bearers.keys();
    for (const number of links.keys()) if (!bearers.has(number)) yield number;
  }
  let table: NumberTable | null = null;
  let together: ReadonlyMap<string, readonly string[]> | null = null;
  return {
    families: () => families,
    parts: () => parts,
    family: (id) => familiesById.get(id),
    part: (id) => partsById.get(id),
    bearers: (number) => bearers.get(number) ?? [],
    links: (number) => links.get(number) ?? [],
    listedBeside(number) {
      together ??= listedTogether(catalogs);
      return together.get(number) ?? [];
    },
    familiesByModel: (number) => models.get(number) ?? [],
    revisionsByBoard: (number) => boards.get(number) ?? [],
    placesOf: (partId) => listed.get(partId) ?? [],
    disputedPlacesOf: (partId) => disputed.get(partId) ?? [],
    reading: (family, catalog) => readings.get(family)?.find((each) => each.catalog === catalog)?.family,
    numbers: () => numbers(),
    table() {
      table ??= numberTable(numbers(), families);
      return table;
    },
  };
}

/** Canonical number → numbers, as printed, that a list or a part puts beside it. */
function listedTogether(catalogs: readonly Catalog[]): Map<string, string[]> {
  const together = new Map<string, string[]>();
  const tie = (numbers: readonly string[]): void => {
    for (const number of numbers) {
      const key = canonicalNumber(number);
      const others = together.get(key);
      if (others === undefined) together.set(key, [...numbers]);
      else others.push(...numbers);
    }
  };
  for (const { parts, interchange, supersession } of catalogs) {
    for (const { numbers } of interchange) tie(numbers);
    for (const { old, new: later } of supersession) tie([old, later]);
    for (const { numbers } of parts) if (numbers.length > 1) tie(numbers);
  }
  return together;
}

function gather<T>(things: readonly T[], keysOf: (thing: T) => readonly string[]): Map<string, T[]> {
  const found = new Map<string, T[]>();
  for (const thing of things) {
    for (const key of new Set(keysOf(thing))) {
      if (key === "") continue;
      const list = found.get(key);
      if (list === undefined) found.set(key, [thing]);
      else list.push(thing);
    }
  }
  return found;
}
