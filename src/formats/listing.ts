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
  id: z
    .union([z.string().max(2_000), z.number()])
    .transform(String)
    .optional(),
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
        z.array(z.string().max(100_000)).transform((all) => all.join(", ")),
      ]),
    )
    .optional(),
  description: z.string().max(1_000_000).optional(),
  url: z.string().max(100_000).optional(),
  language: z.string().max(100).optional(),
  related: z.boolean().optional(),
});

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
  return checkAgainst(listingSchema, json.value) as Outcome<Listing>;
}
