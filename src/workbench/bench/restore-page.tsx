/** Restoring a bench from a file: what it would add, change and leave alone is shown before anything is done. */
import { useState } from "preact/hooks";
import type { Bench, Device } from "../../formats/bench.ts";
import type { Fault } from "../../formats/common.ts";
import { Button } from "../../ui/button.tsx";
import { deviceName } from "../../ui/explanation.ts";
import { SelectField } from "../../ui/field.tsx";
import { LongList } from "../../ui/long-list.tsx";
import { Failure, Loading } from "../../ui/states.tsx";
import { useUndo } from "../../ui/undo.tsx";
import { useWords } from "../../ui/words-context.tsx";
import { FileDrop } from "../file-drop.tsx";
import { hrefOf } from "../route.ts";
import { useTools } from "../tools.tsx";
import { useBench } from "./bench-state.tsx";
import { fieldName } from "./field-names.ts";
import {
  type ChangedDevice,
  devicesToSave,
  planRestore,
  type RestoreChoice,
  type RestorePlan,
  restoreChoices,
} from "./restore.ts";

type State =
  | { step: "choose" }
  | { step: "reading" }
  | { step: "refused"; name: string; faults: readonly Fault[] }
  | { step: "preview"; name: string; plan: RestorePlan };

/** The page. */
export function RestorePage() {
  const words = useWords();
  const { work, store } = useTools();
  const { devices = [] } = useBench();
  const [state, setState] = useState<State>({ step: "choose" });
  const read = async ([file]: readonly File[]) => {
    if (file === undefined) return;
    setState({ step: "reading" });
    const bench = await work.readBench(await file.text());
    if (!bench.ok) setState({ step: "refused", name: file.name, faults: bench.faults });
    else setState({ step: "preview", name: file.name, plan: await planFor(bench.value) });
  };
  const planFor = async (bench: Bench): Promise<RestorePlan> => {
    const withPictures = bench.devices.filter(({ picture }) => picture !== undefined);
    const pictures = new Map<string, string | undefined>();
    for (const { id } of withPictures) pictures.set(id, await store.devices.picture(id));
    const mine = devices.map(({ device }) => {
      const picture = pictures.get(device.id);
      return picture === undefined ? device : { ...device, picture };
    });
    return planRestore(mine, bench);
  };
  return (
    <div class="wb-page">
      <h1 tabIndex={-1} data-start="">
        {words.say("bench_restore")}
      </h1>
      <p class="wb-soft">{words.say("bench_restore_why")}</p>
      {state.step !== "preview" && (
        <FileDrop
          label={words.say("bench_restore_choose")}
          hint={words.say("workbench_or_drop")}
          accept=".json,application/json"
          onFiles={read}
        />
      )}
      {state.step === "reading" && <Loading />}
      {state.step === "refused" && (
        <Failure title={words.say("workbench_file_refused", { file: state.name })} faults={state.faults} />
      )}
      {state.step === "preview" && (
        <Preview name={state.name} plan={state.plan} onDone={() => setState({ step: "choose" })} />
      )}
    </div>
  );
}

interface PreviewProps {
  name: string;
  plan: RestorePlan;
  onDone: () => void;
}

