/**
 * A catalog draft from devices seen: a proposal for a person to review, edit and accept. Nothing in it is
 * used for a verdict before that.
 *
 * What counts as a revision here is what must not be mixed up: packs of another cell count (or, where no
 * voltage is known, of another number group). Its boards are all boards on which it was seen, so a board
 * seen with both leaves both possible. Build dates are proposed only where a change in time explains the
 * observations (posterior probability of a change at least 0.9) and one side holds next to none of the
 * other kind: exact binomial bound (Clopper & Pearson, Biometrika 26, 1934), so a few devices prove nothing.
 * The changeover is the shortest run of gaps that holds 95 % of the posterior. Outer ends stay open, for the
 * dates of packs that were replaced later reach beyond them.
 */
import type { Catalog, Part, Revision } from "../formats/catalog.ts";
import { CATALOG_FORMAT } from "../formats/catalog.ts";
import type { Reason, SentenceValue } from "../formats/verdict.ts";
import { isoWeekOf } from "../text/dates.ts";
import type { Words } from "../text/words.ts";
import { type ChangePosterior, changePosterior, type Draw } from "./change-point.ts";
import { cellsView, groupsView, type LearnedModel, type NumberGroup, type SeenDevice } from "./learn.ts";

/** A change counts from this posterior probability on. */
const SURE_CHANGE = 0.9;
/** How much of the posterior the changeover window holds. */
const WINDOW_SHARE = 0.95;
/** One side of a change is free of a kind when the 90 % upper bound of its share is at most this. */
const NEXT_TO_NONE = 0.25;
/** A device is an outlier on a board of at least this many others, … */
const OUTLIER_OTHERS = 8;
/** … of which at most this share is of its kind. */
const OUTLIER_SHARE = 0.06;

/** A kind of device inside one model, as observed. */
export interface LearnedRevision {
  readonly id: string;
  /** Cells in series of its battery, or `null` where only the number group tells. */
  readonly cells: number | null;
  readonly groups: readonly NumberGroup[];
  readonly boards: readonly { readonly number: string; readonly seen: number; readonly ofAll: number }[];
  readonly seen: number;
  /** First and last plausible day on which one was made, or `null`. */
  readonly first: number | null;
  readonly last: number | null;
  /** Proposed limits from a changeover, as days; `null` stays open. */
  readonly builtFrom: number | null;
  readonly builtTo: number | null;
}

/** A change in time from one kind to another. */
export interface Changeover {
  readonly earlier: string;
  readonly later: string;
  /** Days between which it lies with 95 % of the posterior. */
  readonly from: number;
  readonly to: number;
  readonly probability: number;
}

/** A device whose battery hardly belongs to its board. */
export interface Outlier {
  /** Place among the model's devices. */
  readonly device: number;
  readonly board: string;
  readonly found: string;
  readonly usual: string;
}

/** What the observations of one model amount to. */
export interface ModelSummary {
  readonly model: LearnedModel;
  readonly revisions: readonly LearnedRevision[];
  readonly changeover: Changeover | null;
  readonly outliers: readonly Outlier[];
}

/** A proposed catalog and what to check before accepting it. */
export interface CatalogDraft {
  readonly catalog: Catalog;
  readonly notes: readonly { readonly model: string; readonly revision: string | null; readonly says: Reason }[];
}

/** Revisions, changeover and outliers of one model. */
export function summarise(model: LearnedModel): ModelSummary {
  const kinds = kindsOf(model);
  const outliers = findOutliers(model, kinds);
  const swapped = new Set(outliers.map(({ device }) => device));
  const kept = kinds.of.map((kind, i) => (swapped.has(i) ? null : kind));
  const counts = kinds.ids.map((_, k) => kept.filter((kind) => kind === k).length);
  const real = kinds.ids.flatMap((id, k) => ((counts[k] ?? 0) >= 2 || kinds.ids.length === 1 ? [{ id, k }] : []));
  const draws = kept.flatMap((kind, i): Draw[] =>
    kind === null ? [] : [{ kind, day: model.devices[i]?.day ?? null }],
  );
  const change = findChange(draws, kinds.ids);
  const revisions = real.map(({ id, k }) => revisionOf(model, id, k, kept, kinds, change));
  return { model, revisions, changeover: change?.changeover ?? null, outliers };
}

