/** The parts of a revision: those that it has, and finding another in the catalog by its number. */
import { useState } from "preact/hooks";
import { Button } from "../../ui/button.tsx";
import { TextField } from "../../ui/field.tsx";
import { useWords } from "../../ui/words-context.tsx";
import { useLoaded } from "../loaded.ts";
import { usePartNames } from "../part-names.ts";
import { useTools } from "../tools.tsx";

interface PartPickerProps {
  /** Id of the catalog. */
  id: string;
  revision: string;
  /** Ids of the parts. */
  parts: readonly string[];
  onChange: (parts: readonly string[]) => void;
}

/** Hits that are offered. */
const MOST_OFFERED = 6;

/** The picker. */
export function PartPicker({ id, revision, parts, onChange }: PartPickerProps) {
  const words = useWords();
  const { work } = useTools();
  const partName = usePartNames();
  const [text, setText] = useState("");
  const names = useLoaded((signal) => work.catalogPartNames({ id, parts }, { signal }), [id, parts.join("\n")]);
  const found = useLoaded(
    async (signal) =>
      text.trim() === "" ? null : work.catalogFind({ id, text, most: MOST_OFFERED + parts.length }, { signal }),
    [id, text],
  );
  const offered = (found.value?.parts.shown ?? []).filter((part) => !parts.includes(part.id)).slice(0, MOST_OFFERED);
  return (
    <div class="wb-picker">
      <p class="wb-picker-title">{words.say("catalog_revision_parts")}</p>
      {parts.length > 0 && (
        <ul class="wb-chips">
          {parts.map((part) => {
            const name = names.value?.[part] ?? part;
            return (
              <li key={part}>
                <span class="ff-number">{name}</span>
                <Button
                  kind="quiet"
                  label={words.say("catalog_revision_part_remove", { part: name, revision })}
                  onPress={() => onChange(parts.filter((each) => each !== part))}
                >
                  <span aria-hidden="true">–</span>
                </Button>
              </li>
            );
          })}
        </ul>
      )}
      <TextField search label={words.say("catalog_revision_part_find")} value={text} onInput={setText} maxLength={80} />
      {text.trim() !== "" && found.value && (
        <div class="ff-actions" role="status">
          {offered.length === 0 && <span class="wb-soft">{words.say("catalog_revision_part_none")}</span>}
          {offered.map((part) => (
            <Button
              key={part.id}
              onPress={() => {
                onChange([...parts, part.id]);
                setText("");
              }}
            >
              <span class="ff-number">{part.numbers[0] ?? part.name ?? part.id}</span>
              <span>{partName(part.type)}</span>
            </Button>
          ))}
        </div>
      )}
    </div>
  );
}
