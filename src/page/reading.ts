/** What the parts of one reading share, and what they hand on. */
import type { Listing, ListPrice } from "../formats/listing.ts";
import type { Places } from "./context.ts";
import type { PageGround } from "./read.ts";
import type { RecordSpan } from "./records.ts";
import type { Sight } from "./sight.ts";
import type { Tables } from "./tables.ts";
import type { PageTree } from "./tree.ts";

/** What every part of one reading shares. */
export interface Reading extends PageGround {
  readonly tree: PageTree;
  readonly sight: Sight;
  readonly places: Places;
  readonly tables: Tables;
  /** Bare numbers that a table's heading makes amounts, with their currencies. */
  readonly assumed: ReadonlyMap<number, string>;
  /** No list with prices was found: records are told by what offers them (buttons, bids, "on request"). */
  readonly isUnpriced: boolean;
}

/** A record read, before it becomes a listing. */
export interface Draft {
  readonly span: RecordSpan;
  readonly listing: Listing;
  /** Has a link, a picture or a heading: more than a line of text. */
  readonly isRich: boolean;
  /** Says something in the place of a price, or has a control to buy, bid or ask by. */
  readonly isOffered: boolean;
  /** Title and price stand in one line of text. */
  readonly sharesLine: boolean;
  readonly card: Element;
  readonly anchor: Element;
  readonly priceElement: Element | null;
  readonly completedTitle: boolean;
  readonly otherPrice: ListPrice | null;
}
