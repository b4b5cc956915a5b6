/** A listing put together from its parts: what is not known is left out. */
import type { Listing, ListPrice, Money } from "../formats/listing.ts";

/** The parts of a listing; null where the page does not say. */
export interface ListingParts {
  readonly title: string;
  readonly price: ListPrice | null;
  readonly shipping: Money | null;
  readonly condition: string | null;
  readonly specifics: Readonly<Record<string, string>>;
  readonly description: string | null;
  readonly url: string | null;
  readonly language: string | null;
}

/** The listing line of the parts (design section 3). */
export function toListing(parts: ListingParts): Listing {
  const listing: Listing = { title: parts.title };
  if (parts.price !== null) listing.price = parts.price;
  if (parts.shipping !== null) listing.shipping = parts.shipping;
  if (parts.condition !== null) listing.condition = parts.condition;
  if (Object.keys(parts.specifics).length > 0) listing.specifics = { ...parts.specifics };
  if (parts.description !== null) listing.description = parts.description;
  if (parts.url !== null) listing.url = parts.url;
  if (parts.language !== null) listing.language = parts.language;
  return listing;
}

/** The stated price where it is another than the shown one. */
export function differing(shown: ListPrice | null, stated: ListPrice | null): ListPrice | null {
  return shown !== null && stated !== null && shown.amount !== stated.amount ? stated : null;
}
