/**
 * One listing for one device: from claims to the verdict of design section 4.
 *
 *   sieve ─▶ claims ─▶ does it concern the device ─▶ which part type ─▶ numbers: how each stands
 *         ─▶ what speaks against ─▶ the verdict, its reasons (weakest link first), hazards
 */
import type { ListingClaims } from "../claims/index.ts";
import type { Listing } from "../formats/listing.ts";
import { tierOf } from "../formats/tiers.ts";
import type { Hazard, Tier, Verdict } from "../formats/verdict.ts";
import { type Case, makeCase, type Outcome, unrelated } from "./case.ts";
import { choosePartTypes, hasUnruled, isChance, isTied, readFor, trustsNumber } from "./chosen-type.ts";
import { decide } from "./decide.ts";
import { concerns, type NamedNumber, namesOfListing } from "./names.ts";
import { piecesOf } from "./pieces.ts";
import type { PreparedDevice } from "./prepare.ts";
import { hazardsOf } from "./risk.ts";
import { say } from "./standing.ts";

/**
 * Judges a listing for a device. Never throws; work is linear in the length of the texts.
 *
 * @param listing as {@link readListingLine} or the page reader gives it
 * @param device of {@link prepareDevice}
 */
export function judge(listing: Listing, device: PreparedDevice): Verdict {
  return new ListingJudge(listing).judge(device);
}

/** A listing as devices of one family read it. */
interface Read {
  readonly said: ListingClaims;
  readonly concerned: boolean;
  readonly dated: boolean;
}

/** Judges one listing for many devices: those that read it alike read it once, those that know the same share a verdict. */
export class ListingJudge {
  readonly #listing: Listing;
  readonly #read = new Map<string, Read>();
  readonly #judged = new Map<string, Verdict>();

  constructor(listing: Listing) {
    this.#listing = listing;
  }

  judge(device: PreparedDevice): Verdict {
    return device.sieve.mayConcern(this.#listing) ? this.judgeSifted(device) : nothingOf(device);
  }

  /** The same for a device that a sieve has let through already. */
  judgeSifted(device: PreparedDevice): Verdict {
    const { said, concerned, dated } = this.#readFor(device);
    if (!concerned) return nothingOf(device);
    const built = dated ? JSON.stringify(device.built) : "";
    const key = `${device.reads}\n${device.settled}\n${built}`;
    const verdict = this.#judged.get(key) ?? judgeRead(this.#listing, said, device);
    this.#judged.set(key, verdict);
    return verdict.device === device.device.id ? verdict : { ...verdict, device: device.device.id };
  }

  #readFor(device: PreparedDevice): Read {
    const known = this.#read.get(device.reads);
    if (known !== undefined) return known;
    const said = readFor(this.#listing, device);
    const { numbers, models } = namesOfListing(said, device);
    const read = {
      said,
      concerned: concerns(numbers, models, said, device),
      dated: said.claims.some(({ kind }) => kind === "date"),
    };
    this.#read.set(device.reads, read);
    return read;
  }
}

function nothingOf(device: PreparedDevice): Verdict {
  return finish(device, null, unrelated("nothing-of-yours"), []);
}

function judgeRead(listing: Listing, said: ListingClaims, device: PreparedDevice): Verdict {
  const { numbers, models } = namesOfListing(said, device);
  const notPart = isUnruledPart(said, numbers, device) ? null : notAPart(said);
  if (notPart !== null) return finish(device, null, notPart, []);
  const worded = choosePartTypes(said, numbers, device);
  const tied = isTied(said, models, device);
  const chosen = tied ? trustsNumber(worded) : worded;
  if (!tied) {
    if (chosen.mistaken) return finish(device, null, unrelated("other-part-type"), []);
    if (isChance(said, numbers, chosen)) return finish(device, null, unrelated("number-too-short"), []);
  }
  const types = chosen.partTypes.length === 0 ? [null] : chosen.partTypes;
  const verdicts = types.map((partType) => {
    const it = makeCase(said, device, partType, chosen, numbers, models);
    const outcome = decide(it);
    return finish(device, partType, withDevice(outcome, it), hazardsOf(it, outcome));
  });
  const verdict = verdicts.reduce((worst, each) => (CARE[each.tier] > CARE[worst.tier] ? each : worst));
  const pieces = piecesOf(listing, said);
  return pieces > 1 ? { ...verdict, pieces } : verdict;
}

/** Of several things sold together, the one that asks for most care decides. */
const CARE: Readonly<Record<Tier, number>> = { none: 0, go: 1, check: 2, stop: 3 };

/** True where a listing names the device's model, board or a part of its family in whatever way. */
export function concernsDevice(listing: Listing, device: PreparedDevice): boolean {
  if (!device.sieve.mayConcern(listing)) return false;
  const said = readFor(listing, device);
  const { numbers, models } = namesOfListing(said, device);
  return concerns(numbers, models, said, device);
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

const NOT_A_PART: Readonly<Record<string, string>> = {
  accessory: "sold-accessory",
  device: "sold-device",
  service: "sold-service",
  wanted: "sold-wanted",
  nothing: "sold-nothing",
  without: "sold-without",
};

/**
 * "Hinge AMH-7", "Paddle for breadmaker K2": of a part type that no rule has words for. The word that usually means an
 * accessory, or that nobody knows, is then taken for the part's own.
 */
function isUnruledPart(said: ListingClaims, numbers: readonly NamedNumber[], device: PreparedDevice): boolean {
  const { sold, stranger } = said.subject;
  if (!hasUnruled(device) || (sold !== "accessory" && !(sold === "device" && stranger))) return false;
  const inTitle = numbers.filter(({ claim }) => claim.field === "title");
  const telling = inTitle.length > 0 ? inTitle : numbers;
  const plain = telling.filter(({ claim }) => claim.stance === "plain" && !claim.hedged);
  if (plain.length === 0) return sold === "device" && telling.length === 0;
  return plain.every(
    ({ standing: { types } }) => types.length > 0 && !types.some((type) => device.partTypes.has(type)),
  );
}

function notAPart({ subject }: ListingClaims): Outcome | null {
  const code = NOT_A_PART[subject.sold];
  return code === undefined ? null : unrelated(code, subject.spans);
}
