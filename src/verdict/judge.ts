/**
 * One listing for one device: from claims to the verdict of design section 4.
 *
 *   sieve ─▶ claims ─▶ does it concern the device ─▶ which part type ─▶ numbers: how each stands
 *         ─▶ what speaks against ─▶ the verdict, its reasons (weakest link first), hazards
 */
import type { Claim, NumberClaim, QuantityClaim } from "../claims/claims.ts";
import { type ListingClaims, readListing } from "../claims/index.ts";
import { NAMED_DIMENSION } from "../claims/vocabulary.ts";
import type { Listing } from "../formats/listing.ts";
import { tierOf } from "../formats/tiers.ts";
import type { Hazard, Reason, Verdict, VerdictWord } from "../formats/verdict.ts";
import { canonicalNumber, oneCharacterApart } from "../text/part-number.ts";
import { quantityName } from "../text/quantities.ts";
import { conflictsOf } from "./conflicts.ts";
import { exactPointersOf, type Pointer, pointersOf } from "./evidence.ts";
import type { PreparedDevice } from "./prepare.ts";
import { hazardsOf } from "./risk.ts";
import { namesOf, printed, type Standing, say, standingOf } from "./standing.ts";

/** A number that the listing names, and how it stands. */
export interface NamedNumber {
  readonly claim: NumberClaim;
  readonly standing: Standing;
}

/** What the verdict rests on. */
export interface Case {
  readonly device: PreparedDevice;
  readonly said: ListingClaims;
  readonly partType: string | null;
  /** True where the words sell another type of part than the one that bears the number. */
  readonly mistaken: boolean;
  /** Known numbers named for: sold, fitting, replacing. */
  readonly named: readonly NamedNumber[];
  readonly against: readonly NamedNumber[];
  readonly passing: readonly NamedNumber[];
  readonly unknown: readonly NumberClaim[];
  readonly pointers: readonly Pointer[];
  readonly models: Models;
}

/** Models that the listing names, by whose they are. */
export interface Models {
  readonly mine: readonly NumberClaim[];
  readonly mineAgainst: readonly NumberClaim[];
  /** Of the same family, but not the device's own. */
  readonly sibling: readonly NumberClaim[];
  readonly foreign: readonly NumberClaim[];
}

interface Outcome {
  readonly verdict: VerdictWord;
  readonly reasons: readonly Reason[];
  /** The standings whose parts and revisions the verdict is about. */
  readonly about: readonly Standing[];
  /** Ids of revisions where no number is named. */
  readonly revisions?: ReadonlySet<string>;
}

/** True where the listing may name the device, its family, a part or a board of it. Quick; errs on the side of yes. */
function mayConcern(listing: Listing, device: PreparedDevice): boolean {
  if (device.sieve.mayName(listing.title)) return true;
  if (listing.description !== undefined && device.sieve.mayName(listing.description)) return true;
  for (const value of Object.values(listing.specifics ?? {})) if (device.sieve.mayName(value)) return true;
  return false;
}

/**
 * Judges a listing for a device. Never throws; work is linear in the length of the texts.
 *
 * @param listing as {@link readListingLine} or the page reader gives it
 * @param device of {@link prepareDevice}
 */
export function judge(listing: Listing, device: PreparedDevice): Verdict {
  if (!mayConcern(listing, device)) return finish(device, null, unrelated("nothing-of-yours"), []);
  const said = readFor(listing, device);
  const { numbers, models } = namesOfListing(said, device);
  if (!concerns(numbers, models, said.claims, device)) return finish(device, null, unrelated("nothing-of-yours"), []);
  const notPart = notAPart(said);
  if (notPart !== null) return finish(device, null, notPart, []);
  const { partType, named, mistaken } = choosePartType(said, numbers, device);
  if (!isTied(said, models, device)) {
    if (mistaken) return finish(device, null, unrelated("other-part-type"), []);
    if (isChance(said, named, partType)) return finish(device, null, unrelated("number-too-short"), []);
  }
  const it = makeCase(said, device, { partType, named, mistaken }, numbers, models);
  const outcome = decide(it);
  return finish(device, partType, withDevice(outcome, it), hazardsOf(it, outcome));
}

/** True where a listing names the device's model, board or a part of its family in whatever way. */
export function concernsDevice(listing: Listing, device: PreparedDevice): boolean {
  if (!mayConcern(listing, device)) return false;
  const said = readFor(listing, device);
  const { numbers, models } = namesOfListing(said, device);
  return concerns(numbers, models, said.claims, device);
}

