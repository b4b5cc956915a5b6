/** Which part type a listing is judged by: the wanted one among those sold, else the one that its numbers tell. */
import type { QuantityClaim } from "../claims/claims.ts";
import { type ListingClaims, readListing } from "../claims/index.ts";
import { NAMED_DIMENSION } from "../claims/vocabulary.ts";
import type { Listing } from "../formats/listing.ts";
import { readsAsDay } from "../text/other-numbers.ts";
import { quantityName } from "../text/quantities.ts";
import { isBoardOf, isOfDevice, type Models, type NamedNumber } from "./names.ts";
import { isKindOf, type PreparedDevice } from "./prepare.ts";

/** What a listing is judged by. */
export interface Chosen {
  /** Types that are sold alike, one in most listings; none where nothing tells. */
  readonly partTypes: readonly string[];
  /** True where the words sell another type of part than the one that bears the number. */
  readonly mistaken: boolean;
  /** Numbers that count. */
  readonly named: readonly NamedNumber[];
}

function isFor({ claim }: NamedNumber): boolean {
  return claim.stance === "plain" || claim.stance === "for" || claim.stance === "replaces";
}

/** The wanted type among those sold; without words for it, the type of the numbers. */
export function choosePartTypes(said: ListingClaims, numbers: readonly NamedNumber[], device: PreparedDevice): Chosen {
  const { types, forTypes } = said.subject;
  const named = numbers.filter((each) => isFor(each) && each.standing.word !== "unknown");
  const byNumber = typesOf(named);
  const fitted = [...new Set(device.fitted.values())];
  const wanted = (among: readonly string[]): readonly string[] => {
    const first = fitted.find((type) => among.includes(type));
    return first === undefined ? among : [first];
  };
  const both = types.filter((type) => byNumber.includes(type));
  if (both.length > 0) return { partTypes: wanted(both), named, mistaken: false };
  if (types.some((type) => byNumber.some((each) => areNear(type, each, device))))
    return { partTypes: wanted(soldTypes(named)), named, mistaken: false };
  const ruled = byNumber.filter((type) => device.partTypes.has(type));
  const differ = types.length > 0 && byNumber.length > 0 && ruled.length === byNumber.length;
  const asWorded = (): Chosen => {
    const untyped = named.filter(({ standing }) => standing.types.length === 0);
    return { partTypes: wanted(types).slice(0, 1), named: untyped, mistaken: untyped.length === 0 };
  };
  if (differ && byNumber.every((type) => forTypes.includes(type))) return asWorded();
  const short = named.every(({ claim }) => claim.number.length <= SHORT_NUMBER);
  const mistaken = differ && (short || inOwnTypes(types, device).some((type) => device.types.has(type)));
  if (mistaken && named.every(({ claim }) => claim.stance === "for")) return asWorded();
  if (byNumber.length > 0) return { partTypes: wanted(soldTypes(named)), named, mistaken };
  const told = types.length > 0 || named.length === 0 ? inOwnTypes(types, device) : fitted;
  return { partTypes: wanted(told).slice(0, 1), named, mistaken: false };
}

/** Types that are often taken for one another. */
function areNear(a: string, b: string, { partTypes }: PreparedDevice): boolean {
  if (isKindOf(a, b) || isKindOf(b, a)) return true;
  return partTypes.get(a)?.near?.includes(b) === true || partTypes.get(b)?.near?.includes(a) === true;
}

/** Types as the device has them: a catalog may list a throttle as a sensor. */
export function inOwnTypes(types: readonly string[], device: PreparedDevice): readonly string[] {
  const owned = types.filter((type) => device.types.has(type));
  if (owned.length > 0) return owned;
  const own = types.flatMap((type) => standIns(type, device));
  return own.length === 0 ? types : [...new Set(own)];
}

/** The device has a part of a type that no rule has words for. */
export function hasUnruled({ types, partTypes }: PreparedDevice): boolean {
  return [...types].some((type) => !partTypes.has(type));
}

