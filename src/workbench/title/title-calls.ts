/** What the worker does for the title desk. Types only. */
import type { TableShape } from "../../desks/columns.ts";
import type { Composition } from "../../desks/compose.ts";
import type { Outcome } from "../../desks/title-check.ts";
import type { FaultCode } from "../../desks/title-faults.ts";
import type { Listing } from "../../formats/listing.ts";
import type { Effect, Tier } from "../../formats/verdict.ts";
import type { SaidHazard } from "../../ui/explanation.ts";
import type { Piece } from "../../ui/highlight.ts";
import type { Reading } from "../order/order-calls.ts";
import type { Job } from "../work/job.ts";

/** A part of the catalogs as a person chooses it. */
export interface PartChoice {
  readonly id: string;
  readonly type: string;
  /** Its numbers, the one on the part itself first; a few of them. */
  readonly numbers: readonly string[];
  /** Where it is listed, such as `Lark 20 handheld, late board`; a few places. */
  readonly places: readonly string[];
}

/** How a buyer of one revision reads the text, in words. */
export interface SaidReading {
  /** `family/revision`. */
  readonly id: string;
  readonly family: string;
  readonly revision: string;
  readonly boards: readonly string[];
  /** Whether the part fits this revision; null where it is not known which part is sold. */
  readonly right: boolean | null;
  readonly outcome: Outcome;
  readonly tier: Tier;
  /** The short word that the buyer would see. */
  readonly word: string;
  readonly reasons: readonly string[];
  /** What the part would do in this revision, worst first. */
  readonly hazards: readonly SaidHazard[];
}

/** One fault in words. */
export interface SaidFault {
  readonly code: FaultCode;
  readonly sentence: string;
  readonly fix: string;
  /** Names of the revisions whose buyers it may lead astray. */
  readonly buyers: readonly string[];
  readonly effect: Effect | null;
}

/** How a text reads, in words. */
export interface SaidTitle {
  /** The part that is sold, where it is chosen or told by the text. */
  readonly part: PartChoice | null;
  /** Parts whose numbers stand in the text. */
  readonly named: readonly PartChoice[];
  readonly pieces: readonly Piece[];
  /** Those to whom a mistake would do most harm first. */
  readonly buyers: readonly SaidReading[];
  readonly summary: Readonly<Record<Outcome, number>>;
  readonly faults: readonly SaidFault[];
  /** How many device families the catalogs hold. */
  readonly families: number;
  /** Titles of catalogs that could not be read and were left out. */
  readonly unreadable: readonly string[];
}

/** One listing of a list, as far as a list shows it. */
export interface ListedTitle {
  readonly row: number;
  readonly listing: Listing;
  readonly summary: Readonly<Record<Outcome, number>>;
  /** Whether the text says which part is sold. */
  readonly known: boolean;
  readonly faults: number;
  /** The most harmful fault in words; empty without one. */
  readonly worst: string;
}

/** A whole list. */
export interface ListedTitles {
  readonly titles: readonly ListedTitle[];
  /** Listings beyond what is read of one list. */
  readonly beyond: number;
}

/** What the worker does for the title desk. */
export type TitleServices = {
  /** Reads a text as every buyer would. */
  titleCheck: (
    input: { readonly listing: Listing; readonly part: string | null; readonly language: string },
    job: Job,
  ) => Promise<SaidTitle>;
  /** Titles for a part; `language` is the one they are written in. */
  titleCompose: (
    input: { readonly part: string; readonly limit: number; readonly language: string },
    job: Job,
  ) => Promise<Composition>;
  /** Parts whose number, name or device has the text in it. */
  titleParts: (input: { readonly query: string }, job: Job) => Promise<readonly PartChoice[]>;
  /** Reads every listing of a list; the job tells how far it is. */
  titleList: (
    input: {
      readonly content: Blob;
      readonly reading: Reading;
      readonly shape: TableShape;
      readonly language: string;
    },
    job: Job,
  ) => Promise<ListedTitles>;
};
