/**
 * The seller's desk: how would a buyer of each revision read this text?
 *
 *   text ─► families it touches ─► one imagined buyer a revision ─► the same matcher that buyers use ─► readings
 *                                                             └──► faults, the most harmful first
 *
 * Nothing here decides on its own: a buyer is told what the matcher would tell them.
 */
import type { CatalogIndex, KnownFamily } from "../catalog/index.ts";
import type { Device } from "../formats/bench.ts";
import type { Listing } from "../formats/listing.ts";
import type { RawRules } from "../formats/rules.ts";
import type { Effect, Verdict } from "../formats/verdict.ts";
import type { Words } from "../text/words.ts";
import { judge, type PreparedDevice, prepareDevice } from "../verdict/index.ts";
import { type Buyer, buyersOf, revisionsServedBy } from "./buyers.ts";
import { type Composition, composeTitles } from "./compose.ts";
import { findFaults, type TitleFault } from "./title-faults.ts";
import { makeToucher } from "./touched.ts";

/** What becomes of a buyer: told rightly, left guessing, or led to a mistake. */
const outcomes = ["told-yes", "told-no", "left-guessing", "turned-away", "misled"] as const;
/** One of {@link outcomes}. */
export type Outcome = (typeof outcomes)[number];

/** How a buyer of one revision reads the text. */
export interface BuyerReading {
  readonly family: string;
  readonly revision: string;
  /** Whether the part that is sold fits this revision; null where it is not known which part that is. */
  readonly right: boolean | null;
  readonly outcome: Outcome;
  readonly verdict: Verdict;
  /** What the part would do in this revision; null where it fits, or nothing is known. */
  readonly effect: Effect | null;
}

/** How a text reads. */
export interface TitleReading {
  /** Id of the part that is sold: the one asked about, or the only one that the text names; null otherwise. */
  readonly part: string | null;
  /** Parts whose numbers stand in the text. */
  readonly named: readonly string[];
  readonly buyers: readonly BuyerReading[];
  readonly summary: Readonly<Record<Outcome, number>>;
  /** The most harmful first. */
  readonly faults: readonly TitleFault[];
}

/** Judges a text for a device, remembering what it has prepared. */
export type BuyerJudge = (listing: Listing, device: Device) => Verdict;

/** The desk for one set of catalogs and one language. */
export interface TitleDesk {
  /**
   * @param listing title, description and specifics, as a buyer would see them
   * @param partId the part that is sold, where the seller says it
   */
  check(listing: Listing, partId?: string): TitleReading;
  /**
   * @param partId the part that is sold
   * @param limit longest title, in characters
   */
  compose(partId: string, limit?: number): Composition;
}

/** How many prepared buyers are kept. */
const PREPARED_KEPT = 2_000;

/** Opens the desk. */
export function openTitleDesk(index: CatalogIndex, rules: RawRules, words: Words): TitleDesk {
  const toucher = makeToucher(index);
  const preparedFor = rememberingPreparer(index, rules);
  const judgeFor: BuyerJudge = (listing, device) => judge(listing, preparedFor(device));
  return {
    check(listing, partId) {
      const touched = toucher.touched(listing);
      const part = partId ?? (touched.parts.length === 1 ? (touched.parts[0] ?? null) : null);
      const families = withFamiliesOf(part, touched.families, index);
      const fits = part === null ? null : revisionsServedBy(part, index);
      const buyers = families.flatMap(buyersOf);
      const [first] = buyers;
      const effectOf = effectsOf(part, index, judgeFor);
      const readings = buyers.map((buyer): BuyerReading => {
        const verdict = judgeFor(listing, buyer.device);
        const right = fits === null ? null : fits.has(buyer.revision);
        return {
          family: buyer.family.id,
          revision: buyer.revision.id,
          right,
          outcome: outcomeOf(verdict, right),
          verdict,
          effect: right === false ? effectOf(buyer) : null,
        };
      });
      return {
        part,
        named: touched.parts,
        buyers: readings,
        summary: countOutcomes(readings),
        faults:
          first === undefined
            ? []
            : findFaults({ listing, part, buyers, readings, index, prepared: preparedFor(first.device) }),
      };
    },
    compose: (partId, limit) =>
      composeTitles(partId, { index, rules, words, judgeFor, ...(limit === undefined ? {} : { limit }) }),
  };
}

/** The families that the part is for belong to the picture, whatever the text says. */
function withFamiliesOf(
  part: string | null,
  touched: readonly KnownFamily[],
  index: CatalogIndex,
): readonly KnownFamily[] {
  if (part === null) return touched;
  return [...new Set([...index.revisionsOf(part).map(({ family }) => family), ...touched])];
}

function outcomeOf({ tier }: Verdict, right: boolean | null): Outcome {
  if (tier === "check") return "left-guessing";
  if (tier === "go") return right === false ? "misled" : "told-yes";
  return right === true ? "turned-away" : "told-no";
}

function countOutcomes(readings: readonly BuyerReading[]): Record<Outcome, number> {
  const counts: Record<Outcome, number> = {
    "told-yes": 0,
    "told-no": 0,
    "left-guessing": 0,
    "turned-away": 0,
    misled: 0,
  };
  for (const { outcome } of readings) counts[outcome]++;
  return counts;
}

/** What a part would do to a buyer of another revision: read off the verdict for its bare number. */
function effectsOf(part: string | null, index: CatalogIndex, judgeFor: BuyerJudge): (buyer: Buyer) => Effect | null {
  const number = part === null ? undefined : index.part(part)?.numbers[0];
  if (number === undefined) return () => null;
  return ({ device }) => judgeFor({ title: number }, device).hazards[0]?.effect ?? null;
}

function rememberingPreparer(index: CatalogIndex, rules: RawRules): (device: Device) => PreparedDevice {
  const prepared = new Map<string, PreparedDevice>();
  return (device) => {
    const key = [device.id, device.revision, device.boardNumber, JSON.stringify(device.buildDate)].join("\n");
    let found = prepared.get(key);
    if (found === undefined) {
      if (prepared.size >= PREPARED_KEPT) prepared.clear();
      found = prepareDevice(device, index, rules);
      prepared.set(key, found);
    }
    return found;
  };
}
