/** A list before its check: how it is read, column by column, each of which the person may put right. */
import { useId, useState } from "preact/hooks";
import { delimiters } from "../../desks/csv-rows.ts";
import type { ColumnWord } from "../../formats/column-names.ts";
import type { ListSlot } from "../../store/lists.ts";
import { Button } from "../../ui/button.tsx";
import { SelectField, TextField } from "../../ui/field.tsx";
import { Failure } from "../../ui/states.tsx";
import { useUndo } from "../../ui/undo.tsx";
import { useWords } from "../../ui/words-context.tsx";
import { useTools } from "../tools.tsx";
import { canBeChecked, type Draft, draftOf, layoutOf, orderColumns, withColumn, wordOfColumn } from "./draft.ts";
import type { Reading } from "./order-calls.ts";

/** Rows of the list that are shown below the heading. */
const ROWS_SHOWN = 6;
/** Columns that are shown. */
const MOST_COLUMNS = 60;

interface PreviewProps {
  slot: ListSlot;
  draft: Draft;
  onDraft: (draft: Draft) => void;
  onDone: () => void;
}

/** The preview. */
export function Preview({ slot, draft, onDraft, onDone }: PreviewProps) {
  const words = useWords();
  const { work, store } = useTools();
  const [busy, setBusy] = useState(false);
  const [failed, setFailed] = useState<Error | null>(null);
  const offerUndo = useUndo();
  const ready = canBeChecked(draft.shape);
  const start = async () => {
    setBusy(true);
    try {
      if (draft.corrected) await store.layouts.keep(layoutOf(draft.shape));
      const { encoding, delimiter } = draft.look;
      await work.listStart({ slot, source: draft.source, reading: { encoding, delimiter }, shape: draft.shape });
      // A list that was taken away before has lost its place.
      offerUndo("", () => undefined);
      onDone();
    } catch (error) {
      setBusy(false);
      setFailed(error instanceof Error ? error : new Error(String(error)));
    }
  };
  return (
    <section class="od-preview" aria-labelledby="od-preview-heading">
      <h2 id="od-preview-heading">{words.say("order_desk_preview", { name: draft.source.name })}</h2>
      <ReadAs draft={draft} onDraft={onDraft} />
      {!ready && <p class="ff-error">{words.say("order_desk_needs_column")}</p>}
      <ColumnTable draft={draft} onDraft={onDraft} />
      {failed && (
        <Failure title={words.say("order_desk_not_stored")} faults={[{ field: "", message: failed.message }]} />
      )}
      <div class="ff-actions">
        <Button kind="strong" disabled={!ready} busy={busy} onPress={start}>
          {words.say("order_desk_check")}
        </Button>
        <Button kind="quiet" onPress={onDone}>
          {words.say("order_desk_back")}
        </Button>
      </div>
    </section>
  );
}

type Corrections = Pick<PreviewProps, "draft" | "onDraft">;

/** One sentence on how the list is read, and the ways to change it. */
function ReadAs({ draft, onDraft }: Corrections) {
  const words = useWords();
  const { work, store } = useTools();
  const { look, shape } = draft;
  const readAgain = async (reading: Reading) =>
    onDraft({ ...(await draftOf(draft.source, work, { reading, layouts: store.layouts })), corrected: true });
  const change = (changes: Partial<Draft["shape"]>) =>
    onDraft({ ...draft, shape: { ...shape, ...changes }, corrected: true });
  const sentence = words.say("order_desk_read_as", {
    encoding: encodingName(look.encoding),
    delimiter: words.say(`order_desk_delimiter_${delimiterName(look.delimiter)}`),
    mark: words.say(shape.decimalMark === "," ? "order_desk_mark_comma" : "order_desk_mark_point"),
  });
  return (
    <details class="od-read-as">
      <summary>
        {sentence} {draft.remembered && words.say("order_desk_remembered")}
      </summary>
      <div class="od-read-fields">
        <SelectField
          label={words.say("order_desk_encoding")}
          value={look.encoding}
          options={encodings.map((value) => ({ value, label: encodingName(value) }))}
          onChange={(encoding) => readAgain({ encoding, delimiter: look.delimiter })}
        />
        <SelectField
          label={words.say("order_desk_delimiter")}
          value={look.delimiter}
          options={delimiters.map((value) => ({
            value,
            label: words.say(`order_desk_delimiter_${delimiterName(value)}`),
          }))}
          onChange={(delimiter) => readAgain({ encoding: look.encoding, delimiter })}
        />
        <SelectField
          label={words.say("order_desk_mark")}
          value={shape.decimalMark}
          options={[
            { value: ",", label: words.say("order_desk_mark_comma") },
            { value: ".", label: words.say("order_desk_mark_point") },
          ]}
          onChange={(mark) => change({ decimalMark: mark === "," ? "," : "." })}
        />
        <CurrencyField currency={shape.currency} onChange={(currency) => change({ currency })} />
        <SelectField
          label={words.say("order_desk_skip")}
          value={String(shape.skip)}
          options={Array.from({ length: Math.min(21, look.rows.length) }, (_, rows) => ({
            value: String(rows),
            label: words.say("order_desk_skip_rows", { count: rows }),
          }))}
          onChange={(skip) => change({ skip: Number(skip) })}
        />
      </div>
    </details>
  );
}

