/** The verdict line (NDJSON) and its vocabularies (design sections 3, 4 and 5). */
import * as z from "zod";
import { listPriceSchema } from "./listing.ts";

/** What the claims of a listing amount to for one saved device. */
export const verdictWords = [
  "fits",
  "unconfirmed",
  "ambiguous",
  "unknown-part",
  "other-revision",
  "conflicting",
  "unrelated",
] as const;
/** How far a buyer may go on it. */
export const tierWords = ["go", "check", "stop", "none"] as const;
/** Effects of a wrong part, worst first; `not-known` where the catalog lacks pins or quantities. */
export const effectWords = [
  "burns",
  "destroys",
  "no-connection",
  "no-function",
  "reduced",
  "cosmetic",
  "not-known",
] as const;
/**
 * Signal words by ISO 3864-2 / ANSI Z535.6: WARNING where a person could be seriously hurt, CAUTION where
 * lightly, NOTICE where only property is at stake. Never DANGER for a match of texts.
 */
export const signalWords = ["WARNING", "CAUTION", "NOTICE"] as const;

/** Half-open range of UTF-16 code units in the named field of the listing: `title`, `description`, `specifics.MPN`, … */
export const spanSchema = z.tuple([z.number().int().min(0), z.number().int().min(0), z.string()]);

/** The schema of one hazard. */
const hazardSchema = z.object({
  effect: z.enum(effectWords),
  signal: z.enum(signalWords).nullable(),
  because: z.string(),
});
/** The schema of one reason. */
const reasonSchema = z.object({
  code: z.string(),
  text: z.string(),
  spans: z.array(spanSchema),
});

/** The schema of one verdict line. `id` echoes the listing's id, a number as a number; without one, `line` is its one-based number. */
export const verdictLineSchema = z.object({
  id: z.union([z.string(), z.number()]).optional(),
  line: z.number().int().min(1).optional(),
  device: z.string().nullable(),
  partType: z.string().nullable(),
  verdict: z.enum(verdictWords),
  tier: z.enum(tierWords),
  parts: z.array(z.string()),
  revisions: z.array(z.string()),
  hazards: z.array(hazardSchema),
  reasons: z.array(reasonSchema),
  price: listPriceSchema.optional(),
});

/** One verdict word. */
export type VerdictWord = (typeof verdictWords)[number];
/** One tier. */
export type Tier = (typeof tierWords)[number];
/** One effect. */
export type Effect = (typeof effectWords)[number];
/** One signal word. */
export type SignalWord = (typeof signalWords)[number];
/** Start, end (half-open, UTF-16 code units) and field of the listing. */
export type Span = z.infer<typeof spanSchema>;
/** One line of the command's output. */
export type VerdictLine = z.infer<typeof verdictLineSchema>;

export { tierOf } from "./tiers.ts";

/** A value that goes into a sentence: text, a number (formatted for the language) or a list of texts. */
export type SentenceValue = string | number | readonly string[];

/**
 * A reason before it is put into words: the code names the sentence (`reason_<code>` in the message files,
 * hyphens as underscores), the values fill it, the spans say which text it rests on.
 */
export interface Reason {
  readonly code: string;
  readonly values: Readonly<Record<string, SentenceValue>>;
  readonly spans: readonly Span[];
}

/** A hazard before it is put into words; `code` names the sentence (`hazard_<code>`). */
export interface Hazard {
  readonly effect: Effect;
  readonly signal: SignalWord | null;
  readonly code: string;
  readonly values: Readonly<Record<string, SentenceValue>>;
  /** Which general caution belongs to it: key part of `caution_<name>`, or none. */
  readonly caution: "lithium" | "mains" | "backlight" | "stored-charge" | null;
}

/** A verdict as the matcher computes it; {@link VerdictLine} is the same in one language. */
export interface Verdict {
  readonly device: string;
  readonly partType: string | null;
  readonly verdict: VerdictWord;
  readonly tier: Tier;
  /** Candidate parts, `partId` of the catalog. */
  readonly parts: readonly string[];
  /** Revisions that the candidates fit: ids of the family that the device belongs to (or that the part is for). */
  readonly revisions: readonly string[];
  /** Worst first. */
  readonly hazards: readonly Hazard[];
  /** Most important first. */
  readonly reasons: readonly Reason[];
  /** Pieces that its price is for, where that is more than one. */
  readonly pieces?: number;
}
