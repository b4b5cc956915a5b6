/** What a catalog says of itself. */
import { Button } from "../../ui/button.tsx";
import { TextField } from "../../ui/field.tsx";
import { Failure, Loading } from "../../ui/states.tsx";
import { useWords } from "../../ui/words-context.tsx";
import { useDraft } from "../drafts.tsx";
import { useLoaded } from "../loaded.ts";
import { hrefOf } from "../route.ts";
import { useTools } from "../tools.tsx";
import type { CatalogHead } from "./change.ts";
import { useChange } from "./use-change.ts";

/** The form. */
export function HeadForm({ id }: { id: string }) {
  const words = useWords();
  const { work } = useTools();
  const info = useLoaded((signal) => work.catalogInfo(id, { signal }), [id]);
  if (info.value === undefined) return <Loading />;
  if (!info.value.ok) {
    return (
      <div class="wb-page">
        <Failure level={2} title={words.say("catalog_unreadable")} faults={info.value.faults} />
      </div>
    );
  }
  return <Form id={id} head={info.value.value.head} />;
}

const FIELDS = ["title", "publisher", "published", "license"] as const;

function Form({ id, head }: { id: string; head: CatalogHead }) {
  const words = useWords();
  const draft = useDraft<CatalogHead>(`head ${id}`, head);
  const { change, faults } = useChange(id);
  const labels = {
    title: words.say("catalog_title"),
    publisher: words.say("catalog_publisher"),
    published: words.say("catalog_published"),
    license: words.say("catalog_license"),
  };
  const leave = () => {
    draft.forget();
    location.hash = hrefOf("catalogs", { id });
  };
  const save = async () => {
    if (await change({ kind: "head", head: draft.value }, words.say("catalog_head_changed"))) leave();
  };
  return (
    <form
      class="wb-page wb-form"
      noValidate
      aria-labelledby="head-form-heading"
      onSubmit={(event) => {
        event.preventDefault();
        void save();
      }}
    >
      <h1 id="head-form-heading" tabIndex={-1} data-start="">
        {words.say("catalog_edit_head")}
      </h1>
      {FIELDS.map((field) => (
        <TextField
          key={field}
          label={labels[field]}
          value={draft.value[field] ?? ""}
          onInput={(text) => draft.set({ ...draft.value, [field]: text })}
          maxLength={400}
        />
      ))}
      <TextField
        label={words.say("bench_note")}
        rows={3}
        value={draft.value.note ?? ""}
        onInput={(note) => draft.set({ ...draft.value, note })}
        maxLength={2_000}
      />
      {faults.length > 0 && <Failure level={2} title={words.say("catalog_not_changed")} faults={faults} />}
      <div class="ff-actions wb-form-end">
        <Button type="submit" kind="strong">
          {words.say("bench_save")}
        </Button>
        <Button onPress={leave}>{words.say("ui_cancel")}</Button>
      </div>
    </form>
  );
}
