/** What a listing says that cannot all be true: of two numbers, of a number and a board, of a number and its volts. */
import type { QuantityClaim, UniversalClaim } from "../claims/claims.ts";
import { NAMED_DIMENSION } from "../claims/vocabulary.ts";
import type { Reason } from "../formats/verdict.ts";
import { intersects } from "../text/dates.ts";
import { findInconsistencies } from "../text/quantity-check.ts";
import type { Case } from "./case.ts";
import { isOfOther, type Pointer, quantityText, saysOf } from "./evidence.ts";
import { isReplaced, type NamedNumber } from "./names.ts";
import { namesOf, type Standing, say } from "./standing.ts";

/**
 * Every contradiction, the plainest first; empty where the listing is of one piece.
 *
 * Each is found between what is said and the numbers that are right for the device, where any is named: a number of another
 * revision beside them never explains a contradiction away.
 */
export function conflictsOf(it: Case): Reason[] {
  return [
    ...twoNumbers(it),
    ...otherType(it),
    ...forAndAgainst(it),
    ...pointersAgainst(it),
    ...quantitiesAgainst(it),
    ...quantitiesApart(it),
    ...modelsAgainst(it),
    ...fitsAll(it),
    ...againstMine(it),
    ...pointersApart(it),
    ...nowhereRight(it).map(({ reason }) => reason),
  ];
}

/** Numbers that tell where a part fits; unknown ones tell nothing. */
function telling(it: Case): NamedNumber[] {
  return it.named.filter(({ standing }) => standing.word !== "refused" && standing.word !== "unknown");
}

/** The numbers that a contradiction is measured by: those that are right, or else all that tell. */
function decisive(it: Case): NamedNumber[] {
  const all = telling(it);
  const right = all.filter(({ standing }) => isRight(standing));
  return right.length > 0 ? right : all;
}

function isRight({ word }: Standing): boolean {
  return word === "fits" || word === "some" || word === "earlier";
}

function disjoint(a: Standing, b: Standing): boolean {
  if (a === b || a.number === b.number) return false;
  if (a.word === "disputed" || b.word === "disputed") return false;
  return ![...a.touches].some((id) => b.touches.has(id)) && !a.parts.some((part) => b.parts.includes(part));
}

/** "keyboard PB-1840": the word and the number name different things that the device has. */
function otherType({ mistaken, named }: Case): Reason[] {
  const first = named[0]?.claim;
  return mistaken && first !== undefined ? [say("part-type-contradicts", { number: first.written }, [first.span])] : [];
}

/** One thing cannot be two: said as one and the same, "for" both, or one in the title and another in a field. */
function twoNumbers(it: Case): Reason[] {
  const known = it.named.filter(({ standing }) => standing.word !== "unknown");
  const named = known.filter((each) => !isReplaced(each, it.named, it.device));
  const same = [...named, ...it.passing.filter(({ claim }) => claim.equal)];
  for (const [i, one] of same.entries()) {
    for (const other of same.slice(i + 1)) {
      if (!disjoint(one.standing, other.standing)) continue;
      if (one.claim.field === other.claim.field && (isRefused(one) || isRefused(other))) continue;
      const code = conflictBetween(it, one, other);
      if (code === null) continue;
      return [say(code, { first: one.claim.written, second: other.claim.written }, [one.claim.span, other.claim.span])];
    }
  }
  return [];
}

function isRefused({ standing }: NamedNumber): boolean {
  return standing.word === "refused";
}

function conflictBetween(it: Case, one: NamedNumber, other: NamedNumber): string | null {
  const [a, b] = [one.claim, other.claim];
  if (a.equal && b.equal) return "said-the-same";
  if (a.stance === "passing" || b.stance === "passing" || a.hedged || b.hedged) return null;
  if (it.said.both && a.field === b.field) return "for-both";
  if (it.said.choice || (a.chosen && b.chosen)) return null;
  if (a.field !== b.field) return agree(it, one, other) ? null : "fields-differ";
  const favours = (stance: string): boolean => stance === "for" || stance === "replaces";
  return favours(a.stance) || favours(b.stance) ? "for-both" : null;
}

/**
 * Two places of a listing agree where a right number of the one is a right number of the other, whatever else is piled up
 * there; where neither has a right one, where any number is the same.
 */
