/** What a listing amounts to that names no known part number: by board, date, words and quantities, or by the model alone. */
import type { NumberClaim } from "../claims/claims.ts";
import type { Reason } from "../formats/verdict.ts";
import { type Case, type Outcome, unrelated } from "./case.ts";
import { hasUnruled, inOwnTypes } from "./chosen-type.ts";
import { exactPointersOf, type Pointer } from "./evidence.ts";
import type { PreparedDevice } from "./prepare.ts";
import { namesOf, printed, say } from "./standing.ts";

/** The verdict where no known number is named for. */
export function withoutNumber(it: Case): Outcome {
  const excluded = excludes(it);
  if (excluded !== null) return excluded;
  const { revisions, told } = agreeing(it);
  const points = told.map((each) => pointReason(each, it));
  if (it.said.choice && it.unknown.length === 0) {
    return { verdict: "ambiguous", reasons: [say("choice"), ...points, ...modelReasons(it)], about: [], revisions };
  }
  if (told.length > 0 && revisions.size > 0 && ![...it.device.possible].some((id) => revisions.has(id))) {
    return { verdict: "other-revision", reasons: points, about: [], revisions };
  }
  if (it.unknown.length > 0) {
    return {
      verdict: "unknown-part",
      reasons: it.unknown.map((claim) => nearReason(claim, it.device)),
      about: [],
      revisions,
    };
  }
  const { types, stranger } = it.said.subject;
  if (it.partType === null && types.length === 0 && !(stranger && hasUnruled(it.device)))
    return unrelated("no-part-named");
  if (isOtherType(it)) return unrelated("other-part-type", it.said.subject.spans);
  if (isPointed(it, revisions, told)) return pointed(it, revisions, told, points);
  if (told.length === 0) {
    const exact = exactPointersOf(it.said.claims, it.partType, it.device);
    const both = inAll(exact);
    if (exact.length > 1 && isPointed(it, both, exact))
      return pointed(
        it,
        both,
        exact,
        exact.map((each) => pointReason(each, it)),
      );
  }
  const reasons = [...passingReasons(it), ...againstReasons(it), ...points, ...modelReasons(it)];
  return { verdict: "ambiguous", reasons: reasons.length > 0 ? reasons : [say("no-number")], about: [], revisions };
}

/** The words sell a type of part that the catalogs do not know for the family; all its types have rules to know words by. */
function isOtherType({ device, said }: Case): boolean {
  const { types } = said.subject;
  if (device.family === null || types.length === 0 || ![...device.types].every((type) => device.partTypes.has(type)))
    return false;
  return !inOwnTypes(types, device).some((type) => device.types.has(type));
}

/** Ids of revisions that all the pointers agree with. */
function inAll(pointers: readonly Pointer[]): ReadonlySet<string> {
  const [first, ...others] = pointers;
  return new Set([...(first?.revisions ?? [])].filter((id) => others.every(({ revisions }) => revisions.has(id))));
}

/** "not PB-1840", "not for the late board", "not for PL-20": nothing but words against. */
function excludes(it: Case): Outcome | null {
  const right = it.against.filter(({ standing }) => standing.word === "fits" || standing.word === "some");
  if (right.length > 0 && it.unknown.length === 0) {
    const all = right.every(({ standing }) => standing.word === "fits");
    if (all)
      return {
        verdict: "other-revision",
        reasons: right.map(({ claim }) => say("number-against", { number: claim.written }, [claim.span])),
        about: [],
      };
  }
  const { mineAgainst, mine } = it.models;
  if (mineAgainst.length > 0 && mine.length === 0) {
    const reasons = mineAgainst.map((claim) => say("model-against", { model: claim.written }, [claim.span]));
    return { verdict: "other-revision", reasons, about: [] };
  }
  const only = it.models.sibling.filter((claim) => claim.only);
  if (only.length > 0 && mine.length === 0) {
    return {
      verdict: "other-revision",
      reasons: only.map((claim) => say("model-only", { model: claim.written }, [claim.span])),
      about: [],
    };
  }
  return null;
}

