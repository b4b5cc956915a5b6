/** The first minute: one short form leads to a saved device, or an example shows what it is all about. */
import { useState } from "preact/hooks";
import type { Device } from "../formats/bench.ts";
import { Button } from "../ui/button.tsx";
import { TextField } from "../ui/field.tsx";
import { useWords } from "../ui/words-context.tsx";
import { type DeviceDraft, deviceOf, draftFaults, EMPTY_DRAFT } from "./device-form.ts";

interface FirstRunProps {
  /** True on the very first opening, when there is nothing to go back to. */
  first: boolean;
  onSave: (device: Device) => void;
  onExample: () => void;
  onBack: () => void;
}

/** Asks for what can be read off a device without opening it; only the model number is needed. */
export function FirstRun({ first, onSave, onExample, onBack }: FirstRunProps) {
  const words = useWords();
  const [draft, setDraft] = useState<DeviceDraft>(EMPTY_DRAFT);
  const [tried, setTried] = useState(false);
  const faults = tried ? draftFaults(draft) : {};
  const change = (field: keyof DeviceDraft) => (value: string) => setDraft({ ...draft, [field]: value });
  const error = (field: keyof DeviceDraft) => {
    const key = faults[field];
    return key === undefined ? {} : { error: words.say(key) };
  };
  const save = () => {
    setTried(true);
    if (Object.keys(draftFaults(draft)).length === 0) onSave(deviceOf(draft, `device-${crypto.randomUUID()}`));
  };
  return (
    <form
      class="first"
      noValidate
      onSubmit={(event) => {
        event.preventDefault();
        save();
      }}
    >
      <h1>{words.say("popup_first_heading")}</h1>
      <p class="lead">{words.say("popup_first_lead")}</p>
      <TextField
        label={words.say("popup_model")}
        hint={words.say("popup_model_hint")}
        value={draft.model}
        onInput={change("model")}
        maxLength={80}
        required
        autoFocus
        {...error("model")}
      />
      <TextField
        label={words.say("popup_name")}
        hint={words.say("popup_name_hint")}
        value={draft.name}
        onInput={change("name")}
        maxLength={200}
      />
      <div class="pair">
        <TextField label={words.say("popup_board")} value={draft.board} onInput={change("board")} maxLength={80} />
        <TextField
          label={words.say("popup_built")}
          value={draft.built}
          onInput={change("built")}
          maxLength={12}
          {...error("built")}
        />
      </div>
      <p class="ff-hint">{words.say("popup_either_hint")}</p>
      <div class="ff-actions">
        <Button type="submit" kind="strong">
          {words.say("popup_save_device")}
        </Button>
        {first ? (
          <Button kind="quiet" onPress={onExample}>
            {words.say("popup_example")}
          </Button>
        ) : (
          <Button kind="quiet" onPress={onBack}>
            {words.say("ui_cancel")}
          </Button>
        )}
      </div>
    </form>
  );
}