/** Reads a listing; where no word says what is sold, a quantity that only one of the device's part types has tells it. */
function readFor(listing: Listing, device: PreparedDevice): ListingClaims {
  const said = readListing(listing, device.reading, device.known, (type) => device.types.has(type));
  if (said.subject.sold !== "unsaid") return said;
  const stated = said.claims.filter((claim) => claim.kind === "quantity");
  const named = stated.filter(({ quantity }) => quantity.dimension.startsWith(NAMED_DIMENSION));
  const types = [...new Set((named.length > 0 ? named : stated).flatMap((claim) => typesStating(claim, device)))];
  return types.length !== 1 ? said : { ...said, subject: { ...said.subject, sold: "part", types } };
}

/** The one part type that a quantity belongs to: "DDR4" is memory's, ampere-hours are a battery's. */
function typesStating({ quantity, stance }: QuantityClaim, device: PreparedDevice): string[] {
  if (stance !== "plain" || /_mm$/.test(quantity.name)) return [];
  if (quantity.dimension.startsWith(NAMED_DIMENSION)) return [quantity.dimension.slice(NAMED_DIMENSION.length)];
  const types = [...device.types].filter((type) => {
    const name = quantityName(quantity, device.partTypes.get(type));
    return device.stated.get(type)?.has(name === "cells" ? "seriesCells" : name) === true;
  });
  return types.length === 1 ? types : [];
}

function finish(
  device: PreparedDevice,
  partType: string | null,
  outcome: Outcome,
  hazards: readonly Hazard[],
): Verdict {
  const { verdict, reasons, about } = outcome;
  const revisions = outcome.revisions ?? new Set(about.flatMap(({ touches }) => [...touches]));
  return {
    device: device.device.id,
    partType,
    verdict,
    tier: tierOf[verdict],
    parts: verdict === "unrelated" ? [] : [...new Set(about.flatMap(({ parts }) => parts.map(({ id }) => id)))],
    revisions: device.revisions.flatMap(({ revision }) => (revisions.has(revision.id) ? [revision.id] : [])),
    hazards,
    reasons,
  };
}

function unrelated(code: string, spans: Reason["spans"] = []): Outcome {
  return { verdict: "unrelated", reasons: [say(code, {}, spans)], about: [] };
}

/** Adds what the device's own evidence leaves open, and rules that were not understood. */
function withDevice(outcome: Outcome, { device }: Case): Outcome {
  const reasons = [...outcome.reasons];
  let { verdict } = outcome;
  if (device.faults.length > 0 && verdict === "fits") {
    verdict = "ambiguous";
    reasons.unshift(say("rule-not-understood", { rules: device.faults }));
  }
  if (verdict !== "unrelated") reasons.push(...device.resolved.contradictions);
  return { ...outcome, verdict, reasons };
}

// --- what concerns the device ----------------------------------------------------------------------------------

/** Part numbers and models; a number that is both is in one of the two. */
function namesOfListing(said: ListingClaims, device: PreparedDevice): { numbers: NamedNumber[]; models: Models } {
  const all = numbersOf(said.claims, device);
  const models = modelsOf(said, all, device);
  const read = new Set([...models.mine, ...models.mineAgainst, ...models.sibling, ...models.foreign]);
  return { numbers: all.filter(({ claim }) => !read.has(claim)), models };
}

function numbersOf(claims: readonly Claim[], device: PreparedDevice): NamedNumber[] {
  return claims.flatMap((claim) => {
    if (claim.kind !== "number" || claim.stock) return [];
    if (claim.named !== null && !claim.named.part) return [];
    return [{ claim, standing: standingOf(claim.number, device) }];
  });
}

const CONCERNING = new Set(["fits", "some", "earlier", "other", "disputed", "refused"]);

function concerns(
  numbers: readonly NamedNumber[],
  models: Models,
  claims: readonly Claim[],
  device: PreparedDevice,
): boolean {
  if (models.mine.length + models.mineAgainst.length + models.sibling.length > 0) return true;
  if (numbers.some(({ standing }) => CONCERNING.has(standing.word))) return true;
  if (claims.some((claim) => claim.kind === "number" && claim.named?.board === true && isBoardOf(claim, device)))
    return true;
  return models.foreign.length === 0 && numbers.some(({ claim }) => isNearMiss(claim, device));
}

function isBoardOf(claim: NumberClaim, device: PreparedDevice): boolean {
  return device.index.revisionsByBoard(claim.number).some(({ family }) => family === device.family);
}

function isNearMiss({ number, written, named, stance }: NumberClaim, device: PreparedDevice): boolean {
  return named === null && stance !== "elsewhere" && number.length >= 5 && device.known.near(written).length > 0;
}

