/** A catalog from an address: fetched only when asked, shown with what it would change, and kept only then. */
import { useRef, useState } from "preact/hooks";
import type { Fault } from "../../formats/common.ts";
import type { CatalogNote } from "../../store/catalogs.ts";
import type { Words } from "../../text/words.ts";
import { Button } from "../../ui/button.tsx";
import { TextField } from "../../ui/field.tsx";
import { Failure, Loading, Progress } from "../../ui/states.tsx";
import { useWords } from "../../ui/words-context.tsx";
import { useLoaded } from "../loaded.ts";
import { useTools } from "../tools.tsx";
import type { CatalogInfo } from "../work/catalog-info.ts";
import { CatalogSummary } from "./catalog-summary.tsx";
import type { CatalogDiff } from "./diff.ts";
import { DiffList } from "./diff-list.tsx";
import { type AddressFault, type Fetched, fetchCatalog, readAddress } from "./fetch-catalog.ts";
import { useKeepCatalog } from "./make-catalog.ts";
import { catalogTitle } from "./use-catalogs.ts";

interface Typing {
  readonly step: "typing";
  readonly fault: string;
  readonly faults: readonly Fault[];
}

type State =
  | Typing
  | { step: "fetching"; done: number | null }
  | { step: "fetched"; address: string; text: string; hash: string; info: CatalogInfo; diff: CatalogDiff | null };

const TYPING: Typing = { step: "typing", fault: "", faults: [] };

/** The page; with an id it looks for a newer version of that catalog. */
export function AddressPage({ id, notes }: { id: string | undefined; notes: readonly CatalogNote[] | undefined }) {
  if (notes === undefined) return <Loading />;
  const note = notes.find((each) => each.id === id);
  return <AddressForm start={note?.origin.kind === "address" ? note.origin.address : ""} notes={notes} />;
}

function AddressForm({ start, notes }: { start: string; notes: readonly CatalogNote[] }) {
  const words = useWords();
  const tools = useTools();
  const [typed, setTyped] = useState(start);
  const [state, setState] = useState<State>(TYPING);
  const stop = useRef<AbortController | null>(null);
  const known = (address: string) =>
    notes.find(({ origin }) => origin.kind === "address" && origin.address === address);

  const address = readAddress(typed);
  const pattern = typeof address === "string" ? null : address.pattern;
  // Looked up beforehand: the question to the person has to follow straight on the click.
  const had = useLoaded(async () => pattern !== null && tools.permissions.has(pattern), [pattern]);

  const look = async () => {
    if (typeof address === "string") {
      setState({ ...TYPING, fault: addressFault(address, words) });
      return;
    }
    // Asked straight from the click, as browsers want it.
    if (!(await tools.permissions.ask(address.pattern))) {
      setState({ ...TYPING, fault: words.say("catalog_address_refused") });
      return;
    }
    stop.current = new AbortController();
    const { signal } = stop.current;
    setState({ step: "fetching", done: null });
    try {
      const onProgress = (bytes: number, all: number) =>
        setState({ step: "fetching", done: all === 0 ? null : Math.min(1, bytes / all) });
      const fetched = await fetchCatalog(address.href, { fetch: tools.fetch, signal, onProgress });
      setState(await judged(address.href, fetched));
    } catch (error) {
      if (!signal.aborted) throw error;
      setState(TYPING);
    } finally {
      // Asked for this one fetch, given back after it.
      if (had.value === false) await tools.permissions.drop(address.pattern);
    }
  };
  const judged = async (address: string, fetched: Fetched): Promise<State> => {
    if (fetched.kind !== "text") return { ...TYPING, fault: fetchFault(fetched, words) };
    const { text, hash } = fetched;
    const info = await tools.work.catalogRead(text);
    if (!info.ok) return { ...TYPING, faults: info.faults };
    const before = known(address);
    const diff = before ? await tools.work.catalogCompare({ id: before.id, text }) : null;
    return { step: "fetched", address, text, hash, info: info.value, diff: diff?.ok ? diff.value : null };
  };
  return (
    <div class="wb-page">
      <h1 tabIndex={-1} data-start="">
        {words.say("catalog_way_address")}
      </h1>
      <p class="wb-soft">{words.say("catalog_address_why")}</p>
      <form
        class="wb-inline wb-inline-wide"
        noValidate
        onSubmit={(event) => {
          event.preventDefault();
          void look();
        }}
      >
        <TextField
          label={words.say("catalog_address")}
          hint={words.say("catalog_address_hint")}
          placeholder="https://catalogs.example/lark.catalog.json"
          value={typed}
          onInput={setTyped}
          maxLength={2_000}
          {...(state.step === "typing" && state.fault !== "" ? { error: state.fault } : {})}
        />
        <Button type="submit" busy={state.step === "fetching"}>
          {words.say("catalog_address_fetch")}
        </Button>
      </form>
      {state.step === "fetching" && (
        <Progress
          label={words.say("catalog_address_fetching")}
          done={state.done}
          onCancel={() => stop.current?.abort(new Error("cancelled"))}
        />
      )}
      {state.step === "typing" && state.faults.length > 0 && (
        <Failure level={2} title={words.say("catalog_address_no_catalog")} faults={state.faults} />
      )}
      {state.step === "fetched" && (
        <FetchedCatalog {...state} before={known(state.address)} onDone={() => setState(TYPING)} />
      )}
    </div>
  );
}

