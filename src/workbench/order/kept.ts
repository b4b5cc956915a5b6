/**
 * What is kept of a list that is checked, and its schemas: stored values are checked again whenever they are read.
 * The types are those of the desk; the compiler holds the schemas to them.
 */
import * as z from "zod";
import type { TableShape } from "../../desks/columns.ts";
import type { Entry } from "../../desks/entries.ts";
import { type OrderLine, type Standing, standings } from "../../desks/order-check.ts";
import type { OrderTally } from "../../desks/order-tally.ts";
import { columnWords } from "../../formats/column-names.ts";
import {
  type Effect,
  effectWords,
  signalWords,
  spanSchema,
  tierWords,
  type Verdict,
  verdictWords,
} from "../../formats/verdict.ts";

/** Lines of one stored chunk. */
export const CHUNK_LINES = 256;
/** Longest description that is kept with a line, in UTF-16 code units. */
const MAX_DESCRIPTION_CHARS = 2_000;
const MAX_JOBS = 4;
const MAX_REASONS = 3;
const MAX_HAZARDS = 3;
const MAX_RIGHT = 8;
const MAX_REVISIONS = 12;

/** A judged line as it is kept: cut to what a list shows; the rest is worked out again when the line is opened. */
export interface KeptLine extends OrderLine {
  readonly moreJobs: number;
  readonly moreRevisions: number;
}

/** Cuts a judged line to what is kept. */
export function keptLine(line: OrderLine): KeptLine {
  const { entry, verdicts, right, rightFor, revisions } = line;
  return {
    ...line,
    entry: { ...entry, description: entry.description.slice(0, MAX_DESCRIPTION_CHARS) },
    verdicts: verdicts.slice(0, MAX_JOBS).map(({ device, verdict }) => ({ device, verdict: keptVerdict(verdict) })),
    right: right && { ...right, numbers: right.numbers.slice(0, MAX_RIGHT) },
    rightFor: rightFor.slice(0, MAX_JOBS),
    revisions: revisions.slice(0, MAX_REVISIONS),
    moreJobs: Math.max(0, verdicts.length - MAX_JOBS),
    moreRevisions: Math.max(0, revisions.length - MAX_REVISIONS),
  };
}

function keptVerdict(verdict: Verdict): Verdict {
  const reasons = verdict.reasons.slice(0, MAX_REASONS).map((reason) => ({ ...reason, spans: [] }));
  return { ...verdict, parts: [], revisions: [], hazards: verdict.hazards.slice(0, MAX_HAZARDS), reasons };
}

const text = z.string();
const texts = z.array(text);
const rows = z.array(z.number());
const amount = text.nullable();
const standing = z.enum(standings);
const effect = z.enum(effectWords).nullable();
const values = z.record(text, z.union([text, z.number(), texts]));

const entrySchema = z.object({
  row: z.number(),
  number: text,
  title: text,
  description: text,
  stockNumber: text,
  quantity: z.number(),
  quantityRead: z.boolean(),
  unitPrice: amount,
  total: amount,
  currency: amount,
  job: text,
  supplier: text,
  condition: text,
  model: text,
  board: text,
  fits: text,
  year: text,
  url: text,
}) satisfies z.ZodType<Entry>;

const verdictSchema = z.object({
  device: text,
  partType: text.nullable(),
  verdict: z.enum(verdictWords),
  tier: z.enum(tierWords),
  parts: texts,
  revisions: texts,
  hazards: z.array(
    z.object({
      effect: z.enum(effectWords),
      signal: z.enum(signalWords).nullable(),
      code: text,
      values,
      caution: z.enum(["lithium", "mains", "backlight", "stored-charge"]).nullable(),
    }),
  ),
  reasons: z.array(z.object({ code: text, values, spans: z.array(spanSchema) })),
}) satisfies z.ZodType<Verdict>;

