/**
 * A listing's text read as claims.
 *
 *   listing ─▶ fields, folded ─▶ quantities, dates, numbers, phrases as items ─▶ grammar ─▶ claims
 *                                                                          └──▶ subject: what is sold
 */
import type { Listing } from "../formats/listing.ts";
import type { RawRules } from "../formats/rules.ts";
import { type DateRules, MAX_DATES, prepareDateRules, readDateClaims } from "../text/date-claims.ts";
import { type DesignationRules, prepareDesignationRules, readDesignations } from "../text/designations.ts";
import { type OtherNumberRules, prepareOtherNumberRules } from "../text/other-numbers.ts";
import { MAX_QUANTITIES, readLabelledQuantity, readQuantities, type StatedQuantity } from "../text/quantities.ts";
import { prepareQuantityRules, type QuantityRules } from "../text/quantity-units.ts";
import type { Claim } from "./claims.ts";
import { type Field, fieldsOf, hasMoreSpecifics, spanOf } from "./fields.ts";
import { readGrammar } from "./grammar.ts";
import { type Item, readItems } from "./items.ts";
import { keepSpoken, spokenLanguages, weighLanguages } from "./languages.ts";
import type { Lexicon } from "./lexicon.ts";
import type { ReadField } from "./look.ts";
import { readSubject, type Subject } from "./subject.ts";
import { unglue } from "./unglue.ts";
import {
  compileNamed,
  compileWording,
  type KnownNumbers,
  MAKER_KIND,
  type NamedQuantity,
  type NamedWords,
  type Wording,
} from "./vocabulary.ts";

export type { Claim, DateClaim, NumberClaim, QuantityClaim, RevisionClaim, RevisionWord, Stance } from "./claims.ts";
export type { Sold, Subject } from "./subject.ts";
export type { KnownNumbers, Named, Wording } from "./vocabulary.ts";

/** The rules for reading listings, compiled once. */
export interface ReadingRules {
  readonly wording: Wording;
  readonly quantities: QuantityRules;
  readonly dates: DateRules;
  readonly designations: DesignationRules;
  readonly otherNumbers: OtherNumberRules;
  /** Words that state a quantity, and which. */
  readonly named: Lexicon;
  readonly namedQuantities: ReadonlyMap<string, NamedQuantity>;
}

/** Everything that a listing says. */
export interface ListingClaims {
  readonly claims: readonly Claim[];
  readonly subject: Subject;
  /** True where the listing doubts that the thing fits. */
  readonly doubt: boolean;
  /** True where the buyer is asked to choose. */
  readonly choice: boolean;
  /** True where one thing is said to be for both of two. */
  readonly both: boolean;
  /** True where the maker of the device is named. */
  readonly maker: boolean;
  /** True where no other name follows the maker's, as another device's would. */
  readonly makerAlone: boolean;
  /** True where a part of the listing was not read, so that nothing of it can be taken for the whole. */
  readonly unread: boolean;
}

/** Compiles the rules that {@link readListing} needs; see {@link compileWording} for what is not understood. */
export function prepareReading(rules: RawRules): ReadingRules {
  return {
    wording: compileWording(rules),
    quantities: prepareQuantityRules(rules.numberFormats),
    dates: prepareDateRules(rules.numberFormats),
    designations: prepareDesignationRules(rules.numberFormats),
    otherNumbers: prepareOtherNumberRules(rules.numberFormats),
    ...compileNamed(rules),
  };
}

/**
 * Reads a listing.
 *
 * @param known the numbers that mean something for the device in hand
 * @param isWanted true for part types that the device is known to have
 */
export function readListing(
  listing: Listing,
  rules: ReadingRules,
  known: KnownNumbers,
  isWanted: (type: string) => boolean,
): ListingClaims {
  const fields = readFields(listing, rules, known);
  const said = fields.map(({ field, items }) => readGrammar(field, items));
  const named = fields.map(({ field }) => wordClaims(field, rules, known));
  return {
    claims: [...said.flatMap(({ claims }) => claims), ...named.flat()],
    subject: readSubject(fields, isWanted),
    doubt: said.some(({ doubt }) => doubt),
    choice: said.some(({ choice }) => choice),
    both: said.some(({ both }) => both),
    maker: fields.some(({ items }) => items.some((item) => isMaker(item))),
    makerAlone: fields.every(
      ({ field, items }) => !items.some((item, i) => isMaker(item) && isNamedOn(field, items, i)),
    ),
    unread:
      hasMoreSpecifics(listing) ||
      named.some((claims) => claims.length >= MAX_NAMED) ||
      fields.some(({ field }) => field.unread),
  };
}

/** "Quillon Egret 15": a word that means nothing behind the maker's name is another device's. */
function isNamedOn({ tokens }: Field, items: readonly Item[], maker: number): boolean {
  const [item, next] = [items[maker], items[maker + 1]];
  return next?.type === "word" && item !== undefined && tokens[item.last - 1]?.gap === " ";
}

