/** Every way to get a catalog, each with what it is good for. */
import { useWords } from "../../ui/words-context.tsx";
import { hrefOf } from "../route.ts";
import { useMakeCatalog } from "./make-catalog.ts";

/** The ways; shown while no catalog is open. */
export function WaysIn({ some }: { some: boolean }) {
  const words = useWords();
  const make = useMakeCatalog();
  const ways = [
    { act: "import", name: words.say("catalog_way_import"), why: words.say("catalog_way_import_why") },
    { act: "sheet", name: words.say("catalog_way_sheet"), why: words.say("catalog_way_sheet_why") },
    { act: "address", name: words.say("catalog_way_address"), why: words.say("catalog_way_address_why") },
    { act: "seen", name: words.say("catalog_way_seen"), why: words.say("catalog_way_seen_why") },
    { act: "merge", name: words.say("catalog_way_merge"), why: words.say("catalog_way_merge_why") },
  ];
  return (
    <div class="wb-page">
      <h2 tabIndex={-1} data-start="">
        {words.say(some ? "catalog_ways" : "catalog_ways_first")}
      </h2>
      {!some && <p class="wb-soft">{words.say("catalog_what_for")}</p>}
      <ul class="wb-ways">
        <li>
          <button type="button" class="wb-way" onClick={make}>
            <b>{words.say("catalog_way_made")}</b>
            <span>{words.say("catalog_way_made_why")}</span>
          </button>
        </li>
        {ways.map(({ act, name, why }) => (
          <li key={act}>
            <a class="wb-way" href={hrefOf("catalogs", { act })}>
              <b>{name}</b>
              <span>{why}</span>
            </a>
          </li>
        ))}
      </ul>
    </div>
  );
}
