/** A catalog that is not kept yet, in a few lines. */
import { useWords } from "../../ui/words-context.tsx";
import type { CatalogInfo } from "../work/catalog-info.ts";

/** What it says of itself and how much there is in it. */
export function CatalogSummary({ info }: { info: CatalogInfo }) {
  const words = useWords();
  const { title, publisher, published, license, note } = info.head;
  const about = [publisher, published, license].filter((text) => text !== undefined && text !== "");
  return (
    <div class="wb-summary">
      <p>
        <b>{title || words.say("catalog_untitled")}</b>
      </p>
      {about.length > 0 && <p class="wb-soft">{about.join(" · ")}</p>}
      {note && <p class="wb-soft">{note}</p>}
      <p>
        {words.say("catalog_counts_long", {
          families: info.families,
          revisions: info.revisions,
          parts: info.parts,
          numbers: info.numbers,
          links: info.links,
        })}
      </p>
    </div>
  );
}
