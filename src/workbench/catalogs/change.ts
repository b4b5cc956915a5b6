/** Changes to a catalog, each giving a new one and leaving the old as it was. Pure. */
import type { Catalog, Family, Part } from "../../formats/catalog.ts";

/** What a catalog says of itself. */
export type CatalogHead = Pick<Catalog, "title" | "publisher" | "published" | "license" | "note">;

/** Where a part is listed: a revision of a family. */
export interface Place {
  readonly family: string;
  readonly revision: string;
}

/**
 * One change. `before` is the id that the thing had, `null` for a new one, which then gets an id that is free; `at` a
 * place in its list, `null` for a new one.
 */
export type CatalogChange =
  | { readonly kind: "head"; readonly head: CatalogHead }
  | { readonly kind: "put-family"; readonly before: string | null; readonly family: Family }
  | { readonly kind: "remove-family"; readonly id: string }
  | {
      readonly kind: "put-part";
      readonly before: string | null;
      readonly part: Part;
      /** The revisions that take it; as before where left out. */
      readonly places?: readonly Place[];
    }
  | { readonly kind: "remove-part"; readonly id: string }
  | {
      readonly kind: "put-interchange";
      readonly at: number | null;
      readonly entry: Catalog["interchange"][number];
    }
  | { readonly kind: "remove-interchange"; readonly at: number }
  | {
      readonly kind: "put-supersession";
      readonly at: number | null;
      readonly entry: Catalog["supersession"][number];
    }
  | { readonly kind: "remove-supersession"; readonly at: number };

/** The catalog with a change made; the format's own check decides whether it may be kept. */
export function changedCatalog(catalog: Catalog, change: CatalogChange): Catalog {
  switch (change.kind) {
    case "head":
      return withHead(catalog, change.head);
    case "put-family":
      return withFamily(catalog, change.before, change.family);
    case "remove-family":
      return { ...catalog, families: catalog.families.filter(({ id }) => id !== change.id) };
    case "put-part":
      return withPart(catalog, change.before, change.part, change.places);
    case "remove-part":
      return {
        ...catalog,
        parts: catalog.parts.filter(({ id }) => id !== change.id),
        families: mapPlaces(catalog.families, (parts) => parts.filter((id) => id !== change.id)),
      };
    case "put-interchange":
      return { ...catalog, interchange: putAt(catalog.interchange, change.at, change.entry) };
    case "remove-interchange":
      return { ...catalog, interchange: catalog.interchange.filter((_, i) => i !== change.at) };
    case "put-supersession":
      return { ...catalog, supersession: putAt(catalog.supersession, change.at, change.entry) };
    case "remove-supersession":
      return { ...catalog, supersession: catalog.supersession.filter((_, i) => i !== change.at) };
  }
}

/** The revisions that list a part. */
export function placesOf(catalog: Catalog, partId: string): Place[] {
  return catalog.families.flatMap((family) =>
    family.revisions
      .filter(({ parts }) => parts.includes(partId))
      .map((revision) => ({ family: family.id, revision: revision.id })),
  );
}

/** An id made of a name that none of the taken ones equals. */
export function freeId(wanted: string, taken: Iterable<string>): string {
  const used = new Set(taken);
  const base =
    wanted
      .normalize("NFKD")
      .replace(/\p{M}/gu, "")
      .toLowerCase()
      .replace(/[^a-z0-9]+/g, "-")
      .replace(/^-|-$/g, "")
      .slice(0, 80) || "new";
  let id = base;
  for (let n = 2; used.has(id); n++) id = `${base}-${n}`;
  return id;
}

/** What is empty is left out. */
function withHead(catalog: Catalog, head: CatalogHead): Catalog {
  const { families, parts, interchange, supersession, format } = catalog;
  const filled = Object.entries(head).filter(([, text]) => text !== undefined && text.trim() !== "");
  return { format, ...Object.fromEntries(filled), families, parts, interchange, supersession };
}

function withFamily(catalog: Catalog, before: string | null, family: Family): Catalog {
  const own =
    before === null
      ? {
          ...family,
          id: freeId(
            family.id,
            catalog.families.map(({ id }) => id),
          ),
        }
      : family;
  return { ...catalog, families: put(catalog.families, ({ id }) => id === before, own) };
}

function withPart(catalog: Catalog, before: string | null, asked: Part, places: readonly Place[] | undefined): Catalog {
  const part =
    before === null
      ? {
          ...asked,
          id: freeId(
            asked.id,
            catalog.parts.map(({ id }) => id),
          ),
        }
      : asked;
  const parts = put(catalog.parts, ({ id }) => id === before, part);
  const renamed = mapPlaces(catalog.families, (ids) => ids.map((id) => (id === before ? part.id : id)));
  if (places === undefined) return { ...catalog, parts, families: renamed };
  const wanted = new Set(places.map(({ family, revision }) => JSON.stringify([family, revision])));
  const families = mapPlaces(renamed, (ids, family, revision) => {
    const has = ids.includes(part.id);
    const wants = wanted.has(JSON.stringify([family, revision]));
    if (has === wants) return ids;
    return wants ? [...ids, part.id] : ids.filter((id) => id !== part.id);
  });
  return { ...catalog, parts, families };
}

/** Families with other part lists; what stays the same is not copied. */
function mapPlaces(
  families: readonly Family[],
  change: (ids: string[], family: string, revision: string) => string[],
): Family[] {
  return families.map((family) => {
    const revisions = family.revisions.map((revision) => {
      const parts = change(revision.parts, family.id, revision.id);
      return same(parts, revision.parts) ? revision : { ...revision, parts };
    });
    return revisions.some((revision, i) => revision !== family.revisions[i]) ? { ...family, revisions } : family;
  });
}

function same(a: readonly string[], b: readonly string[]): boolean {
  return a === b || (a.length === b.length && a.every((id, i) => id === b[i]));
}

/** Replaces the entry that is meant, or adds at the end. */
function put<T>(list: readonly T[], isMeant: (entry: T) => boolean, entry: T): T[] {
  const at = list.findIndex(isMeant);
  return putAt(list, at < 0 ? null : at, entry);
}

function putAt<T>(list: readonly T[], at: number | null, entry: T): T[] {
  return at === null ? [...list, entry] : list.map((each, i) => (i === at ? entry : each));
}