function Preview({ name, plan, onDone }: PreviewProps) {
  const words = useWords();
  const { store, newId } = useTools();
  const offerUndo = useUndo();
  const [standard, setStandard] = useState<RestoreChoice>("mine");
  const [own, setOwn] = useState<ReadonlyMap<string, RestoreChoice>>(new Map());
  const [busy, setBusy] = useState(false);
  const toSave = devicesToSave(plan, (id) => own.get(id) ?? standard, newId);
  const restore = async () => {
    setBusy(true);
    await store.devices.save(...toSave);
    await store.shapes.save(...plan.shapes);
    const before = new Map(plan.changed.map((each) => [each.before.id, each.before]));
    const replaced = toSave.flatMap(({ id }) => before.get(id) ?? []);
    const fresh = toSave.filter(({ id }) => !before.has(id)).map(({ id }) => id);
    offerUndo(words.say("bench_restored", { count: toSave.length }), async () => {
      await store.devices.remove(...fresh);
      await store.devices.save(...replaced);
    });
    location.hash = hrefOf("bench");
  };
  return (
    <section class="wb-preview" aria-labelledby="restore-heading">
      <h2 id="restore-heading">{words.say("bench_restore_preview", { file: name })}</h2>
      <ul>
        <li>{words.say("bench_restore_added", { count: plan.added.length })}</li>
        <li>{words.say("bench_restore_changed", { count: plan.changed.length })}</li>
        <li>{words.say("bench_restore_same", { count: plan.same.length })}</li>
        <li>{words.say("bench_restore_untouched", { count: plan.untouched })}</li>
        {plan.shapes.length > 0 && <li>{words.say("bench_restore_shapes", { count: plan.shapes.length })}</li>}
      </ul>
      {plan.added.length > 0 && <AddedList added={plan.added} />}
      {plan.changed.length > 0 && (
        <ChangedList
          changed={plan.changed}
          standard={standard}
          own={own}
          onStandard={(choice) => {
            setStandard(choice);
            setOwn(new Map());
          }}
          onOwn={(id, choice) => setOwn(new Map([...own, [id, choice]]))}
        />
      )}
      <div class="ff-actions">
        <Button kind="strong" busy={busy} disabled={toSave.length === 0 && plan.shapes.length === 0} onPress={restore}>
          {words.say("bench_restore_do", { count: toSave.length })}
        </Button>
        <Button kind="quiet" onPress={onDone}>
          {words.say("ui_cancel")}
        </Button>
      </div>
    </section>
  );
}

const ROW_PX = 40;
const MOST_HEIGHT_PX = 320;

function AddedList({ added }: { added: readonly Device[] }) {
  const words = useWords();
  return (
    <>
      <h3>{words.say("bench_restore_added_list")}</h3>
      <LongList<Device>
        label={words.say("bench_restore_added_list")}
        items={added}
        keyOf={({ id }) => id}
        rowHeight_px={ROW_PX}
        height_px={MOST_HEIGHT_PX}
        row={(device) => (
          <>
            <b>{deviceName(device, words)}</b>
            <span class="wb-soft">{device.modelNumbers.join(", ")}</span>
          </>
        )}
      />
    </>
  );
}

interface ChangedListProps {
  changed: readonly ChangedDevice[];
  standard: RestoreChoice;
  own: ReadonlyMap<string, RestoreChoice>;
  onStandard: (choice: RestoreChoice) => void;
  onOwn: (id: string, choice: RestoreChoice) => void;
}

function ChangedList({ changed, standard, own, onStandard, onOwn }: ChangedListProps) {
  const words = useWords();
  const choices = {
    mine: words.say("bench_restore_mine"),
    file: words.say("bench_restore_file"),
    both: words.say("bench_restore_both"),
  };
  const options = restoreChoices.map((value) => ({ value, label: choices[value] }));
  return (
    <>
      <h3>{words.say("bench_restore_changed_list")}</h3>
      <SelectField
        label={words.say("bench_restore_for_all")}
        value={standard}
        options={options}
        onChange={(value) => onStandard(value as RestoreChoice)}
      />
      <LongList<ChangedDevice>
        label={words.say("bench_restore_changed_list")}
        items={changed}
        keyOf={({ after }) => after.id}
        rowHeight_px={64}
        height_px={MOST_HEIGHT_PX}
        row={({ before, after, fields }) => (
          <>
            <span class="wb-row-text">
              <b>{deviceName(before, words)}</b>
              <span class="wb-row-under">
                {words.say("bench_restore_differs", { fields: fields.map((field) => fieldName(field, words)) })}
              </span>
            </span>
            <select
              class="ff-input wb-short"
              aria-label={words.say("bench_restore_choice", { device: deviceName(before, words) })}
              value={own.get(after.id) ?? standard}
              onChange={({ currentTarget }) => onOwn(after.id, currentTarget.value as RestoreChoice)}
            >
              {options.map(({ value, label }) => (
                <option key={value} value={value}>
                  {label}
                </option>
              ))}
            </select>
          </>
        )}
      />
    </>
  );
}
