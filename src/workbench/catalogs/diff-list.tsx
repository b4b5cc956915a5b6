/** What differs between two versions of a catalog, to be read before the newer one is used. */
import type { Words } from "../../text/words.ts";
import { useWords } from "../../ui/words-context.tsx";
import { quantityName } from "../quantity-words.ts";
import type { CatalogDiff, DiffEntry, DiffField, FieldChange } from "./diff.ts";

/** Entries of one kind that are shown unfolded. */
const MOST_UNFOLDED = 40;

/** The list, what changed first, then what came and what went. */
export function DiffList({ diff }: { diff: CatalogDiff }) {
  const words = useWords();
  if (diff.entries.length === 0) return <p>{words.say("catalog_diff_none")}</p>;
  const kinds = ["changed", "removed", "added"] as const;
  return (
    <div class="wb-diff">
      {kinds.map((what) => {
        const entries = diff.entries.filter((entry) => entry.what === what);
        return entries.length === 0 ? null : <Group key={what} what={what} entries={entries} />;
      })}
      {diff.beyond > 0 && <p class="wb-soft">{words.say("catalog_diff_beyond", { count: diff.beyond })}</p>}
    </div>
  );
}

function Group({ what, entries }: { what: DiffEntry["what"]; entries: readonly DiffEntry[] }) {
  const words = useWords();
  const titles = {
    changed: words.say("catalog_diff_changed", { count: entries.length }),
    removed: words.say("catalog_diff_removed", { count: entries.length }),
    added: words.say("catalog_diff_added", { count: entries.length }),
  };
  return (
    <details open={entries.length <= MOST_UNFOLDED} data-what={what}>
      <summary>{titles[what]}</summary>
      <ul>
        {entries.map((entry) => (
          <li key={`${entry.kind} ${entry.name}`}>
            <span class="wb-soft">{kindText(entry.kind, words)}</span> <b>{entry.name}</b>
            {entry.changes.length > 0 && (
              <ul>
                {entry.changes.map((change) => (
                  <li key={`${change.field} ${change.of} ${change.before} ${change.after}`}>
                    <Change change={change} />
                  </li>
                ))}
              </ul>
            )}
          </li>
        ))}
      </ul>
    </details>
  );
}

function Change({ change: { field, of, before, after } }: { change: FieldChange }) {
  const words = useWords();
  const label = field === "quantity" ? quantityName(of, words) : fieldText(field, words);
  const owner = field === "quantity" || of === "" ? "" : ` (${of})`;
  return (
    <>
      <span class="wb-soft">
        {label}
        {owner}:
      </span>{" "}
      {before !== "" && <del>{before}</del>} {after !== "" && <ins>{after}</ins>}
    </>
  );
}

function kindText(kind: DiffEntry["kind"], words: Words): string {
  const kinds = {
    catalog: words.say("catalog_kind_catalog"),
    family: words.say("catalog_kind_family"),
    part: words.say("catalog_kind_part"),
    interchange: words.say("catalog_kind_interchange"),
    supersession: words.say("catalog_kind_supersession"),
  };
  return kinds[kind];
}

function fieldText(field: DiffField, words: Words): string {
  const keys: Readonly<Record<DiffField, string>> = {
    title: "catalog_title",
    maker: "catalog_maker",
    name: "catalog_revision_name",
    models: "bench_model_numbers",
    revision: "bench_revision",
    boards: "catalog_boards",
    built: "catalog_built",
    years: "catalog_years",
    "tell-by": "catalog_tell_by",
    parts: "catalog_revision_parts",
    type: "bench_part_type",
    numbers: "bench_part_numbers",
    quantity: "catalog_quantities",
    connector: "catalog_connector",
    pins: "catalog_pins",
    note: "bench_note",
    basis: "catalog_basis",
  };
  return words.say(keys[field]);
}
