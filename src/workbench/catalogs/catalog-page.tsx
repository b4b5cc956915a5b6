/** One catalog: what it says of itself, its families, parts and what replaces what, all to be searched and changed. */
import { useEffect, useState } from "preact/hooks";
import type { CatalogNote } from "../../store/catalogs.ts";
import { Button } from "../../ui/button.tsx";
import { TextField, Toggle } from "../../ui/field.tsx";
import { Empty, Failure, Loading } from "../../ui/states.tsx";
import { useWords } from "../../ui/words-context.tsx";
import { useBench } from "../bench/bench-state.tsx";
import { useLate, useLoaded } from "../loaded.ts";
import { usePartNames } from "../part-names.ts";
import { hrefOf } from "../route.ts";
import { useTools } from "../tools.tsx";
import type { CatalogInfo } from "../work/catalog-info.ts";
import type { FamilyLine, Hits, PartLine } from "./find.ts";
import { LinksSection } from "./links-section.tsx";
import { catalogTitle, originText, useCatalogActions } from "./use-catalogs.ts";

/** Hits of one kind that are listed. */
const MOST_SHOWN = 100;

/** The page of the catalog with this id. */
export function CatalogPage({ id, notes }: { id: string; notes: readonly CatalogNote[] | undefined }) {
  const words = useWords();
  const { work } = useTools();
  const { catalogsSeen } = useBench();
  const note = notes?.find((each) => each.id === id);
  const info = useLoaded((signal) => work.catalogInfo(id, { signal }), [id, catalogsSeen]);
  if (notes === undefined) return <Loading />;
  if (note === undefined) return <Gone />;
  return (
    <article class="wb-page" aria-labelledby="catalog-heading">
      <CatalogHead note={note} info={info.value?.ok ? info.value.value : undefined} />
      {info.error && (
        <Failure
          level={2}
          title={words.say("catalog_open_failed")}
          faults={[{ field: "", message: info.error.message }]}
          onRetry={info.reload}
        />
      )}
      {info.value === undefined && info.loading && <Loading />}
      {info.value?.ok === false && (
        <Failure level={2} title={words.say("catalog_unreadable")} faults={info.value.faults}>
          <p>{words.say("catalog_unreadable_hint")}</p>
        </Failure>
      )}
      {info.value?.ok && <Contents id={id} />}
    </article>
  );
}

/** Not among the catalogs, or not yet. */
function Gone() {
  const words = useWords();
  if (!useLate()) return <Loading />;
  return (
    <div class="wb-page">
      <Empty title={words.say("catalog_gone")}>
        <a href={hrefOf("catalogs")}>{words.say("catalog_back")}</a>
      </Empty>
    </div>
  );
}

function CatalogHead({ note, info }: { note: CatalogNote; info: CatalogInfo | undefined }) {
  const words = useWords();
  const actions = useCatalogActions();
  const { publisher, published, license, note: said } = info?.head ?? {};
  const about = [publisher, published, license].filter((text) => text !== undefined && text !== "");
  return (
    <header class="wb-catalog-head">
      <h1 id="catalog-heading" tabIndex={-1} data-start="">
        {catalogTitle(note, words)}
      </h1>
      <p class="wb-soft">{[...about, originText(note, words)].join(" · ")}</p>
      {said && <p>{said}</p>}
      <ActiveSwitch note={note} />
      <div class="ff-actions">
        <a class="ff-button ff-plain" href={hrefOf("catalogs", { id: note.id }, { act: "head" })}>
          {words.say("catalog_edit_head")}
        </a>
        {note.origin.kind === "address" && (
          <a class="ff-button ff-plain" href={hrefOf("catalogs", { act: "address" }, { id: note.id })}>
            {words.say("catalog_look_again")}
          </a>
        )}
        <Button onPress={() => actions.hand(note)}>{words.say("catalog_export")}</Button>
        <Button kind="quiet" onPress={() => actions.remove(note)}>
          {words.say("catalog_delete")}
        </Button>
      </div>
    </header>
  );
}

