/** A language's column names `rules/column-names/*.json`: how order and stock lists head their columns. */
import * as z from "zod";

/** What a column of an order or stock list can hold. */
export const columnWords = [
  "number",
  "title",
  "description",
  "stockNumber",
  "quantity",
  "unitPrice",
  "total",
  "currency",
  "job",
  "supplier",
  "condition",
  "model",
  "board",
  "fits",
  "year",
  "url",
  "interchange",
  "supersededBy",
  "partType",
  "revision",
  "maker",
  "builtFrom",
  "builtTo",
] as const;

/** The schema of one file; of several columns with one name, the language's file that lists it first wins. */
export const columnNamesSchema = z.strictObject({
  format: z.literal("falsefit-column-names/1"),
  /** BCP 47 language. */
  language: z.string(),
  columns: z.strictObject(
    Object.fromEntries(columnWords.map((word) => [word, z.array(z.string().min(1).max(80))])) as Record<
      ColumnWord,
      z.ZodArray<z.ZodString>
    >,
  ),
});

/** What one column holds. */
export type ColumnWord = (typeof columnWords)[number];
/** One language's column names. */
export type ColumnNames = z.infer<typeof columnNamesSchema>;
