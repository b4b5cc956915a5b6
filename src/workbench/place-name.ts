/** What a revision is called where its family must be named too. */
import type { CatalogIndex } from "../catalog/index.ts";
import { revisionName } from "../catalog/resolve.ts";

/**
 * Such as `Lark 20 handheld, late board`.
 *
 * @param place `family/revision`; one that the catalogs do not hold is given back as it is
 */
export function placeName(place: string, index: CatalogIndex): string {
  const cut = place.lastIndexOf("/");
  const family = index.family(place.slice(0, cut));
  const revision = family?.revisions.find(({ id }) => id === place.slice(cut + 1));
  return revision === undefined ? place : `${family?.name ?? family?.id}, ${revisionName(revision)}`;
}
