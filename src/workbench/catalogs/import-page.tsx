/** A catalog from a file: faults by field, else what is in it, and whether it replaces one that is there. */
import { useState } from "preact/hooks";
import type { Fault, Outcome } from "../../formats/common.ts";
import type { CatalogNote } from "../../store/catalogs.ts";
import { Button } from "../../ui/button.tsx";
import { Choices } from "../../ui/field.tsx";
import { Failure } from "../../ui/states.tsx";
import { useWords } from "../../ui/words-context.tsx";
import { FilePage } from "../file-page.tsx";
import { useLoaded } from "../loaded.ts";
import { useTools } from "../tools.tsx";
import type { CatalogInfo } from "../work/catalog-info.ts";
import { CatalogSummary } from "./catalog-summary.tsx";
import { DiffList } from "./diff-list.tsx";
import { useKeepCatalog } from "./make-catalog.ts";
import { catalogTitle } from "./use-catalogs.ts";

/** A catalog file that was read. */
interface Read {
  readonly text: string;
  readonly info: CatalogInfo;
}

/** The page. */
export function ImportPage({ notes }: { notes: readonly CatalogNote[] }) {
  const words = useWords();
  const { work } = useTools();
  const read = async (file: File): Promise<Outcome<Read>> => {
    const text = await file.text();
    const outcome = await work.catalogRead(text);
    return outcome.ok ? { ok: true, value: { text, info: outcome.value } } : outcome;
  };
  return (
    <FilePage
      heading={words.say("catalog_way_import")}
      why={words.say("catalog_way_import_why")}
      choose={words.say("catalog_choose_file")}
      read={read}
      show={(name, value, onDone) => <Found name={name} {...value} notes={notes} onDone={onDone} />}
    />
  );
}

interface FoundProps extends Read {
  name: string;
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
