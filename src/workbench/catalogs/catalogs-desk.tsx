/** The catalogs: the list on one side, the one that is open, or a way to get another, on the other. */
import type { CatalogNote } from "../../store/catalogs.ts";
import { Failure, Loading } from "../../ui/states.tsx";
import { useWords } from "../../ui/words-context.tsx";
import { LinkList } from "../link-list.tsx";
import type { Loaded } from "../loaded.ts";
import { actOf, hrefOf, idOf, type Place } from "../route.ts";
import { AddressPage } from "./address-page.tsx";
import { CatalogPage } from "./catalog-page.tsx";
import { FamilyForm } from "./family-form.tsx";
import { HeadForm } from "./head-form.tsx";
import { ImportPage } from "./import-page.tsx";
import { MergePage } from "./merge-page.tsx";
import { PartForm } from "./part-form.tsx";
import { SeenPage } from "./seen-page.tsx";
import { SheetPage } from "./sheet-page.tsx";
import { catalogTitle, originText, useCatalogs } from "./use-catalogs.ts";
import { WaysIn } from "./ways-in.tsx";

const ROW_PX = 68;

/**
 * The desk. Addresses: `#catalogs`, `#catalogs/:import` (and other ways in), `#catalogs/<id>`,
 * `#catalogs/<id>/:family/<family>`, `#catalogs/<id>/:part/<part>`; without the last step a new one is made.
 */
export function CatalogsDesk({ place }: { place: Place }) {
  const words = useWords();
  const catalogs = useCatalogs();
  const opened = place.steps.length > 0;
  return (
    <div class="wb-split" data-open={opened}>
      <section class="wb-list" aria-labelledby="catalogs-heading">
        <div class="wb-list-title">
          <h1 id="catalogs-heading" tabIndex={-1} data-start={opened ? undefined : ""}>
            {words.say("workbench_desk_catalogs")}
          </h1>
          <a class="ff-button ff-strong" href={hrefOf("catalogs", { act: "ways" })}>
            {words.say("catalog_add")}
          </a>
        </div>
        <CatalogList catalogs={catalogs} currentId={idOf(place.steps[0])} />
      </section>
      <div class="wb-side">
        {opened && <BackLink place={place} />}
        <Side place={place} notes={catalogs.value} />
      </div>
    </div>
  );
}

/** Back to the catalog from its forms, else back to the list. */
function BackLink({ place }: { place: Place }) {
  const words = useWords();
  const id = idOf(place.steps[0]);
  const inside = id !== undefined && place.steps.length > 1;
  return (
    <p class="wb-back" data-always={inside}>
      <a href={inside ? hrefOf("catalogs", { id }) : hrefOf("catalogs")}>
        {words.say(inside ? "catalog_back_to_this" : "catalog_back")}
      </a>
    </p>
  );
}

function CatalogList({ catalogs, currentId }: { catalogs: Loaded<CatalogNote[]>; currentId: string | undefined }) {
  const words = useWords();
  const { value, error, reload } = catalogs;
  if (error) {
    return (
      <Failure
        level={2}
        title={words.say("catalog_list_failed")}
        faults={[{ field: "", message: error.message }]}
        onRetry={reload}
      />
    );
  }
  if (value === undefined) return <Loading />;
  if (value.length === 0) return <p class="wb-soft">{words.say("catalog_none")}</p>;
  return (
    <LinkList<CatalogNote>
      label={words.say("workbench_desk_catalogs")}
      items={value}
      keyOf={({ id }) => id}
      hrefOf={({ id }) => hrefOf("catalogs", { id })}
      currentKey={currentId}
      rowHeight_px={ROW_PX}
      row={(note) => (
        <span class="wb-row-text">
          <span class="wb-row-name">
            <b dir="auto">{catalogTitle(note, words)}</b>
            {!note.active && <span class="wb-tag">{words.say("catalog_off")}</span>}
          </span>
          <span class="wb-row-under">
            {words.say("catalog_counts", { families: note.families, parts: note.parts, numbers: note.numbers })}
          </span>
          <span class="wb-row-under">{originText(note, words)}</span>
        </span>
      )}
    />
  );
}

function Side({ place, notes }: { place: Place; notes: readonly CatalogNote[] | undefined }) {
  const [first, second, third] = place.steps;
  const id = idOf(first);
  if (id === undefined) return <WayIn act={actOf(first)} id={idOf(second)} notes={notes} />;
  const key = JSON.stringify(place.steps);
  const act = actOf(second);
  if (act === "family") return <FamilyForm key={key} id={id} familyId={idOf(third)} />;
  if (act === "part") return <PartForm key={key} id={id} partId={idOf(third)} />;
  if (act === "head") return <HeadForm key={key} id={id} />;
  return <CatalogPage key={id} id={id} notes={notes} />;
}

interface WayInProps {
  act: string | undefined;
  id: string | undefined;
  notes: readonly CatalogNote[] | undefined;
}

function WayIn({ act, id, notes }: WayInProps) {
  switch (act) {
    case "import":
      return <ImportPage notes={notes ?? []} />;
    case "sheet":
      return <SheetPage />;
    case "address":
      return <AddressPage key={id} id={id} notes={notes} />;
    case "seen":
      return <SeenPage />;
    case "merge":
      return <MergePage notes={notes ?? []} />;
    default:
      return <WaysIn some={(notes?.length ?? 0) > 0} />;
  }
}
