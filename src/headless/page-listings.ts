/** What the page reader finds, as listing lines: the same in jsdom and in a browser. */
import type { Listing } from "../formats/listing.ts";
import type { RawRules } from "../formats/rules.ts";
import { readPage } from "../page/read.ts";

/** The listings of a document, in document order. */
export function pageListings(document: Document, rules: RawRules): Listing[] {
  return readPage(document, { pageWords: rules.pageWords, shapes: rules.pageShapes }).map(({ listing }) => listing);
}
