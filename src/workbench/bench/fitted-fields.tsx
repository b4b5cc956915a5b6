/** The parts that are in the device now: kind, numbers as printed, how they were read, and what else the label says. */
import { useState } from "preact/hooks";
import type { FittedPart } from "../../formats/bench.ts";
import { Button } from "../../ui/button.tsx";
import { SelectField, TextField } from "../../ui/field.tsx";
import { useUndo } from "../../ui/undo.tsx";
import { useWords } from "../../ui/words-context.tsx";
import { usePartNames } from "../part-names.ts";
import { partTypes, quantitiesOf } from "../part-types.ts";
import { quantityName, unitOf } from "../quantity-words.ts";
import { type DraftFaults, emptyFitted, type FittedDraft } from "./device-draft.ts";

interface FittedFieldsProps {
  fitted: readonly FittedDraft[];
  faults: DraftFaults;
  onChange: (fitted: readonly FittedDraft[]) => void;
}

/** The group of fields. */
export function FittedFields({ fitted, faults, onChange }: FittedFieldsProps) {
  const words = useWords();
  const partName = usePartNames();
  const offerUndo = useUndo();
  const [added, setAdded] = useState(0);
  const add = () => {
    setAdded(added + 1);
    onChange([...fitted, emptyFitted(`added ${added} ${fitted.length}`, "battery")]);
  };
  const remove = (part: FittedDraft) => {
    onChange(fitted.filter((each) => each !== part));
    offerUndo(words.say("bench_fitted_removed", { part: partName(part.type) }), () => onChange(fitted));
  };
  return (
    <fieldset class="wb-group">
      <legend>{words.say("bench_fitted")}</legend>
      <p class="wb-soft">{words.say("bench_fitted_why")}</p>
      {fitted.map((part, i) => {
        const fault = faults.get(`fitted ${part.key}`);
        return (
          <FittedCard
            key={part.key}
            part={part}
            place={i + 1}
            {...(fault === undefined ? {} : { error: words.say(fault) })}
            onChange={(changed) => onChange(fitted.map((each) => (each === part ? changed : each)))}
            onRemove={() => remove(part)}
          />
        );
      })}
      <div class="ff-actions">
        <Button onPress={add}>{words.say("bench_fitted_add")}</Button>
      </div>
    </fieldset>
  );
}

interface FittedCardProps {
  part: FittedDraft;
  place: number;
  error?: string;
  onChange: (part: FittedDraft) => void;
  onRemove: () => void;
}

function FittedCard({ part, place, error, onChange, onRemove }: FittedCardProps) {
  const words = useWords();
  const partName = usePartNames();
  const sources: Readonly<Record<FittedPart["source"], string>> = {
    label: words.say("bench_source_label"),
    readout: words.say("bench_source_readout"),
    photo: words.say("bench_source_photo"),
    assumed: words.say("bench_source_assumed"),
  };
  return (
    <fieldset class="wb-card">
      <legend class="ff-unseen">{words.say("bench_fitted_place", { place, part: partName(part.type) })}</legend>
      <div class="wb-three">
        <PartTypeField type={part.type} onChange={(type) => onChange({ ...part, type })} />
        <TextField
          label={words.say("bench_part_numbers")}
          value={part.numbers}
          onInput={(numbers) => onChange({ ...part, numbers })}
          maxLength={2_000}
          {...(error === undefined ? {} : { error })}
        />
        <SelectField
          label={words.say("bench_source")}
          value={part.source}
          options={Object.entries(sources).map(([value, label]) => ({ value, label }))}
          onChange={(source) => onChange({ ...part, source: source as FittedPart["source"] })}
        />
      </div>
      <QuantityFields part={part} onChange={onChange} />
      <div class="ff-actions">
        <Button
          kind="quiet"
          label={words.say("workbench_act_on", {
            act: words.say("bench_fitted_remove"),
            on: words.say("bench_fitted_place", { place, part: partName(part.type) }),
          })}
          onPress={onRemove}
        >
          {words.say("bench_fitted_remove")}
        </Button>
      </div>
    </fieldset>
  );
}

const OTHER = ":other";

/** A kind of part: one of those with a rule, or a word of the person's own. */
export function PartTypeField({ type, onChange }: { type: string; onChange: (type: string) => void }) {
  const words = useWords();
  const partName = usePartNames();
  const known = partTypes.includes(type);
  const options = partTypes.map((value) => ({ value, label: partName(value) }));
  options.sort((a, b) => a.label.localeCompare(b.label, words.formatting));
  return (
    <div class="wb-stack">
      <SelectField
        label={words.say("bench_part_type")}
        value={known ? type : OTHER}
        options={[...options, { value: OTHER, label: words.say("bench_part_type_else") }]}
        onChange={(value) => onChange(value === OTHER ? "" : value)}
      />
      {!known && (
        <TextField
          label={words.say("bench_part_type_own")}
          hint={words.say("bench_part_type_own_hint")}
          value={type}
          onInput={(text) =>
            onChange(
              text
                .toLowerCase()
                .replace(/[^a-z0-9]+/g, "-")
                .replace(/^-/, ""),
            )
          }
          maxLength={60}
        />
      )}
    </div>
  );
}

/** What the label says besides the number, for the quantities that matter for this kind of part. */
function QuantityFields({ part, onChange }: Pick<FittedCardProps, "part" | "onChange">) {
  const words = useWords();
  const names = [...new Set([...quantitiesOf(part.type), ...Object.keys(part.quantities)])];
  if (names.length === 0) return null;
  const filled = Object.values(part.quantities).filter((text) => text.trim() !== "").length;
  return (
    <details class="wb-more" open={filled > 0}>
      <summary>{words.say("bench_quantities", { count: filled })}</summary>
      <div class="wb-quantities">
        {names.map((name) => (
          <TextField
            key={name}
            label={[quantityName(name, words), unitOf(name)].filter((text) => text !== "").join(", ")}
            value={part.quantities[name] ?? ""}
            onInput={(value) => onChange({ ...part, quantities: { ...part.quantities, [name]: value } })}
            maxLength={120}
          />
        ))}
      </div>
    </details>
  );
}
