/** A language's wording file `rules/wording/*.json`: how listings in that language say for, against, maybe. */
import { z } from "zod";

/** The schema of one wording file. */
export const wordingRuleSchema = z.strictObject({
  format: z.literal("falsefit-wording/1"),
  /** BCP 47 language. */
  language: z.string(),
});
/** One wording file. */
export type WordingRule = z.infer<typeof wordingRuleSchema>;
