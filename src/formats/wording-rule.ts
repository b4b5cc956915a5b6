/**
 * A language's wording file `rules/wording/*.json`: how listings in that language say for, against, maybe, and
 * what else is sold beside parts. Another language is another file; no code knows any word of it.
 *
 * A phrase is words parted by spaces. `a|b` takes either word, `(x)` may be missing, `stem*` takes any ending.
 * Case and accents do not count ("für", "FUR"); umlauts may also be spelt out ("fuer"). Where phrases overlap, the
 * longest one is read.
 */
import * as z from "zod";

const phrases = z.array(z.string().min(1).max(200)).max(600).default([]);

/** Every kind of phrase, and what it does to what stands around it. */
const phraseKinds = {
  /** What follows is what the thing is for: "for", "fits", "compatible with". */
  for: phrases,
  /** What follows owns the thing before: "of". */
  of: phrases,
  /** What follows is what the thing takes the place of: "replaces". */
  replaces: phrases,
  /** What follows took the place of the thing: "replaced by". It is not what is sold. */
  replacedBy: phrases,
  /** The thing is not for what follows; where nothing follows, not for what stood before. */
  against: phrases,
  /** The thing is not for (or not to be had as) what stood before: "sold out", "passt nicht". */
  againstAfter: phrases,
  /** What stood last before is made no more: of several numbers it is not the one sold. */
  discontinued: phrases,
  /** As `against`, but never looks back: "do not order if you have …". */
  warn: phrases,
  /** What follows is what another device takes: "the late board needs …". */
  needs: phrases,
  /** As `needs`, but only where a condition or another board is named before it: "if you have X, please order …". */
  order: phrases,
  /** What follows in the sentence belongs to the thing named last, not to the thing sold: "which is for …". */
  relative: phrases,
  /** Words that turn a following `for` or number round: "not", "kein". */
  not: phrases,
  /** Negations that affirm: "not only", "no problem". */
  affirm: phrases,
  /** What follows, or else what stood before, and nothing else: "only", "nur". */
  only: phrases,
  /** All but what follows: "except". */
  except: phrases,
  /** Begins a condition, which a warning reaches over: "do not order if …". */
  if: phrases,
  /** Makes a condition of what stands right before it: "PB-1840 owners: …". */
  ifAfter: phrases,
  /** Ends a negation and affirms what follows: "but", "sondern". */
  but: phrases,
  /** Begins what is said instead of what was denied: "it is not A, it is B". */
  asserts: phrases,
  /** Another thing comes in the place of what follows: "instead of". */
  instead: phrases,
  /** What follows is named in passing: "looks like", "same connector as". */
  passing: phrases,
  /** What stood before is named in passing: "-style". */
  passingAfter: phrases,
  /** What follows are other things the seller has: "we also sell". */
  elsewhere: phrases,
  /** What stands right before it is another thing the seller has: "… see our other listing". */
  elsewhereAfter: phrases,
  /** Behind "also" and a number: another thing that the seller has ("also PB-2240 in stock"). */
  stocked: phrases,
  /** What follows is what the buyer is sent: "you will receive". */
  sent: phrases,
  /** Makes the sentence uncertain: "probably", "may fit". */
  hedge: phrases,
  /** Speaks of the parcel: a doubt in its clause is none about the part ("ships probably tomorrow"). */
  delivery: phrases,
  /** Makes the sentence uncertain where it speaks of fit: "compatibility with … unknown". */
  unsureAfter: phrases,
  /** The buyer chooses among several: "choose". */
  choice: phrases,
  or: phrases,
  and: phrases,
  /** Two names of one thing: "same as", "also known as". */
  equal: phrases,
  /** Fits whatever exists: "all models", "universal". */
  all: phrases,
  /** Fits whatever exists of what follows: "for all", where models or versions follow. */
  allOf: phrases,
  /** The two of two: "both boards". */
  both: phrases,
  /** One thing for several: "one battery", "a single". */
  one: phrases,
  /** What follows comes along with the thing sold. */
  with: phrases,
  /** What follows does not come along. */
  without: phrases,
  /** What stood before comes along: "included", "fitted". */
  included: phrases,
  /** What stood before does not come along: "not included". */
  notIncluded: phrases,
  /** Things that go with a part but are none: "cable", "cover", "sticker". */
  accessory: phrases,
  /** Whole devices: "notebook", "vacuum cleaner". */
  device: phrases,
  /** Paper, pictures, programs: "manual". */
  nothing: phrases,
  /** Packaging and dummies without the part, wherever it is said: "empty box". */
  empty: phrases,
  service: phrases,
  /** Says which faults the part mends; they are not its own: "repairs faults such as". */
  cures: phrases,
  /** Says what not to do with a broken one, or what then happens: "do not use", "will be replaced". */
  caution: phrases,
  /** Says that the whole device is sold: "complete unit". */
  whole: phrases,
  /** Says so right behind a device's name: "laptop QS13 complete". */
  entire: phrases,
  /** Tells of a whole computer's inside, so that a device named first is sold: "i5", "2x CPU", "Windows 10". */
  spec: phrases,
  /** Begins the sale of one's own device, where its name follows: "selling my". */
  mine: phrases,
  /** Begins the sale of a thing that is named next: "selling the". */
  offers: phrases,
  /** The thing named next is the buyer's own: "your". */
  yours: phrases,
  /** What follows is what the thing is used with: "lets you use", "turns". */
  uses: phrases,
  /** What parts come in: "packaging". */
  wrapping: phrases,
  /** Wanted ads, where the title begins so; `wantedAfter` where it ends so. */
  wanted: phrases,
  wantedAfter: phrases,
  /** Begins a question to the reader that offers something: "looking for …?". */
  asks: phrases,
  /** Broken, or sold for its parts. */
  defective: phrases,
  /** Among these, what only rules out returns where the listing says that the thing works: "as is". */
  asSeen: phrases,
  /** Says that the thing works: "tested and working". */
  works: phrases,
  /** Says that it is not broken, or speaks of the buyer's own broken one. */
  notDefective: phrases,
  used: phrases,
  /** Where the part comes from: a fault that follows is the other device's, "pulled from a …". */
  pulled: phrases,
  /** As `pulled`, but only where a device is named right behind: "aus", "z". */
  outOf: phrases,
  /** Several pieces or several parts in one listing. */
  lot: phrases,
  /** What follows is a part number: "part number", "MPN". */
  numberCue: phrases,
  /** What follows is a model number. */
  modelCue: phrases,
  /** What follows is a board number. */
  boardCue: phrases,
  /** What follows is a number of the seller, a serial or an article number: never a part number. */
  stockCue: phrases,
  /** What follows or stood before is a grade or condition: "grade", "Zustand". */
  grade: phrases,
  /** Words of condition that may be tied to a number by a hyphen: "new", "used", "OEM". */
  trait: phrases,
  early: phrases,
  late: phrases,
  /** Words that mean an early or late revision only before a `revisionNoun`: "old", "new". */
  older: phrases,
  newer: phrases,
  /** What comes in revisions: "board", "series", "version". */
  revisionNoun: phrases,
  /** The devices themselves: "models", "machines". */
  unitNoun: phrases,
  /** Says that a following date is the device's: "built", "model year". */
  dateCue: phrases,
  /** The date is that of whatever is named before it, device or part: "manufactured". */
  made: phrases,
  /** Says that a date near by is not the device's: "warranty", "fresh cells", "since". */
  dateNoise: phrases,
  /** The date right beside it is that of new wares: "new 2024". */
  fresh: phrases,
  /** Words that bind nothing: articles, "the", "of". */
  filler: phrases,
  /** Phrases that look like wording above but say nothing of fit: "no returns", "for sale". */
  harmless: phrases,
} as const;

/** The schema of one wording file. */
export const wordingRuleSchema = z.strictObject({
  format: z.literal("falsefit-wording/1"),
  /** BCP 47 language. */
  language: z.string().min(2).max(35),
  phrases: z.strictObject(phraseKinds),
  /** Words for "first", "second", … in this order; several words for one place are parted by `|`. */
  ordinals: z.array(z.string().min(1).max(200)).max(12).default([]),
});
/** One wording file. */
export type WordingRule = z.infer<typeof wordingRuleSchema>;
/** What a phrase does; see the wording files. */
export type PhraseKind = keyof WordingRule["phrases"];
