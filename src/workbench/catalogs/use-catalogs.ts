/** The catalogs as the desk lists them, and what is done to one as a whole. */
import type { CatalogNote } from "../../store/catalogs.ts";
import type { Words } from "../../text/words.ts";
import { useUndo } from "../../ui/undo.tsx";
import { useWords } from "../../ui/words-context.tsx";
import { useBench } from "../bench/bench-state.tsx";
import { type Loaded, useLoaded } from "../loaded.ts";
import { hrefOf } from "../route.ts";
import { useTools } from "../tools.tsx";

/** What is said about each catalog, kept as it is. */
export function useCatalogs(): Loaded<CatalogNote[]> {
  const { store } = useTools();
  const { catalogsSeen } = useBench();
  return useLoaded(() => store.catalogs.list(), [catalogsSeen]);
}

/** What a catalog is called. */
export function catalogTitle({ title }: Pick<CatalogNote, "title">, words: Words): string {
  return title === "" ? words.say("catalog_untitled") : title;
}

/** Where a catalog came from. */
export function originText({ origin }: Pick<CatalogNote, "origin">, words: Words): string {
  switch (origin.kind) {
    case "file":
      return words.say("catalog_origin_file", { file: origin.name ?? "" });
    case "address":
      return words.say("catalog_origin_address", { address: origin.address });
    case "example":
      return words.say("catalog_origin_example");
    case "made":
      return words.say("catalog_origin_made");
  }
}

/** A name for a file to download. */
function fileNameOf(title: string): string {
  const plain = title
    .normalize("NFKD")
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, "-")
    .replace(/^-|-$/g, "");
  return `${plain.slice(0, 60) || "falsefit"}.catalog.json`;
}

/** What is done to one catalog as a whole. */
export interface CatalogActions {
  remove(note: CatalogNote): Promise<void>;
  hand(note: CatalogNote): Promise<void>;
  setActive(note: CatalogNote, active: boolean): Promise<void>;
}

/** The actions of this desk. */
export function useCatalogActions(): CatalogActions {
  const { work, store, download } = useTools();
  const offerUndo = useUndo();
  const words = useWords();
  return {
    async remove(note) {
      const removed = await work.catalogRemove(note.id);
      location.hash = hrefOf("catalogs");
      if (removed === null) return;
      offerUndo(words.say("catalog_removed", { title: catalogTitle(note, words) }), async () => {
        await work.catalogUndo(removed.undo);
      });
    },
    async hand(note) {
      const text = await work.catalogText(note.id);
      if (text !== null) download(fileNameOf(note.title), text);
    },
    setActive: (note, active) => store.catalogs.setActive(note.id, active),
  };
}
