/** A catalog from a file: faults by field, else what is in it, and whether it replaces one that is there. */
import { useState } from "preact/hooks";
import type { Fault } from "../../formats/common.ts";
import type { CatalogNote } from "../../store/catalogs.ts";
import { Button } from "../../ui/button.tsx";
import { Choices } from "../../ui/field.tsx";
import { Failure, Loading } from "../../ui/states.tsx";
import { useWords } from "../../ui/words-context.tsx";
import { FileDrop } from "../file-drop.tsx";
import { useLoaded } from "../loaded.ts";
import { useTools } from "../tools.tsx";
import type { CatalogInfo } from "../work/catalog-info.ts";
import { CatalogSummary } from "./catalog-summary.tsx";
import { DiffList } from "./diff-list.tsx";
import { useKeepCatalog } from "./make-catalog.ts";
import { catalogTitle } from "./use-catalogs.ts";

/** A file that was chosen, as far as it was read. */
type Chosen =
  | { step: "none" }
  | { step: "reading" }
  | { step: "refused"; name: string; faults: readonly Fault[] }
  | { step: "read"; name: string; text: string; info: CatalogInfo };

/** The page. */
export function ImportPage({ notes }: { notes: readonly CatalogNote[] }) {
  const words = useWords();
  const { work } = useTools();
  const [chosen, setChosen] = useState<Chosen>({ step: "none" });
  const read = async ([file]: readonly File[]) => {
    if (file === undefined) return;
    setChosen({ step: "reading" });
    const text = await file.text();
    const outcome = await work.catalogRead(text);
    if (outcome.ok) setChosen({ step: "read", name: file.name, text, info: outcome.value });
    else setChosen({ step: "refused", name: file.name, faults: outcome.faults });
  };
  return (
    <div class="wb-page">
      <h1 tabIndex={-1} data-start="">
        {words.say("catalog_way_import")}
      </h1>
      <p class="wb-soft">{words.say("catalog_way_import_why")}</p>
      {chosen.step !== "read" && (
        <FileDrop
          label={words.say("catalog_choose_file")}
          hint={words.say("workbench_or_drop")}
          accept=".json,application/json"
          onFiles={read}
        />
      )}
      {chosen.step === "reading" && <Loading />}
      {chosen.step === "refused" && (
        <Failure level={2} title={words.say("workbench_file_refused", { file: chosen.name })} faults={chosen.faults} />
      )}
      {chosen.step === "read" && <Found {...chosen} notes={notes} onDone={() => setChosen({ step: "none" })} />}
    </div>
  );
}

interface FoundProps {
  name: string;
  text: string;
  info: CatalogInfo;
  notes: readonly CatalogNote[];
  onDone: () => void;
}

/** A readable file; where a catalog of the same title is there, what it would change about that one. */
function Found({ name, text, info, notes, onDone }: FoundProps) {
  const words = useWords();
  const { work } = useTools();
  const keep = useKeepCatalog();
  const title = info.head.title ?? "";
  const same = notes.find((note) => title !== "" && note.title === title);
  const [how, setHow] = useState<"replace" | "beside">(same ? "replace" : "beside");
  const [faults, setFaults] = useState<readonly Fault[]>([]);
  const diff = useLoaded(
    async (signal) => (same === undefined ? null : work.catalogCompare({ id: same.id, text }, { signal })),
    [same?.id],
  );
  const take = async () => {
    const id = same !== undefined && how === "replace" ? { id: same.id } : {};
    setFaults(await keep({ text, origin: { kind: "file", name }, ...id }));
  };
  return (
    <section class="wb-preview" aria-labelledby="found-heading">
      <h2 id="found-heading">{words.say("catalog_found", { file: name })}</h2>
      <CatalogSummary info={info} />
      {same && (
        <Choices
          legend={words.say("catalog_same_title", { title: catalogTitle(same, words) })}
          value={how}
          options={[
            { value: "replace", label: words.say("catalog_same_replace") },
            { value: "beside", label: words.say("catalog_same_beside") },
          ]}
          onChange={setHow}
        />
      )}
      {how === "replace" && diff.value?.ok && <DiffList diff={diff.value.value} />}
      {faults.length > 0 && <Failure title={words.say("catalog_not_changed")} faults={faults} />}
      <div class="ff-actions">
        <Button kind="strong" onPress={take}>
          {words.say("catalog_take")}
        </Button>
        <Button kind="quiet" onPress={onDone}>
          {words.say("ui_cancel")}
        </Button>
      </div>
    </section>
  );
}
