/** A part type's rule file `rules/part-types/*.json`. */
import { z } from "zod";
import { partTypeName } from "./common.ts";

/** The schema of one part-type rule. */
export const partTypeRuleSchema = z.strictObject({ format: z.literal("falsefit-part-type/1"), id: partTypeName });
/** One part-type rule. */
export type PartTypeRule = z.infer<typeof partTypeRuleSchema>;
