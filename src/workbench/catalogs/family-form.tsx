/** The form of a catalog's family: its model numbers and its revisions, told apart by boards, dates and marks. */
import { useState } from "preact/hooks";
import type { Family } from "../../formats/catalog.ts";
import { Button } from "../../ui/button.tsx";
import { dateBar } from "../../ui/date-bar.ts";
import { Drawing } from "../../ui/drawing.tsx";
import { TextField } from "../../ui/field.tsx";
import { Empty } from "../../ui/states.tsx";
import { useUndo } from "../../ui/undo.tsx";
import { useWords } from "../../ui/words-context.tsx";
import { type DatedRevision, lanesOf } from "../date-lanes.ts";
import { useDraft } from "../drafts.tsx";
import { useLoaded } from "../loaded.ts";
import { useTools } from "../tools.tsx";
import { EntryForm, Opening, useEditing } from "./entry-form.tsx";
import {
  emptyRevision,
  type FamilyDraft,
  type FieldFaults,
  familyDraftOf,
  familyFrom,
  filled,
  type RevisionDraft,
  yearsFrom,
} from "./family-draft.ts";
import { PartPicker } from "./part-picker.tsx";

/** The form of a family, or of a new one. */
export function FamilyForm({ id, familyId }: { id: string; familyId: string | undefined }) {
  const words = useWords();
  const { work } = useTools();
  const loaded = useLoaded(
    async (signal) => ({
      family: familyId === undefined ? undefined : await work.catalogFamily({ id, family: familyId }, { signal }),
    }),
    [id, familyId],
  );
  return (
    <Opening
      loaded={loaded}
      show={({ family }) =>
        family === null ? <Empty title={words.say("catalog_family_gone")} /> : <Form id={id} before={family} />
      }
    />
  );
}

interface FormProps {
  id: string;
  before: Family | undefined;
}

function Form({ id, before }: FormProps) {
  const words = useWords();
  const draft = useDraft<FamilyDraft>(`family ${id} ${before?.id ?? ":new"}`, familyDraftOf(before));
  const editing = useEditing(id, draft);
  const { value, set } = draft;
  const name = before?.name ?? before?.id ?? "";
  const save = async () => {
    const outcome = familyFrom(value, before);
    editing.setFaults(outcome.ok ? new Map() : outcome.faults);
    if (!outcome.ok) return;
    const { family } = outcome;
    const message = words.say("catalog_family_saved", { family: family.name ?? family.id });
    await editing.finish({ kind: "put-family", before: before?.id ?? null, family }, message);
  };
  const remove =
    before === undefined
      ? undefined
      : () =>
          editing.finish(
            { kind: "remove-family", id: before.id },
            words.say("catalog_family_removed", { family: name }),
          );
  return (
    <EntryForm
      name="family"
      heading={before ? words.say("catalog_family_edit", { family: name }) : words.say("catalog_family_add")}
      draft={draft}
      editing={editing}
      onSave={save}
      onRemove={remove}
    >
      <fieldset class="wb-group">
        <legend>{words.say("bench_group_what")}</legend>
        <div class="wb-two">
          <TextField
            label={words.say("catalog_maker")}
            value={value.maker}
            onInput={(maker) => set({ ...value, maker })}
            maxLength={200}
          />
          <TextField
            label={words.say("catalog_family_name")}
            value={value.name}
            onInput={(text) => set({ ...value, name: text })}
            maxLength={200}
          />
        </div>
        <TextField
          label={words.say("bench_model_numbers")}
          hint={words.say("bench_model_hint")}
          value={value.models}
          onInput={(models) => set({ ...value, models })}
          maxLength={40_000}
          {...editing.error("models")}
        />
      </fieldset>
      <Revisions id={id} value={value} faults={editing.faults} onChange={set} />
    </EntryForm>
  );
}

