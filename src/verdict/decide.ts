/** The verdict on a case: what speaks against goes before what is open, and that before what fits. */
import type { NumberClaim } from "../claims/claims.ts";
import type { Reason, VerdictWord } from "../formats/verdict.ts";
import { canonicalNumber, oneCharacterApart } from "../text/part-number.ts";
import { type Case, type Outcome, unrelated } from "./case.ts";
import { conflictsOf, holds, offeredElsewhere } from "./conflicts.ts";
import type { Pointer } from "./evidence.ts";
import { isReplaced, type NamedNumber } from "./names.ts";
import type { PreparedDevice } from "./prepare.ts";
import { namesOf, type Standing, say } from "./standing.ts";
import { nearReason, pointReason, withoutNumber } from "./without-number.ts";

/** Decides; never throws. */
export function decide(it: Case): Outcome {
  const conflicts = conflictsOf(it);
  const mine = it.named.filter(({ standing }) => standing.word !== "foreign");
  if (isForeign(it, mine))
    return unrelated(
      "other-device",
      it.models.foreign.map(({ span }) => span),
    );
  if (conflicts.length > 0) return { verdict: "conflicting", reasons: conflicts, about: standingsOf(it.named) };
  if (mine.length > 0) return byNumbers(it, mine);
  if (it.named.length > 0) return foreignNumber(it);
  return withoutNumber(it);
}

/** Nothing but another family's numbers or models. */
function isForeign({ models, pointers, device }: Case, mine: readonly NamedNumber[]): boolean {
  if (mine.length > 0 || models.mine.length + models.sibling.length + models.mineAgainst.length > 0) return false;
  if (pointers.some(({ kind }) => kind === "board")) return false;
  return models.foreign.length > 0 && device.family !== null;
}

function standingsOf(named: readonly NamedNumber[]): Standing[] {
  return [...new Set(named.map(({ standing }) => standing))];
}

/** A number of another family with this device's model beside it. */
function foreignNumber(it: Case): Outcome {
  const reasons = reasonsOf(it.named);
  if (it.models.mine.length + it.models.sibling.length === 0) return { ...unrelated("other-device"), reasons };
  return { verdict: "conflicting", reasons, about: standingsOf(it.named) };
}

/** One reason a number, with all the places where it stands. */
function reasonsOf(named: readonly NamedNumber[]): Reason[] {
  return standingsOf(named).map((standing) => {
    const claims = named.flatMap((each) => (each.standing === standing ? [each.claim] : []));
    const values = { ...standing.reason.values, number: claims[0]?.written ?? standing.number };
    return { code: standing.reason.code, values, spans: claims.map(({ span }) => span) };
  });
}

function byNumbers(it: Case, all: readonly NamedNumber[]): Outcome {
  const mine = all.filter((each) => !isReplaced(each, all, it.device));
  const reasons = [...reasonsOf(mine), ...nearMisses(it, mine)];
  const about = standingsOf(mine);
  const words = new Set(mine.map(({ standing }) => standing.word));
  const stop = mine.some(({ standing }) => isStop(standing));
  const go = words.has("fits") || words.has("some") || words.has("earlier");
  const disagreements = about.flatMap((standing) => standing.disagreements);
  const refused = words.has("refused");
  const result = (verdict: VerdictWord, first: readonly Reason[] = []): Outcome => ({
    verdict,
    reasons: [...first, ...reasons, ...disagreements],
    about,
  });
  if (stop && !go) return result("other-revision");
  if (refused && mine.every(({ claim, standing }) => isStop(standing) || claim.stance !== "plain"))
    return result("other-revision");
  if (stop)
    return result("ambiguous", [
      say(
        "several-numbers",
        { numbers: writtenOf(mine) },
        mine.map(({ claim }) => claim.span),
      ),
    ]);
  if (sellsRight(mine)) return confirmed(it, mine, result);
  const open = mine.some(({ standing }) => isPartly(standing, it.device))
    ? [say("not-pinned", { revisions: namesOf(it.device.possible, it.device) })]
    : [];
  return result("ambiguous", open);
}

function isStop({ word }: Standing): boolean {
  return word === "other" || word === "disputed" || word === "refused";
}

