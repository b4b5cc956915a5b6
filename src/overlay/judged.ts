/** A listing of the page with its verdict. */
import type { Verdict } from "../formats/verdict.ts";
import type { FoundListing } from "../page/read.ts";

/** A listing of the page with its verdict. */
export interface Judged {
  readonly found: FoundListing;
  readonly verdict: Verdict;
}
