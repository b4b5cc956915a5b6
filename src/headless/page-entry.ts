/** The page reader as one script, put into a page that Chromium shows (`read --in chromium`). */
import rules from "falsefit:rules";
import { pageListings } from "./page-listings.ts";

/** The listings of the document that the script runs in, as NDJSON lines. */
export function readDocument(): string {
  return pageListings(document, rules)
    .map((listing) => JSON.stringify(listing))
    .join("\n");
}
