/** Several catalogs as one, with everything on which they disagree named before anything is kept. */
import { useState } from "preact/hooks";
import type { Disagreement } from "../../desks/merge-files.ts";
import type { Fault } from "../../formats/common.ts";
import type { CatalogNote } from "../../store/catalogs.ts";
import type { Words } from "../../text/words.ts";
import { Button } from "../../ui/button.tsx";
import { Toggle } from "../../ui/field.tsx";
import { Failure } from "../../ui/states.tsx";
import { useWords } from "../../ui/words-context.tsx";
import { quantityName } from "../quantity-words.ts";
import { useTools } from "../tools.tsx";
import type { MergedCatalogs } from "../work/catalog-services.ts";
import { CatalogSummary } from "./catalog-summary.tsx";
import { useKeepCatalog } from "./make-catalog.ts";
import { catalogTitle } from "./use-catalogs.ts";

/** Disagreements that are listed. */
const MOST_SHOWN = 300;

/** The page. */
export function MergePage({ notes }: { notes: readonly CatalogNote[] }) {
  const words = useWords();
  const { work } = useTools();
  const keep = useKeepCatalog();
  const [chosen, setChosen] = useState<ReadonlySet<string>>(new Set());
  const [merged, setMerged] = useState<MergedCatalogs | null>(null);
  const [faults, setFaults] = useState<readonly Fault[]>([]);
  const turn = (id: string, on: boolean) => {
    const next = new Set(chosen);
    if (on) next.add(id);
    else next.delete(id);
    setChosen(next);
    setMerged(null);
  };
  const merge = async () => {
    const outcome = await work.catalogMerge(notes.map(({ id }) => id).filter((id) => chosen.has(id)));
    setFaults(outcome.ok ? [] : outcome.faults);
    setMerged(outcome.ok ? outcome.value : null);
  };
  return (
    <div class="wb-page">
      <h1 tabIndex={-1} data-start="">
        {words.say("catalog_way_merge")}
      </h1>
      <p class="wb-soft">{words.say("catalog_merge_why")}</p>
      {notes.length < 2 && <p>{words.say("catalog_merge_at_least")}</p>}
      <fieldset class="ff-choices">
        <legend>{words.say("catalog_merge_which")}</legend>
        {notes.map((note) => (
          <Toggle
            key={note.id}
            label={catalogTitle(note, words)}
            hint={words.say("catalog_counts", { families: note.families, parts: note.parts, numbers: note.numbers })}
            checked={chosen.has(note.id)}
            onChange={(on) => turn(note.id, on)}
          />
        ))}
      </fieldset>
      <div class="ff-actions">
        <Button disabled={chosen.size < 2} onPress={merge}>
          {words.say("catalog_merge_look")}
        </Button>
      </div>
      {faults.length > 0 && <Failure level={2} title={words.say("catalog_not_changed")} faults={faults} />}
      {merged && (
        <section class="wb-preview" aria-labelledby="merged-heading">
          <h2 id="merged-heading">{words.say("catalog_merge_result")}</h2>
          <CatalogSummary info={merged.info} />
          <Disagreements list={merged.disagreements} />
          <div class="ff-actions">
            <Button
              kind="strong"
              onPress={async () => setFaults(await keep({ text: merged.text, origin: { kind: "made" } }))}
            >
              {words.say("catalog_merge_keep")}
            </Button>
          </div>
          <p class="wb-soft">{words.say("catalog_merge_stay")}</p>
        </section>
      )}
    </div>
  );
}

function Disagreements({ list }: { list: readonly Disagreement[] }) {
  const words = useWords();
  if (list.length === 0) return <p>{words.say("catalog_merge_agree")}</p>;
  return (
    <>
      <h3>{words.say("catalog_merge_disagree", { count: list.length })}</h3>
      <ul>
        {list.slice(0, MOST_SHOWN).map(({ kind, at, what }) => (
          <li key={`${kind} ${at} ${what}`}>
            <b>{at}</b>: {disagreementText({ kind, at, what }, words)}
          </li>
        ))}
      </ul>
      {list.length > MOST_SHOWN && <p>{words.say("catalog_beyond", { count: list.length - MOST_SHOWN })}</p>}
    </>
  );
}

function disagreementText({ kind, what }: Disagreement, words: Words): string {
  switch (kind) {
    case "quantity":
      return words.say("catalog_merge_quantity", { quantity: quantityName(what, words) });
    case "connector":
      return words.say("catalog_merge_connector");
    case "place":
      return words.say("catalog_merge_place", { part: what });
    case "built":
      return words.say("catalog_merge_built");
  }
}