function agree(it: Case, one: NamedNumber, other: NamedNumber): boolean {
  const [here, there] = [numbersBeside(it, one), numbersBeside(it, other)];
  const [mine, theirs] = [here, there].map((numbers) => numbers.filter(isRight)) as [Standing[], Standing[]];
  if (mine.length > 0 !== theirs.length > 0) return false;
  const [left, right] = mine.length > 0 ? [mine, theirs] : [here, there];
  return left.some((each) => right.some((next) => !disjoint(each, next)));
}

/** Numbers that the title, or one field, or the description offers for certain. */
function numbersBeside(it: Case, { claim }: NamedNumber): Standing[] {
  return telling(it).flatMap((each) =>
    each.claim.span[2] === claim.span[2] && !each.claim.hedged ? [each.standing] : [],
  );
}

function forAndAgainst({ named, against }: Case): Reason[] {
  return named.flatMap(({ claim, standing }) => {
    const denied = against.find((each) => each.standing.number === standing.number);
    if (denied === undefined) return [];
    return [say("for-and-against", { number: claim.written }, [claim.span, denied.claim.span])];
  });
}

/** A board, date or revision that no named number belongs to. */
function pointersAgainst(it: Case): Reason[] {
  const named = decisive(it).filter(({ standing }) => standing.touches.size > 0);
  if (named.length === 0) return [];
  return it.pointers.flatMap((each) => {
    if (each.weak || (each.kind === "quantity" && each.borrowed !== true) || each.claim.hedged) return [];
    return each.against ? deniedHere(it, each, named) : claimedHere(it, each, named);
  });
}

function claimedHere(it: Case, each: Pointer, named: readonly NamedNumber[]): Reason[] {
  const first = named[0];
  if (first === undefined) return [];
  if (!holds(each, named))
    return isOffered(it, each, named) ? [] : [pointerConflict(`${each.kind}-contradicts`, each, first, it)];
  const right = named.find(({ standing }) => standing.word === "fits");
  if (right === undefined) return [];
  if (isOnlyForOthers(it, each)) return [pointerConflict(`${each.kind}-contradicts`, each, right, it)];
  return excludesMyDate(it, each) ? [pointerConflict("date-only", each, right, it)] : [];
}

/** True where one of the numbers fits one of the revisions that a claim points to. */
export function holds({ revisions }: Pointer, named: readonly NamedNumber[]): boolean {
  return named.some(({ standing }) => [...standing.touches].some((id) => revisions.has(id)));
}

/** "choose: A (until 2017) or B (from 2018)": one of what the buyer chooses from is the number's. */
function isOffered({ said, pointers }: Case, { kind, claim }: Pointer, named: readonly NamedNumber[]): boolean {
  if (!said.choice) return false;
  return pointers.some(
    (other) => other.kind === kind && !other.against && other.claim.field === claim.field && holds(other, named),
  );
}

/** What the buyer is to choose from and the right numbers do not belong to. */
export function offeredElsewhere(it: Case): Pointer[] {
  const named = decisive(it).filter(({ standing }) => standing.touches.size > 0);
  return it.pointers.filter(
    (each) => !each.weak && !each.against && each.kind !== "quantity" && !each.claim.hedged && !holds(each, named),
  );
}

/** "only for the early board" where the device has another. */
function isOnlyForOthers({ device }: Case, { claim, revisions }: Pointer): boolean {
  return claim.only && device.possible.size > 0 && ![...device.possible].some((id) => revisions.has(id));
}

/** "only 2022" where the device was built in another year. */
function excludesMyDate({ device }: Case, { claim }: Pointer): boolean {
  return claim.kind === "date" && claim.only && device.built !== null && !intersects(device.built, claim.interval);
}

/** "not for the late board" beside the late number. */
function deniedHere(it: Case, each: Pointer, named: readonly NamedNumber[]): Reason[] {
  const denied = named.find(({ standing }) => {
    const left = [...standing.touches].filter((id) => !each.revisions.has(id));
    return left.length === 0 || (each.kind === "date" && deniesMyDate(it, each) && standing.word === "fits");
  });
  return denied === undefined ? [] : [pointerConflict(`${each.kind}-denied`, each, denied, it)];
}

