/** Where a list comes in: pasted from a spreadsheet, dropped as a file, or chosen. */
import { useId, useState } from "preact/hooks";
import type { ListSlot, ListSource } from "../../store/lists.ts";
import { Button } from "../../ui/button.tsx";
import { Failure } from "../../ui/states.tsx";
import { useWords } from "../../ui/words-context.tsx";
import { useBench } from "../bench/bench-state.tsx";
import { FileDrop } from "../file-drop.tsx";
import { hrefOf } from "../route.ts";
import { useTools } from "../tools.tsx";
import { type Draft, draftOf, type OtherFile, otherFileOf } from "./draft.ts";

/** Endings of files that are offered in the file dialog; any other can be dropped. */
const ACCEPTED = ".csv,.tsv,.txt,.tab,text/csv,text/tab-separated-values,text/plain";

type Trouble = OtherFile | "empty" | "unreadable";

/** The place for a list. */
export function Intake({ slot, onDraft }: { slot: ListSlot; onDraft: (draft: Draft) => void }) {
  const words = useWords();
  const { work, store } = useTools();
  const [text, setText] = useState("");
  const [trouble, setTrouble] = useState<Trouble | null>(null);
  const take = async (source: ListSource) => {
    try {
      const other = source.content.size === 0 ? "empty" : await otherFileOf(source.content);
      if (other === null) onDraft(await draftOf(source, work, { layouts: store.layouts }));
      else setTrouble(other);
    } catch (error) {
      console.error("Falsefit:", error);
      setTrouble("unreadable");
    }
  };
  const takeText = (pasted: string) => take({ name: words.say("order_desk_pasted"), content: new Blob([pasted]) });
  return (
    <section class="od-intake">
      <p class="od-lead">{words.say(`order_desk_lead_${slot}`)}</p>
      {trouble && <Failure title={words.say(`order_desk_trouble_${trouble}`)} />}
      <FileDrop
        label={words.say("order_desk_choose_file")}
        hint={words.say("order_desk_drop_hint")}
        accept={ACCEPTED}
        onFiles={([file]) => file && take({ name: file.name.slice(0, 300), content: file })}
      >
        <PasteField value={text} onInput={setText} onPaste={takeText} />
      </FileDrop>
      <div class="ff-actions">
        <Button kind="strong" disabled={text.trim() === ""} onPress={() => takeText(text)}>
          {words.say("order_desk_read")}
        </Button>
      </div>
      <JobsNote />
    </section>
  );
}

interface PasteFieldProps {
  value: string;
  onInput: (value: string) => void;
  onPaste: (text: string) => void;
}

/** Text pasted into the empty field goes straight on: a text of megabytes is never laid out. */
function PasteField({ value, onInput, onPaste }: PasteFieldProps) {
  const words = useWords();
  const id = useId();
  return (
    <div class="ff-field">
      <label for={id}>{words.say("order_desk_paste")}</label>
      <textarea
        id={id}
        class="ff-input od-paste"
        rows={6}
        value={value}
        spellcheck={false}
        autocomplete="off"
        placeholder={words.say("order_desk_paste_example")}
        onInput={({ currentTarget }) => onInput(currentTarget.value)}
        onPaste={(event) => {
          const pasted = event.clipboardData?.getData("text/plain") ?? "";
          if (value !== "" || pasted.trim() === "") return;
          event.preventDefault();
          onPaste(pasted);
        }}
      />
    </div>
  );
}

/** For which jobs a list is checked. */
function JobsNote() {
  const words = useWords();
  const { devices } = useBench();
  const count = devices?.filter(({ device }) => device.archived !== true).length;
  if (count === undefined) return null;
  return (
    <p class="od-jobs">
      {count === 0 ? words.say("order_desk_no_jobs") : words.say("order_desk_jobs", { count })}{" "}
      <a href={hrefOf("bench")}>{words.say("order_desk_to_bench")}</a>
    </p>
  );
}
