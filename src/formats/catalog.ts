/** The catalog file `*.catalog.json` (design section 3): families, revisions, parts and what replaces what. */
import * as z from "zod";
import {
  checkAgainst,
  checkFile,
  identifier,
  type Outcome,
  partTypeName,
  printedNumber,
  quantities,
  readJson,
  shortText,
} from "./common.ts";

/** The value of `format` in a catalog file. */
export const CATALOG_FORMAT = "falsefit-catalog/1";

/**
 * A build date: an ISO 8601 week (`2021-W14`), month (`2021-05`), day (`2021-05-17`) or year (`2021`).
 */
export const dateText = z
  .string()
  .max(12)
  .regex(
    /^\d{4}(?:-W\d{2}|-\d{2}(?:-\d{2})?)?$/,
    "must be a year, month, day or ISO week, such as 2021, 2021-05, 2021-05-17 or 2021-W14",
  );

/** A span of dates, both ends included; a missing end is open. */
export const dateSpan = z.strictObject({
  from: dateText.optional(),
  to: dateText.optional(),
});

/**
 * What stands on one pin: a word of design section 3 (`supply`, `ground`, …) or a free name after a colon
 * (`signal:eDP lane 0`).
 */
const pinWord = z.string().min(1).max(80);

const connector = z.strictObject({
  family: shortText.optional(),
  positions: z.number().int().min(1).max(400).optional(),
  pins: z.array(pinWord).max(400).optional(),
});

const part = z.strictObject({
  id: identifier,
  type: partTypeName,
  name: shortText.optional(),
  numbers: z.array(printedNumber).max(2_000).default([]),
  quantities: quantities.optional(),
  connector: connector.optional(),
  note: shortText.optional(),
});

const revision = z.strictObject({
  id: identifier,
  name: shortText.optional(),
  boardNumbers: z.array(printedNumber).max(500).default([]),
  built: dateSpan.optional(),
  years: z.array(z.number().int().min(1900).max(2100)).max(200).optional(),
  tellBy: shortText.optional(),
  parts: z.array(identifier).max(5_000).default([]),
  note: shortText.optional(),
});

const family = z.strictObject({
  id: identifier,
  maker: shortText.optional(),
  name: shortText.optional(),
  modelNumbers: z.array(printedNumber).max(500).default([]),
  revisions: z.array(revision).max(200).default([]),
  note: shortText.optional(),
});

const interchange = z.strictObject({
  numbers: z.array(printedNumber).min(2).max(2_000),
  basis: shortText.optional(),
  note: shortText.optional(),
});
const supersession = z.strictObject({
  old: printedNumber,
  new: printedNumber,
  basis: shortText.optional(),
  note: shortText.optional(),
});

/** The schema of a whole catalog file. */
export const catalogSchema = z.strictObject({
  format: z.literal(CATALOG_FORMAT),
  title: shortText.optional(),
  publisher: shortText.optional(),
  published: shortText.optional(),
  license: shortText.optional(),
  note: shortText.optional(),
  families: z.array(family).default([]),
  parts: z.array(part).default([]),
  interchange: z.array(interchange).default([]),
  supersession: z.array(supersession).default([]),
});

/** A catalog as its file states it, defaults filled in. */
export type Catalog = z.infer<typeof catalogSchema>;
/** One device family of a catalog. */
export type Family = Catalog["families"][number];
/** One production variant inside a family. */
export type Revision = Family["revisions"][number];
/** One part of a catalog. */
export type Part = Catalog["parts"][number];
/** How a part plugs in: connector family, number of positions, what stands on each pin (pin 1 first). */
export type Connector = NonNullable<Part["connector"]>;
/** Quantities by `name_unit`. */
export type Quantities = z.infer<typeof quantities>;
/** A span of dates as text, both ends included. */
export type DateSpanText = z.infer<typeof dateSpan>;

/**
 * Reads a catalog file, checking shape, ids and references; every fault is listed with its field.
 */
export function readCatalog(text: string): Outcome<Catalog> {
  const json = readJson(text);
  return json.ok ? checkCatalog(json.value) : json;
}

/** Checks an already parsed value as a catalog; see {@link readCatalog}. */
export function checkCatalog(value: unknown): Outcome<Catalog> {
  return checkFile(value, ["falsefit-catalog", 1], catalogSchema, referenceFaults);
}

/** Checks single entries of a catalog's lists; ids and references are left to whoever knows the others. */
export const checkEntry = {
  parts: (value: unknown): Outcome<Part> => checkAgainst(part, value),
  families: (value: unknown): Outcome<Family> => checkAgainst(family, value),
  interchange: (value: unknown): Outcome<Catalog["interchange"][number]> => checkAgainst(interchange, value),
  supersession: (value: unknown): Outcome<Catalog["supersession"][number]> => checkAgainst(supersession, value),
};

/** Ids used twice and parts named by a revision but not listed ("a catalog is complete in itself"). */
function* referenceFaults(catalog: Catalog): Generator<{ field: string; message: string }> {
  const partIds = new Set<string>();
  for (const [i, entry] of catalog.parts.entries()) {
    if (partIds.has(entry.id))
      yield {
        field: `parts[${i}].id`,
        message: `"${entry.id}" is used by an earlier part; ids must differ within a catalog.`,
      };
    partIds.add(entry.id);
  }
  const familyIds = new Set<string>();
  for (const [f, entry] of catalog.families.entries()) {
    if (familyIds.has(entry.id))
      yield {
        field: `families[${f}].id`,
        message: `"${entry.id}" is used by an earlier family; ids must differ within a catalog.`,
      };
    familyIds.add(entry.id);
    const revisionIds = new Set<string>();
    for (const [r, each] of entry.revisions.entries()) {
      const at = `families[${f}].revisions[${r}]`;
      if (revisionIds.has(each.id))
        yield {
          field: `${at}.id`,
          message: `"${each.id}" is used by an earlier revision of this family.`,
        };
      revisionIds.add(each.id);
      for (const [p, id] of each.parts.entries()) {
        if (!partIds.has(id))
          yield {
            field: `${at}.parts[${p}]`,
            message: `No part with the id "${id}" in "parts"; add the part or correct the id.`,
          };
      }
    }
  }
}
