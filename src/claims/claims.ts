/** What a listing says, claim by claim. */
import type { Span } from "../formats/verdict.ts";
import type { DateInterval } from "../text/dates.ts";
import type { StatedQuantity } from "../text/quantities.ts";
import type { Field } from "./fields.ts";
import type { Named } from "./vocabulary.ts";

/**
 * How a thing is named:
 * `plain` without wording of fit (the thing itself, or its device); `for` and `replaces` in favour; `against`; `successor` what took its
 * place; `passing` as a comparison; `elsewhere` as another offer.
 */
export type Stance = "plain" | "for" | "replaces" | "against" | "successor" | "passing" | "elsewhere";

interface ClaimBase {
  stance: Stance;
  /** True for "only": everything else is excluded. */
  only: boolean;
  /** True where the sentence makes it uncertain. */
  hedged: boolean;
  /** True where the text calls it the same thing as its neighbour. */
  equal: boolean;
  /** True behind "or": one of several. */
  chosen: boolean;
  readonly field: Field["part"];
  readonly span: Span;
}

/** A part, model or board number. */
export interface NumberClaim extends ClaimBase {
  readonly kind: "number";
  readonly number: string;
  /** As the listing writes it. */
  readonly written: string;
  readonly named: Named | null;
  readonly certain: boolean;
  readonly doubtful: boolean;
  /** True behind a word for stock, article or serial numbers. */
  readonly stock: boolean;
  /** True behind a word for part numbers, or in such a field. */
  readonly cued: boolean;
  /** Place among the claims of its list: the same for numbers named side by side. */
  readonly list: number;
}

/** A date of the devices it is for. */
export interface DateClaim extends ClaimBase {
  readonly kind: "date";
  readonly interval: DateInterval;
  /** False for a bare year, which may mean anything. */
  readonly told: boolean;
}

/** A quantity. */
export interface QuantityClaim extends ClaimBase {
  readonly kind: "quantity";
  readonly quantity: StatedQuantity;
  /** Part types named right beside it ("for a 36 V battery"): where the sold one is not among them, it is not its. */
  readonly of: readonly string[];
}

/** A revision in words. */
export interface RevisionClaim extends ClaimBase {
  readonly kind: "revision";
  readonly revision: RevisionWord;
}

/** "early board", "second series", "board B", or the very name of a revision. */
export type RevisionWord =
  | { readonly how: "early" | "late" }
  | { readonly how: "ordinal"; readonly ordinal: number }
  | { readonly how: "letter"; readonly letter: string }
  | { readonly how: "name"; readonly id: string };

/** "fits all". */
export interface UniversalClaim extends ClaimBase {
  readonly kind: "all";
}

/** One thing that a listing says. */
export type Claim = NumberClaim | DateClaim | QuantityClaim | RevisionClaim | UniversalClaim;
