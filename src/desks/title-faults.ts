/**
 * What is wrong with a title, the most harmful first: by what a mistaken buyer's device would suffer, then by how
 * surely the fault leads to the mistake.
 */
import type { CatalogIndex } from "../catalog/index.ts";
import { type Claim, type NumberClaim, readListing } from "../claims/index.ts";
import type { Listing } from "../formats/listing.ts";
import { type Effect, effectWords, type SentenceValue, type Span } from "../formats/verdict.ts";
import { intersects, yearInterval } from "../text/dates.ts";
import { canonicalNumber, oneCharacterApart } from "../text/part-number.ts";
import { looksLikePartNumber } from "../text/tokens.ts";
import type { PreparedDevice } from "../verdict/index.ts";
import type { Buyer } from "./buyers.ts";
import type { BuyerReading } from "./title-check.ts";

/** Faults by how surely they lead to a mistake, the surest first; each has the messages `title_fault_…` and `title_fix_…`. */
export const faultCodes = [
  "other-number",
  "fits-all",
  "several-parts",
  "mixed-years",
  "quantity-contradicts",
  "near-number",
  "hurried-negation",
  "model-only",
  "number-missing",
  "unknown-number",
  "hidden-characters",
  "hedged",
  "number-not-in-title",
  "revision-not-said",
] as const;
/** One of {@link faultCodes}. */
export type FaultCode = (typeof faultCodes)[number];

/** One fault. */
export interface TitleFault {
  readonly code: FaultCode;
  readonly values: Readonly<Record<string, SentenceValue>>;
  readonly spans: readonly Span[];
  /** Buyers whom it may lead astray, as `family/revision`. */
  readonly buyers: readonly string[];
  /** The worst that comes of it; null where nothing worse than a question. */
  readonly effect: Effect | null;
}

/** What the faults are found in. */
export interface FaultSetup {
  readonly listing: Listing;
  readonly part: string | null;
  readonly buyers: readonly Buyer[];
  readonly readings: readonly BuyerReading[];
  readonly index: CatalogIndex;
  /** One of the buyers, prepared: the text is read as they read it. */
  readonly prepared: PreparedDevice;
}

/** Finds all of them. */
export function findFaults(setup: FaultSetup): TitleFault[] {
  const finder = new FaultFinder(setup);
  return finder.all().sort((a, b) => rank(a) - rank(b));
}

function rank({ effect, code }: TitleFault): number {
  const byEffect = effect === null ? effectWords.length : effectWords.indexOf(effect);
  return byEffect * faultCodes.length + faultCodes.indexOf(code);
}

class FaultFinder {
  readonly #setup: FaultSetup;
  readonly #claims: readonly Claim[];
  readonly #numbers: readonly NumberClaim[];
  /** Claims that say what the thing is or is for. */
  readonly #meant: readonly NumberClaim[];

  constructor(setup: FaultSetup) {
    this.#setup = setup;
    const { reading, known, types } = setup.prepared;
    const { claims } = readListing(setup.listing, reading, known, (type) => types.has(type));
    this.#claims = claims;
    this.#numbers = claims.filter((claim) => claim.kind === "number");
    this.#meant = this.#numbers.filter(({ stance, stock }) => !stock && /^(?:plain|for|replaces)$/.test(stance));
  }

  all(): TitleFault[] {
    return [
      this.#otherNumber(),
      this.#fitsAll(),
      this.#severalParts(),
      this.#mixedYears(),
      this.#quantityContradicts(),
      ...this.#nearNumbers(),
      this.#hurriedNegation(),
      this.#noNumber(),
      this.#unknownNumber(),
      this.#hiddenCharacters(),
      this.#hedged(),
      this.#numberNotInTitle(),
      this.#revisionNotSaid(),
    ].filter((fault) => fault !== null);
  }

