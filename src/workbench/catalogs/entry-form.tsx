/** What the forms of a catalog's entries share: how they open, what frames them, how they are saved and left. */
import type { ComponentChildren, VNode } from "preact";
import { useState } from "preact/hooks";
import type { Fault } from "../../formats/common.ts";
import { Button } from "../../ui/button.tsx";
import { TextField } from "../../ui/field.tsx";
import { Failure, Loading } from "../../ui/states.tsx";
import { useWords } from "../../ui/words-context.tsx";
import type { Draft } from "../drafts.tsx";
import type { Loaded } from "../loaded.ts";
import { hrefOf } from "../route.ts";
import type { CatalogChange } from "./change.ts";
import type { FieldFaults } from "./family-draft.ts";
import { useChange } from "./use-change.ts";

interface OpeningProps<T> {
  loaded: Loaded<T>;
  show: (value: T) => VNode;
}

/** What is fetched for a form: being fetched, failed, or there. */
export function Opening<T>({ loaded: { value, error }, show }: OpeningProps<T>) {
  const words = useWords();
  if (error) {
    const faults = [{ field: "", message: error.message }];
    return <Failure level={2} title={words.say("catalog_open_failed")} faults={faults} />;
  }
  return value === undefined ? <Loading /> : show(value);
}

/** An entry being edited. */
export interface Editing {
  /** Faults of the fields, by field. */
  readonly faults: FieldFaults;
  readonly setFaults: (faults: FieldFaults) => void;
  /** Why the latest change was refused as a whole. */
  readonly refused: readonly Fault[];
  /** Makes a change and leaves the form; stays where it is refused. `message` says what it was, for undo. */
  readonly finish: (change: CatalogChange, message: string) => Promise<void>;
  /** Gives up what was typed. */
  readonly leave: () => void;
  /** The fault of a field in words, as fields take it. */
  readonly error: (field: string) => { error?: string };
}

/** Editing an entry of the catalog with this id. */
export function useEditing(id: string, draft: Pick<Draft<unknown>, "forget">): Editing {
  const words = useWords();
  const { change, faults: refused } = useChange(id);
  const [faults, setFaults] = useState<FieldFaults>(new Map());
  const leave = () => {
    draft.forget();
    location.hash = hrefOf("catalogs", { id });
  };
  return {
    faults,
    setFaults,
    refused,
    async finish(asked, message) {
      if (await change(asked, message)) leave();
    },
    leave,
    error(field) {
      const key = faults.get(field);
      return key === undefined ? {} : { error: words.say(key) };
    },
  };
}

interface EntryFormProps<T extends { readonly note: string }> {
  /** Names the form's heading in the document. */
  name: string;
  heading: string;
  draft: Draft<T>;
  editing: Editing;
  onSave: () => Promise<void>;
  /** Left out for an entry that is new. */
  onRemove?: (() => Promise<void>) | undefined;
  children: ComponentChildren;
}

/** The frame around an entry's fields, with its note and its buttons. */
export function EntryForm<T extends { readonly note: string }>(props: EntryFormProps<T>) {
  const { name, heading, draft, editing, onSave, onRemove, children } = props;
  const words = useWords();
  const { faults, refused } = editing;
  return (
    <form
      class="wb-page wb-form"
      noValidate
      aria-labelledby={`${name}-heading`}
      onSubmit={(event) => {
        event.preventDefault();
        void onSave();
      }}
    >
      <h1 id={`${name}-heading`} tabIndex={-1} data-start="">
        {heading}
      </h1>
      {draft.changed && <p class="wb-note">{words.say("workbench_draft_kept")}</p>}
      {children}
      <TextField
        label={words.say("bench_note")}
        rows={2}
        value={draft.value.note}
        onInput={(note) => draft.set({ ...draft.value, note })}
        maxLength={2_000}
      />
      {faults.size > 0 && <Failure level={2} title={words.say("bench_form_faults", { count: faults.size })} />}
      {refused.length > 0 && <Failure level={2} title={words.say("catalog_not_changed")} faults={refused} />}
      <div class="ff-actions wb-form-end">
        <Button type="submit" kind="strong">
          {words.say("bench_save")}
        </Button>
        <Button onPress={editing.leave}>{words.say("ui_cancel")}</Button>
        {onRemove && (
          <Button kind="quiet" onPress={onRemove}>
            {words.say("bench_delete")}
          </Button>
        )}
      </div>
    </form>
  );
}
