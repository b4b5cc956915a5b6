/** What the wrong part would do: the offered parts held against the right ones. */
import type { KnownPart } from "../catalog/index.ts";
import type { Hazard, VerdictWord } from "../formats/verdict.ts";
import type { Case } from "./case.ts";
import { type ComparablePart, compareParts, worstFirst } from "./hazards.ts";

/** Hazards of the verdicts that warn, worst first, each once; none where the offered or the right part is not known. */
export function hazardsOf(it: Case, { verdict }: { readonly verdict: VerdictWord }): Hazard[] {
  if (verdict === "fits" || verdict === "unrelated" || verdict === "unknown-part") return [];
  const right = rightParts(it);
  const offered = offeredParts(it, verdict);
  if (right.length === 0) return [];
  const rule = it.partType === null ? undefined : it.device.partTypes.get(it.partType);
  const found = new Map<string, Hazard>();
  for (const wrong of offered) {
    for (const reading of wrong.readings) {
      for (const each of right) {
        for (const hazard of compareParts(reading.part, each, rule)) {
          const key = `${hazard.code} ${JSON.stringify(hazard.values)}`;
          if (!found.has(key)) found.set(key, hazard);
        }
      }
    }
  }
  return worstFirst([...found.values()]);
}

/** The right parts of every possible revision; where no catalog tells, what is fitted. */
function rightParts({ device, partType }: Case): ComparablePart[] {
  const listed = device.revisions
    .filter(({ revision }) => device.possible.has(revision.id))
    .flatMap(({ parts }) => parts.filter(({ type }) => type === partType))
    .flatMap(({ readings }) => readings.map(({ part }) => part));
  if (listed.length > 0) return listed;
  return device.device.fitted
    .filter(({ type, quantities }) => type === partType && quantities !== undefined)
    .map(({ quantities }) => ({ quantities }));
}

/** Parts named that are not right, and, where no number is named, those of the revisions that the listing points to. */
function offeredParts(it: Case, verdict: VerdictWord): KnownPart[] {
  const { device, partType, named } = it;
  const wrong = named.filter(({ standing }) => standing.word !== "fits" && standing.word !== "refused");
  const parts = wrong.flatMap(({ standing }) => standing.parts.slice(0, 1));
  if (parts.length > 0 || verdict !== "other-revision" || named.length > 0) {
    return [...new Set(parts)].filter(({ type }) => type === partType);
  }
  const revisions = it.pointers.filter(({ against }) => !against).flatMap((each) => [...each.revisions]);
  return device.revisions
    .filter(({ revision }) => revisions.includes(revision.id) && !device.possible.has(revision.id))
    .flatMap((each) => each.parts.filter(({ type }) => type === partType));
}
