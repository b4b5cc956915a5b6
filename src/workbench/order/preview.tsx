/** A list before its check: how it is read, column by column, each of which the person may put right. */
import { useState } from "preact/hooks";
import { delimiters } from "../../desks/csv-rows.ts";
import type { ListSlot } from "../../store/lists.ts";
import { Button } from "../../ui/button.tsx";
import { SelectField, TextField } from "../../ui/field.tsx";
import { Failure } from "../../ui/states.tsx";
import { useUndo } from "../../ui/undo.tsx";
import { useWords } from "../../ui/words-context.tsx";
import { ColumnTable, SkipField } from "../column-table.tsx";
import { useTools } from "../tools.tsx";
import { canBeChecked, type Draft, draftOf, layoutOf, orderColumns } from "./draft.ts";
import type { Reading } from "./order-calls.ts";

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
      <ColumnTable
        label={words.say("order_desk_columns")}
        rows={draft.look.rows}
        shape={draft.shape}
        meanings={orderColumns.map((word) => ({ word, label: words.say(`order_desk_map_${word}`) }))}
        nothing={words.say("order_desk_map_nothing")}
        nameOf={(number) => words.say("order_desk_column_no", { number })}
        onShape={(shape) => onDraft({ ...draft, shape, corrected: true })}
      />
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
        <SkipField
          label={words.say("order_desk_skip")}
          rows={look.rows}
          shape={shape}
          wordFor={(count) => words.say("order_desk_skip_rows", { count })}
          onShape={change}
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