function isMaker(item: Item): boolean {
  return item.type === "phrase" && item.meanings.some(({ kind }) => kind === MAKER_KIND);
}

/** All fields as items, each word read in the languages that the listing speaks. */
function readFields(listing: Listing, rules: ReadingRules, known: KnownNumbers): ReadField[] {
  const fields = fieldsOf(listing).map((field) => unglue(field, known, rules.wording));
  const read = fields.map((field) => readField(field, rules, known));
  const weights = new Map<string, number>();
  for (const { field, items } of read) if (field.part !== "specifics") weighLanguages(items, field.words, weights);
  const title = spokenLanguages(weights, listing.language);
  return read.map(({ field, items }) => {
    if (field.part !== "specifics") return { field, items: keepSpoken(items, field.words, title) };
    const own = new Map(weights);
    weighLanguages(items, field.words, own);
    return { field, items: keepSpoken(items, field.words, spokenLanguages(own, listing.language)) };
  });
}

function readField(field: Field, rules: ReadingRules, known: KnownNumbers): ReadField {
  const { text } = field.folded;
  const designations = readDesignations(text, rules.designations, field.tokens).flatMap((each) => each.quantities);
  const free = ({ span }: StatedQuantity): boolean =>
    !designations.some((each) => each.span[0] < span[1] && span[0] < each.span[1]);
  const measured = readQuantities(text, rules.quantities, field.tokens);
  const stated = [...labelled(field, rules), ...measured].filter(free);
  const quantities = [...designations, ...stated].sort((a, b) => a.span[0] - b.span[0]);
  const dates = readDateClaims(
    text,
    rules.dates,
    quantities.map(({ span }) => span),
    field.tokens,
  ).map(({ interval, span, grain, ofDevice, marked }) => ({
    interval,
    span,
    isDay: grain === "day",
    notTheDevice: !ofDevice,
    told: marked,
  }));
  const quantityAt = (token: number): readonly StatedQuantity[] => {
    const start = field.tokens[token]?.start;
    const anew = readQuantities(text, rules.quantities, field.tokens.slice(token, token + 4));
    return anew.filter(({ span }) => span[0] === start);
  };
  const { wording, otherNumbers } = rules;
  const items = readItems(field, { wording, known, quantities, dates, otherNumbers, quantityAt });
  // As many as are read at most: more may follow.
  const unread = field.unread || measured.length >= MAX_QUANTITIES || dates.length >= MAX_DATES;
  return { field: unread ? { ...field, unread } : field, items };
}

/** By the rules' words and by the catalogs' own; a description tells the latter of many other things too. */
function wordClaims(field: Field, rules: ReadingRules, { valueWords }: KnownNumbers): Claim[] {
  const claims = namedClaims(field, rules);
  if (valueWords === undefined || field.part === "description") return claims;
  const isDenied = ({ span }: Claim): boolean => {
    const at = field.tokens.findIndex(({ start }) => start === span[0]);
    const before = at < 1 ? null : rules.wording.lexicon.find(field.words, at - 1, at);
    return before?.meanings.some(({ kind }) => DENIALS.has(kind)) === true;
  };
  return [...claims, ...namedClaims(field, valueWords).filter((claim) => !isDenied(claim))];
}

/** Kinds of words behind which a value is not the thing's: "no USB-C". */
const DENIALS: ReadonlySet<string> = new Set(["not", "without", "except", "with", "for"]);

/** Quantities stated by a word: "without frame", "DDR4", "NVMe". */
function namedClaims(field: Field, rules: NamedWords): Claim[] {
  const claims: Claim[] = [];
  for (let i = 0; i < field.tokens.length && claims.length < MAX_NAMED; i++) {
    const found = rules.named.find(field.words, i);
    if (found === null) continue;
    const [start, end] = [field.tokens[i]?.start ?? 0, field.tokens[i + found.length - 1]?.end ?? 0];
    for (const { kind } of found.meanings) {
      const quantity = rules.namedQuantities.get(kind);
      if (quantity === undefined) continue;
      claims.push({
        kind: "quantity",
        of: [],
        quantity: { ...quantity, alternatives: [], span: [start, end], role: null },
        stance: "plain",
        only: false,
        hedged: false,
        equal: false,
        chosen: false,
        field: field.part,
        span: spanOf(field, start, end),
      });
    }
    i += found.length - 1;
  }
  return claims;
}

/** Most quantities stated by words that are read from one field. */
const MAX_NAMED = 200;

/** "Voltage (V): 11.1": the unit stands in the label of a specific. */
function labelled(field: Field, rules: ReadingRules): StatedQuantity[] {
  if (field.part !== "specifics") return [];
  const { text } = field.folded;
  const found = readLabelledQuantity(text.slice(0, field.lead), text.slice(field.lead), rules.quantities);
  if (found === null) return [];
  const [start, end] = found.span;
  return [{ ...found, span: [start + field.lead, end + field.lead] }];
}
