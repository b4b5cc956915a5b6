/** How one part number stands to the device: does it fit, belong to another revision, or does nobody know it. */
import type { Candidate, KnownPart, Resolution } from "../catalog/index.ts";
import type { Part } from "../formats/catalog.ts";
import type { Reason } from "../formats/verdict.ts";
import { canonicalNumber } from "../text/part-number.ts";
import type { PreparedDevice } from "./prepare.ts";

/**
 * `fits` every possible revision · `some` of them · `earlier` than the right one, which took its place · `other` revision of
 * the family · `disputed` by a catalog · `refused` by hand · `foreign`: another family's · `unknown`
 */
export type StandingWord = "fits" | "some" | "earlier" | "other" | "disputed" | "refused" | "foreign" | "unknown";

/** What a number amounts to for a device. */
export interface Standing {
  readonly number: string;
  readonly word: StandingWord;
  /** The parts that it is or serves for, nearest first. */
  readonly parts: readonly KnownPart[];
  /** Types of these parts, or of the fitted part that bears the number. */
  readonly types: readonly string[];
  /** Ids of the family's revisions that it fits (every candidate does). */
  readonly fits: ReadonlySet<string>;
  /** Ids of the family's revisions that it touches (some candidate fits). */
  readonly touches: ReadonlySet<string>;
  /** Why, as a reason without spans. */
  readonly reason: Reason;
  /** What is known of the thing that bears the number: the catalogs' readings, or what was read off the fitted part. */
  readonly readings: readonly (readonly Part[])[];
  /** What the catalogs disagree about. */
  readonly disagreements: readonly Reason[];
}

const NOWHERE: ReadonlySet<string> = new Set();

/** The standing of a canonical number; remembered with the device. */
export function standingOf(number: string, device: PreparedDevice): Standing {
  const known = device.standings.get(number);
  if (known !== undefined) return known;
  const standing = workOut(number, device);
  if (device.standings.size >= MAX_REMEMBERED) device.standings.clear();
  device.standings.set(number, standing);
  return standing;
}

const MAX_REMEMBERED = 5_000;

function workOut(number: string, device: PreparedDevice): Standing {
  const resolution = device.index.resolveNumber(number);
  const found = inFamily(resolution, device);
  const settled = settledByHand(number, resolution, device);
  if (settled !== null) return { ...found, ...settled, number };
  const later = laterFitted(number, device);
  if (later !== undefined)
    return {
      ...found,
      number,
      word: "earlier",
      reason: say("number-earlier", { number, later: printed(later, device) }),
    };
  if (found.touches.size === 0) return outsideFamily(number, resolution, found, device);
  const word = wordOf(found, device);
  return { ...found, number, word, reason: reasonFor(word, number, resolution, found, device) };
}

type Found = Omit<Standing, "word" | "reason" | "number">;

/** Where in the family the candidates fit. */
function inFamily({ number, candidates, disagreements }: Resolution, device: PreparedDevice): Found {
  const fits = new Set<string>();
  const touches = new Set<string>();
  for (const { revision } of device.revisions) {
    const parts = new Set(revision.parts);
    const good = candidates.filter(({ serves }) => serves.some(({ part }) => parts.has(part.id)));
    if (good.length > 0) touches.add(revision.id);
    if (good.length > 0 && good.length === candidates.length) fits.add(revision.id);
  }
  const parts = [...new Set(candidates.flatMap(({ serves }) => serves.map(({ part }) => part)))];
  const disputed = parts.some(({ id }) =>
    device.revisions.some(({ revision }) => device.possible.has(revision.id) && revision.disputed.includes(id)),
  );
  const readings = parts.map((part) => part.readings.map((reading) => reading.part));
  return {
    parts,
    types: [...new Set(parts.map(({ type }) => type))],
    readings,
    fits,
    touches,
    disagreements: disputed ? [...disagreements, say("number-disputed", { number })] : disagreements,
  };
}

/** What the person has settled, and what is on the device itself. */
function settledByHand(
  number: string,
  resolution: Resolution,
  device: PreparedDevice,
): (Partial<Standing> & Pick<Standing, "word" | "reason" | "types" | "fits" | "touches">) | null {
  const all = new Set(device.revisions.map(({ revision }) => revision.id));
  const types = [...new Set(resolution.candidates.flatMap(({ serves }) => serves.map(({ part }) => part.type)))];
  if (device.refused.has(number)) {
    return { word: "refused", reason: say("number-refused", { number }), types, fits: NOWHERE, touches: NOWHERE };
  }
  if (device.accepted.has(number)) {
    return { word: "fits", reason: say("number-accepted", { number }), types, fits: all, touches: all };
  }
  const fitted = fittedLike(number, device);
  if (fitted === null) return null;
  return {
    word: "fits",
    reason: say(fitted.number === number ? "number-fitted" : "number-serves-fitted", {
      number,
      fitted: printed(fitted.number, device),
    }),
    types: [fitted.type],
    fits: all,
    touches: all,
    ...(fitted.readings.length === 0 ? {} : { readings: fitted.readings }),
  };
}

interface FittedNumber {
  readonly number: string;
  readonly type: string;
  readonly readings: readonly (readonly Part[])[];
}

/** The quantities read off a fitted part, as a catalog would state them. */
function fittedReadings(number: string, type: string, { device }: PreparedDevice): readonly (readonly Part[])[] {
  const part = device.fitted.find(
    (each) => each.type === type && each.numbers.some((n) => canonicalNumber(n) === number),
  );
  return part?.quantities === undefined ? [] : [[{ id: number, type, numbers: [number], quantities: part.quantities }]];
}

