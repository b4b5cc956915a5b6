/** What is said about a catalog, and its text. Pure. */
import type { Catalog } from "../../formats/catalog.ts";
import type { CatalogHead } from "../catalogs/change.ts";

/** What is said about a catalog before it is opened or kept. */
export interface CatalogInfo {
  readonly head: CatalogHead;
  readonly families: number;
  readonly revisions: number;
  readonly parts: number;
  readonly numbers: number;
  readonly links: number;
}

/** Counts a catalog. */
export function infoOf(catalog: Catalog): CatalogInfo {
  const { families, parts, interchange, supersession, format: _format, ...head } = catalog;
  return {
    head,
    families: families.length,
    revisions: families.reduce((sum, { revisions }) => sum + revisions.length, 0),
    parts: parts.length,
    numbers: parts.reduce((sum, { numbers }) => sum + numbers.length, 0),
    links: interchange.length + supersession.length,
  };
}

/** A catalog as a file holds it; large ones are written without white space. */
export function catalogText(catalog: Catalog): string {
  return catalog.parts.length > 5_000 ? JSON.stringify(catalog) : `${JSON.stringify(catalog, null, 2)}\n`;
}
