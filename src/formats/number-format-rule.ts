/**
 * A number format's rule file `rules/number-formats/*.json`: units and their words, named resolutions, and the
 * designations that standards give to cells, memory modules, cards and plugs. Nothing in it can execute.
 */
import * as z from "zod";

const word = z.string().min(1).max(60);
const words = z.array(word).max(200);

/** Where the knowledge of a file comes from, and how well it is confirmed. */
const source = z.strictObject({
  document: z.string().min(1).max(300),
  /** `seen`: read in the document or a quotation of it; `secondary`: read elsewhere; `from memory`: not confirmed. */
  status: z.enum(["seen", "secondary", "from memory", "common practice, no source"]),
});

const head = { format: z.literal("falsefit-number-format/1"), id: z.string().min(1).max(60) };

const unit = z.strictObject({
  /** Named by the language files, such as `volt`. */
  id: z.string().min(1).max(40),
  /** What it measures; part types say which quantity that is for them (`readsAs`). */
  dimension: z.string().min(1).max(40),
  /** The quantity it states where a part type says nothing else, such as `nominalVoltage_V`. */
  name: z.string().min(1).max(60),
  /** The quantity it states after a cue word for that role (`input`, `output`, `charge`, `pitch`). */
  roles: z.record(z.string(), z.string()).optional(),
  /** The written number times this is the value in the quantity's unit. */
  scale: z.number(),
  /** Signs that are the same in every language; case does not matter. */
  words,
  /** Values outside these (as written) are no statement of this unit. */
  plausible: z.tuple([z.number(), z.number()]),
  /** Counted things: whole numbers only. */
  whole: z.boolean().optional(),
  /** The sign is also a common word: counts only directly after the number or after a decimal number. */
  glued: z.boolean().optional(),
});

const units = z.strictObject({
  ...head,
  kind: z.literal("units"),
  source: z.array(source).max(20),
  units: z.array(unit).max(100),
  /** Letters that may stand directly before a number without making it a part number, such as `DC12V`. */
  prefixes: words,
});

const language = z.strictObject({
  ...head,
  kind: z.literal("words"),
  /** BCP 47 language. */
  language: z.string().min(2).max(20),
  /** Words for units by their id. */
  units: z.record(z.string(), words),
  /** Words that, as the name of an item field, tell the unit of a bare number ("Voltage: 24"), by the unit's id. */
  labels: z.record(z.string(), words),
  /** Counts in words, by the count: before a unit ("six cells") or run together with it ("sechszellig"). */
  counts: z.record(z.string().regex(/^\d{1,3}$/), words),
  /** Cue words that say what the next quantity is about. */
  roles: z.record(z.string(), words),
  lots: z.strictObject({
    /** Before the count: "lot of". */
    before: words,
    /** After the count: "pack". */
    after: words,
    /** The word alone means two. */
    pair: words,
    /** The word says that the price is for one: "each". */
    each: words,
  }),
  dates: z.strictObject({
    /** Open to the future: "from", "since". */
    from: words,
    /** Open to the past: "until", "before". */
    until: words,
    /** Open, the stated date itself left out: "after", "before". */
    after: words,
    before: words,
    /** Directly after a year: "and later", "and earlier". */
    later: words,
    earlier: words,
    /** Between the ends of a range: "to", "through". */
    through: words,
    /** Parts of a year. */
    early: words,
    mid: words,
    late: words,
    firstHalf: words,
    secondHalf: words,
    /** Marks a week number. */
    week: words,
    /** Marks a year: "year", "built", "model year". */
    year: words,
    /** Month names and their short forms, January first. */
    months: z.array(words).length(12),
    /** A year after or before one of these is not the device's: warranty, cells made in, founded. */
    notTheDevice: words,
  }),
  /** Bare digits beside these are no part number. */
  otherNumbers: z.strictObject({
    /** Before: a telephone, an invoice, a postcode. */
    before: words,
    /** What may stand between such a word and the digits: "no", "nr". */
    sign: words,
    /** Behind: followers, hours. */
    after: words,
    /** Behind digits in groups of three: sold, views. */
    afterGroups: words,
  }),
});

const resolutions = z.strictObject({
  ...head,
  kind: z.literal("resolutions"),
  source: z.array(source).max(20),
  names: z
    .array(z.strictObject({ words, pixels: z.array(z.tuple([z.number().int(), z.number().int()])).min(1) }))
    .max(100),
});

const cellDesignation = z.strictObject({
  ...head,
  kind: z.literal("cell-designation"),
  source: z.array(source).max(20),
  /** First letter: what the negative electrode is made of. */
  negative: z.record(z.string(), z.string()),
  /** Second letter: positive electrode, its nominal volts for one cell where they are settled. */
  positive: z.record(z.string(), z.strictObject({ name: z.string(), nominalVoltage_V: z.number().optional() })),
  /** Third letter: shape. */
  shapes: z.record(z.string(), z.enum(["round", "prismatic"])),
});