/**
 * A catalog draft of all models of which something was learnt.
 *
 * @param words puts names and notes into the user's language
 */
export function draftCatalog(models: readonly LearnedModel[], words: Words): CatalogDraft {
  const families: Catalog["families"] = [];
  const parts: Part[] = [];
  const notes: CatalogDraft["notes"][number][] = [];
  const ids = new Set<string>();
  for (const model of models) {
    const summary = summarise(model);
    if (summary.revisions.length === 0) {
      notes.push({ model: model.model, revision: null, says: reasonOf("learn-nothing-seen", {}) });
      continue;
    }
    const id = freeId(slug(model.model), ids);
    const family = { id, name: model.model, modelNumbers: [model.model.slice(0, 80)], revisions: [] as Revision[] };
    for (const revision of summary.revisions) {
      const own = revision.groups.map((group, i) => partOf(group, `${id}-${revision.id}-${i + 1}`, words));
      parts.push(...own);
      family.revisions.push(draftRevision(revision, summary, own, words));
    }
    families.push(model.maker === null ? family : { ...family, maker: model.maker });
    notes.push(...notesOf(summary));
  }
  const catalog: Catalog = {
    format: CATALOG_FORMAT,
    title: words.say("learn_draft_title"),
    note: words.say("learn_draft_note"),
    families,
    parts,
    interchange: [],
    supersession: [],
  };
  return { catalog, notes };
}

// Kinds, outliers, change

interface Kinds {
  readonly ids: readonly string[];
  readonly cells: readonly (number | null)[];
  readonly groups: readonly (readonly NumberGroup[])[];
  /** Kind of each device, `null` where it tells none. */
  readonly of: readonly (number | null)[];
}

function kindsOf(model: LearnedModel): Kinds {
  const cells = cellsView(model).values;
  if (cells.length > 0) {
    const kindOfCells = (value: number | null): number | null => (value === null ? null : indexOrNull(cells, value));
    return {
      ids: cells.map((count) => `${count}s`),
      cells,
      groups: cells.map((count) => model.groups.filter((group) => group.cells === count)),
      of: model.devices.map((device) => kindOfCells(device.cells ?? groupCells(model, device))),
    };
  }
  const groups = groupsView(model).values;
  return {
    ids: groups.map((_, i) => `group-${i + 1}`),
    cells: groups.map(() => null),
    groups: groups.map((group) => [group]),
    of: model.devices.map((device) => device.group),
  };
}

function indexOrNull<T>(values: readonly T[], value: T): number | null {
  const at = values.indexOf(value);
  return at < 0 ? null : at;
}

function groupCells(model: LearnedModel, device: SeenDevice): number | null {
  return device.group === null ? null : (model.groups[device.group]?.cells ?? null);
}

/** Devices whose kind is next to unheard of on their own board: a swapped pack, or a misread board. */
function findOutliers(model: LearnedModel, kinds: Kinds): Outlier[] {
  const perBoard = new Map<string, number[]>();
  for (const [i, { board }] of model.devices.entries()) {
    const kind = kinds.of[i];
    if (board === null || kind === null || kind === undefined) continue;
    const counts = perBoard.get(board) ?? new Array<number>(kinds.ids.length).fill(0);
    counts[kind] = (counts[kind] ?? 0) + 1;
    perBoard.set(board, counts);
  }
  const outliers: Outlier[] = [];
  for (const [i, { board }] of model.devices.entries()) {
    const kind = kinds.of[i];
    const counts = board === null ? undefined : perBoard.get(board);
    if (board === null || kind === null || kind === undefined || counts === undefined) continue;
    const others = counts.reduce((sum, count) => sum + count, 0) - 1;
    const alike = (counts[kind] ?? 0) - 1;
    if (others < OUTLIER_OTHERS || alike > OUTLIER_SHARE * others) continue;
    const usual = counts.indexOf(Math.max(...counts));
    outliers.push({ device: i, board, found: kinds.ids[kind] ?? "", usual: kinds.ids[usual] ?? "" });
  }
  return outliers;
}

