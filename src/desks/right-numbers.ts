/** Which numbers would be right for a device: those of its parts, and all that serve in their place. */
import type { CatalogIndex } from "../catalog/index.ts";
import { resolveRevisions } from "../catalog/resolve.ts";
import type { Device } from "../formats/bench.ts";
import { canonicalNumber } from "../text/part-number.ts";

/** Most numbers that are named for one part. */
const MAX_RIGHT_NUMBERS = 200;

/** What is right for a device, by part type. */
export interface RightNumbers {
  /** As printed; the numbers on the part itself first, then what replaces it. Empty where nothing is known. */
  readonly numbers: readonly string[];
  /** Set where the device is not pinned and its possible revisions take different parts: then no number is named. */
  readonly dependsOnRevision: boolean;
}

/** Answers for one set of catalogs; remembers what it has worked out. */
export interface RightNumberFinder {
  rightFor(device: Device, partType: string): RightNumbers;
  /** Part types for which a right part is known or at least exists in one of the possible revisions. */
  partTypesOf(device: Device): readonly string[];
}

/** Makes the finder. */
export function rightNumberFinder(index: CatalogIndex): RightNumberFinder {
  return {
    rightFor(device, partType) {
      const own = ownNumbers(device, partType);
      const { revisions } = resolveRevisions(device, index);
      const bySet = revisions.map(({ parts }) => parts.filter((id) => index.part(id)?.type === partType));
      const common = (bySet[0] ?? []).filter((id) => bySet.every((ids) => ids.includes(id)));
      const parts = common.flatMap((id) => index.part(id) ?? []);
      const refused = new Set(device.refuse.map(({ number }) => canonicalNumber(number)));
      const numbers = uniqueNumbers([
        ...own,
        ...parts.flatMap((part) => part.numbers),
        ...parts.flatMap((part) => servesInPlaceOf(part.numbers, index)),
      ]);
      return {
        numbers: numbers.filter((number) => !refused.has(canonicalNumber(number))).slice(0, MAX_RIGHT_NUMBERS),
        dependsOnRevision: own.length === 0 && common.length === 0 && bySet.some((ids) => ids.length > 0),
      };
    },
    partTypesOf(device) {
      const { revisions } = resolveRevisions(device, index);
      const types = revisions.flatMap(({ parts }) => parts.flatMap((id) => index.part(id)?.type ?? []));
      return [...new Set([...types, ...device.fitted.map(({ type }) => type)])].sort();
    },
  };
}

/** Numbers read off the fitted part itself. One that is only assumed proves nothing. */
function ownNumbers(device: Device, partType: string): string[] {
  return device.fitted
    .filter(({ type, source }) => type === partType && source !== "assumed")
    .flatMap(({ numbers }) => numbers);
}

/** Each number as it is first printed. */
function uniqueNumbers(numbers: readonly string[]): string[] {
  const seen = new Set<string>();
  return numbers.filter((number) => {
    const key = canonicalNumber(number);
    if (key === "" || seen.has(key)) return false;
    seen.add(key);
    return true;
  });
}

/** Walks from number to number and keeps those that the catalogs say serve in the part's place. */
function servesInPlaceOf(start: readonly string[], index: CatalogIndex): string[] {
  const found: string[] = [];
  const seen = new Set(start.map(canonicalNumber));
  const queue = [...start];
  for (let next = queue.shift(); next !== undefined && found.length < MAX_RIGHT_NUMBERS; next = queue.shift()) {
    for (const other of index.listedBeside(next)) {
      const key = canonicalNumber(other);
      if (seen.has(key)) continue;
      seen.add(key);
      if (!start.some((number) => index.serves(other, number))) continue;
      found.push(other);
      queue.push(other);
    }
  }
  return found;
}