const keptLineSchema = z.object({
  entry: entrySchema,
  standing,
  jobKnown: z.boolean(),
  verdicts: z.array(z.object({ device: text, verdict: verdictSchema })),
  effect,
  right: z.object({ numbers: texts, dependsOnRevision: z.boolean() }).nullable(),
  rightFor: texts,
  revisions: texts,
  moreJobs: z.number(),
  moreRevisions: z.number(),
}) satisfies z.ZodType<KeptLine>;

/** The schema of one chunk of lines. */
export const chunkSchema: z.ZodType<KeptLine[]> = z.array(keptLineSchema).max(CHUNK_LINES);

const served = z.object({ device: text, partType: text, rows, pieces: z.number() });

const tallySchema = z.object({
  row: z.number(),
  lines: z.number(),
  sums: z.record(
    text,
    z.object({ standing, effect, currency: amount, lines: z.number(), total: text, linesWithoutPrice: z.number() }),
  ),
  wrong: z.array(
    z.object({
      row: z.number(),
      number: text,
      device: text,
      partType: amount,
      effect,
      right: texts,
      dependsOnRevision: z.boolean(),
    }),
  ),
  wrongBeyond: z.number(),
  rowsOfNumber: z.record(text, rows),
  served: z.record(text, served),
  tried: z.record(text, z.literal(true)),
  contested: z.array(z.object({ row: z.number(), number: text, pieces: z.number(), jobs: texts })),
}) satisfies z.ZodType<OrderTally>;

const shapeSchema = z.object({
  columns: z.partialRecord(z.enum(columnWords), z.number()) as z.ZodType<TableShape["columns"]>,
  skip: z.number(),
  heading: text,
  language: amount,
  decimalMark: z.enum([",", "."]),
  currency: amount,
}) satisfies z.ZodType<TableShape>;

const faultKinds = ["unclosed-quote", "stray-quote", "row-too-long"] as const;
const phases = ["running", "cancelled", "done", "failed"] as const;

/** A row that could not be read as it should. */
export interface RowFault {
  readonly row: number;
  readonly kind: (typeof faultKinds)[number];
}

/** How far the check of a list has got. */
export interface ListHead {
  readonly name: string;
  readonly encoding: string;
  readonly delimiter: string;
  readonly shape: TableShape;
  /** Changes with the bench and the catalogs: what was judged under another stamp may no longer hold. */
  readonly stamp: string;
  /** `running` in the store means: broken off by a reload. */
  readonly phase: (typeof phases)[number];
  /** Taken away by the person, who may still take that back. */
  readonly removed: boolean;
  /** Bytes read, and bytes there are. */
  readonly bytesDone: number;
  readonly bytes: number;
  readonly lines: number;
  /** One byte a line: see {@link kindOf}. */
  readonly kinds: Uint8Array;
  /** Names of the general cautions that belong to lines that are wrong or in doubt. */
  readonly cautions: readonly string[];
  readonly faults: readonly RowFault[];
  readonly faultsBeyond: number;
  readonly tally: OrderTally;
}

/** The schema of a stored head. */
export const headSchema: z.ZodType<ListHead> = z.object({
  name: text,
  encoding: text,
  delimiter: text,
  shape: shapeSchema,
  stamp: text,
  phase: z.enum(phases),
  removed: z.boolean(),
  bytesDone: z.number(),
  bytes: z.number(),
  lines: z.number(),
  kinds: z.instanceof(Uint8Array),
  cautions: texts,
  faults: z.array(z.object({ row: z.number(), kind: z.enum(faultKinds) })),
  faultsBeyond: z.number(),
  tally: tallySchema,
});

const NO_EFFECT = effectWords.length;

/** A line's standing and effect in one byte, for filtering and sorting long lists. */
export function kindOf(standingWord: Standing, effectWord: Effect | null): number {
  const at = effectWord === null ? NO_EFFECT : effectWords.indexOf(effectWord);
  return standings.indexOf(standingWord) * 16 + at;
}

/** The standing in a byte of {@link kindOf}. */
export function standingOfKind(kind: number): Standing {
  return standings[kind >> 4] ?? "no-job";
}