interface RevisionsProps {
  id: string;
  value: FamilyDraft;
  faults: FieldFaults;
  onChange: (value: FamilyDraft) => void;
}

function Revisions({ id, value, faults, onChange }: RevisionsProps) {
  const words = useWords();
  const offerUndo = useUndo();
  const [added, setAdded] = useState(0);
  const bar = dateBar(lanesOf(value.revisions.map(dated)), null, words);
  const put = (revisions: readonly RevisionDraft[]) => onChange({ ...value, revisions });
  const remove = (revision: RevisionDraft) => {
    put(value.revisions.filter((each) => each !== revision));
    offerUndo(words.say("catalog_revision_removed", { revision: revision.name || revision.boards }), () =>
      onChange(value),
    );
  };
  return (
    <fieldset class="wb-group">
      <legend>{words.say("catalog_revisions")}</legend>
      {bar && <Drawing tree={bar} />}
      {value.revisions.map((revision, i) => (
        <RevisionCard
          key={revision.key}
          id={id}
          revision={revision}
          place={i + 1}
          faults={faults}
          onChange={(changed) => put(value.revisions.map((each) => (each === revision ? changed : each)))}
          onRemove={() => remove(revision)}
        />
      ))}
      <div class="ff-actions">
        <Button
          onPress={() => {
            setAdded(added + 1);
            put([...value.revisions, emptyRevision(`added ${added} ${value.revisions.length}`)]);
          }}
        >
          {words.say("catalog_revision_add")}
        </Button>
      </div>
    </fieldset>
  );
}

/** The dates as they are typed. */
function dated({ name, boards, from, to, years }: RevisionDraft): DatedRevision {
  const built = { ...filled("from", from), ...filled("to", to) };
  return {
    name: name || boards || "–",
    built: Object.keys(built).length > 0 ? [built] : [],
    years: yearsFrom(years) ?? [],
  };
}

interface RevisionCardProps {
  id: string;
  revision: RevisionDraft;
  place: number;
  faults: FieldFaults;
  onChange: (revision: RevisionDraft) => void;
  onRemove: () => void;
}

function RevisionCard({ id, revision, place, faults, onChange, onRemove }: RevisionCardProps) {
  const words = useWords();
  const field = (name: "name" | "boards" | "from" | "to" | "years" | "tellBy", label: string, hint?: string) => {
    const fault = faults.get(`${revision.key} ${name}`);
    return (
      <TextField
        label={label}
        value={revision[name]}
        onInput={(text) => onChange({ ...revision, [name]: text })}
        maxLength={name === "boards" ? 40_000 : 400}
        {...(hint === undefined ? {} : { hint })}
        {...(fault === undefined ? {} : { error: words.say(fault) })}
      />
    );
  };
  const name = revision.name || revision.boards || String(place);
  return (
    <fieldset class="wb-card">
      <legend class="ff-unseen">{words.say("catalog_revision_place", { place, revision: name })}</legend>
      <div class="wb-two">
        {field("name", words.say("catalog_revision_name"), words.say("catalog_revision_name_hint"))}
        {field("boards", words.say("catalog_boards"))}
      </div>
      <div class="wb-three">
        {field("from", words.say("catalog_built_from"), words.say("catalog_built_hint"))}
        {field("to", words.say("catalog_built_to"))}
        {field("years", words.say("catalog_years"), words.say("catalog_years_hint"))}
      </div>
      {field("tellBy", words.say("catalog_tell_by"), words.say("catalog_tell_by_hint"))}
      <PartPicker
        id={id}
        revision={name}
        parts={revision.parts}
        onChange={(parts) => onChange({ ...revision, parts })}
      />
      <div class="ff-actions">
        <Button
          kind="quiet"
          label={words.say("workbench_act_on", { act: words.say("catalog_revision_remove"), on: name })}
          onPress={onRemove}
        >
          {words.say("catalog_revision_remove")}
        </Button>
      </div>
    </fieldset>
  );
}