interface FoundChange {
  readonly changeover: Changeover;
  /** For each kind: seen before the window and after it. */
  readonly before: readonly number[];
  readonly after: readonly number[];
}

function findChange(draws: readonly Draw[], ids: readonly string[]): FoundChange | null {
  const classes = ids.length + 1;
  const shares = new Array<number>(classes).fill(1 / classes);
  const posterior = changePosterior(draws, { shares, weight: 1, changeProbability: 0.3 });
  const probability = 1 - posterior.steadyProbability;
  if (probability < SURE_CHANGE) return null;
  const window = changeWindow(posterior);
  const before = new Array<number>(ids.length).fill(0);
  const after = new Array<number>(ids.length).fill(0);
  for (const { kind, day } of draws) {
    if (day === null) continue;
    if (day <= window.from) before[kind] = (before[kind] ?? 0) + 1;
    else if (day >= window.to) after[kind] = (after[kind] ?? 0) + 1;
  }
  const earlier = before.indexOf(Math.max(...before));
  const later = after.indexOf(Math.max(...after));
  if (earlier === later) return null;
  const changeover = { earlier: ids[earlier] ?? "", later: ids[later] ?? "", ...window, probability };
  return { changeover, before, after };
}

/** The shortest run of gaps that holds {@link WINDOW_SHARE} of the probability of a change. */
export function changeWindow(posterior: ChangePosterior): { from: number; to: number } {
  const { changes } = posterior;
  const wanted = WINDOW_SHARE * (1 - posterior.steadyProbability);
  let best = { from: changes[0]?.after ?? 0, to: changes.at(-1)?.before ?? 0 };
  let held = 0;
  for (let first = 0, last = -1; first < changes.length; first++) {
    while (held < wanted && last + 1 < changes.length) held += changes[++last]?.probability ?? 0;
    if (held < wanted) break;
    const run = { from: changes[first]?.after ?? 0, to: changes[last]?.before ?? 0 };
    if (run.to - run.from < best.to - best.from) best = run;
    held -= changes[first]?.probability ?? 0;
  }
  return best;
}

/** Upper end of the exact one-sided 90 % interval of a share, `found` of `all` seen (Clopper & Pearson 1934). */
export function upperBound(found: number, all: number): number {
  if (found >= all) return 1;
  let [low, high] = [found / Math.max(all, 1), 1];
  for (let i = 0; i < 60; i++) {
    const middle = (low + high) / 2;
    if (binomialAtMost(found, all, middle) > 0.1) low = middle;
    else high = middle;
  }
  return high;
}

/** Probability of at most `found` of `all` at a share. */
function binomialAtMost(found: number, all: number, share: number): number {
  let term = all * Math.log1p(-share);
  let sum = Math.exp(term);
  for (let k = 1; k <= found; k++) {
    term += Math.log((all - k + 1) / k) + Math.log(share) - Math.log1p(-share);
    sum += Math.exp(term);
  }
  return sum;
}

// Revisions and their words

function revisionOf(
  model: LearnedModel,
  id: string,
  kind: number,
  kept: readonly (number | null)[],
  kinds: Kinds,
  change: FoundChange | null,
): LearnedRevision {
  const own = model.devices.filter((_, i) => kept[i] === kind);
  const days = own.flatMap(({ day }) => (day === null ? [] : [day])).sort((a, b) => a - b);
  const boards = model.boards.flatMap(({ number, key, seen }) => {
    const here = own.filter(({ board }) => board === key).length;
    return here === 0 ? [] : [{ number, seen: here, ofAll: seen }];
  });
  const ends = change !== null && isNextToNone(kind, change.after);
  const begins = change !== null && isNextToNone(kind, change.before);
  return {
    id,
    cells: kinds.cells[kind] ?? null,
    groups: kinds.groups[kind] ?? [],
    boards,
    seen: own.length,
    first: days[0] ?? null,
    last: days.at(-1) ?? null,
    builtFrom: begins && !ends ? (change?.changeover.from ?? null) : null,
    builtTo: ends && !begins ? (change?.changeover.to ?? null) : null,
  };
}