  #fault(
    code: FaultCode,
    claims: readonly Claim[],
    values: TitleFault["values"],
    touches: (reading: BuyerReading, buyer: Buyer) => boolean,
  ): TitleFault {
    const touched = this.#setup.readings.filter((reading, i) => {
      const buyer = this.#setup.buyers[i];
      return buyer !== undefined && touches(reading, buyer);
    });
    const effects = touched.flatMap(({ effect }) => (effect === null ? [] : [effect]));
    return {
      code,
      values,
      spans: claims.map(({ span }) => span),
      buyers: touched.map(({ family, revision }) => `${family}/${revision}`),
      effect: effectWords.find((effect) => effects.includes(effect)) ?? null,
    };
  }

  /** Buyers who are not told the truth. */
  readonly #astray = ({ outcome }: BuyerReading): boolean => outcome !== "told-yes" && outcome !== "told-no";
  readonly #wrong = ({ right }: BuyerReading): boolean => right === false;

  #partsOf(number: string): string[] {
    const { candidates } = this.#setup.index.resolveNumber(number);
    return candidates.flatMap(({ serves }) => serves.map(({ part }) => part.id));
  }

  /** A number that belongs to another part than the one that is sold. */
  #otherNumber(): TitleFault | null {
    const { part, index } = this.#setup;
    if (part === null) return null;
    const other = this.#meant.filter((claim) => {
      if (!claim.named?.part || claim.named.model || claim.named.board) return false;
      const parts = this.#partsOf(claim.number);
      return parts.length > 0 && !parts.includes(part);
    });
    if (other.length === 0) return null;
    const parts = new Set(other.flatMap(({ number }) => this.#partsOf(number)));
    const places = new Set([...parts].flatMap((id) => index.revisionsOf(id).map(({ revision }) => revision)));
    return this.#fault("other-number", other, { numbers: written(other) }, (_reading, { revision }) =>
      places.has(revision),
    );
  }

  #fitsAll(): TitleFault | null {
    const all = this.#claims.filter(({ kind, stance }) => kind === "all" && stance !== "against");
    const wrong = this.#setup.readings.some(this.#wrong);
    return all.length > 0 && wrong ? this.#fault("fits-all", all, {}, this.#wrong) : null;
  }

  /** Without a part chosen: numbers of parts that cannot stand for each other. */
  #severalParts(): TitleFault | null {
    if (this.#setup.part !== null) return null;
    const named = this.#meant.filter(({ named: as }) => as?.part === true);
    const first = named[0] && new Set(this.#partsOf(named[0].number));
    const several =
      first !== undefined && named.some(({ number }) => !this.#partsOf(number).some((id) => first.has(id)));
    return several ? this.#fault("several-parts", named, { numbers: written(named) }, this.#astray) : null;
  }

  /** Dates that are those of right and of wrong revisions. */
  #mixedYears(): TitleFault | null {
    const dates = this.#claims.filter((claim) => claim.kind === "date" && claim.stance !== "against");
    if (dates.length === 0) return null;
    const covered = (buyer: Buyer): boolean =>
      buyer.revision.years.some((year) =>
        dates.some((claim) => claim.kind === "date" && intersects(claim.interval, yearInterval(year))),
      );
    const { buyers, readings } = this.#setup;
    const right = buyers.some((buyer, i) => readings[i]?.right !== false && covered(buyer));
    const others = buyers.filter((buyer, i) => readings[i]?.right !== true && covered(buyer));
    if (!right || others.length < (this.#setup.part === null ? 2 : 1)) return null;
    return this.#fault("mixed-years", dates, {}, (reading, buyer) => reading.right !== true && covered(buyer));
  }

  /** A quantity that the catalog states otherwise for the part that is sold. */
  #quantityContradicts(): TitleFault | null {
    const conflict = this.#setup.readings.find(
      ({ right, verdict }) => right === true && verdict.verdict === "conflicting" && verdict.reasons.some(isOfQuantity),
    );
    const reason = conflict?.verdict.reasons.find(isOfQuantity);
    if (reason === undefined) return null;
    const fault = this.#fault("quantity-contradicts", [], {}, this.#astray);
    return { ...fault, spans: reason.spans };
  }

  #nearNumbers(): TitleFault[] {
    const unknown = this.#meant.filter(({ named }) => named === null);
    return unknown.flatMap((claim) => {
      const near = knownNear(claim.number, this.#setup);
      if (near === null) return [];
      return [this.#fault("near-number", [claim], { number: claim.written, near }, this.#astray)];
    });
  }

  /** "Not for PW-4410-5": whoever only skims the title sees their own number. */
  #hurriedNegation(): TitleFault | null {
    const against = this.#numbers.filter(
      ({ stance, field, named }) => stance === "against" && field === "title" && named !== null,
    );
    const beforeMeant = against.filter(({ span }) =>
      this.#meant.some((claim) => claim.field === "title" && claim.span[0] > span[0]),
    );
    const isPart = against.filter(({ named }) => named?.part === true);
    const risky = [...new Set([...beforeMeant, ...isPart])];
    if (risky.length === 0) return null;
    return this.#fault("hurried-negation", risky, { numbers: written(risky) }, this.#wrong);
  }

  #noNumber(): TitleFault | null {
    const { part, index } = this.#setup;
    if (
      this.#meant.some(({ number }) =>
        part === null ? this.#partsOf(number).length > 0 : this.#partsOf(number).includes(part),
      )
    ) {
      return null;
    }
    const number = part === null ? undefined : index.part(part)?.numbers[0];
    if (number !== undefined) return this.#fault("number-missing", [], { number }, this.#astray);
    const models = this.#meant.filter(({ named }) => named?.model === true);
    const unknown = this.#meant.some(isUnknown);
    return models.length > 0 && !unknown
      ? this.#fault("model-only", models, { models: written(models) }, this.#astray)
      : null;
  }

  #unknownNumber(): TitleFault | null {
    const unknown = this.#meant.filter((claim) => isUnknown(claim) && knownNear(claim.number, this.#setup) === null);
    const helped = this.#meant.some(({ named }) => named?.part === true);
    return unknown.length > 0 && !helped
      ? this.#fault("unknown-number", unknown, { numbers: written(unknown) }, this.#astray)
      : null;
  }

  #hiddenCharacters(): TitleFault | null {
    const doubtful = this.#numbers.filter((claim) => claim.doubtful);
    return doubtful.length === 0
      ? null
      : this.#fault("hidden-characters", doubtful, { numbers: written(doubtful) }, this.#astray);
  }

  #hedged(): TitleFault | null {
    const hedged = this.#claims.filter((claim) => claim.hedged);
    return hedged.length === 0 ? null : this.#fault("hedged", hedged, {}, this.#astray);
  }

  /** The number stands in a field or the description only: a list of results shows titles. */
  #numberNotInTitle(): TitleFault | null {
    const named = this.#meant.filter(({ named: as }) => as?.part === true);
    if (named.length === 0 || named.some(({ field }) => field === "title")) return null;
    return this.#fault("number-not-in-title", named, { numbers: written(named) }, () => true);
  }

  /** The right number, but nothing by which a buyer who knows only the board or the year could tell. */
  #revisionNotSaid(): TitleFault | null {
    const { readings, part } = this.#setup;
    if (part === null || !readings.some(this.#wrong)) return null;
    const said = this.#claims.some(
      (claim) =>
        claim.kind === "revision" || claim.kind === "date" || (claim.kind === "number" && claim.named?.board === true),
    );
    return said ? null : this.#fault("revision-not-said", [], {}, () => false);
  }
}

/** A number of the families in question, or of the part, that is one character away; as printed. */
function knownNear(canonical: string, { part, buyers, index }: FaultSetup): string | null {
  const parts = new Set([...(part === null ? [] : [part]), ...buyers.flatMap(({ revision }) => revision.parts)]);
  for (const id of parts) {
    for (const number of index.part(id)?.numbers ?? []) {
      if (oneCharacterApart(canonicalNumber(number), canonical)) return number;
    }
  }
  return null;
}

function isOfQuantity({ code }: { readonly code: string }): boolean {
  return code.includes("quantit");
}

function isUnknown({ named, certain, number }: NumberClaim): boolean {
  return named === null && (certain || looksLikePartNumber(number));
}

function written(claims: readonly NumberClaim[]): string[] {
  return [...new Set(claims.map((claim) => claim.written))];
}