interface FetchedCatalogProps {
  address: string;
  text: string;
  hash: string;
  info: CatalogInfo;
  diff: CatalogDiff | null;
  before: CatalogNote | undefined;
  onDone: () => void;
}

/** What came, and what it would change about the version that is kept. */
function FetchedCatalog({ address, text, hash, info, diff, before, onDone }: FetchedCatalogProps) {
  const words = useWords();
  const keep = useKeepCatalog();
  const [faults, setFaults] = useState<readonly Fault[]>([]);
  const unchanged = before?.origin.kind === "address" && before.origin.hash === hash;
  const take = async () => {
    const id = before === undefined ? {} : { id: before.id };
    setFaults(await keep({ text, origin: { kind: "address", address, hash }, ...id }));
  };
  return (
    <section class="wb-preview" aria-labelledby="fetched-heading">
      <h2 id="fetched-heading">
        {unchanged
          ? words.say("catalog_address_unchanged")
          : before
            ? words.say("catalog_address_changed", { title: catalogTitle(before, words) })
            : words.say("catalog_address_new")}
      </h2>
      <CatalogSummary info={info} />
      <p class="wb-soft">
        {words.say("catalog_address_hash")} <code dir="ltr">{hash}</code>
      </p>
      {!unchanged && diff && <DiffList diff={diff} />}
      {faults.length > 0 && <Failure title={words.say("catalog_not_changed")} faults={faults} />}
      <div class="ff-actions">
        {!unchanged && (
          <Button kind="strong" onPress={take}>
            {words.say(before ? "catalog_address_use" : "catalog_take")}
          </Button>
        )}
        <Button kind="quiet" onPress={onDone}>
          {words.say(before && !unchanged ? "catalog_address_keep_old" : "ui_dismiss")}
        </Button>
      </div>
    </section>
  );
}

function addressFault(fault: AddressFault, words: Words): string {
  if (fault === "not-secure") return words.say("catalog_address_not_secure");
  if (fault === "with-password") return words.say("catalog_address_password");
  return words.say("catalog_address_wrong");
}

function fetchFault(fetched: Exclude<Fetched, { kind: "text" }>, words: Words): string {
  switch (fetched.kind) {
    case "answered":
      return words.say("catalog_address_answered", { status: String(fetched.status) });
    case "too-large":
      return words.say("catalog_address_too_large");
    case "not-text":
      return words.say("catalog_address_not_text");
    case "unreachable":
      return words.say("catalog_address_unreachable");
  }
}