function standIns(type: string, device: PreparedDevice): string[] {
  const near = (device.partTypes.get(type)?.near ?? []).filter((each) => device.types.has(each));
  if (near.length > 0) return near;
  return [...device.types].filter((each) => {
    if (isKindOf(each, type)) return true;
    const rule = device.partTypes.get(each);
    return rule?.near?.includes(type) === true && Object.keys(rule.words).length === 0;
  });
}

function typesOf(named: readonly NamedNumber[]): string[] {
  return [...new Set(named.flatMap(({ standing }) => standing.types))];
}

/** The types of what bears the numbers; where all are named as what it is for, of these. */
function soldTypes(named: readonly NamedNumber[]): string[] {
  const sold = typesOf(named.filter(({ claim }) => claim.stance === "plain"));
  return sold.length > 0 ? sold : typesOf(named);
}

/** Only numbers that anything may bear, whatever is said of them, and no word for the part. */
export function isChance(
  { subject }: ListingClaims,
  numbers: readonly NamedNumber[],
  { named, partTypes }: Chosen,
): boolean {
  const known = numbers.filter(({ standing }) => isOfDevice(standing));
  if (named.length === 0 || [...named, ...known].some(({ claim }) => !isCommon(claim.number) || claim.cued))
    return false;
  return partTypes.length > 0 && !partTypes.some((type) => subject.types.includes(type));
}

/** Numbers so short that anything may bear them. */
const SHORT_NUMBER = 4;

/** Numbers that anything may bear: short ones, postcodes, calendar days. */
function isCommon(number: string): boolean {
  if (number.length <= SHORT_NUMBER) return true;
  return /^\d+$/.test(number) && (number.length <= SHORT_NUMBER + 1 || readsAsDay(number));
}

/**
 * The words may be mistaken about the part, but its own number, which says enough and is offered plainly, is not: where
 * the device is named too, "fan motor" beside a fan's number contradicts nothing.
 */
export function trustsNumber({ mistaken, ...chosen }: Chosen): Chosen {
  const plain = chosen.named.some(({ claim }) => claim.stance === "plain" && !isCommon(claim.number));
  return { ...chosen, mistaken: mistaken && !plain };
}

/** Something besides the number ties the listing to the device: its model or its board. */
export function isTied(said: ListingClaims, models: Models, device: PreparedDevice): boolean {
  if (models.mine.length + models.sibling.length + models.mineAgainst.length > 0 || said.maker) return true;
  return said.claims.some(
    (claim) => claim.kind === "number" && claim.named?.board === true && isBoardOf(claim, device),
  );
}

/** Reads a listing; where no word says what is sold, a quantity that only one of the device's part types has tells it. */
export function readFor(listing: Listing, device: PreparedDevice): ListingClaims {
  const isWanted = (type: string): boolean => device.types.has(type) || standIns(type, device).length > 0;
  const said = readListing(listing, device.reading, device.known, isWanted);
  if (said.subject.sold !== "unsaid") return said;
  const stated = said.claims.filter((claim) => claim.kind === "quantity");
  const named = stated.filter(({ quantity }) => quantity.dimension.startsWith(NAMED_DIMENSION));
  const types = [...new Set((named.length > 0 ? named : stated).flatMap((claim) => typesStating(claim, device)))];
  return types.length !== 1 ? said : { ...said, subject: { ...said.subject, sold: "part", types } };
}

/** The one part type that a quantity belongs to: "DDR4" is memory's, ampere-hours are a battery's. */
function typesStating({ quantity, stance }: QuantityClaim, device: PreparedDevice): string[] {
  if (stance !== "plain" || /_mm$/.test(quantity.name)) return [];
  if (quantity.dimension.startsWith(NAMED_DIMENSION)) {
    const type = quantity.dimension.slice(NAMED_DIMENSION.length);
    // A catalog's own word may be said of anything: "USB-C".
    return device.partTypes.get(type)?.named?.some(({ name }) => name === quantity.name) ? [type] : [];
  }
  const types = [...device.types].filter((type) => {
    const name = quantityName(quantity, device.partTypes.get(type));
    return device.stated.get(type)?.has(name === "cells" ? "seriesCells" : name) === true;
  });
  return types.length === 1 ? types : [];
}
