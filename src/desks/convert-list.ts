/**
 * A catalog made of a vendor's cross-reference list: one row says that a number fits a model, a revision or board,
 * what it may be exchanged for and what replaces it. The result is a draft: what the list does not say stays unsaid.
 */
import { CATALOG_FORMAT, type Catalog, type Part, type Revision } from "../formats/catalog.ts";
import type { ColumnWord } from "../formats/column-names.ts";
import type { RawRules } from "../formats/rules.ts";
import { intervalOfDateText } from "../text/dates.ts";
import { canonicalNumber } from "../text/part-number.ts";
import type { TableShape } from "./columns.ts";

/** Something in a row that could not be used. */
export interface ConvertFault {
  readonly row: number;
  readonly kind: "no-number" | "no-model" | "no-part-type" | "bad-date" | "bad-year" | "number-too-long";
  readonly text: string;
}

/** What the list itself does not say. */
export interface ConvertSetup {
  readonly shape: TableShape;
  readonly rules: RawRules;
  /** Part type of rows that name none. */
  readonly partType?: string;
  /** Model of rows that name none. */
  readonly model?: string;
  readonly title?: string;
}

/** Gathers rows into a catalog. */
export interface ListConverter {
  take(cells: readonly string[], row: number): ConvertFault[];
  catalog(): Catalog;
}

const MAX_NUMBER_CHARS = 80;
const PART_TYPE = /^[a-z0-9]+(?:-[a-z0-9]+)*$/;

interface FamilyDraft {
  readonly id: string;
  readonly models: Map<string, string>;
  maker: string | undefined;
  readonly revisions: Map<string, RevisionDraft>;
}
interface RevisionDraft {
  readonly id: string;
  name: string | undefined;
  readonly boards: Map<string, string>;
  readonly years: Set<number>;
  from: string | undefined;
  to: string | undefined;
  readonly parts: Set<string>;
}

/** Makes a converter. */
export function listConverter({ shape, rules, partType, model, title }: ConvertSetup): ListConverter {
  const families = new Map<string, FamilyDraft>();
  const parts = new Map<string, Part>();
  const interchange: Catalog["interchange"] = [];
  const supersession: Catalog["supersession"] = [];
  const ids = new Set<string>();
  const basis = title ?? "list";

  const take = (cells: readonly string[], row: number): ConvertFault[] => {
    const cell = (word: ColumnWord): string => (cells[shape.columns[word] ?? -1] ?? "").trim();
    if (cells.every((each) => each.trim() === "")) return [];
    const number = cell("number");
    if (canonicalNumber(number) === "") return [{ row, kind: "no-number", text: number }];
    if (number.length > MAX_NUMBER_CHARS) return [{ row, kind: "number-too-long", text: number.slice(0, 40) }];
    const type = partTypeOf(cell("partType"), cell("title"), rules) ?? partType;
    if (type === undefined) return [{ row, kind: "no-part-type", text: cell("partType") }];
    const part = partFor(number, type, cell("title"));
    const others = splitNumbers(cell("interchange"));
    if (others.length > 0) interchange.push({ numbers: [number, ...others], basis });
    for (const later of splitNumbers(cell("supersededBy"))) supersession.push({ old: number, new: later, basis });
    const models = splitNumbers(cell("model") || cell("fits") || model || "");
    if (models.length === 0) return [{ row, kind: "no-model", text: "" }];
    const revision = revisionFor(familyFor(models, cell("maker")), cell("revision"), splitNumbers(cell("board")));
    revision.parts.add(part.id);
    return dateFaults(revision, { from: cell("builtFrom"), to: cell("builtTo"), years: cell("year") }, row);
  };

  const partFor = (number: string, type: string, name: string): Part => {
    const key = `${type} ${canonicalNumber(number)}`;
    const known = parts.get(key);
    if (known) return known;
    const part: Part = {
      id: freeId(slug(number), ids),
      type,
      ...(name === "" ? {} : { name: name.slice(0, 2_000) }),
      numbers: [number],
    };
    parts.set(key, part);
    return part;
  };

  const familyFor = (models: readonly string[], maker: string): FamilyDraft => {
    const keys = models.map(canonicalNumber);
    const known = keys.map((key) => families.get(key)).find((each) => each !== undefined);
    const family = known ?? {
      id: freeId(slug(models[0] ?? ""), ids),
      models: new Map(),
      maker: undefined,
      revisions: new Map(),
    };
    for (const [i, key] of keys.entries()) {
      if (!family.models.has(key)) family.models.set(key, models[i] ?? key);
      if (!families.has(key)) families.set(key, family);
    }
    if (maker !== "") family.maker ??= maker;
    return family;
  };

  return {
    take,
    catalog: () => ({
      format: CATALOG_FORMAT,
      ...(title === undefined ? {} : { title }),
      families: [...new Set(families.values())].map((family) => ({
        id: family.id,
        ...(family.maker === undefined ? {} : { maker: family.maker }),
        modelNumbers: [...family.models.values()],
        revisions: [...family.revisions.values()].map(finishedRevision),
      })),
      parts: [...parts.values()],
      interchange,
      supersession,
    }),
  };
}

