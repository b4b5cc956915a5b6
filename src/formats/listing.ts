/** The listing line (NDJSON): what the page reader yields and the command reads (design section 3). */
import * as z from "zod";
import { checkAgainst, currencyCode, decimalAmount, fault, type Outcome, readJson } from "./common.ts";

/** Longest listing line that is read, in UTF-16 code units. Longer ones are reported and skipped. */
const MAX_LISTING_CHARS = 4 * 1024 * 1024;

/** An amount of money: decimal text and ISO 4217 code. */
const moneySchema = z.object({
  amount: decimalAmount,
  currency: currencyCode,
});
/** A listing's price: `max` makes it a range, `from` a floor. */
export const listPriceSchema = z.object({
  amount: decimalAmount,
  max: decimalAmount.optional(),
  from: z.boolean().optional(),
  currency: currencyCode,
});

/** The schema of one listing line. Fields it does not know are ignored: feeds carry more than we read. */
export const listingSchema = z.object({
  id: z.union([z.string().max(2_000), z.number()]).optional(),
  title: z.string().max(1_000_000),
  price: listPriceSchema.optional(),
  shipping: moneySchema.optional(),
  condition: z.string().max(100_000).optional(),
  specifics: z
    .record(
      z.string().max(10_000),
      z.union([
        z.string().max(100_000),
        z.number().transform(String),
        z.boolean().transform(String),
        z
          .array(z.union([z.string().max(100_000), z.number(), z.boolean(), z.null()]))
          .transform((all) => all.filter((each) => each !== null).join(", ")),
      ]),
    )
    .optional(),
  description: z.string().max(1_000_000).optional(),
  url: z.string().max(100_000).optional(),
  language: z.string().max(100).optional(),
  related: z.boolean().optional(),
});

/**
 * What a line may hold besides: `null` for everything but the title. Feeds write it for what they do not know, so it is
 * taken as absent, inside a price and among the specifics too.
 */
export const listingLineSchema = z.object(nullableShape()).transform((line) => withoutNulls(line) as Listing);

function nullableShape() {
  const { title, price, shipping, specifics, ...others } = listingSchema.shape;
  const { id, condition, description, url, language, related } = others;
  const { amount, currency, max, from } = listPriceSchema.shape;
  const values = specifics.unwrap().valueType;
  return {
    id: id.nullable(),
    title,
    price: z.object({ amount, currency, max: max.nullable(), from: from.nullable() }).nullish(),
    shipping: shipping.nullable(),
    condition: condition.nullable(),
    specifics: z.record(z.string().max(10_000), z.union([z.null(), ...values.options])).nullish(),
    description: description.nullable(),
    url: url.nullable(),
    language: language.nullable(),
    related: related.nullable(),
  };
}

/** A copy in which nothing is null, one level of objects deep. */
function withoutNulls(value: object): object {
  const kept: Record<string, unknown> = {};
  for (const [key, each] of Object.entries(value)) {
    if (each === null || each === undefined) continue;
    kept[key] = typeof each === "object" && !Array.isArray(each) ? withoutNulls(each) : each;
  }
  return kept;
}

/** One listing. */
export type Listing = z.infer<typeof listingSchema>;
/** Decimal amount and currency. */
export type Money = z.infer<typeof moneySchema>;
/** A listing's stated price. */
export type ListPrice = z.infer<typeof listPriceSchema>;

/** Reads one NDJSON line as a listing; faults name the field and what was expected. */
export function readListingLine(text: string): Outcome<Listing> {
  const json = readJson(text, MAX_LISTING_CHARS);
  if (!json.ok) return json;
  if (typeof json.value !== "object" || json.value === null || Array.isArray(json.value)) {
    return fault("", 'Expected one JSON object a line, with at least "title".');
  }
  const read = checkAgainst(listingLineSchema as z.ZodType<Listing>, json.value);
  if (read.ok && typeof read.value.id === "number" && !Number.isSafeInteger(read.value.id))
    return { ok: true, value: { ...read.value, id: writtenId(text) ?? read.value.id } };
  return read;
}

/** The digits of an id that a number would round, as text. */
function writtenId(text: string): string | undefined {
  return /"id"\s{0,20}:\s{0,20}(-?\d{16,2000})(?![\d.eE])/.exec(text)?.[1];
}