/** Right for some of the revisions that the device can be, and for others not. */
function isPartly({ word, touches }: Standing, { possible }: PreparedDevice): boolean {
  return word === "some" && ![...possible].every((id) => touches.has(id));
}

/** Everything sold fits; what it merely takes the place of may be an earlier number. */
function sellsRight(mine: readonly NamedNumber[]): boolean {
  const sold = mine.filter(({ claim, standing }) => claim.stance !== "replaces" || standing.word === "fits");
  return (
    sold.length > 0 &&
    sold.every(({ standing }) => standing.word === "fits") &&
    mine.every(({ standing }) => standing.word === "fits" || standing.word === "earlier")
  );
}

/** Everything named fits: what is left to doubt. */
function confirmed(
  it: Case,
  mine: readonly NamedNumber[],
  result: (verdict: VerdictWord, first?: readonly Reason[]) => Outcome,
): Outcome {
  const doubts = doubtsOf(it, mine);
  if (doubts.length > 0) return result("ambiguous", doubts);
  const outcome = result("fits");
  const { used } = it.said.subject;
  return used === null ? outcome : { ...outcome, reasons: [...outcome.reasons, say("used", {}, [used])] };
}

function doubtsOf(it: Case, mine: readonly NamedNumber[]): Reason[] {
  const { said } = it;
  const doubts: Reason[] = [];
  const hedged = mine.filter(({ claim }) => claim.hedged);
  const doubtful = mine.filter(({ claim }) => claim.doubtful);
  if (said.unread) doubts.push(say("not-all-read"));
  if (said.subject.defective !== null) doubts.push(say("defective", {}, [said.subject.defective]));
  if (hedged.length > 0 || said.doubt)
    doubts.push(
      say(
        "hedged",
        {},
        hedged.map(({ claim }) => claim.span),
      ),
    );
  if (doubtful.length > 0 && doubtful.length === mine.length)
    doubts.push(
      say(
        "doubtful-text",
        {},
        doubtful.map(({ claim }) => claim.span),
      ),
    );
  const weak = it.pointers.find(
    (each) => each.weak && (limits(each, it.device) || (!each.against && !holds(each, mine))),
  );
  if (weak !== undefined) doubts.push(say("revision-unclear", { stated: weak.stated }, [weak.claim.span]));
  const halved = it.pointers.find((each) => !each.weak && limits(each, it.device));
  if (halved !== undefined) doubts.push(pointReason(halved, it));
  const offered = offeredElsewhere(it)[0];
  if (offered !== undefined) doubts.push(say("choice"), pointReason(offered, it));
  const miss = it.unknown.find((claim) => !claim.hedged && nearTo(claim, mine));
  if (miss !== undefined) doubts.push(nearReason(miss, it.device));
  return doubts;
}

/** Words that rule out one of the revisions that the device can be. */
function limits({ against, claim, revisions }: Pointer, { possible }: PreparedDevice): boolean {
  if (!against && !claim.only) return false;
  return [...possible].some((id) => revisions.has(id) === against);
}

function nearTo({ number }: NumberClaim, mine: readonly NamedNumber[]): boolean {
  return mine.some(({ claim, standing }) => standing.word === "fits" && isOneApart(number, claim.number));
}

function isOneApart(a: string, b: string): boolean {
  return a !== b && Math.abs(a.length - b.length) <= 1 && oneCharacterApart(a, b);
}

/** The offered number and the right one differ in one character: both are named. */
function nearMisses(it: Case, mine: readonly NamedNumber[]): Reason[] {
  const wrong = mine.filter(({ standing }) => standing.word === "other" || standing.word === "disputed");
  return wrong.flatMap(({ claim }) => {
    const right = rightNumbers(it).find((number) => isOneApart(claim.number, canonicalNumber(number)));
    return right === undefined ? [] : [say("one-character", { number: claim.written, known: right }, [claim.span])];
  });
}

/** Numbers that are right for the possible revisions, as the catalog prints them. */
function rightNumbers({ device, partType }: Case): string[] {
  return device.revisions
    .filter(({ revision }) => device.possible.has(revision.id))
    .flatMap(({ parts }) => parts.filter(({ type }) => partType === null || type === partType))
    .flatMap(({ numbers }) => numbers);
}

function writtenOf(named: readonly NamedNumber[]): string[] {
  return [...new Set(named.map(({ claim }) => claim.written))];
}