function modelsOf(said: ListingClaims, numbers: readonly NamedNumber[], device: PreparedDevice): Models {
  const mine: NumberClaim[] = [];
  const mineAgainst: NumberClaim[] = [];
  const sibling: NumberClaim[] = [];
  const foreign: NumberClaim[] = [];
  for (const claim of said.claims) {
    if (claim.kind !== "number" || claim.named?.model !== true || claim.stance === "elsewhere") continue;
    if (claim.named.part && !readAsModel(claim, said, numbers, device)) continue;
    const own = device.models.has(claim.number);
    const kin = device.familyModels.has(claim.number);
    if (claim.stance === "against") {
      if (own) mineAgainst.push(claim);
      else if (kin) sibling.push(claim);
    } else if (own || (kin && isFamilyName(claim, device))) mine.push(claim);
    else if (kin) sibling.push(claim);
    else foreign.push(claim);
  }
  return { mine, mineAgainst, sibling, foreign };
}

/** The family's name stands for every model of it. */
function isFamilyName({ number }: NumberClaim, device: PreparedDevice): boolean {
  return device.index.familiesByModel(number).length === 0;
}

/** A number that is a part's and a device's is read by what stands around it. */
function readAsModel(
  claim: NumberClaim,
  said: ListingClaims,
  numbers: readonly NamedNumber[],
  device: PreparedDevice,
): boolean {
  const standing = numbers.find((each) => each.claim === claim)?.standing;
  const partIsMine = standing !== undefined && CONCERNING.has(standing.word);
  const modelIsMine = device.familyModels.has(claim.number);
  if (modelIsMine !== partIsMine) {
    if (modelIsMine) return !isSoldAs(said, standing);
    if (claim.stance === "replaces") return false;
  }
  const { types, sold } = said.subject;
  if (types.length === 0) return sold === "device";
  return !isSoldAs(said, standing);
}

/** What is sold is of the type that the number's part has. */
function isSoldAs({ subject }: ListingClaims, standing: Standing | undefined): boolean {
  return subject.types.some((type) => standing?.types.includes(type) === true);
}

const NOT_A_PART: Readonly<Record<string, string>> = {
  accessory: "sold-accessory",
  device: "sold-device",
  service: "sold-service",
  wanted: "sold-wanted",
  nothing: "sold-nothing",
  without: "sold-without",
};

function notAPart({ subject }: ListingClaims): Outcome | null {
  const code = NOT_A_PART[subject.sold];
  return code === undefined ? null : unrelated(code, subject.spans);
}

// --- which part type ---------------------------------------------------------------------------------------------

interface Chosen {
  readonly partType: string | null;
  /** True where the words sell another type of part than the one that bears the number. */
  readonly mistaken: boolean;
  readonly named: readonly NamedNumber[];
}

function isFor({ claim }: NamedNumber): boolean {
  return claim.stance === "plain" || claim.stance === "for" || claim.stance === "replaces";
}

/** The wanted type among those sold; without words for it, the type of the numbers. */
function choosePartType(said: ListingClaims, numbers: readonly NamedNumber[], device: PreparedDevice): Chosen {
  const { types, forTypes } = said.subject;
  const named = numbers.filter((each) => isFor(each) && each.standing.word !== "unknown");
  const byNumber = [...new Set(named.flatMap(({ standing }) => standing.types))];
  const wanted = [...new Set(device.fitted.values())];
  const best = (among: readonly string[]): string | undefined =>
    wanted.find((type) => among.includes(type)) ?? among[0];
  const both = types.filter((type) => byNumber.includes(type));
  if (both.length > 0) return { partType: best(both) ?? null, named, mistaken: false };
  const ruled = byNumber.filter((type) => device.partTypes.has(type));
  const differ = types.length > 0 && byNumber.length > 0 && ruled.length === byNumber.length;
  if (differ && byNumber.every((type) => forTypes.includes(type)))
    return { partType: best(types) ?? null, named: [], mistaken: true };
  const short = named.every(({ claim }) => claim.number.length <= SHORT_NUMBER);
  const mistaken = differ && (short || types.some((type) => device.types.has(type)));
  if (mistaken && named.every(({ claim }) => claim.stance === "for"))
    return { partType: best(types) ?? null, named: [], mistaken };
  if (byNumber.length > 0) return { partType: best(byNumber) ?? null, named, mistaken };
  return { partType: best(types) ?? (named.length > 0 ? (wanted[0] ?? null) : null), named, mistaken: false };
}

/** Only numbers that anything may bear, and no word for the part. */
function isChance({ subject }: ListingClaims, named: readonly NamedNumber[], partType: string | null): boolean {
  if (named.length === 0 || named.some(({ claim }) => claim.number.length > SHORT_NUMBER || claim.cued)) return false;
  return partType !== null && !subject.types.includes(partType);
}

