/**
 * The words by which a listing page is read, one file a language in `rules/page-words/`: what stands beside an
 * old price, a shipping cost, a related strip. A trade person can add a language without touching code.
 */
import * as z from "zod";

const words = z.array(z.string().min(1).max(60)).max(200).optional();

/** The schema of one language's page words. Words are lower case; they are found as whole words. */
export const pageWordsSchema = z.strictObject({
  format: z.literal("falsefit-page-words/1"),
  /** BCP 47 primary language. */
  language: z.string().min(2).max(3),
  words: z.strictObject({
    /** Before (or after) a floor price: "from 19,90". */
    from: words,
    /** Between the two ends of a range. */
    to: words,
    /** Beside a price that is no longer asked. */
    oldPrice: words,
    /** Beside the price that is asked now; in auctions the present bid. */
    nowPrice: words,
    /** Beside an auction's second, higher price. */
    buyNow: words,
    /** Beside a price a kilogram, metre or piece. */
    perUnit: words,
    /** Beside a price before tax. */
    exTax: words,
    /** Beside a monthly or part payment. */
    instalment: words,
    /** Beside a reduction, coupon, bonus. */
    discount: words,
    /** Beside a deposit, levy or extra that is not the price. */
    fee: words,
    /** Beside an amount from which something holds ("free shipping over 50"). */
    threshold: words,
    shipping: words,
    freeShipping: words,
    /** Said in the place of a price. */
    noPrice: words,
    /** On the control that buys, bids or asks. */
    buy: words,
    bids: words,
    stock: words,
    conditionLabel: words,
    /** What is said of an item's condition. */
    conditions: words,
    /** Labels laid over or beside a title that are no part of it. */
    badges: words,
    /** Link and button texts that are never a title. */
    notTitles: words,
    /** Headings over strips of related, similar or recently seen listings. */
    related: words,
    /** Headings over tiles that lead to categories. */
    categories: words,
    cart: words,
    articles: words,
    reviews: words,
    priceLabel: words,
    /** In the texts of price filters. */
    filters: words,
  }),
});

/** One language's page words. */
export type PageWords = z.infer<typeof pageWordsSchema>;
/** The name of a list of page words. */
export type PageWordKey = keyof PageWords["words"];