function deniesMyDate({ device }: Case, { claim }: Pointer): boolean {
  return claim.kind === "date" && device.built !== null && intersects(device.built, claim.interval);
}

function pointerConflict(code: string, each: Pointer, { claim, standing }: NamedNumber, { device }: Case): Reason {
  const revisions = namesOf(standing.touches, device);
  return say(code, { stated: each.stated, number: claim.written, revisions }, [claim.span, each.claim.span]);
}

/** Volts, sizes or positions that none of the named parts can have. Of one quantity said twice in a text, one may hold. */
function quantitiesAgainst(it: Case): Reason[] {
  const number = decisive(it)[0]?.claim;
  if (number === undefined) return [];
  return falseOfNumbers(it).map((claim) =>
    say("quantity-contradicts", { stated: quantityText(claim), number: number.written }, [claim.span, number.span]),
  );
}

/** Quantities that no part of the device's, or none of the numbers', can have. */
export function falseQuantities(it: Case): QuantityClaim[] {
  return it.named.length > 0 ? falseOfNumbers(it) : nowhereRight(it).map(({ claim }) => claim);
}

function falseOfNumbers(it: Case): QuantityClaim[] {
  const readings = [...new Set(decisive(it).map(({ standing }) => standing))].flatMap((standing) => standing.readings);
  const ofType = readings.filter((each) => each.some(({ type }) => it.partType === null || type === it.partType));
  if (ofType.length === 0) return [];
  const stated = it.said.claims.filter(
    (claim): claim is QuantityClaim =>
      claim.kind === "quantity" && !claim.hedged && isOfThing(claim) && !isOfOther(claim, it.partType, it.device),
  );
  const holds = new Map<QuantityClaim, boolean>();
  for (const claim of stated) {
    const said = ofType.map((each) => each.map((part) => saysOf(claim, part, it.device, true)));
    if (said.flat().some((agrees) => agrees !== null)) {
      holds.set(
        claim,
        said.some((each) => each.every((agrees) => agrees !== false)),
      );
    }
  }
  const confirmed = (claim: QuantityClaim): boolean =>
    [...holds].some(
      ([other, true_]) => true_ && other.field === claim.field && other.quantity.name === claim.quantity.name,
    );
  return [...holds].flatMap(([claim, true_]) => (true_ || confirmed(claim) || isDeadCell(claim, it) ? [] : [claim]));
}

/** Watt-hours that are not volts times ampere-hours, cells that do not go with the volts. */
function quantitiesApart(it: Case): Reason[] {
  const title = it.said.claims.flatMap((claim) =>
    claim.kind === "quantity" && claim.field === "title" && !claim.hedged && !claim.chosen && isOfThing(claim)
      ? [claim]
      : [],
  );
  if (it.said.choice || it.partType !== "battery") return [];
  const found = findInconsistencies(
    title.map(({ quantity }) => quantity),
    LITHIUM_CELL,
  ).filter(({ code }) => code === "energy");
  return found.map(({ statements }) => {
    const spans = title.filter(({ quantity }) => statements.includes(quantity)).map(({ span }) => span);
    return say("energy-apart", {}, spans);
  });
}

/** Nominal volts of one lithium-ion cell with a little leeway (see the battery rule). */
const LITHIUM_CELL = { low: 3.55, high: 3.9 };

/** "1 cell dead". */
function isDeadCell({ quantity }: QuantityClaim, { said }: Case): boolean {
  return quantity.name === "cells" && quantity.value === 1 && said.subject.defective !== null;
}

function isOfThing({ stance }: QuantityClaim): boolean {
  return stance === "plain" || stance === "for" || stance === "replaces";
}

/** The right number, but another device, or not this model. */
function modelsAgainst(it: Case): Reason[] {
  const right = it.named.find(({ standing }) => standing.word === "fits" || standing.word === "some");
  if (right === undefined) return [];
  const { mine, mineAgainst, sibling, foreign } = it.models;
  const reason = (code: string, model: { written: string; span: Reason["spans"][number] }): Reason =>
    say(code, { model: model.written, number: right.claim.written }, [right.claim.span, model.span]);
  if (mineAgainst.length > 0 && mine.length === 0) return mineAgainst.map((claim) => reason("model-denied", claim));
  if (mine.length > 0) return [];
  const only = sibling.filter((claim) => claim.only);
  if (only.length > 0) return only.map((claim) => reason("model-excludes", claim));
  if (sibling.length > 0) return [];
  return foreign
    .filter((claim) => !servesFamilyOf(claim.number, right, it))
    .map((claim) => reason("model-foreign", claim));
}

