/** What the wrong part would do: what is offered held against the right parts. */
import type { KnownPart } from "../catalog/index.ts";
import type { QuantityClaim } from "../claims/claims.ts";
import type { Hazard, VerdictWord } from "../formats/verdict.ts";
import { quantityName } from "../text/quantities.ts";
import type { Case } from "./case.ts";
import type { QuantityValue } from "./compare.ts";
import { falseQuantities } from "./conflicts.ts";
import { type ComparablePart, compareParts, compareStated, unknownPart, worstFirst } from "./hazards.ts";

/**
 * Hazards of the verdicts that warn, worst first, each once. A verdict that stops a part of a known type always has one, if
 * only that nothing is known.
 */
export function hazardsOf(it: Case, { verdict }: { readonly verdict: VerdictWord }): Hazard[] {
  if (verdict === "fits" || verdict === "unrelated" || verdict === "unknown-part") return [];
  const stops = verdict === "other-revision" || verdict === "conflicting";
  const right = rightParts(it);
  const found = each([...ofNumbers(it, right), ...(stops ? ofStatements(it, right) : [])]);
  if (found.length > 0 || !stops || it.partType === null) return found;
  const guessed = each(ofElsewhere(it, right));
  return guessed.length > 0 ? guessed : [unknownPart(ruleOf(it))];
}

/** What is right for one of the revisions that the device can be; without an id where only the fitted part is known. */
interface Right {
  readonly revision: string | null;
  readonly part: ComparablePart;
  readonly id: string | null;
}

function rightParts({ device, partType }: Case): Right[] {
  const listed = device.revisions
    .filter(({ revision }) => device.possible.has(revision.id))
    .flatMap(({ revision, parts }) =>
      parts
        .filter(({ type }) => type === partType)
        .flatMap(({ id, readings }) => readings.map(({ part }) => ({ revision: revision.id, part, id }))),
    );
  if (listed.length > 0) return listed;
  return device.device.fitted
    .filter(({ type, quantities }) => type === partType && quantities !== undefined)
    .map(({ quantities }) => ({ revision: null, part: { quantities }, id: null }));
}

/** Named parts that are not right for every revision, against those for which they are not. */
function ofNumbers(it: Case, right: readonly Right[]): Hazard[] {
  return it.named.flatMap(({ standing }) => {
    const [part] = standing.parts;
    if (standing.word === "fits" || part?.type !== it.partType || part === undefined) return [];
    return right.flatMap((wanted) =>
      wanted.revision !== null && standing.fits.has(wanted.revision) ? [] : against(it, part, wanted),
    );
  });
}

function against(it: Case, offered: KnownPart, wanted: Right): Hazard[] {
  if (offered.id === wanted.id) return [];
  return offered.readings.flatMap(({ part }) => compareParts(part, wanted.part, ruleOf(it)));
}

/** Volts, cells, contacts that the right part cannot have, if they are true. */
function ofStatements(it: Case, right: readonly Right[]): Hazard[] {
  const rule = ruleOf(it);
  return falseQuantities(it).flatMap((claim) => {
    const stated = asStated(claim, it);
    return right.flatMap(({ part }) => compareStated(stated, part, rule));
  });
}

function asStated({ quantity }: QuantityClaim, it: Case): Readonly<Record<string, QuantityValue>> {
  const name = quantityName(quantity, ruleOf(it));
  return { [name === "cells" ? "seriesCells" : name]: quantity.value };
}

/** Without a wrong number: the parts of the revisions that the listing points to, or else of all the others. */
function ofElsewhere(it: Case, right: readonly Right[]): Hazard[] {
  const { device, partType, pointers } = it;
  const others = device.revisions.filter(({ revision }) => !device.possible.has(revision.id));
  const pointed = new Set(pointers.filter((each) => !each.against).flatMap(({ revisions }) => [...revisions]));
  const meant = others.filter(({ revision }) => pointed.has(revision.id));
  const ids = new Set(right.map(({ id }) => id));
  return (meant.length > 0 ? meant : others)
    .flatMap(({ parts }) => parts.filter(({ type, id }) => type === partType && !ids.has(id)))
    .flatMap((part) => right.flatMap((wanted) => against(it, part, wanted)));
}

function ruleOf({ device, partType }: Case) {
  return partType === null ? undefined : device.partTypes.get(partType);
}

/** Each once, worst first. */
function each(hazards: readonly Hazard[]): Hazard[] {
  const found = new Map<string, Hazard>();
  for (const hazard of hazards) {
    const key = `${hazard.code} ${JSON.stringify(hazard.values)}`;
    if (!found.has(key)) found.set(key, hazard);
  }
  return worstFirst([...found.values()]);
}