/** Numbers so short that anything may bear them. */
const SHORT_NUMBER = 4;

/** Something besides the number ties the listing to the device: its model or its board. */
function isTied(said: ListingClaims, models: Models, device: PreparedDevice): boolean {
  if (models.mine.length + models.sibling.length + models.mineAgainst.length > 0 || said.maker) return true;
  return said.claims.some(
    (claim) => claim.kind === "number" && claim.named?.board === true && isBoardOf(claim, device),
  );
}

function makeCase(
  said: ListingClaims,
  device: PreparedDevice,
  { partType, named, mistaken }: Chosen,
  numbers: readonly NamedNumber[],
  models: Models,
): Case {
  const ofType = ({ standing }: NamedNumber): boolean =>
    partType === null || standing.types.length === 0 || standing.types.includes(partType);
  const isNumber = (each: NamedNumber): boolean => ofType(each);
  return {
    device,
    said,
    partType,
    mistaken,
    named: named.filter(isNumber),
    against: numbers.filter((each) => each.claim.stance === "against" && isNumber(each)),
    passing: numbers.filter(({ claim }) => claim.stance === "passing" || claim.stance === "successor"),
    unknown: numbers.flatMap(({ claim, standing }) =>
      standing.word === "unknown" && isUnknownPart(claim) ? [claim] : [],
    ),
    pointers: pointersOf(said.claims, partType, device),
    models,
  };
}

/** An unknown number behind "for" is a device's, unless something makes it a part number. */
function isUnknownPart(claim: NumberClaim): boolean {
  if (claim.stance === "plain") return true;
  return (claim.stance === "for" || claim.stance === "replaces") && (claim.certain || claim.stance === "replaces");
}

// --- the verdict -------------------------------------------------------------------------------------------------

function decide(it: Case): Outcome {
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

function byNumbers(it: Case, mine: readonly NamedNumber[]): Outcome {
  const reasons = [...reasonsOf(mine), ...nearMisses(it, mine)];
  const about = standingsOf(mine);
  const words = new Set(mine.map(({ standing }) => standing.word));
  const stop = ["other", "disputed", "refused"].some((word) => words.has(word as Standing["word"]));
  const go = words.has("fits") || words.has("some") || words.has("earlier");
  const disagreements = about.flatMap((standing) => standing.disagreements);
  const refused = mine.filter(({ standing }) => standing.word === "refused");
  const result = (verdict: VerdictWord, first: readonly Reason[] = []): Outcome => ({
    verdict,
    reasons: [...first, ...reasons, ...disagreements],
    about,
  });
  if (stop && !go) return result("other-revision");
  if (refused.length > 0 && mine.every((each) => refused.includes(each) || each.claim.stance !== "plain"))
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
  const open = words.has("some") ? [say("not-pinned", { revisions: namesOf(it.device.possible, it.device) })] : [];
  return result("ambiguous", open);
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
    ({ weak, against, revisions }) => weak && !against && ![...it.device.possible].some((id) => revisions.has(id)),
  );
  if (weak !== undefined) doubts.push(say("revision-unclear", { stated: weak.stated }, [weak.claim.span]));
  const halved = it.pointers.find((each) => !each.weak && limits(each, it.device));
  if (halved !== undefined) doubts.push(pointReason(halved, it));
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

function nearReason(claim: NumberClaim, device: PreparedDevice): Reason {
  const known = device.known.near(claim.written)[0];
  return known === undefined
    ? say("number-unknown", { number: claim.written }, [claim.span])
    : say("number-near", { number: claim.written, known: printed(known, device) }, [claim.span]);
}

// --- no number of the catalogs ------------------------------------------------------------------------------------

function withoutNumber(it: Case): Outcome {
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
  if (it.partType === null && !it.said.subject.types.length) return unrelated("no-part-named");
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
  return !types.some((type) => device.types.has(type));
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
  const told = it.pointers.filter((each) => !each.weak && !each.claim.hedged);
  const left = it.device.revisions.filter(({ revision }) => {
    const byKind = new Map<string, boolean>();
    for (const { kind, against, revisions } of told) {
      const agrees = revisions.has(revision.id);
      if (against) {
        if (agrees) return false;
      } else byKind.set(kind, (byKind.get(kind) ?? false) || agrees);
    }
    return [...byKind.values()].every((agrees) => agrees);
  });
  return { revisions: new Set(left.map(({ revision }) => revision.id)), told };
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

function pointReason({ kind, stated, revisions, against, claim }: Pointer, { device }: Case): Reason {
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
