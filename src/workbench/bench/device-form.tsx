/** The form of a device: everything that can be read off it by eye. */
import { useState } from "preact/hooks";
import type { Device } from "../../formats/bench.ts";
import type { Sentence } from "../../readout/facts.ts";
import { Button } from "../../ui/button.tsx";
import { SelectField, TextField } from "../../ui/field.tsx";
import { deviceName } from "../../ui/naming.ts";
import { Empty, Failure, Loading } from "../../ui/states.tsx";
import { useWords } from "../../ui/words-context.tsx";
import { type Draft, useDraft } from "../drafts.tsx";
import { useLoaded } from "../loaded.ts";
import { hrefOf } from "../route.ts";
import { useTools } from "../tools.tsx";
import type { FamilyChoice } from "../work/device-services.ts";
import { useBench } from "./bench-state.tsx";
import { BuildDateField } from "./build-date-field.tsx";
import { dateSetting } from "./date-setting.ts";
import { useDeviceActions } from "./device-actions.ts";
import { type DeviceDraft, type DraftFaults, deviceFrom, draftOf, splitNumbers } from "./device-draft.ts";
import { FittedFields } from "./fitted-fields.tsx";
import { PictureField } from "./picture-field.tsx";

/** The form of a saved device, or of a new one. */
export function DeviceForm({ id }: { id: string | undefined }) {
  const words = useWords();
  const { devices } = useBench();
  const saved = devices?.find(({ device }) => device.id === id)?.device;
  if (devices === undefined) return <Loading />;
  if (id !== undefined && saved === undefined) return <Empty title={words.say("bench_gone")} />;
  return <Form before={saved} />;
}

function Form({ before }: { before: Device | undefined }) {
  const words = useWords();
  const { newId, now, store } = useTools();
  const actions = useDeviceActions();
  const draft = useDraft<DeviceDraft>(`device ${before?.id ?? ":add"}`, draftOf(before));
  const [faults, setFaults] = useState<DraftFaults>(new Map());
  const leave = (id: string | undefined) => {
    draft.forget();
    location.hash = id === undefined ? hrefOf("bench") : hrefOf("bench", { id });
  };
  const save = async () => {
    const say = ({ key, values }: Sentence) => words.say(key, values);
    const id = before?.id ?? newId();
    const outcome = deviceFrom(draft.value, { ...dateSetting(now()), id, before, say });
    setFaults(outcome.ok ? new Map() : outcome.faults);
    if (!outcome.ok) {
      requestAnimationFrame(() => document.querySelector<HTMLElement>("form [aria-invalid]")?.focus());
      return;
    }
    const { device } = outcome;
    if (draft.value.picture === null) await store.devices.removePicture(id);
    if (before) await actions.change(before, device, words.say("bench_changed", { device: deviceName(device, words) }));
    else await actions.add(device);
    const { origin, text, mask } = draft.value.built;
    if (origin === "serial" && text.trim() !== "") await store.serialPatterns.keep(device.modelNumbers, mask.trim());
    leave(id);
  };
  return (
    <form
      class="wb-page wb-form"
      noValidate
      aria-labelledby="form-heading"
      onSubmit={(event) => {
        event.preventDefault();
        void save();
      }}
    >
      <h1 id="form-heading" tabIndex={-1} data-start="">
        {before ? words.say("bench_edit_device", { device: deviceName(before, words) }) : words.say("bench_add")}
      </h1>
      {draft.changed && <p class="wb-note">{words.say("workbench_draft_kept")}</p>}
      <WhatItIs draft={draft} faults={faults} />
      <WhatTells draft={draft} faults={faults} />
      <FittedFields
        fitted={draft.value.fitted}
        faults={faults}
        onChange={(fitted) => draft.set({ ...draft.value, fitted })}
      />
      <fieldset class="wb-group">
        <legend>{words.say("bench_group_rest")}</legend>
        <PictureField
          device={before}
          picture={draft.value.picture}
          onChange={(picture) => draft.set({ ...draft.value, picture })}
        />
        <TextField
          label={words.say("bench_note")}
          rows={3}
          value={draft.value.note}
          onInput={(note) => draft.set({ ...draft.value, note })}
          maxLength={2_000}
        />
      </fieldset>
      {faults.size > 0 && (
        <Failure level={2} title={words.say("bench_form_faults", { count: faults.size })} faults={unplaced(faults)} />
      )}
      <div class="ff-actions wb-form-end">
        <Button type="submit" kind="strong">
          {words.say("bench_save")}
        </Button>
        <Button onPress={() => leave(before?.id)}>{words.say("ui_cancel")}</Button>
      </div>
    </form>
  );
}