const primaryCell = z.strictObject({
  ...head,
  kind: z.literal("primary-cell"),
  source: z.array(source).max(20),
  /** Letters before `R` and the nominal volts of one cell; rechargeable ones are marked. */
  systems: z.record(
    z.string(),
    z.strictObject({ name: z.string(), nominalVoltage_V: z.number(), rechargeable: z.boolean().optional() }),
  ),
  /** Diameter in millimetres by the first digits of a coin's number; the last two are tenths of its height. */
  diameters: z.record(z.string(), z.number()),
  /** Sizes that have a number of their own: diameter and height in millimetres. */
  sizes: z.record(z.string(), z.tuple([z.number(), z.number()])),
});

const memoryModule = z.strictObject({
  ...head,
  kind: z.literal("memory-module"),
  source: z.array(source).max(20),
  /** How far a label's bandwidth may lie from eight bytes a transfer (our choice). */
  tolerance: z.number(),
  generations: z
    .array(
      z.strictObject({
        name: z.string(),
        /** The digit after `PC`; empty for the first generation. */
        prefix: z.string(),
        supplyVoltage_V: z.number(),
        /** Supply of modules marked `L`. */
        lowVoltage_V: z.number().optional(),
        pins: z.strictObject({ dimm: z.number().int(), sodimm: z.number().int() }),
        /** Data rates in millions of transfers a second. */
        rates: z.array(z.number().int()),
        /** Numbers after `PC` below this are data rates, not bandwidths. */
        rateBelow: z.number().int().optional(),
      }),
    )
    .max(20),
});

const cardSize = z.strictObject({
  ...head,
  kind: z.literal("card-size"),
  source: z.array(source).max(20),
  widths_mm: z.array(z.number()),
  lengths_mm: z.array(z.number()),
  /** Key letters, the pins that each leaves out, first and last. */
  keys: z.record(z.string(), z.tuple([z.number().int(), z.number().int()])),
});

const plugClass = z.strictObject({
  ...head,
  kind: z.literal("plug-class"),
  source: z.array(source).max(20),
  classes: z
    .array(
      z.strictObject({
        number: z.number().int(),
        /** Over the first, up to and with the second. */
        over_V: z.number(),
        upTo_V: z.number(),
        outer_mm: z.number(),
        /** More than one where copies of the standard disagree. */
        inner_mm: z.array(z.number()).min(1),
        pin_mm: z.number().optional(),
      }),
    )
    .max(20),
});

const measure = z.strictObject({
  id: z.string().min(1).max(40),
  /** Ends of quantity names (`_mm`) and how much of the measure's own unit one of theirs is. */
  suffixes: z.record(z.string().min(1).max(12), z.number().positive()).optional(),
  /** Whole quantity names of counted things, which carry no unit. */
  names: words.optional(),
  /**
   * What a stated value says that the part does not have: `much` cannot be the part's; `little` only where a sister part
   * has it; `agreement` nothing (third parties promise more).
   */
  says: z.enum(["much", "little", "agreement"]),
  /** Ranges inside which all values mean the same: 220, 230 and 240 V of the mains. */
  alike: z.array(z.tuple([z.number(), z.number()])).optional(),
});

const measures = z.strictObject({
  ...head,
  kind: z.literal("measures"),
  source: z.array(source).max(20),
  measures: z.array(measure).max(100),
});

const valueWords = z.strictObject({
  ...head,
  kind: z.literal("value-words"),
  source: z.array(source).max(20),
  /** Values that catalogs state by a word: each with all the words for it, in the notation of the wording files. */
  values: z.array(z.strictObject({ words })).max(200),
  /** Quantities that are true or false: what catalogs call them, words for yes and for no. */
  flags: z.array(z.strictObject({ names: words, yes: words, no: words })).max(100),
});

/** The schema of one number-format rule. */
export const numberFormatRuleSchema = z.discriminatedUnion("kind", [
  units,
  language,
  resolutions,
  cellDesignation,
  primaryCell,
  memoryModule,
  cardSize,
  plugClass,
  measures,
  valueWords,
]);
/** One number-format rule. */
export type NumberFormatRule = z.infer<typeof numberFormatRuleSchema>;
/** A rule of one kind. */
export type NumberFormatOf<K extends NumberFormatRule["kind"]> = Extract<NumberFormatRule, { kind: K }>;
/** The words of one language for units, lots and dates. */
export type NumberWords = NumberFormatOf<"words">;
