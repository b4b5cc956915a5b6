/** The first rows of a list under what each of its columns is read as; each can be put right. */
import { useId } from "preact/hooks";
import type { TableShape } from "../desks/columns.ts";
import type { ColumnWord } from "../formats/column-names.ts";
import { SelectField } from "../ui/field.tsx";
import { withColumn, wordOfColumn } from "./order/draft.ts";

/** Rows of the list that are shown below the heading. */
const ROWS_SHOWN = 8;
/** Columns that are shown. */
const MOST_COLUMNS = 60;
/** Rows that may stand above the entries. */
const MOST_SKIPPED = 20;

/** Something that a column can be read as. */
export interface ColumnMeaning {
  readonly word: ColumnWord;
  readonly label: string;
}

interface ColumnTableProps {
  label: string;
  /** The first rows from the top, the heading among them. */
  rows: readonly (readonly string[])[];
  shape: TableShape;
  meanings: readonly ColumnMeaning[];
  /** The words for a column that is not read. */
  nothing: string;
  /** Names a column without a heading, by its one-based place. */
  nameOf: (place: number) => string;
  onShape: (shape: TableShape) => void;
}

/** The table. */
export function ColumnTable({ label, rows, shape, meanings, nothing, nameOf, onShape }: ColumnTableProps) {
  const heading = shape.skip > 0 ? (rows[shape.skip - 1] ?? []) : [];
  const body = rows.slice(shape.skip, shape.skip + ROWS_SHOWN);
  const width = Math.min(MOST_COLUMNS, Math.max(heading.length, ...body.map((row) => row.length), 1));
  const columns = Array.from({ length: width }, (_, column) => column);
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a region that scrolls sideways must be reachable by keyboard.
    <section class="wb-table-frame" tabIndex={0} aria-label={label}>
      <table class="wb-table">
        <thead>
          <tr>
            {columns.map((column) => (
              <th key={column} scope="col" data-read={wordOfColumn(shape, column) !== null}>
                <ColumnChoice
                  name={heading[column] || nameOf(column + 1)}
                  word={wordOfColumn(shape, column)}
                  meanings={meanings}
                  nothing={nothing}
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
                  {row[column]?.slice(0, 200)}
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}

interface ColumnChoiceProps {
  /** The heading that the list gives the column. */
  name: string;
  word: ColumnWord | null;
  meanings: readonly ColumnMeaning[];
  nothing: string;
  onChange: (word: ColumnWord | null) => void;
}

function ColumnChoice({ name, word, meanings, nothing, onChange }: ColumnChoiceProps) {
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
        onChange={({ currentTarget: { value } }) =>
          onChange(meanings.find((each) => each.word === value)?.word ?? null)
        }
      >
        <option value="">{nothing}</option>
        {meanings.map((each) => (
          <option key={each.word} value={each.word}>
            {each.label}
          </option>
        ))}
      </select>
    </>
  );
}

interface SkipFieldProps {
  label: string;
  rows: readonly unknown[];
  shape: TableShape;
  /** The words for so many rows above the entries. */
  wordFor: (rows: number) => string;
  onShape: (shape: TableShape) => void;
}

/** How many rows stand above the entries. */
export function SkipField({ label, rows, shape, wordFor, onShape }: SkipFieldProps) {
  return (
    <SelectField
      label={label}
      value={String(shape.skip)}
      options={Array.from({ length: Math.min(MOST_SKIPPED + 1, rows.length) }, (_, skip) => ({
        value: String(skip),
        label: wordFor(skip),
      }))}
      onChange={(skip) => onShape({ ...shape, skip: Number(skip) })}
    />
  );
}
