/**
 * A part type's rule file `rules/part-types/*.json`: the words by which listings name it, which quantities matter and
 * how they are compared, what a mismatch does. Adding a part type is adding one file.
 */
import * as z from "zod";
import { partTypeName } from "./common.ts";
import { effectWords } from "./verdict.ts";

/**
 * A cue phrase in the notation of the wording files: words parted by spaces, `a|b` for either, `(x)` for one that may
 * be missing, `batter*` for any ending, `*akku` for any beginning (compounds). Case and accents do not count.
 */
const cue = z.string().min(1).max(60);
/** Cue words by BCP 47 language. */
const cuesByLanguage = z.record(z.string().min(2).max(20), z.array(cue).max(200));

/** What a mismatch does, and who is hurt: nobody, things only, a person lightly or seriously. */
const consequence = z.strictObject({
  effect: z.enum(effectWords),
  harm: z.enum(["none", "property", "light", "serious"]),
  /** Names a sentence of its own, `hazard_<code>` with hyphens as underscores; a general one where left out. */
  code: z.string().max(60).optional(),
});

/**
 * How an offered value is held against the right one:
 * `equal` (words without case); `tolerance` (within a fraction or an amount of the right one); `at-least`, `at-most` (of the
 * right one, with the same leeway); `class` (both are n times a value inside a window, equal n; `split` parts the low from
 * the high values of the window); `multiple` (a whole multiple of the right one, or equal); `listed` (equal, or in the list of what serves in place of the right one);
 * `free` (never a mismatch).
 */
const comparison = z.discriminatedUnion("how", [
  z.strictObject({ how: z.literal("equal") }),
  z.strictObject({
    how: z.enum(["tolerance", "at-least", "at-most"]),
    fraction: z.number().min(0).max(1).optional(),
    amount: z.number().min(0).optional(),
  }),
  z.strictObject({
    how: z.literal("class"),
    low: z.number().positive(),
    high: z.number().positive(),
    split: z.number().positive().optional(),
  }),
  z.strictObject({ how: z.literal("multiple") }),
  z.strictObject({ how: z.literal("listed"), serves: z.record(z.string(), z.array(z.string())) }),
  z.strictObject({ how: z.literal("free") }),
]);

const quantityRule = z.strictObject({
  name: z.string().min(1).max(60),
  /** Offered part against right part. */
  compare: comparison,
  /** A listing's statement about a part against what the catalog says of it; as `compare` where left out. */
  claim: comparison.optional(),
  /** Offered is more, less, or (for words) another. `more` and `less` fall back to `other`. */
  more: consequence.optional(),
  less: consequence.optional(),
  other: consequence.optional(),
  /** Same class, but the offered one lies on the low side of its `split` and the right one on the high side. */
  within: consequence.optional(),
  /** Instead of all of these where either value is at least this many volts: mains. */
  mains: z.strictObject({ from: z.number(), consequence }).optional(),
  /** Where our knowledge of it comes from. */
  source: z.string().max(300).optional(),
});

/** A quantity that listings state by a word: the value and the words for it. */
const namedQuantity = z.strictObject({
  name: z.string().min(1).max(60),
  values: z.array(z.strictObject({ value: z.union([z.string(), z.number(), z.boolean()]), words: z.array(cue) })),
});

/** The schema of one part-type rule. */
export const partTypeRuleSchema = z.strictObject({
  format: z.literal("falsefit-part-type/1"),
  id: partTypeName,
  /** The part type in a sentence, by language. */
  names: z.record(z.string(), z.string().max(60)),
  /** Words that name this part type. */
  words: cuesByLanguage,
  /** Everyday words ("lid", "key", "arm") that name it only for devices that have such a part, or one of a type near to it. */
  everyday: cuesByLanguage.optional(),
  /** Words that, beside a word of this type, make the thing an accessory to it and not the thing. */
  accessories: cuesByLanguage,
  /**
   * Types that a catalog may list such a part as, nearest first ("throttle": as a sensor). Where words and number name
   * two of them, the number decides.
   */
  near: z.array(partTypeName).max(20).optional(),
  /** Which quantity a unit states for this type, by dimension: `voltage` → `outputVoltage_V`. */
  readsAs: z.record(z.string(), z.string()).optional(),
  named: z.array(namedQuantity).optional(),
  quantities: z.array(quantityRule),
  /** What exchanged pins do: `lithium` and `mains` hurt people, `electronics` breaks things; `none` has no pins. */
  pins: z.enum(["lithium", "mains", "electronics", "none"]),
  /** The general caution that belongs to this type. */
  caution: z.enum(["lithium", "mains", "backlight", "stored-charge"]).optional(),
});

/** One part-type rule. */
export type PartTypeRule = z.infer<typeof partTypeRuleSchema>;
/** How one quantity is compared and what a mismatch does. */
export type QuantityRule = PartTypeRule["quantities"][number];
/** How an offered value is held against the right one. */
export type Comparison = QuantityRule["compare"];
/** What a mismatch does, and to whom. */
export type Consequence = NonNullable<QuantityRule["other"]>;