/** A fitted part whose number no catalog gives to this family, and that the number equals or serves for. */
function fittedLike(number: string, device: PreparedDevice): FittedNumber | null {
  for (const [fitted, type] of device.fitted) {
    if (fitted !== number && !device.index.serves(number, fitted)) continue;
    const listed = inFamily(device.index.resolveNumber(fitted), device).touches.size > 0;
    if (!listed) return { number: fitted, type, readings: fittedReadings(fitted, type, device) };
  }
  return null;
}

/** A fitted number that serves where this one did, but not the other way round. */
function laterFitted(number: string, device: PreparedDevice): string | undefined {
  if (device.fitted.size === 0 || device.fitted.has(number)) return undefined;
  const later = new Set(device.index.laterThan(number));
  return [...device.fitted.keys()].find(
    (fitted) => later.has(fitted) || (device.index.serves(fitted, number) && !device.index.serves(number, fitted)),
  );
}

function wordOf({ fits, touches }: Found, { possible }: PreparedDevice): StandingWord {
  const every = [...possible];
  if (every.length > 0 && every.every((id) => fits.has(id))) return "fits";
  return every.some((id) => touches.has(id)) ? "some" : "other";
}

/** Known, but in no undisputed place of this family. */
function outsideFamily(number: string, resolution: Resolution, found: Found, device: PreparedDevice): Standing {
  const places = resolution.candidates.flatMap(({ serves }) =>
    serves.flatMap(({ part }) => device.index.revisionsOf(part.id)),
  );
  const disputed = found.parts.some((part) =>
    device.index.disputedPlacesOf(part.id).some(({ family }) => family === device.family),
  );
  if (disputed)
    return { ...found, number, word: "disputed", reason: say("number-disputed", { number }), disagreements: [] };
  const later = laterRight(number, device);
  if (later !== undefined)
    return {
      ...found,
      number,
      word: "earlier",
      reason: say("number-earlier", { number, later: printed(later, device) }),
    };
  const elsewhere = laterPlaces(number, device);
  if (elsewhere.size > 0) {
    const reason = say("number-other-revision", { number, revisions: namesOf(elsewhere, device) });
    return { ...found, number, touches: elsewhere, word: "other", reason };
  }
  const family = places[0]?.family;
  if (family !== undefined) {
    const reason = say("number-foreign", { number, family: family.name ?? family.id });
    return { ...found, number, word: "foreign", reason };
  }
  const code = resolution.known ? "number-without-device" : "number-unknown";
  return { ...found, number, word: "unknown", reason: say(code, { number }) };
}

/** A later number that is right for a possible revision, where this one is nowhere listed. */
function laterRight(number: string, device: PreparedDevice): string | undefined {
  return device.index.laterThan(number).find((later) => {
    const { touches } = inFamily(device.index.resolveNumber(later), device);
    return [...device.possible].some((id) => touches.has(id));
  });
}

/** Revisions in which what took the place of the number is right, where the number itself is nowhere listed. */
function laterPlaces(number: string, device: PreparedDevice): ReadonlySet<string> {
  const touched = device.index
    .laterThan(number)
    .flatMap((later) => [...inFamily(device.index.resolveNumber(later), device).touches]);
  return new Set(touched);
}

function reasonFor(
  word: StandingWord,
  number: string,
  resolution: Resolution,
  found: Found,
  device: PreparedDevice,
): Reason {
  const revisions = namesOf(word === "fits" ? device.possible : found.touches, device);
  if (word === "some" && [...device.possible].every((id) => found.touches.has(id)))
    return say("number-unlike-parts", { number, parts: unlikeParts(resolution) });
  if (word === "some")
    return say("number-fits-some", { number, revisions, possible: namesOf(device.possible, device) });
  if (word === "other") return say("number-other-revision", { number, revisions });
  const served = servedHere(resolution.candidates, device);
  if (served === null || served.via === "number") return say("number-fits", { number, revisions });
  const as = printed(served.path.at(-1) ?? number, device);
  return say(served.via === "interchange" ? "number-interchanges" : "number-supersedes", { number, as, revisions });
}

/** The parts that a number may stand for, by what they are called. */
function unlikeParts({ candidates }: Resolution): string[] {
  return [...new Set(candidates.flatMap(({ serves }) => serves.slice(0, 1).map(({ part }) => part.name ?? part.id)))];
}

function servedHere(candidates: readonly Candidate[], device: PreparedDevice) {
  const parts = new Set(
    device.revisions
      .filter(({ revision }) => device.possible.has(revision.id))
      .flatMap(({ revision }) => revision.parts),
  );
  return candidates[0]?.serves.find(({ part }) => parts.has(part.id)) ?? null;
}

/** What revisions are called, in the order of the catalog. */
export function namesOf(ids: ReadonlySet<string>, device: PreparedDevice): string[] {
  return device.revisions.flatMap(({ revision }) => (ids.has(revision.id) ? [revision.name ?? revision.id] : []));
}

/** A canonical number as the catalogs or the device print it. */
export function printed(number: string, { index, device }: PreparedDevice): string {
  const own = [...device.fitted.flatMap(({ numbers }) => numbers), ...device.accept.map((each) => each.number)];
  const parts = index.resolveNumber(number).candidates.flatMap(({ own: part }) => part?.numbers ?? []);
  return [...own, ...parts].find((each) => canonicalNumber(each) === number) ?? number;
}

/** A reason; without spans where it rests on no text. */
export function say(code: string, values: Reason["values"] = {}, spans: Reason["spans"] = []): Reason {
  return { code, values, spans };
}
