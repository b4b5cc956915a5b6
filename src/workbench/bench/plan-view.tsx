/** What restoring would do, and what is to become of devices that differ. */
import type { Device } from "../../formats/bench.ts";
import { SelectField } from "../../ui/field.tsx";
import { LongList } from "../../ui/long-list.tsx";
import { deviceName } from "../../ui/naming.ts";
import { useWords } from "../../ui/words-context.tsx";
import { fieldName } from "./field-names.ts";
import { type ChangedDevice, type RestoreChoice, type RestorePlan, restoreChoices } from "./restore.ts";

/** What was chosen for devices that differ: one choice for all, and others for single ones. */
export interface Choice {
  readonly standard: RestoreChoice;
  readonly own: ReadonlyMap<string, RestoreChoice>;
}

/** Mine stay, until the person says otherwise. */
export const KEEP_MINE: Choice = { standard: "mine", own: new Map() };

/** The choice for one device. */
export function choiceFor({ standard, own }: Choice, id: string): RestoreChoice {
  return own.get(id) ?? standard;
}

/** How many devices would be saved. */
export function savedBy({ added, changed }: RestorePlan, choice: Choice): number {
  return added.length + changed.filter(({ after }) => choiceFor(choice, after.id) !== "mine").length;
}

interface PlanViewProps {
  plan: RestorePlan;
  choice: Choice;
  onChoice: (choice: Choice) => void;
}

const ROW_PX = 40;
const CHOICE_ROW_PX = 64;
const MOST_HEIGHT_PX = 320;

/** The plan. */
export function PlanView({ plan, choice, onChoice }: PlanViewProps) {
  const words = useWords();
  return (
    <>
      <ul>
        <li>{words.say("bench_restore_added", { count: plan.added.length })}</li>
        <li>{words.say("bench_restore_changed", { count: plan.changed.length })}</li>
        <li>{words.say("bench_restore_same", { count: plan.same.length })}</li>
        <li>{words.say("bench_restore_untouched", { count: plan.untouched })}</li>
        {plan.shapes.length > 0 && <li>{words.say("bench_restore_shapes", { count: plan.shapes.length })}</li>}
      </ul>
      {plan.added.length > 0 && <AddedList added={plan.added} />}
      {plan.changed.length > 0 && <ChangedList changed={plan.changed} choice={choice} onChoice={onChoice} />}
    </>
  );
}

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
  choice: Choice;
  onChoice: (choice: Choice) => void;
}

function ChangedList({ changed, choice, onChoice }: ChangedListProps) {
  const words = useWords();
  const labels = {
    mine: words.say("bench_restore_mine"),
    file: words.say("bench_restore_file"),
    both: words.say("bench_restore_both"),
  };
  const options = restoreChoices.map((value) => ({ value, label: labels[value] }));
  const chooseOne = (id: string, value: RestoreChoice) =>
    onChoice({ ...choice, own: new Map([...choice.own, [id, value]]) });
  return (
    <>
      <h3>{words.say("bench_restore_changed_list")}</h3>
      <div class="wb-short-field">
        <SelectField
          label={words.say("bench_restore_for_all")}
          value={choice.standard}
          options={options}
          onChange={(value) => onChoice({ standard: value as RestoreChoice, own: new Map() })}
        />
      </div>
      <LongList<ChangedDevice>
        label={words.say("bench_restore_changed_list")}
        items={changed}
        keyOf={({ after }) => after.id}
        rowHeight_px={CHOICE_ROW_PX}
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
              value={choiceFor(choice, after.id)}
              onChange={({ currentTarget }) => chooseOne(after.id, currentTarget.value as RestoreChoice)}
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
