/** Keeping a new catalog: empty, or made of something; it opens at once and can be taken back. */
import { CATALOG_FORMAT, type Catalog } from "../../formats/catalog.ts";
import type { Fault } from "../../formats/common.ts";
import type { CatalogOrigin } from "../../store/catalogs.ts";
import { useUndo } from "../../ui/undo.tsx";
import { useWords } from "../../ui/words-context.tsx";
import { hrefOf } from "../route.ts";
import { dateToday, useTools } from "../tools.tsx";

/** What is kept, and how. */
export interface KeepRequest {
  readonly text: string;
  readonly origin: CatalogOrigin;
  /** Takes the place of the catalog with this id; a new one without it. */
  readonly id?: string;
  /** False keeps it without consulting it. */
  readonly active?: boolean;
}

/** Keeps a catalog's text and opens it; gives the faults where it cannot be kept. */
export function useKeepCatalog(): (asked: KeepRequest) => Promise<readonly Fault[]> {
  const { work, newId } = useTools();
  const offerUndo = useUndo();
  const words = useWords();
  return async ({ text, origin, id = newId(), active }) => {
    const kept = await work.catalogAdd({ id, text, origin, ...(active === undefined ? {} : { active }) });
    if (!kept.ok) return kept.faults;
    const { note, undo } = kept.value;
    const title = note.title || words.say("catalog_untitled");
    offerUndo(words.say("catalog_kept", { title }), async () => {
      await work.catalogUndo(undo);
    });
    location.hash = hrefOf("catalogs", { id });
    return [];
  };
}

/** Makes an empty catalog and opens it. */
export function useMakeCatalog(): () => Promise<void> {
  const { now } = useTools();
  const keep = useKeepCatalog();
  const words = useWords();
  return async () => {
    const empty: Catalog = {
      format: CATALOG_FORMAT,
      title: words.say("catalog_new_title", { date: dateToday(now()) }),
      families: [],
      parts: [],
      interchange: [],
      supersession: [],
    };
    await keep({ text: `${JSON.stringify(empty, null, 2)}\n`, origin: { kind: "made" } });
  };
}