/** The revisions that no board number, date, word or quantity speaks against, and the pointers that tell. */
function agreeing(it: Case): { revisions: ReadonlySet<string>; told: readonly Pointer[] } {
  const chosen = new Set(
    it.said.claims.flatMap((claim) => (claim.kind === "quantity" && claim.chosen ? [claim.quantity.name] : [])),
  );
  // "60 W or 90 W": either may be meant.
  const isOpen = ({ claim }: Pointer): boolean => claim.kind === "quantity" && chosen.has(claim.quantity.name);
  const told = it.pointers.filter((each) => !each.weak && !each.claim.hedged && !isOpen(each));
  const quantities = told.filter(({ kind, against }) => kind === "quantity" && !against);
  // "Full HD 1920x1200": a quantity that no revision has counts only where no other one is any revision's.
  const nowhere = quantities.every(({ revisions }) => revisions.size === 0);
  const left = it.device.revisions.filter(({ revision }) => {
    const byKind = new Map<string, boolean>();
    for (const each of told) {
      const agrees = each.revisions.has(revision.id);
      if (each.against) {
        if (agrees) return false;
      } else if (each.kind !== "quantity" || nowhere || each.revisions.size > 0) {
        const subject = subjectOf(each);
        byKind.set(subject, (byKind.get(subject) ?? false) || agrees);
      }
    }
    return [...byKind.values()].every((agrees) => agrees);
  });
  return { revisions: new Set(left.map(({ revision }) => revision.id)), told };
}

/** Of one thing said twice, one may hold: a board, a date, a quantity of one name. */
function subjectOf({ kind, claim }: Pointer): string {
  return claim.kind === "quantity" ? `quantity ${claim.quantity.name}` : kind;
}

/** Every part of the agreeing revisions serves in every revision that the device can be. */
function isPointed(it: Case, revisions: ReadonlySet<string>, told: readonly Pointer[]): boolean {
  const { device, partType } = it;
  if (told.length === 0 || revisions.size === 0 || revisions.size === device.revisions.length) return false;
  const candidates = device.revisions
    .filter(({ revision }) => revisions.has(revision.id))
    .flatMap(({ parts }) => parts.filter(({ type }) => type === partType));
  const possible = device.revisions.filter(({ revision }) => device.possible.has(revision.id));
  if (possible.length === 0) return false;
  if (candidates.length === 0)
    return possible.every(({ revision }) => revisions.has(revision.id)) && revisions.size === possible.length;
  return (
    [...revisions].every((id) => device.possible.has(id) || sharesParts(id, it)) &&
    possible.every(
      ({ revision }) =>
        candidates.every((part) => revision.parts.includes(part.id)) ||
        (revisions.has(revision.id) && possible.length === 1),
    )
  );
}

function sharesParts(id: string, { device, partType }: Case): boolean {
  const parts = device.revisions
    .find(({ revision }) => revision.id === id)
    ?.parts.filter(({ type }) => type === partType);
  const possible = device.revisions.filter(({ revision }) => device.possible.has(revision.id));
  return (parts ?? []).every((part) => possible.every(({ revision }) => revision.parts.includes(part.id)));
}

function pointed(
  it: Case,
  revisions: ReadonlySet<string>,
  told: readonly Pointer[],
  points: readonly Reason[],
): Outcome {
  const { subject, doubt } = it.said;
  if (subject.defective !== null) {
    return {
      verdict: "ambiguous",
      reasons: [say("defective", {}, [subject.defective]), ...points],
      about: [],
      revisions,
    };
  }
  if (doubt) return { verdict: "ambiguous", reasons: [say("hedged"), ...points], about: [], revisions };
  const kinds = [...new Set(told.filter(({ against }) => !against).map(({ kind }) => kind))];
  const weakest = kinds.length === 1 ? [say(`only-${kinds[0]}`)] : [say("no-number")];
  return { verdict: "unconfirmed", reasons: [...weakest, ...points, ...modelReasons(it)], about: [], revisions };
}

/** Where a pointer points, as a reason. */
export function pointReason({ kind, stated, revisions, against, claim }: Pointer, { device }: Case): Reason {
  const names = namesOf(revisions, device);
  if (names.length === 0) return say(`${kind}-points-nowhere`, { stated }, [claim.span]);
  return say(`${kind}-${against ? "excludes" : "points"}`, { stated, revisions: names }, [claim.span]);
}

function passingReasons({ passing }: Case): Reason[] {
  return passing.map(({ claim }) => say("in-passing", { number: claim.written }, [claim.span]));
}

function againstReasons({ against }: Case): Reason[] {
  return against.map(({ claim }) => say("number-against-other", { number: claim.written }, [claim.span]));
}

function modelReasons({ models }: Case): Reason[] {
  const claim = models.mine[0] ?? models.sibling[0];
  return claim === undefined ? [] : [say("only-model", { model: claim.written }, [claim.span])];
}

/** An unknown number, with the known one that it nearly is. */
export function nearReason(claim: NumberClaim, device: PreparedDevice): Reason {
  const known = device.known.near(claim.written)[0];
  return known === undefined
    ? say("number-unknown", { number: claim.written }, [claim.span])
    : say("number-near", { number: claim.written, known: printed(known, device) }, [claim.span]);
}
