/** The first rows of a cross-reference list under what each column is read as, and how many rows stand above. */
import type { TableShape } from "../../desks/columns.ts";
import type { ColumnWord } from "../../formats/column-names.ts";
import { useWords } from "../../ui/words-context.tsx";
import { ColumnTable, SkipField } from "../column-table.tsx";
import type { Look } from "../order/order-calls.ts";

/** What a column of a cross-reference list can be read as. */
const catalogColumns = [
  "number",
  "title",
  "partType",
  "model",
  "fits",
  "maker",
  "revision",
  "board",
  "builtFrom",
  "builtTo",
  "year",
  "interchange",
  "supersededBy",
] as const satisfies readonly ColumnWord[];

interface CatalogColumnsProps {
  look: Look;
  onShape: (shape: TableShape) => void;
}

/** The table, and how many rows stand above the entries. */
export function CatalogColumns({ look: { rows, shape }, onShape }: CatalogColumnsProps) {
  const words = useWords();
  return (
    <>
      <ColumnTable
        label={words.say("catalog_sheet_first_rows")}
        rows={rows}
        shape={shape}
        meanings={catalogColumns.map((word) => ({ word, label: words.say(columnKeys[word]) }))}
        nothing={words.say("catalog_column_nothing")}
        nameOf={(number) => words.say("catalog_column_no", { number })}
        onShape={onShape}
      />
      <div class="wb-short-field">
        <SkipField
          label={words.say("catalog_sheet_skip")}
          rows={rows}
          shape={shape}
          wordFor={(count) => words.say("catalog_sheet_skip_rows", { count })}
          onShape={onShape}
        />
      </div>
    </>
  );
}

const columnKeys: Readonly<Record<(typeof catalogColumns)[number], string>> = {
  number: "catalog_column_number",
  title: "catalog_column_title",
  partType: "bench_part_type",
  model: "bench_model_numbers",
  fits: "catalog_column_fits",
  maker: "catalog_maker",
  revision: "bench_revision",
  board: "bench_board_number",
  builtFrom: "catalog_built_from",
  builtTo: "catalog_built_to",
  year: "catalog_years",
  interchange: "catalog_column_interchange",
  supersededBy: "catalog_column_superseded",
};
