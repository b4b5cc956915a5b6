/** What replaces what: numbers that serve for each other, and numbers that a later one replaces. */
import type { ComponentChildren } from "preact";
import { useState } from "preact/hooks";
import type { Catalog } from "../../formats/catalog.ts";
import { Button } from "../../ui/button.tsx";
import { TextField } from "../../ui/field.tsx";
import { Failure } from "../../ui/states.tsx";
import { useWords } from "../../ui/words-context.tsx";
import { splitNumbers } from "../bench/device-draft.ts";
import type { CatalogChange } from "./change.ts";
import type { Hits, LinkLine } from "./find.ts";
import { useChange } from "./use-change.ts";

type Interchange = Catalog["interchange"][number];
type Supersession = Catalog["supersession"][number];

interface LinksSectionProps {
  id: string;
  interchange: Hits<LinkLine<Interchange>>;
  supersession: Hits<LinkLine<Supersession>>;
}

/** The section. */
export function LinksSection({ id, interchange, supersession }: LinksSectionProps) {
  const words = useWords();
  const { change, faults } = useChange(id);
  const removed = words.say("catalog_link_removed");
  return (
    <section class="wb-section" aria-labelledby="links-heading">
      <h2 id="links-heading">{words.say("catalog_links")}</h2>
      {faults.length > 0 && <Failure title={words.say("catalog_not_changed")} faults={faults} />}
      <h3>{words.say("catalog_interchange", { count: interchange.found })}</h3>
      <p class="wb-soft">{words.say("catalog_interchange_why")}</p>
      <ul class="wb-rows">
        {interchange.shown.map(({ at, entry }) => (
          <li key={at} class="wb-link-row">
            <span class="ff-number">{entry.numbers.join(" = ")}</span>
            <span class="wb-soft">{entry.basis}</span>
            <RemoveButton
              name={entry.numbers.join(" = ")}
              onPress={() => change({ kind: "remove-interchange", at }, removed)}
            />
          </li>
        ))}
      </ul>
      <AddInterchange change={change} />
      <h3>{words.say("catalog_supersession", { count: supersession.found })}</h3>
      <p class="wb-soft">{words.say("catalog_supersession_why")}</p>
      <ul class="wb-rows">
        {supersession.shown.map(({ at, entry }) => (
          <li key={at} class="wb-link-row">
            <span class="ff-number">
              {entry.old} <Arrow /> {entry.new}
            </span>
            <span class="wb-soft">{entry.basis}</span>
            <RemoveButton
              name={words.say("catalog_supersession_pair", { old: entry.old, new: entry.new })}
              onPress={() => change({ kind: "remove-supersession", at }, removed)}
            />
          </li>
        ))}
      </ul>
      <AddSupersession change={change} />
    </section>
  );
}

/** An arrow in the direction of reading, said in words. */
function Arrow() {
  const words = useWords();
  return (
    <>
      <span aria-hidden="true">{words.direction === "rtl" ? "←" : "→"}</span>
      <span class="ff-unseen">{words.say("catalog_replaced_by")}</span>
    </>
  );
}

function RemoveButton({ name, onPress }: { name: string; onPress: () => void }) {
  const words = useWords();
  return (
    <Button
      kind="quiet"
      label={words.say("workbench_act_on", { act: words.say("catalog_link_remove"), on: name })}
      onPress={onPress}
    >
      {words.say("catalog_link_remove")}
    </Button>
  );
}

type Change = (change: CatalogChange, message: string) => Promise<boolean>;

function AddInterchange({ change }: { change: Change }) {
  const words = useWords();
  const [numbers, setNumbers] = useState("");
  const [basis, setBasis] = useState("");
  const [error, setError] = useState(false);
  const add = async () => {
    const list = splitNumbers(numbers);
    setError(list.length < 2);
    if (list.length < 2) return;
    const entry: Interchange = { numbers: list, ...(basis.trim() === "" ? {} : { basis: basis.trim() }) };
    if (await change({ kind: "put-interchange", at: null, entry }, words.say("catalog_link_added"))) {
      setNumbers("");
      setBasis("");
    }
  };
  return (
    <LinkForm onSubmit={add}>
      <TextField
        label={words.say("catalog_interchange_numbers")}
        value={numbers}
        onInput={setNumbers}
        maxLength={20_000}
        {...(error ? { error: words.say("catalog_interchange_least") } : {})}
      />
      <TextField label={words.say("catalog_basis")} value={basis} onInput={setBasis} maxLength={400} />
    </LinkForm>
  );
}

function AddSupersession({ change }: { change: Change }) {
  const words = useWords();
  const [older, setOlder] = useState("");
  const [newer, setNewer] = useState("");
  const [basis, setBasis] = useState("");
  const [error, setError] = useState(false);
  const add = async () => {
    const [old] = splitNumbers(older);
    const [later] = splitNumbers(newer);
    setError(old === undefined || later === undefined);
    if (old === undefined || later === undefined) return;
    const entry: Supersession = { old, new: later, ...(basis.trim() === "" ? {} : { basis: basis.trim() }) };
    if (await change({ kind: "put-supersession", at: null, entry }, words.say("catalog_link_added"))) {
      setOlder("");
      setNewer("");
      setBasis("");
    }
  };
  return (
    <LinkForm onSubmit={add}>
      <TextField
        label={words.say("catalog_supersession_old")}
        value={older}
        onInput={setOlder}
        maxLength={80}
        {...(error ? { error: words.say("catalog_supersession_both") } : {})}
      />
      <TextField label={words.say("catalog_supersession_new")} value={newer} onInput={setNewer} maxLength={80} />
      <TextField label={words.say("catalog_basis")} value={basis} onInput={setBasis} maxLength={400} />
    </LinkForm>
  );
}

function LinkForm({ onSubmit, children }: { onSubmit: () => void; children: ComponentChildren }) {
  const words = useWords();
  return (
    <form
      class="wb-link-form"
      noValidate
      onSubmit={(event) => {
        event.preventDefault();
        onSubmit();
      }}
    >
      {children}
      <Button type="submit">{words.say("catalog_link_add")}</Button>
    </form>
  );
}
