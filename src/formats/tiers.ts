/** The table of design section 4, apart from the schemas: pages judge with it and carry no schema library. */
import type { Tier, VerdictWord } from "./verdict.ts";

/** The tier that each verdict belongs to (table of design section 4). */
export const tierOf: Readonly<Record<VerdictWord, Tier>> = {
  fits: "go",
  unconfirmed: "check",
  ambiguous: "check",
  "unknown-part": "check",
  "other-revision": "stop",
  conflicting: "stop",
  unrelated: "none",
};
