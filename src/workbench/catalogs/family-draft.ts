/** A family as it is being typed, and the way back with every fault named at its field. Pure. */
import type { Family, Revision } from "../../formats/catalog.ts";
import { dateText } from "../../formats/catalog.ts";
import { intervalOfDateText } from "../../text/dates.ts";
import { splitNumbers } from "../bench/device-draft.ts";
import { freeId } from "./change.ts";

/** A revision as it is being typed. */
export interface RevisionDraft {
  /** Only for the page: stays with the revision while others come and go. */
  readonly key: string;
  /** The id that it has; empty for a new one. */
  readonly id: string;
  readonly name: string;
  readonly boards: string;
  readonly from: string;
  readonly to: string;
  readonly years: string;
  readonly tellBy: string;
  /** Ids of its parts. */
  readonly parts: readonly string[];
  readonly note: string;
}

/** A family as it is being typed. */
export interface FamilyDraft {
  readonly maker: string;
  readonly name: string;
  readonly models: string;
  readonly revisions: readonly RevisionDraft[];
  readonly note: string;
}

/** Which field has which fault, as the key of the sentence that says what to write instead. */
export type FieldFaults = ReadonlyMap<string, string>;

/** A family to be changed; without one, an empty form with one revision. */
export function familyDraftOf(family: Family | undefined): FamilyDraft {
  return {
    maker: family?.maker ?? "",
    name: family?.name ?? "",
    models: family?.modelNumbers.join(", ") ?? "",
    revisions: family?.revisions.map(revisionDraftOf) ?? [emptyRevision("first")],
    note: family?.note ?? "",
  };
}

/** A revision to be filled in. */
export function emptyRevision(key: string): RevisionDraft {
  return { key, id: "", name: "", boards: "", from: "", to: "", years: "", tellBy: "", parts: [], note: "" };
}

function revisionDraftOf(revision: Revision, place: number): RevisionDraft {
  return {
    key: `saved ${place}`,
    id: revision.id,
    name: revision.name ?? "",
    boards: revision.boardNumbers.join(", "),
    from: revision.built?.from ?? "",
    to: revision.built?.to ?? "",
    years: yearsText(revision.years ?? []),
    tellBy: revision.tellBy ?? "",
    parts: revision.parts,
    note: revision.note ?? "",
  };
}

/** The family that a draft describes, or its faults. */
export function familyFrom(
  draft: FamilyDraft,
  before: Family | undefined,
): { ok: true; family: Family } | { ok: false; faults: FieldFaults } {
  const faults = new Map<string, string>();
  const modelNumbers = splitNumbers(draft.models);
  if (modelNumbers.length === 0 && draft.name.trim() === "") faults.set("models", "catalog_fault_nameless");
  if (modelNumbers.some((number) => number.length > 80)) faults.set("models", "bench_fault_number_long");
  for (const revision of draft.revisions) checkRevision(revision, faults);
  if (faults.size > 0) return { ok: false, faults };
  const family: Family = {
    id: before?.id ?? freeId(draft.name.trim() || (modelNumbers[0] ?? ""), []),
    ...filled("maker", draft.maker),
    ...filled("name", draft.name),
    modelNumbers,
    revisions: revisionsFrom(draft.revisions),
    ...filled("note", draft.note),
  };
  return { ok: true, family };
}

function checkRevision({ key, name, boards, from, to, years }: RevisionDraft, faults: Map<string, string>): void {
  const numbers = splitNumbers(boards);
  if (name.trim() === "" && numbers.length === 0) faults.set(`${key} name`, "catalog_fault_revision_nameless");
  if (numbers.some((number) => number.length > 80)) faults.set(`${key} boards`, "bench_fault_number_long");
  if (!isDate(from)) faults.set(`${key} from`, "catalog_fault_date");
  if (!isDate(to)) faults.set(`${key} to`, "catalog_fault_date");
  if (endsBefore(from, to)) faults.set(`${key} to`, "catalog_fault_date_order");
  if (yearsFrom(years) === null) faults.set(`${key} years`, "catalog_fault_years");
}

function isDate(text: string): boolean {
  const plain = text.trim();
  return plain === "" || (dateText.safeParse(plain).success && intervalOfDateText(plain) !== null);
}

function endsBefore(from: string, to: string): boolean {
  const start = intervalOfDateText(from.trim())?.from;
  const end = intervalOfDateText(to.trim())?.to;
  return start !== undefined && start !== null && end !== undefined && end !== null && end < start;
}

/** New revisions get ids of their own; those that have one keep it. */
function revisionsFrom(drafts: readonly RevisionDraft[]): Revision[] {
  const taken = drafts.map(({ id }) => id).filter((id) => id !== "");
  return drafts.map((draft) => {
    const boardNumbers = splitNumbers(draft.boards);
    const id = draft.id || freeId(draft.name.trim() || (boardNumbers[0] ?? ""), taken);
    taken.push(id);
    const [from, to] = [draft.from.trim(), draft.to.trim()];
    const built = { ...(from === "" ? {} : { from }), ...(to === "" ? {} : { to }) };
    const years = yearsFrom(draft.years) ?? [];
    return {
      id,
      ...filled("name", draft.name),
      boardNumbers,
      ...(from === "" && to === "" ? {} : { built }),
      ...(years.length === 0 ? {} : { years }),
      ...filled("tellBy", draft.tellBy),
      parts: [...draft.parts],
      ...filled("note", draft.note),
    };
  });
}

/** `2019–2021, 2023` as years, sorted; `null` for anything else. */
export function yearsFrom(text: string): number[] | null {
  const years = new Set<number>();
  for (const piece of text.split(/[,;\s]+/).filter((each) => each !== "")) {
    const match = /^((?:19|20)\d{2})(?:[-–]((?:19|20)\d{2}))?$/.exec(piece);
    const first = Number(match?.[1]);
    const last = Number(match?.[2] ?? match?.[1]);
    if (match === null || last < first) return null;
    for (let year = first; year <= last; year++) years.add(year);
  }
  return [...years].sort((a, b) => a - b);
}

/** Years as people write them: runs of three and more are joined. */
export function yearsText(years: readonly number[]): string {
  const runs: [number, number][] = [];
  for (const year of [...years].sort((a, b) => a - b)) {
    const last = runs.at(-1);
    if (last && year === last[1] + 1) last[1] = year;
    else runs.push([year, year]);
  }
  return runs
    .map(([from, to]) => (from === to ? `${from}` : to === from + 1 ? `${from}, ${to}` : `${from}–${to}`))
    .join(", ");
}

/** A field with what was typed; nothing where nothing was. */
export function filled<K extends string>(field: K, text: string): { [k in K]?: string } {
  const trimmed = text.trim();
  return (trimmed === "" ? {} : { [field]: trimmed }) as { [k in K]?: string };
}