function servesFamilyOf(model: string, right: NamedNumber, { device }: Case): boolean {
  const families = device.index.familiesByModel(model);
  return right.standing.parts.some((part) =>
    device.index.revisionsOf(part.id).some(({ family }) => families.includes(family)),
  );
}

/** "fits all" is true only of a part that fits every revision but those excepted. */
function fitsAll(it: Case): Reason[] {
  const all = it.said.claims.find(
    (claim): claim is UniversalClaim => claim.kind === "all" && claim.stance !== "against" && !claim.hedged,
  );
  if (all === undefined || it.device.family === null) return [];
  const excepted = new Set(it.pointers.filter(({ against }) => against).flatMap(({ revisions }) => [...revisions]));
  const meant = it.device.revisions.map(({ revision }) => revision.id).filter((id) => !excepted.has(id));
  const named = telling(it).filter(({ standing }) => standing.word !== "foreign");
  if (named.length === 0) {
    if (it.unknown.length > 0 && !revisionsDiffer(it)) return [];
    return it.named.length > 0 || it.partType === null ? [] : [say("fits-all-unnamed", {}, [all.span])];
  }
  const wrong = named.find(({ standing }) => !meant.every((id) => standing.fits.has(id)));
  if (wrong === undefined) return [];
  const revisions = namesOf(wrong.standing.touches, it.device);
  return [say("fits-all-false", { number: wrong.claim.written, revisions }, [all.span, wrong.claim.span])];
}

/** True where the revisions of the family take different parts of the type. */
function revisionsDiffer({ device, partType }: Case): boolean {
  const sets = device.revisions.map(({ parts }) =>
    parts
      .filter(({ type }) => type === partType)
      .map(({ id }) => id)
      .sort()
      .join("\n"),
  );
  return new Set(sets).size > 1;
}

/** Words against the very revision that the device is, beside a number that fits it. */
function againstMine(it: Case): Reason[] {
  const right = it.named.find(({ standing }) => standing.word === "fits");
  if (right === undefined) return [];
  return it.pointers.flatMap((each) => {
    if (!each.against || each.weak || each.kind === "date") return [];
    const mine = [...it.device.possible];
    if (mine.length === 0 || !mine.every((id) => each.revisions.has(id))) return [];
    return [pointerConflict(`${each.kind}-denied`, each, right, it)];
  });
}

/** Dimensions in which a part of the device can only be right or wrong, whoever made it. */
const DECISIVE = new Set(["voltage", "cells", "positions", "designation"]);

/** Without a number: volts, cells or positions that no part of the device has, and yet "for" its model. */
function nowhereRight(it: Case): { claim: QuantityClaim; reason: Reason }[] {
  if (it.named.length > 0 || it.unknown.length > 0 || it.said.choice) return [];
  const { mine, sibling } = it.models;
  const model = mine[0] ?? sibling[0];
  if (model === undefined) return [];
  return it.pointers.flatMap(({ kind, claim, stated, revisions, against }) => {
    if (kind !== "quantity" || claim.kind !== "quantity" || against || claim.hedged || revisions.size > 0) return [];
    const { dimension } = claim.quantity;
    if (!DECISIVE.has(dimension) && !dimension.startsWith(NAMED_DIMENSION)) return [];
    return [{ claim, reason: say("quantity-points-nowhere", { stated }, [claim.span, model.span]) }];
  });
}

/** Without a number: a board and a year that no revision has together. */
function pointersApart(it: Case): Reason[] {
  if (it.named.length > 0) return [];
  const told = it.pointers.filter(({ weak, against, claim }) => !weak && !against && !claim.hedged && !claim.chosen);
  for (const [i, one] of told.entries()) {
    for (const other of told.slice(i + 1)) {
      if (one.kind === other.kind || [...one.revisions].some((id) => other.revisions.has(id))) continue;
      return [say("claims-apart", { first: one.stated, second: other.stated }, [one.claim.span, other.claim.span])];
    }
  }
  return [];
}
