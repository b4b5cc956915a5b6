/** How many pieces a listing sells at its price. */
import type { NumberClaim, QuantityClaim } from "../claims/claims.ts";
import type { ListingClaims } from "../claims/index.ts";
import type { Listing } from "../formats/listing.ts";

/** Most pieces that a title is believed to sell at one price; "100 pcs" counts screws or what is in stock. */
const MOST_PIECES = 50;
/** How far from the title's beginning, its end, a number or the part's word a count stands that counts the part. */
const NEAR_CHARS = 3;

/**
 * The count of a lot ("2 pcs", "lot of 3", "2x PB-2240"): 1 where the title states none, several that differ, or one
 * that stands where other things are counted ("with 4 screws").
 *
 * @param said the listing's claims
 */
export function piecesOf(listing: Listing, said: ListingClaims): number {
  const title = said.claims.filter(({ span }) => span[2] === "title");
  const counts = title.filter(
    (claim): claim is QuantityClaim => claim.kind === "quantity" && claim.quantity.name === "lotCount",
  );
  const [first] = counts;
  if (first === undefined || counts.some(({ quantity }) => quantity.value !== first.quantity.value)) return 1;
  const pieces = first.quantity.value;
  if (typeof pieces !== "number" || pieces > MOST_PIECES) return 1;
  const numbers = title.filter((claim): claim is NumberClaim => claim.kind === "number");
  return counts.some((count) => countsThePart(count, numbers, listing.title)) ? pieces : 1;
}

/** It opens or closes the title, or touches a number of the part. */
function countsThePart({ span: [start, end] }: QuantityClaim, numbers: readonly NumberClaim[], title: string): boolean {
  if (title.slice(0, start).trim().length <= NEAR_CHARS) return true;
  if (title.slice(end).replace(/[^\p{L}\p{N}]+/gu, "").length <= NEAR_CHARS) return true;
  return numbers.some(({ span }) => near(span[0] - end) || near(start - span[1]));
}

function near(distance: number): boolean {
  return distance >= 0 && distance <= NEAR_CHARS;
}
