/**
 * A listing's text read as claims.
 *
 *   listing ─▶ fields, folded ─▶ quantities, dates, numbers, phrases as items ─▶ grammar ─▶ claims
 *                                                                          └──▶ subject: what is sold
 */
import type { Listing } from "../formats/listing.ts";
import type { RawRules } from "../formats/rules.ts";
import { type DateRules, prepareDateRules, readDateClaims } from "../text/date-claims.ts";
import {
  prepareQuantityRules,
  type QuantityRules,
  readLabelledQuantity,
  readQuantities,
  type StatedQuantity,
} from "../text/quantities.ts";
import type { Claim } from "./claims.ts";
import { type Field, fieldsOf } from "./fields.ts";
import { readGrammar } from "./grammar.ts";
import { readItems } from "./items.ts";
import { type ReadField, readSubject, type Subject } from "./subject.ts";
import { compileWording, type KnownNumbers, type Wording } from "./vocabulary.ts";

export type { Claim, DateClaim, NumberClaim, QuantityClaim, RevisionClaim, RevisionWord, Stance } from "./claims.ts";
export type { Sold, Subject } from "./subject.ts";
export type { KnownNumbers, Named, Wording } from "./vocabulary.ts";

/** The rules for reading listings, compiled once. */
export interface ReadingRules {
  readonly wording: Wording;
  readonly quantities: QuantityRules;
  readonly dates: DateRules;
}

/** Everything that a listing says. */
export interface ListingClaims {
  readonly claims: readonly Claim[];
  readonly subject: Subject;
  /** True where the listing doubts that the thing fits. */
  readonly doubt: boolean;
  /** True where the buyer is asked to choose. */
  readonly choice: boolean;
}

/** Compiles the rules that {@link readListing} needs; see {@link compileWording} for what is not understood. */
export function prepareReading(rules: RawRules): ReadingRules {
  return {
    wording: compileWording(rules),
    quantities: prepareQuantityRules(rules.numberFormats),
    dates: prepareDateRules(rules.numberFormats),
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
  const fields = fieldsOf(listing).map((field): ReadField => ({ field, items: itemsOf(field, rules, known) }));
  const said = fields.map(({ field, items }) => readGrammar(field, items));
  return {
    claims: said.flatMap(({ claims }) => claims),
    subject: readSubject(fields, isWanted),
    doubt: said.some(({ doubt }) => doubt),
    choice: said.some(({ choice }) => choice),
  };
}

function itemsOf(field: Field, rules: ReadingRules, known: KnownNumbers) {
  const { text } = field.folded;
  const quantities = [...labelled(field, rules), ...readQuantities(text, rules.quantities, field.tokens)];
  quantities.sort((a, b) => a.span[0] - b.span[0]);
  const dates = readDateClaims(
    text,
    rules.dates,
    quantities.map(({ span }) => span),
    field.tokens,
  ).map(({ interval, span, ofDevice, marked }) => ({ interval, span, notTheDevice: !ofDevice, told: marked }));
  return readItems(field, { wording: rules.wording, known, quantities, dates });
}

/** "Voltage (V): 11.1": the unit stands in the label of a specific. */
function labelled(field: Field, rules: ReadingRules): StatedQuantity[] {
  if (field.part !== "specifics") return [];
  const { text } = field.folded;
  const found = readLabelledQuantity(text.slice(0, field.lead), text.slice(field.lead), rules.quantities);
  if (found === null) return [];
  const [start, end] = found.span;
  return [{ ...found, span: [start + field.lead, end + field.lead] }];
}