/** A row without revision and board speaks of the whole model. */
function revisionFor(family: FamilyDraft, name: string, boards: readonly string[]): RevisionDraft {
  const byBoard = [...family.revisions.values()].find((each) =>
    boards.some((b) => each.boards.has(canonicalNumber(b))),
  );
  const key = canonicalNumber(name) || boards.map(canonicalNumber).join(" ");
  const known = (name === "" ? byBoard : undefined) ?? family.revisions.get(key);
  const label = name || boards[0] || "all";
  const taken = new Set([...family.revisions.values()].map(({ id }) => id));
  const revision: RevisionDraft = known ?? {
    id: freeId(slug(label), taken),
    name: name === "" ? undefined : name,
    boards: new Map(),
    years: new Set(),
    from: undefined,
    to: undefined,
    parts: new Set(),
  };
  if (!known) family.revisions.set(key, revision);
  for (const board of boards) revision.boards.set(canonicalNumber(board), board);
  return revision;
}

function dateFaults(
  revision: RevisionDraft,
  { from, to, years }: { from: string; to: string; years: string },
  row: number,
): ConvertFault[] {
  const faults: ConvertFault[] = [];
  for (const [end, text] of [
    ["from", from],
    ["to", to],
  ] as const) {
    if (text === "") continue;
    if (intervalOfDateText(text) === null) faults.push({ row, kind: "bad-date", text: text.slice(0, 40) });
    else revision[end] ??= text;
  }
  for (const text of years
    .split(/[\s,;/]+/)
    .filter((each) => each !== "")
    .slice(0, 40)) {
    const range = /^((?:19|20)\d{2})(?:[-–]((?:19|20)\d{2}))?$/.exec(text);
    const first = Number(range?.[1]);
    const last = Number(range?.[2] ?? range?.[1]);
    if (range === null || last < first) faults.push({ row, kind: "bad-year", text: text.slice(0, 40) });
    else for (let year = first; year <= last; year++) revision.years.add(year);
  }
  return faults;
}

function finishedRevision({ id, name, boards, years, from, to, parts }: RevisionDraft): Revision {
  return {
    id,
    ...(name === undefined ? {} : { name }),
    boardNumbers: [...boards.values()],
    ...(from === undefined && to === undefined
      ? {}
      : { built: { ...(from === undefined ? {} : { from }), ...(to === undefined ? {} : { to }) } }),
    ...(years.size === 0 ? {} : { years: [...years].sort((a, b) => a - b) }),
    parts: [...parts],
  };
}

/** The part type that a cell names: its id, or a word by which listings call it in any language. */
function partTypeOf(cell: string, title: string, rules: RawRules): string | undefined {
  const text = cell.toLowerCase().trim();
  if (PART_TYPE.test(text) && (rules.partTypes.some(({ id }) => id === text) || text.includes("-"))) return text;
  const words = `${cell} ${title}`
    .toLowerCase()
    .slice(0, 400)
    .split(/[^\p{L}\p{N}]+/u);
  return rules.partTypes.find((rule) => cuesOf(rule).some((cue) => hasCue(words, cue)))?.id;
}

function cuesOf(rule: RawRules["partTypes"][number]): readonly string[] {
  return Object.values(rule.words).flat();
}

/** A cue of one or several words; `*` at its start or end stands for any letters. */
function hasCue(words: readonly string[], cue: string): boolean {
  const pieces = cue.split(" ");
  return words.some((_, at) => pieces.every((piece, i) => matchesPiece(words[at + i] ?? "", piece)));
}

function matchesPiece(word: string, piece: string): boolean {
  const bare = piece.replaceAll("*", "");
  if (bare === "" || word === "") return false;
  if (piece.startsWith("*")) return piece.endsWith("*") ? word.includes(bare) : word.endsWith(bare);
  return piece.endsWith("*") ? word.startsWith(bare) : word === bare;
}

/** Numbers of one cell; separated by commas, semicolons, slashes or line breaks. */
function splitNumbers(cell: string): string[] {
  return cell
    .split(/[,;/|\n]+/)
    .map((each) => each.trim())
    .filter((each) => canonicalNumber(each) !== "" && each.length <= MAX_NUMBER_CHARS)
    .slice(0, 500);
}

function slug(text: string): string {
  const plain = text
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, "-")
    .replace(/^-|-$/g, "");
  return plain.slice(0, 100) || "unnamed";
}

function freeId(wanted: string, taken: Set<string>): string {
  let id = wanted;
  for (let n = 2; taken.has(id); n++) id = `${wanted}-${n}`;
  taken.add(id);
  return id;
}
