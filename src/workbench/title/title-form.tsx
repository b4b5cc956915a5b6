/** What the seller types: the title, what else the listing says, and which part is sold. */
import { useState } from "preact/hooks";
import { Button } from "../../ui/button.tsx";
import { SelectField, TextField } from "../../ui/field.tsx";
import { useWords } from "../../ui/words-context.tsx";
import { useLoaded } from "../loaded.ts";
import { usePartNames } from "../part-names.ts";
import { useTools } from "../tools.tsx";
import { useSettled } from "../use-settled.ts";
import type { PartChoice, SaidTitle } from "./title-calls.ts";
import type { InputProps } from "./title-desk.tsx";
import { lengthOf } from "./title-input.ts";

/** Longest title, description and fields that are read, in UTF-16 code units. */
const MAX_TITLE_CHARS = 2_000;
const MAX_TEXT_CHARS = 20_000;

/** The form; it has no button, for everything takes effect as it is typed. */
export function TitleForm({ input, said, onInput }: InputProps & { said: SaidTitle | null }) {
  const words = useWords();
  const filled = input.description !== "" || input.specifics !== "";
  return (
    <section class="td-form" aria-label={words.say("title_desk_text")}>
      {input.field !== null && <p class="wb-note">{words.say("title_desk_from_field")}</p>}
      <TextField
        label={words.say("title_desk_title")}
        hint={words.say("title_desk_length", { count: lengthOf(input.title), limit: input.limit })}
        value={input.title}
        rows={3}
        maxLength={MAX_TITLE_CHARS}
        placeholder={words.say("title_desk_title_example")}
        onInput={(title) => onInput({ ...input, title: title.replace(/[\r\n]+/g, " ") })}
      />
      <PartField input={input} said={said} onInput={onInput} />
      <details class="wb-more" open={filled}>
        <summary>{words.say("title_desk_more")}</summary>
        <div class="wb-stack">
          <TextField
            label={words.say("title_desk_specifics")}
            hint={words.say("title_desk_specifics_hint")}
            value={input.specifics}
            rows={4}
            maxLength={MAX_TEXT_CHARS}
            onInput={(specifics) => onInput({ ...input, specifics })}
          />
          <TextField
            label={words.say("title_desk_description")}
            value={input.description}
            rows={6}
            maxLength={MAX_TEXT_CHARS}
            onInput={(description) => onInput({ ...input, description })}
          />
        </div>
      </details>
    </section>
  );
}

/** Which part is sold: found by the catalogs, one of those named, or one that is looked for. */
function PartField({ input, said, onInput }: InputProps & { said: SaidTitle | null }) {
  const words = useWords();
  const describe = usePartDescription();
  const [searching, setSearching] = useState(false);
  const [chosen, setChosen] = useState<PartChoice | null>(null);
  const offered = new Map((said?.named ?? []).map((part) => [part.id, part]));
  if (chosen !== null) offered.set(chosen.id, chosen);
  const choose = (part: PartChoice) => {
    setChosen(part);
    setSearching(false);
    onInput({ ...input, part: part.id });
  };
  const found = said?.part ?? null;
  const auto = found === null || input.part !== null ? "title_desk_part_auto" : "title_desk_part_found";
  return (
    <div class="td-part">
      <SelectField
        label={words.say("title_desk_part")}
        value={input.part ?? ""}
        options={[
          { value: "", label: words.say(auto, { part: found === null ? "" : describe(found) }) },
          ...[...offered.values()].map((part) => ({ value: part.id, label: describe(part) })),
          ...(input.part !== null && !offered.has(input.part) ? [{ value: input.part, label: input.part }] : []),
        ]}
        {...(found === null && said !== null && said.named.length > 1
          ? { hint: words.say("title_desk_part_several", { count: said.named.length }) }
          : {})}
        onChange={(part) => onInput({ ...input, part: part === "" ? null : part })}
      />
      <Button kind="quiet" expanded={searching} onPress={() => setSearching(!searching)}>
        {words.say("title_desk_part_search")}
      </Button>
      {searching && <PartSearch onChoose={choose} />}
    </div>
  );
}

function PartSearch({ onChoose }: { onChoose: (part: PartChoice) => void }) {
  const words = useWords();
  const { work } = useTools();
  const describe = usePartDescription();
  const [query, setQuery] = useState("");
  const settled = useSettled(query);
  const parts = useLoaded((signal) => work.titleParts({ query: settled }, { signal }), [settled]);
  return (
    <div class="td-search">
      <TextField
        label={words.say("title_desk_part_query")}
        value={query}
        search
        autoFocus
        maxLength={80}
        onInput={setQuery}
      />
      {settled.trim() !== "" && parts.value?.length === 0 && !parts.loading && (
        <p class="ff-hint">{words.say("title_desk_part_none")}</p>
      )}
      <ul class="td-parts">
        {(parts.value ?? []).map((part) => (
          <li key={part.id}>
            <button type="button" class="td-choice" onClick={() => onChoose(part)}>
              <b>{describe(part)}</b>
              <small>{part.places.join(" · ")}</small>
            </button>
          </li>
        ))}
      </ul>
    </div>
  );
}

/** A part as its number and what it is: `PB-1840 · battery`. */
function usePartDescription(): (part: PartChoice) => string {
  const partName = usePartNames();
  return ({ id, numbers, type }) => `${numbers[0] ?? id} · ${partName(type)}`;
}
