/** What the parts of one reading share, and what they hand on. */
import type { Listing, ListPrice } from "../formats/listing.ts";
import type { Places } from "./context.ts";
import type { Cues } from "./cues.ts";
import type { MoneyHabits } from "./price.ts";
import type { RecordSpan } from "./records.ts";
import type { Sight } from "./sight.ts";
import type { Structured } from "./structured.ts";
import type { PageTree } from "./tree.ts";

/** What every part of one reading shares. */
export interface Reading {
  readonly document: Document;
  readonly tree: PageTree;
  readonly sight: Sight;
  readonly cues: Cues;
  readonly places: Places;
  readonly habits: MoneyHabits;
  readonly structured: Structured;
  readonly language: string | undefined;
  readonly base: string | null;
}

/** A record read, before it becomes a listing. */
export interface Draft {
  readonly span: RecordSpan;
  readonly listing: Listing;
  /** Has a link, a picture or a heading: more than a line of text. */
  readonly isRich: boolean;
  /** Title and price stand in one line of text. */
  readonly sharesLine: boolean;
  readonly card: Element;
  readonly anchor: Element;
  readonly priceElement: Element | null;
  readonly completedTitle: boolean;
  readonly otherPrice: ListPrice | null;
}
