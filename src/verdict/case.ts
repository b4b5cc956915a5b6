/** What a verdict rests on: the listing's claims held against one device. */
import type { NumberClaim } from "../claims/claims.ts";
import type { ListingClaims } from "../claims/index.ts";
import type { Reason, VerdictWord } from "../formats/verdict.ts";
import type { Chosen } from "./chosen-type.ts";
import { type Pointer, pointersOf } from "./evidence.ts";
import type { Models, NamedNumber } from "./names.ts";
import type { PreparedDevice } from "./prepare.ts";
import { type Standing, say } from "./standing.ts";

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

/** A verdict with what it rests on. */
export interface Outcome {
  readonly verdict: VerdictWord;
  readonly reasons: readonly Reason[];
  /** The standings whose parts and revisions the verdict is about. */
  readonly about: readonly Standing[];
  /** Ids of revisions where no number is named. */
  readonly revisions?: ReadonlySet<string>;
}

/** The verdict on what has nothing to do with the device. */
export function unrelated(code: string, spans: Reason["spans"] = []): Outcome {
  return { verdict: "unrelated", reasons: [say(code, {}, spans)], about: [] };
}

/** Gathers everything that the verdict rests on. */
export function makeCase(
  said: ListingClaims,
  device: PreparedDevice,
  partType: string | null,
  { named, mistaken }: Chosen,
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
