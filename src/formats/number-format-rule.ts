/** A number format's rule file `rules/number-formats/*.json`. */
import { z } from "zod";

/** The schema of one number-format rule. */
export const numberFormatRuleSchema = z.strictObject({
  format: z.literal("falsefit-number-format/1"),
  id: z.string(),
});
/** One number-format rule. */
export type NumberFormatRule = z.infer<typeof numberFormatRuleSchema>;
