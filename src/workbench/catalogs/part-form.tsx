/** The form of a catalog's part: kind, numbers, values, the connector with its pins, and the revisions that take it. */
import { useState } from "preact/hooks";
import type { Part } from "../../formats/catalog.ts";
import { TextField, Toggle } from "../../ui/field.tsx";
import { Empty } from "../../ui/states.tsx";
import { useWords } from "../../ui/words-context.tsx";
import { PartTypeField } from "../bench/fitted-fields.tsx";
import { useDraft } from "../drafts.tsx";
import { useLoaded } from "../loaded.ts";
import { useTools } from "../tools.tsx";
import type { NamedPlace } from "../work/catalog-services.ts";
import type { Place } from "./change.ts";
import { ConnectorField } from "./connector-field.tsx";
import { EntryForm, Opening, useEditing } from "./entry-form.tsx";
import { type PartDraft, partDraftOf, partFrom } from "./part-draft.ts";
import { OtherQuantity, QuantityFields } from "./quantity-fields.tsx";

/** Revisions that are offered at once. */
const MOST_PLACES = 2_000;
/** Families that are listed without a search. */
const MOST_LISTED = 30;

/** The form of a part, or of a new one. */
export function PartForm({ id, partId }: { id: string; partId: string | undefined }) {
  const words = useWords();
  const { work } = useTools();
  const loaded = useLoaded(
    async (signal) => {
      const places = await work.catalogPlaces({ id, most: MOST_PLACES }, { signal });
      const found = partId === undefined ? undefined : await work.catalogPart({ id, part: partId }, { signal });
      return { places, found };
    },
    [id, partId],
  );
  return (
    <Opening
      loaded={loaded}
      show={({ places, found }) =>
        found === null ? (
          <Empty title={words.say("catalog_part_gone")} />
        ) : (
          <Form id={id} before={found?.part} places={places} chosen={found?.places ?? []} />
        )
      }
    />
  );
}

interface FormProps {
  id: string;
  before: Part | undefined;
  places: readonly NamedPlace[];
  chosen: readonly Place[];
}

function Form({ id, before, places, chosen }: FormProps) {
  const words = useWords();
  const draft = useDraft<PartDraft>(`part ${id} ${before?.id ?? ":new"}`, partDraftOf(before, chosen));
  const editing = useEditing(id, draft);
  const { faults, error } = editing;
  const { value, set } = draft;
  const name = before?.numbers[0] ?? before?.name ?? before?.id ?? "";
  const save = async () => {
    const outcome = partFrom(value, before);
    editing.setFaults(outcome.ok ? new Map() : outcome.faults);
    if (!outcome.ok) return;
    const { part } = outcome;
    const message = words.say("catalog_part_saved", { part: part.numbers[0] ?? part.id });
    await editing.finish({ kind: "put-part", before: before?.id ?? null, part, places: value.places }, message);
  };
  const remove =
    before === undefined
      ? undefined
      : () => editing.finish({ kind: "remove-part", id: before.id }, words.say("catalog_part_removed", { part: name }));
  return (
    <EntryForm
      name="part"
      heading={before ? words.say("catalog_part_edit", { part: name }) : words.say("catalog_part_add")}
      draft={draft}
      editing={editing}
      onSave={save}
      onRemove={remove}
    >
      <fieldset class="wb-group">
        <legend>{words.say("bench_group_what")}</legend>
        <div class="wb-two">
          <PartTypeField type={value.type} onChange={(type) => set({ ...value, type })} />
          <TextField
            label={words.say("catalog_part_name")}
            hint={words.say("bench_name_hint")}
            value={value.name}
            onInput={(text) => set({ ...value, name: text })}
            maxLength={200}
          />
        </div>
        {faults.has("type") && <p class="ff-error">{error("type").error}</p>}
        <TextField
          label={words.say("bench_part_numbers")}
          hint={words.say("catalog_numbers_hint")}
          rows={2}
          value={value.numbers}
          onInput={(numbers) => set({ ...value, numbers })}
          maxLength={100_000}
          {...error("numbers")}
        />
      </fieldset>
      <fieldset class="wb-group">
        <legend>{words.say("catalog_quantities")}</legend>
        <QuantityFields
          type={value.type}
          values={value.quantities}
          onChange={(quantities) => set({ ...value, quantities })}
        />
        <OtherQuantity values={value.quantities} onChange={(quantities) => set({ ...value, quantities })} />
        {faults.has("quantities") && <p class="ff-error">{error("quantities").error}</p>}
      </fieldset>
      <ConnectorField draft={value.connector} faults={faults} onChange={(connector) => set({ ...value, connector })} />
      <PlacesField places={places} chosen={value.places} onChange={(changed) => set({ ...value, places: changed })} />
    </EntryForm>
  );
}

interface PlacesFieldProps {
  places: readonly NamedPlace[];
  chosen: readonly Place[];
  onChange: (chosen: readonly Place[]) => void;
}

/** Which revisions take the part, family by family. */
function PlacesField({ places, chosen, onChange }: PlacesFieldProps) {
  const words = useWords();
  const [text, setText] = useState("");
  if (places.length === 0) return null;
  const isChosen = (place: Place) =>
    chosen.some(({ family, revision }) => family === place.family && revision === place.revision);
  const families = [...new Set(places.map(({ family }) => family))];
  const asked = text.trim().toLowerCase();
  const hits = families.filter((family) => {
    const own = places.filter((place) => place.family === family);
    if (asked === "") return families.length <= MOST_LISTED || own.some(isChosen);
    return own.some(({ familyName }) => familyName.toLowerCase().includes(asked));
  });
  const turn = (place: Place, on: boolean) => {
    const others = chosen.filter((each) => each.family !== place.family || each.revision !== place.revision);
    onChange(on ? [...others, { family: place.family, revision: place.revision }] : others);
  };
  return (
    <fieldset class="wb-group">
      <legend>{words.say("catalog_part_where")}</legend>
      {families.length > MOST_LISTED && (
        <TextField search label={words.say("catalog_part_where_search")} value={text} onInput={setText} />
      )}
      {hits.slice(0, MOST_LISTED).map((family) => {
        const own = places.filter((place) => place.family === family);
        return (
          <fieldset key={family} class="wb-places">
            <legend>{own[0]?.familyName}</legend>
            {own.map((place) => (
              <Toggle
                key={place.revision}
                label={place.revisionName}
                checked={isChosen(place)}
                onChange={(on) => turn(place, on)}
              />
            ))}
          </fieldset>
        );
      })}
    </fieldset>
  );
}
