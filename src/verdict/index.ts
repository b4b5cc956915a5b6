/** Verdicts: listings judged for saved devices, put into words, compared by price. */
export { concernsDevice, judge, ListingJudge } from "./judge.ts";
export { reasonText, verdictLine } from "./line.ts";
export { type PreparedDevice, prepareDevice } from "./prepare.ts";
export { SharedSieve } from "./sieve.ts";
