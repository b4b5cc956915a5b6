/** What the worker does for the order desk. Types only. */
import type { TableShape } from "../../desks/columns.ts";
import type { Standing } from "../../desks/order-check.ts";
import type { SheetSection } from "../../desks/order-sheet.ts";
import type { Contested, Missing, Served, Sum } from "../../desks/order-tally.ts";
import type { Device } from "../../formats/bench.ts";
import type { ListSlot, ListSource } from "../../store/lists.ts";
import type { Explanation } from "../../ui/explanation.ts";
import type { Job } from "../work/job.ts";
import type { KeptLine, ListHead, RowFault } from "./kept.ts";

/** How a list's bytes become rows; empty texts are told from the list. */
export interface Reading {
  readonly encoding: string;
  readonly delimiter: string;
}

/** The beginning of a list, read. */
export interface Look extends Reading {
  readonly shape: TableShape;
  /** Cells of the heading row; empty without one. */
  readonly heading: readonly string[];
  /** The first rows from the top, the heading among them. */
  readonly rows: readonly (readonly string[])[];
  readonly bytes: number;
}

/** Lines by what they amount to. */
export type Counts = Readonly<Record<Standing, number>>;

/** How a list stands. */
export interface ListState {
  readonly name: string;
  /** `elsewhere`: another window is at it. */
  readonly phase: ListHead["phase"] | "elsewhere";
  /** The bench or a catalog has changed since it was judged. */
  readonly stale: boolean;
  /** 0 to 1. */
  readonly done: number;
  readonly counts: Counts;
  readonly lines: number;
  readonly shape: TableShape;
  readonly reading: Reading;
  readonly faults: readonly RowFault[];
  readonly faultsBeyond: number;
  readonly cautions: readonly string[];
  /** Titles of catalogs that could not be read and were left out. */
  readonly unreadable: readonly string[];
  /** Why it failed; empty when it did not. `storage`: no room is left; `source`: the list is gone. */
  readonly failure: "" | "storage" | "source" | "broken";
}

/** The list as a whole; each kind is cut off at {@link MOST_SHOWN}, `…Beyond` counts the rest. */
export interface ListSummary {
  readonly sums: readonly Sum[];
  readonly duplicates: readonly Served[];
  readonly duplicatesBeyond: number;
  readonly contested: readonly Contested[];
  readonly contestedBeyond: number;
  readonly missing: readonly Missing[];
  readonly missingBeyond: number;
}

/** Most entries of one kind that a summary shows. */
export const MOST_SHOWN = 500;

/** A kept line with what the list as a whole and the catalogs add to it. */
export interface ShownLine extends KeptLine {
  /** Rows of the list, and of the stock, that hold a right number. */
  readonly elsewhere: readonly number[];
  readonly inStock: readonly number[];
  /** The revisions in words, such as `Lark 20 handheld, late board`. */
  readonly places: readonly string[];
}

/** In which order lines are shown. */
export type LineOrder = "worst-first" | "as-listed";

/** What the worker must be told before it can judge: the devices, and the language to speak. */
export interface BenchNews {
  readonly language: string;
  readonly devices: readonly Device[];
  /** Changes whenever a device does. */
  readonly stamp: string;
  /** Grows whenever a catalog changes; those are looked up in the store again. */
  readonly turn: number;
}

/** A slot and what else is asked about it. */
type At<T = object> = { readonly slot: ListSlot } & T;

/** What the worker does for the order desk. */
export type OrderServices = {
  /** Tells the bench; catalogs are looked up in the store. */
  listBench: (news: BenchNews, job: Job) => Promise<null>;
  /** Reads the beginning of a list. */
  listLook: (input: Partial<Reading> & { readonly content: Blob }, job: Job) => Promise<Look>;
  /** Takes a list into a slot and starts to check it. */
  listStart: (
    input: At<{ readonly source: ListSource; readonly reading: Reading; readonly shape: TableShape }>,
    job: Job,
  ) => Promise<null>;
  /**
   * How a slot stands once that differs from what was seen last; `null` when nothing lies in it. The first question
   * about a slot has a check that a reload broke off go on.
   */
  listNews: (input: At<{ readonly seen: number }>, job: Job) => Promise<ListNews>;
  /** Goes on where it was cancelled. */
  listGoOn: (input: At, job: Job) => Promise<null>;
  /** Checks the list again from its first row, differently read where told so. */
  listAgain: (input: At<{ readonly reading?: Reading; readonly shape?: TableShape }>, job: Job) => Promise<null>;
  listCancel: (input: At, job: Job) => Promise<null>;
  /** Takes a list away, or brings it back. It is gone for good when the workbench is opened again. */
  listRemove: (input: At<{ readonly removed: boolean }>, job: Job) => Promise<null>;
  /** The list as it came. */
  listSource: (input: At, job: Job) => Promise<ListSource | null>;
  listSummary: (input: At<{ readonly needs: "tried" | "all" }>, job: Job) => Promise<ListSummary | null>;
  /** Places of the lines of some standings, in an order; with a text, only of those that have it in them. */
  listPlaces: (
    input: At<{ readonly standings: readonly Standing[]; readonly order: LineOrder; readonly text?: string }>,
    job: Job,
  ) => Promise<Uint32Array>;
  /** The lines at some places; `null` where there is none. */
  listLines: (input: At<{ readonly places: readonly number[] }>, job: Job) => Promise<readonly (ShownLine | null)[]>;
  /** A line put into words for one of its jobs. */
  listExplain: (
    input: At<{ readonly place: number; readonly device: string }>,
    job: Job,
  ) => Promise<Explanation | null>;
  /** The judged list as CSV; the job tells how far it is. */
  listExport: (input: At, job: Job) => Promise<ListExport | null>;
  /** What is printed. */
  listSheet: (input: At<{ readonly needs: "tried" | "all" }>, job: Job) => Promise<readonly SheetSection[] | null>;
};

/** How a slot stands; `seen` is for the next question. */
export interface ListNews {
  readonly seen: number;
  readonly state: ListState | null;
}

/** A file to be handed to the person. */
export interface ListExport {
  readonly name: string;
  readonly content: Blob;
}