/** Switches at once; the store follows. */
function ActiveSwitch({ note }: { note: CatalogNote }) {
  const words = useWords();
  const actions = useCatalogActions();
  const [turned, setTurned] = useState(note.active);
  useEffect(() => setTurned(note.active), [note.active]);
  const turn = async (active: boolean) => {
    setTurned(active);
    try {
      await actions.setActive(note, active);
    } catch (error) {
      setTurned(note.active);
      throw error;
    }
  };
  return (
    <Toggle
      label={words.say("catalog_active")}
      hint={words.say("catalog_active_hint")}
      checked={turned}
      onChange={turn}
    />
  );
}

function Contents({ id }: { id: string }) {
  const words = useWords();
  const { work } = useTools();
  const { catalogsSeen } = useBench();
  const [text, setText] = useState("");
  const found = useLoaded(
    (signal) => work.catalogFind({ id, text, most: MOST_SHOWN }, { signal }),
    [id, text, catalogsSeen],
  );
  const findings = found.value;
  return (
    <>
      <TextField
        search
        label={words.say("catalog_search")}
        placeholder={words.say("catalog_search_example")}
        value={text}
        onInput={setText}
        maxLength={200}
      />
      {findings === undefined && <Loading />}
      {findings && <Families id={id} families={findings.families} />}
      {findings && <Parts id={id} parts={findings.parts} />}
      {findings && <LinksSection id={id} interchange={findings.interchange} supersession={findings.supersession} />}
    </>
  );
}

function Families({ id, families }: { id: string; families: Hits<FamilyLine> }) {
  const words = useWords();
  return (
    <section class="wb-section" aria-labelledby="families-heading">
      <div class="wb-section-head">
        <h2 id="families-heading">{words.say("catalog_families", { count: families.found })}</h2>
        <a class="ff-button ff-plain" href={hrefOf("catalogs", { id }, { act: "family" })}>
          {words.say("catalog_family_add")}
        </a>
      </div>
      <ul class="wb-rows">
        {families.shown.map((family) => (
          <li key={family.id}>
            <a href={hrefOf("catalogs", { id }, { act: "family" }, { id: family.id })}>
              <b>{[family.maker, family.name || family.id].filter((text) => text !== "").join(" ")}</b>
              <span class="ff-number">{family.modelNumbers.join(", ")}</span>
              <span class="wb-soft">{family.revisions.join(" · ") || words.say("bench_no_revision")}</span>
            </a>
          </li>
        ))}
      </ul>
      <Beyond hits={families} />
    </section>
  );
}

function Parts({ id, parts }: { id: string; parts: Hits<PartLine> }) {
  const words = useWords();
  const partName = usePartNames();
  return (
    <section class="wb-section" aria-labelledby="catalog-parts-heading">
      <div class="wb-section-head">
        <h2 id="catalog-parts-heading">{words.say("catalog_parts", { count: parts.found })}</h2>
        <a class="ff-button ff-plain" href={hrefOf("catalogs", { id }, { act: "part" })}>
          {words.say("catalog_part_add")}
        </a>
      </div>
      <ul class="wb-rows">
        {parts.shown.map((part) => (
          <li key={part.id}>
            <a href={hrefOf("catalogs", { id }, { act: "part" }, { id: part.id })}>
              <span class="ff-number">
                {part.numbers.join(", ") || part.name || part.id}
                {part.more > 0 && ` … (+${part.more})`}
              </span>
              <span>{partName(part.type)}</span>
              <span class="wb-soft">{partNote(part, words)}</span>
            </a>
          </li>
        ))}
      </ul>
      <Beyond hits={parts} />
    </section>
  );
}

function partNote({ positions, pinned, places }: PartLine, words: ReturnType<typeof useWords>): string {
  const connector = positions === null ? "" : words.say("catalog_part_positions", { count: positions });
  const pins = positions !== null && !pinned ? words.say("catalog_part_pins_open") : "";
  const where = words.say("catalog_part_places", { count: places });
  return [connector, pins, where].filter((text) => text !== "").join(" · ");
}

/** How many more there are than are shown. */
function Beyond({ hits }: { hits: Hits<unknown> }) {
  const words = useWords();
  const more = hits.found - hits.shown.length;
  return more > 0 ? <p class="wb-soft">{words.say("catalog_beyond", { count: more })}</p> : null;
}