/** Faults that no field shows: what the file format's own check found. */
function unplaced(faults: DraftFaults) {
  const own = /^(?:models|board|built|fitted )/;
  return [...faults].filter(([field]) => !own.test(field)).map(([field, message]) => ({ field, message }));
}

interface PartProps {
  draft: Draft<DeviceDraft>;
  faults: DraftFaults;
}

/** Gives a field its fault in words, if it has one. */
function errorOf(faults: DraftFaults, field: string, words: ReturnType<typeof useWords>): { error?: string } {
  const key = faults.get(field);
  return key === undefined ? {} : { error: words.say(key) };
}

function WhatItIs({ draft, faults }: PartProps) {
  const words = useWords();
  const { work } = useTools();
  const { catalogsSeen } = useBench();
  const { value, set } = draft;
  const models = splitNumbers(value.models);
  const families = useLoaded((signal) => work.familiesFor(models, { signal }), [models.join("\n"), catalogsSeen]);
  return (
    <fieldset class="wb-group">
      <legend>{words.say("bench_group_what")}</legend>
      <TextField
        label={words.say("bench_model_numbers")}
        hint={familyHint(models, families.value, words)}
        value={value.models}
        onInput={(text) => set({ ...value, models: text })}
        maxLength={2_000}
        required
        autoFocus
        {...errorOf(faults, "models", words)}
      />
      {(families.value?.length ?? 0) > 1 && (
        <SelectField
          label={words.say("bench_family")}
          value={value.family}
          options={[
            { value: "", label: words.say("bench_family_open") },
            ...(families.value ?? []).map(({ id, name }) => ({ value: id, label: name })),
          ]}
          onChange={(family) => set({ ...value, family })}
        />
      )}
      <div class="wb-two">
        <TextField
          label={words.say("bench_name")}
          hint={words.say("bench_name_hint")}
          value={value.name}
          onInput={(name) => set({ ...value, name })}
          maxLength={200}
        />
        <TextField
          label={words.say("bench_job")}
          hint={words.say("bench_job_hint")}
          value={value.job}
          onInput={(job) => set({ ...value, job })}
          maxLength={200}
        />
      </div>
    </fieldset>
  );
}

function familyHint(
  models: readonly string[],
  families: readonly FamilyChoice[] | undefined,
  words: ReturnType<typeof useWords>,
): string {
  if (models.length === 0 || families === undefined) return words.say("bench_model_hint");
  if (families.length === 0) return words.say("bench_model_unknown");
  return words.say("bench_model_known", { families: families.map(({ name }) => name) });
}

function WhatTells({ draft, faults }: PartProps) {
  const words = useWords();
  const { work } = useTools();
  const { catalogsSeen } = useBench();
  const { value, set } = draft;
  const models = splitNumbers(value.models);
  const families = useLoaded((signal) => work.familiesFor(models, { signal }), [models.join("\n"), catalogsSeen]);
  const family = families.value?.find(({ id }) => id === value.family) ?? families.value?.[0];
  const marks = [...new Set(family?.revisions.flatMap(({ tellBy }) => tellBy ?? []) ?? [])];
  return (
    <fieldset class="wb-group">
      <legend>{words.say("bench_group_tells")}</legend>
      <TextField
        label={words.say("bench_board_number")}
        hint={marks.length > 0 ? words.say("bench_tell_by", { marks }) : words.say("bench_board_hint")}
        value={value.board}
        onInput={(board) => set({ ...value, board })}
        maxLength={80}
        {...errorOf(faults, "board", words)}
      />
      <BuildDateField
        draft={value.built}
        models={models}
        onChange={(built) => set({ ...value, built })}
        {...errorOf(faults, "built", words)}
      />
      {family !== undefined && family.revisions.length > 0 && (
        <SelectField
          label={words.say("bench_revision")}
          hint={words.say("bench_revision_hint")}
          value={value.revision}
          options={[
            { value: "", label: words.say("bench_revision_open") },
            ...family.revisions.map(({ id, name }) => ({ value: id, label: name })),
          ]}
          onChange={(revision) => set({ ...value, revision })}
        />
      )}
    </fieldset>
  );
}
