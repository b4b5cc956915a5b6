/** What differs between two versions of a catalog, in lines that a person can read before using the newer one. Pure. */
import type { Catalog, Connector, Family, Part, Revision } from "../../formats/catalog.ts";
import { canonicalNumber } from "../../text/part-number.ts";

/** One difference inside of a thing: which field, and its value before and after; empty where there was none. */
export interface FieldChange {
  readonly field: DiffField;
  /** What it belongs to inside of the thing: a revision's name, a quantity's; empty for the thing itself. */
  readonly of: string;
  readonly before: string;
  readonly after: string;
}

/** Fields that can differ. */
export type DiffField =
  | "title"
  | "maker"
  | "name"
  | "models"
  | "revision"
  | "boards"
  | "built"
  | "years"
  | "tell-by"
  | "parts"
  | "type"
  | "numbers"
  | "quantity"
  | "connector"
  | "pins"
  | "note"
  | "basis";

/** A family, part or link that differs. */
export interface DiffEntry {
  readonly kind: "catalog" | "family" | "part" | "interchange" | "supersession";
  readonly what: "added" | "removed" | "changed";
  /** What it is called. */
  readonly name: string;
  readonly changes: readonly FieldChange[];
}

/** All differences; many are cut off and counted. */
export interface CatalogDiff {
  readonly entries: readonly DiffEntry[];
  readonly beyond: number;
}

/** Differences that are listed. */
const MOST_DIFFERENCES = 500;

/** Compares two versions; things are told by their ids, links by their numbers. */
export function diffCatalogs(before: Catalog, after: Catalog): CatalogDiff {
  const parts = { before: names(before.parts, partName), after: names(after.parts, partName) };
  const entries = [
    ...headEntry(before, after),
    ...byKey(
      before.families,
      after.families,
      "family",
      ({ id }) => id,
      familyName,
      (a, b) => familyChanges(a, b, parts),
    ),
    ...byKey(before.parts, after.parts, "part", ({ id }) => id, partName, partChanges),
    ...byKey(
      before.interchange,
      after.interchange,
      "interchange",
      ({ numbers }) => numbers.map(canonicalNumber).sort().join(" "),
      ({ numbers }) => numbers.join(" = "),
      (a, b) => changed("basis", "", a.basis, b.basis),
    ),
    ...byKey(
      before.supersession,
      after.supersession,
      "supersession",
      (entry) => `${canonicalNumber(entry.old)} ${canonicalNumber(entry.new)}`,
      (entry) => `${entry.old} → ${entry.new}`,
      (a, b) => changed("basis", "", a.basis, b.basis),
    ),
  ];
  return { entries: entries.slice(0, MOST_DIFFERENCES), beyond: Math.max(0, entries.length - MOST_DIFFERENCES) };
}

function headEntry(before: Catalog, after: Catalog): DiffEntry[] {
  const changes = [...changed("title", "", before.title, after.title), ...changed("note", "", before.note, after.note)];
  return changes.length === 0 ? [] : [{ kind: "catalog", what: "changed", name: after.title ?? "", changes }];
}

function byKey<T>(
  before: readonly T[],
  after: readonly T[],
  kind: DiffEntry["kind"],
  keyOf: (thing: T) => string,
  nameOf: (thing: T) => string,
  compare: (before: T, after: T) => FieldChange[],
): DiffEntry[] {
  const old = new Map(before.map((thing) => [keyOf(thing), thing]));
  const entries: DiffEntry[] = [];
  for (const thing of after) {
    const was = old.get(keyOf(thing));
    old.delete(keyOf(thing));
    const changes = was === undefined ? [] : compare(was, thing);
    if (was === undefined) entries.push({ kind, what: "added", name: nameOf(thing), changes });
    else if (changes.length > 0) entries.push({ kind, what: "changed", name: nameOf(thing), changes });
  }
  for (const gone of old.values()) entries.push({ kind, what: "removed", name: nameOf(gone), changes: [] });
  return entries;
}

interface PartNames {
  readonly before: ReadonlyMap<string, string>;
  readonly after: ReadonlyMap<string, string>;
}

function familyChanges(a: Family, b: Family, parts: PartNames): FieldChange[] {
  const revisions = byKey(
    a.revisions,
    b.revisions,
    "family",
    ({ id }) => id,
    revisionName,
    (one, other) => revisionChanges(one, other, parts),
  );
  return [
    ...changed("maker", "", a.maker, b.maker),
    ...changed("name", "", a.name, b.name),
    ...changed("models", "", a.modelNumbers.join(", "), b.modelNumbers.join(", ")),
    ...revisions.flatMap(({ what, name, changes }): FieldChange[] => {
      if (what === "changed") return [...changes];
      const [before, after] = what === "added" ? ["", name] : [name, ""];
      return [{ field: "revision", of: "", before, after }];
    }),
  ];
}

function revisionChanges(a: Revision, b: Revision, parts: PartNames): FieldChange[] {
  const of = revisionName(b);
  const listed = ({ parts: ids }: Revision, known: ReadonlyMap<string, string>) =>
    ids
      .map((id) => known.get(id) ?? id)
      .sort()
      .join(", ");
  return [
    ...changed("name", revisionName(a), a.name, b.name),
    ...changed("boards", of, a.boardNumbers.join(", "), b.boardNumbers.join(", ")),
    ...changed("built", of, spanText(a.built), spanText(b.built)),
    ...changed("years", of, a.years?.join(", "), b.years?.join(", ")),
    ...changed("tell-by", of, a.tellBy, b.tellBy),
    ...changed("parts", of, listed(a, parts.before), listed(b, parts.after)),
  ];
}

function partChanges(a: Part, b: Part): FieldChange[] {
  const quantities = [...new Set([...Object.keys(a.quantities ?? {}), ...Object.keys(b.quantities ?? {})])];
  return [
    ...changed("type", "", a.type, b.type),
    ...changed("name", "", a.name, b.name),
    ...changed("numbers", "", a.numbers.join(", "), b.numbers.join(", ")),
    ...quantities.flatMap((name) => changed("quantity", name, valueText(a, name), valueText(b, name))),
    ...changed("connector", "", connectorText(a.connector), connectorText(b.connector)),
    ...changed("pins", "", a.connector?.pins?.join(", "), b.connector?.pins?.join(", ")),
    ...changed("note", "", a.note, b.note),
  ];
}

function changed(field: DiffField, of: string, before: string | undefined, after: string | undefined): FieldChange[] {
  return (before ?? "") === (after ?? "") ? [] : [{ field, of, before: before ?? "", after: after ?? "" }];
}

function names<T extends { id: string }>(things: readonly T[], nameOf: (thing: T) => string): Map<string, string> {
  return new Map(things.map((thing) => [thing.id, nameOf(thing)]));
}

function familyName({ id, maker, name }: Family): string {
  return [maker, name ?? id].filter((text) => text !== undefined).join(" ");
}

function revisionName({ id, name }: Revision): string {
  return name ?? id;
}

function partName({ id, name, numbers }: Part): string {
  return numbers[0] ?? name ?? id;
}

function spanText(built: Revision["built"]): string {
  return built === undefined ? "" : `${built.from ?? "…"} – ${built.to ?? "…"}`;
}

function valueText({ quantities }: Part, name: string): string {
  const value = quantities?.[name];
  return value === undefined ? "" : String(value);
}

function connectorText(connector: Connector | undefined): string {
  return [connector?.family, connector?.positions].filter((each) => each !== undefined).join(", ");
}