const encodings = ["utf-8", "utf-16le", "utf-16be", "windows-1252", "windows-1250"];

/** Names of standards are the same in every language. */
function encodingName(encoding: string): string {
  const names: Readonly<Record<string, string>> = {
    "utf-8": "UTF-8",
    "utf-16le": "UTF-16 LE",
    "utf-16be": "UTF-16 BE",
    "windows-1252": "Windows-1252",
    "windows-1250": "Windows-1250",
  };
  return names[encoding] ?? encoding;
}

function delimiterName(delimiter: string): string {
  const names: Readonly<Record<string, string>> = { ",": "comma", ";": "semicolon", "\t": "tab", "|": "bar" };
  return names[delimiter] ?? "another";
}

function CurrencyField({
  currency,
  onChange,
}: {
  currency: string | null;
  onChange: (currency: string | null) => void;
}) {
  const words = useWords();
  const [text, setText] = useState(currency ?? "");
  const wrong = text !== "" && !/^[A-Z]{3}$/.test(text);
  return (
    <TextField
      label={words.say("order_desk_currency")}
      hint={words.say("order_desk_currency_hint")}
      value={text}
      maxLength={3}
      {...(wrong ? { error: words.say("order_desk_currency_wrong") } : {})}
      onInput={(typed) => {
        const code = typed.toUpperCase();
        setText(code);
        if (code === "" || /^[A-Z]{3}$/.test(code)) onChange(code === "" ? null : code);
      }}
    />
  );
}

/** The first rows under what each column is read as. */
function ColumnTable({ draft, onDraft }: Corrections) {
  const words = useWords();
  const { look, shape } = draft;
  const body = look.rows.slice(shape.skip, shape.skip + ROWS_SHOWN);
  const heading = shape.skip > 0 ? (look.rows[shape.skip - 1] ?? []) : [];
  const width = Math.min(MOST_COLUMNS, Math.max(heading.length, ...body.map((row) => row.length)));
  const columns = Array.from({ length: width }, (_, column) => column);
  const label = words.say("order_desk_columns");
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a region that scrolls sideways must be reachable by keyboard.
    <section class="od-table-frame" tabIndex={0} aria-label={label}>
      <table class="od-table">
        <thead>
          <tr>
            {columns.map((column) => (
              <th key={column} scope="col" data-read={wordOfColumn(shape, column) !== null}>
                <ColumnChoice
                  name={heading[column] || words.say("order_desk_column_no", { number: column + 1 })}
                  word={wordOfColumn(shape, column)}
                  onChange={(word) => onDraft({ ...draft, shape: withColumn(shape, column, word), corrected: true })}
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
        onChange={({ currentTarget: { value } }) => onChange(orderColumns.find((each) => each === value) ?? null)}
      >
        <option value="">{words.say("order_desk_map_nothing")}</option>
        {orderColumns.map((each) => (
          <option key={each} value={each}>
            {words.say(`order_desk_map_${each}`)}
          </option>
        ))}
      </select>
    </>
  );
}
