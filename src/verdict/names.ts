/** Which numbers and models a listing names, and whether any of them concerns the device. */
import type { Claim, NumberClaim } from "../claims/claims.ts";
import type { ListingClaims } from "../claims/index.ts";
import type { PreparedDevice } from "./prepare.ts";
import { type Standing, standingOf } from "./standing.ts";

/** A number that the listing names, and how it stands. */
export interface NamedNumber {
  readonly claim: NumberClaim;
  readonly standing: Standing;
}

/** Models that the listing names, by whose they are. */
export interface Models {
  readonly mine: readonly NumberClaim[];
  readonly mineAgainst: readonly NumberClaim[];
  /** Of the same family, but not the device's own. */
  readonly sibling: readonly NumberClaim[];
  readonly foreign: readonly NumberClaim[];
}

/** Part numbers and models; a number that is both is in one of the two. */
export function namesOfListing(
  said: ListingClaims,
  device: PreparedDevice,
): { numbers: NamedNumber[]; models: Models } {
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

/** True for a number of the device's family, or one that the person has settled. */
export function isOfDevice({ word }: Standing): boolean {
  return word !== "foreign" && word !== "unknown";
}

/** True where any of the names is the device's, or nearly so. */
export function concerns(
  numbers: readonly NamedNumber[],
  models: Models,
  said: ListingClaims,
  device: PreparedDevice,
): boolean {
  const { claims } = said;
  if (models.mine.length + models.mineAgainst.length + models.sibling.length > 0) return true;
  if (numbers.some(({ standing }) => isOfDevice(standing))) return true;
  if (claims.some((claim) => claim.kind === "number" && claim.named?.board === true && isBoardOf(claim, device)))
    return true;
  if (models.foreign.length > 0) return false;
  const mayBeMine = said.maker && said.makerAlone;
  return numbers.some(({ claim }) => isNearMiss(claim, device) || (mayBeMine && isLikeMine(claim, said, device)));
}

/** The maker of the device, a type of part that it has, and a number that nobody knows. */
function isLikeMine(
  { named, stance, certain }: NumberClaim,
  { subject }: ListingClaims,
  device: PreparedDevice,
): boolean {
  if (named !== null || !(stance === "plain" || (stance === "for" && certain))) return false;
  return subject.types.some((type) => device.types.has(type));
}

/** True where the number is a board of the device's family. */
export function isBoardOf(claim: NumberClaim, device: PreparedDevice): boolean {
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
    const isMine = own || (kin && isFamilyName(claim, device));
    if (claim.stance === "against") {
      if (isMine && isQualified(claim, said)) continue;
      // A bare "Lark" behind "not for" begins the name of another: "not for Lark 10".
      if (own || (isMine && /\d/.test(claim.written))) mineAgainst.push(claim);
      else if (kin) sibling.push(claim);
    } else if (isMine) mine.push(claim);
    else if (kin) sibling.push(claim);
    else foreign.push(claim);
  }
  return { mine, mineAgainst, sibling, foreign };
}

/** How far from a model its revision, board or year stands, in UTF-16 code units. */
const BESIDE_CHARS = 30;

/** "not for Lark 20 early board", "not for Lark 20 with 30 pins": what is denied is that revision, not the model. */
function isQualified({ span: [start, end, field] }: NumberClaim, said: ListingClaims): boolean {
  return said.claims.some((claim) => {
    if (claim.span[2] !== field) return false;
    // "without frame Heron 14": the words before deny the frame.
    if (claim.kind === "quantity" && start >= claim.span[1] && start - claim.span[1] <= 1) return true;
    const part = claim.kind === "revision" || claim.kind === "date" || claim.kind === "quantity";
    if (claim.stance !== "against" || !(part || (claim.kind === "number" && claim.named?.board === true))) return false;
    return claim.span[0] - end < BESIDE_CHARS && start - claim.span[1] < BESIDE_CHARS;
  });
}

/** The family's name stands for every model of it. */
function isFamilyName({ number }: NumberClaim, { index, family, familyNames }: PreparedDevice): boolean {
  return family !== null && (index.familiesByModel(number).length === 0 || familyNames.has(number));
}

/** A number that is a part's and a device's is read by what stands around it. */
function readAsModel(
  claim: NumberClaim,
  said: ListingClaims,
  numbers: readonly NamedNumber[],
  device: PreparedDevice,
): boolean {
  const standing = numbers.find((each) => each.claim === claim)?.standing;
  const partIsMine = standing !== undefined && isOfDevice(standing);
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

/** "PB-2, replaces PB-1": true of them as the catalog has it, so that only what is sold counts. */
export function isReplaced({ claim }: NamedNumber, all: readonly NamedNumber[], { index }: PreparedDevice): boolean {
  if (claim.stance !== "replaces") return false;
  return all.some(
    (sold) =>
      sold.claim.stance === "plain" &&
      index.serves(sold.claim.number, claim.number) &&
      !index.serves(claim.number, sold.claim.number),
  );
}
