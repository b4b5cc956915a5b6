/** The first rows of a spreadsheet under what each column is read as; each can be put right. */
import { useId } from "preact/hooks";
import type { TableShape } from "../../desks/columns.ts";
import type { ColumnWord } from "../../formats/column-names.ts";
import { SelectField } from "../../ui/field.tsx";
import { useWords } from "../../ui/words-context.tsx";
import { withColumn, wordOfColumn } from "../order/draft.ts";
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

const ROWS_SHOWN = 8;
const MOST_COLUMNS = 60;

interface ColumnTableProps {
  look: Look;
  onShape: (shape: TableShape) => void;
}

/** The table, and how many rows stand above the entries. */
export function ColumnTable({ look, onShape }: ColumnTableProps) {
  const words = useWords();
  const { shape } = look;
  const heading = shape.skip > 0 ? (look.rows[shape.skip - 1] ?? []) : [];
  const body = look.rows.slice(shape.skip, shape.skip + ROWS_SHOWN);
  const width = Math.min(MOST_COLUMNS, Math.max(heading.length, ...body.map((row) => row.length), 1));
  const columns = Array.from({ length: width }, (_, column) => column);
  return (
    <>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: a region that scrolls sideways must be reachable by keyboard. */}
      <section class="wb-table-frame" tabIndex={0} aria-label={words.say("catalog_sheet_first_rows")}>
        <table class="wb-table">
          <thead>
            <tr>
              {columns.map((column) => (
                <th key={column} scope="col" data-read={wordOfColumn(shape, column) !== null}>
                  <ColumnChoice
                    name={heading[column] || words.say("catalog_column_no", { number: column + 1 })}
                    word={wordOfColumn(shape, column)}
                    onChange={(word) => onShape(withColumn(shape, column, word))}
                  />
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {body.map((row, i) => (
              // biome-ignore lint/suspicious/noArrayIndexKey: rows have no other name than their place.
              <tr key={i}>
                {columns.map((column) => (
                  <td key={column} data-read={wordOfColumn(shape, column) !== null} dir="auto">
                    {row[column]?.slice(0, 120)}
                  </td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </section>
      <div class="wb-short-field">
        <SelectField
          label={words.say("catalog_sheet_skip")}
          value={String(shape.skip)}
          options={Array.from({ length: Math.min(21, look.rows.length) }, (_, rows) => ({
            value: String(rows),
            label: words.say("catalog_sheet_skip_rows", { count: rows }),
          }))}
          onChange={(skip) => onShape({ ...shape, skip: Number(skip) })}
        />
      </div>
    </>
  );
}

interface ColumnChoiceProps {
  name: string;
  word: ColumnWord | null;
  onChange: (word: ColumnWord | null) => void;
}

function ColumnChoice({ name, word, onChange }: ColumnChoiceProps) {
  const words = useWords();
  const id = useId();
  return (
    <>
      <label for={id} dir="auto">
        {name.slice(0, 80)}
      </label>
      <select
        id={id}
        class="ff-input"
        value={word ?? ""}
        onChange={({ currentTarget: { value } }) => onChange(catalogColumns.find((each) => each === value) ?? null)}
      >
        <option value="">{words.say("catalog_column_nothing")}</option>
        {catalogColumns.map((each) => (
          <option key={each} value={each}>
            {words.say(columnKeys[each])}
          </option>
        ))}
      </select>
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