function isNextToNone(kind: number, counts: readonly number[]): boolean {
  const all = counts.reduce((sum, count) => sum + count, 0);
  return all > 0 && upperBound(counts[kind] ?? 0, all) <= NEXT_TO_NONE;
}

function draftRevision(revision: LearnedRevision, summary: ModelSummary, own: readonly Part[], words: Words): Revision {
  const { cells, boards, seen, builtFrom, builtTo } = revision;
  const named = cells === null ? {} : { name: words.say("learn_revision_name", { count: cells }) };
  const built = {
    ...(builtFrom === null ? {} : { from: weekText(builtFrom) }),
    ...(builtTo === null ? {} : { to: weekText(builtTo) }),
  };
  const tell = tellBy(revision, summary, words);
  return {
    id: revision.id,
    ...named,
    boardNumbers: boards.slice(0, 500).map(({ number }) => number.slice(0, 80)),
    ...(builtFrom === null && builtTo === null ? {} : { built }),
    ...(tell === null ? {} : { tellBy: tell }),
    parts: own.map(({ id }) => id),
    note: words.say("learn_revision_seen", { count: seen }),
  };
}

/** How to tell this revision from the others: by a board that only it has, else by the battery itself. */
function tellBy(revision: LearnedRevision, { revisions }: ModelSummary, words: Words): string | null {
  if (revisions.length < 2) return null;
  const others = new Set(
    revisions.filter((each) => each !== revision).flatMap(({ boards }) => boards.map(({ number }) => number)),
  );
  const shared = revision.boards.filter(({ number }) => others.has(number)).map(({ number }) => number);
  if (shared.length === 0) return words.say("learn_tell_by_board");
  if (shared.length === revision.boards.length) return words.say("learn_tell_by_battery");
  return words.say("learn_tell_by_both", { boards: shared.slice(0, 12) });
}

function partOf(group: NumberGroup, id: string, words: Words): Part {
  const { numbers, cells, volts, energy_Wh, seen } = group;
  return {
    id,
    type: "battery",
    numbers: numbers.slice(0, 2_000).map((number) => number.slice(0, 80)),
    quantities: {
      ...(volts === null ? {} : { nominalVoltage_V: volts }),
      ...(energy_Wh === null ? {} : { energy_Wh }),
      ...(cells === null ? {} : { seriesCells: cells }),
    },
    note: words.say("learn_part_seen", { count: seen }),
  };
}

function notesOf({ model, revisions, changeover, outliers }: ModelSummary): CatalogDraft["notes"][number][] {
  const note = (revision: string | null, says: Reason): CatalogDraft["notes"][number] => ({
    model: model.model,
    revision,
    says,
  });
  const notes = revisions
    .filter(({ seen }) => seen < 5)
    .map(({ id, seen }) => note(id, reasonOf("learn-few-seen", { revision: id, count: seen })));
  if (changeover !== null) {
    const { earlier, later, from, to } = changeover;
    const values = { earlier, later, from: weekText(from), to: weekText(to) };
    notes.push(note(null, reasonOf("learn-changeover", values)));
  } else if (revisions.length > 1) {
    notes.push(note(null, reasonOf("learn-side-by-side", { revisions: revisions.map(({ id }) => id) })));
  }
  for (const { board, found, usual } of outliers.slice(0, 20)) {
    notes.push(note(found, reasonOf("learn-outlier", { board, found, usual })));
  }
  if (revisions.some(({ groups }) => groups.length > 1)) notes.push(note(null, reasonOf("learn-check-groups", {})));
  return notes;
}

/** An ISO week as text, such as `2021-W14`. */
function weekText(day: number): string {
  const { year, week } = isoWeekOf(day);
  return `${String(year).padStart(4, "0")}-W${String(week).padStart(2, "0")}`;
}

function slug(text: string): string {
  const clean = text
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, "-")
    .slice(0, 100);
  return clean === "" || clean === "-" ? "model" : clean;
}

function freeId(wanted: string, taken: Set<string>): string {
  let id = wanted;
  for (let n = 2; taken.has(id); n++) id = `${wanted}-${n}`;
  taken.add(id);
  return id;
}

function reasonOf(code: string, values: Readonly<Record<string, SentenceValue>>): Reason {
  return { code, values, spans: [] };
}
