/** A saved device made ready for judging many listings: what can be asked for a listing at once is worked out once. */
import type { CatalogIndex, KnownFamily, KnownPart, KnownRevision } from "../catalog/index.ts";
import { type NumberTable, namesAsModels } from "../catalog/number-table.ts";
import { buildInterval, builtIntervals, type ResolvedRevisions, resolveRevisions } from "../catalog/resolve.ts";
import type { RevisionWord } from "../claims/claims.ts";
import { makeField } from "../claims/fields.ts";
import { readGrammar } from "../claims/grammar.ts";
import { type KnownNumbers, type Named, prepareReading, type ReadingRules } from "../claims/index.ts";
import { readItems } from "../claims/items.ts";
import { compileLexicon, type PhraseEntry } from "../claims/lexicon.ts";
import { everydayWords, MAKER_KIND, TYPE_KIND } from "../claims/vocabulary.ts";
import type { Device } from "../formats/bench.ts";
import type { PartTypeRule } from "../formats/part-type-rule.ts";
import type { RawRules } from "../formats/rules.ts";
import { Beginnings } from "../text/beginnings.ts";
import type { DateInterval } from "../text/dates.ts";
import { type Measures, prepareMeasures } from "../text/measures.ts";
import { canonicalNumber, lookalikeKey } from "../text/part-number.ts";
import { type MeasuredValue, measuredOf, type Sisters } from "./measured.ts";
import { Neighbours } from "./neighbours.ts";
import { type Needles, Sieve } from "./sieve.ts";
import type { Standing } from "./standing.ts";
import { valueWordsOf } from "./value-words.ts";

/** A device, the catalogs and the rules, ready for {@link judge}. */
export interface PreparedDevice {
  readonly device: Device;
  readonly index: CatalogIndex;
  readonly reading: ReadingRules;
  readonly partTypes: ReadonlyMap<string, PartTypeRule>;
  /** Rule files that this program does not understand: with any, nothing is ever said to fit. */
  readonly faults: readonly string[];
  readonly resolved: ResolvedRevisions;
  readonly family: KnownFamily | null;
  /** R, by id. */
  readonly possible: ReadonlySet<string>;
  readonly revisions: readonly PreparedRevision[];
  readonly built: DateInterval | null;
  readonly known: KnownNumbers;
  /** The device's own model numbers, canonical. */
  readonly models: ReadonlySet<string>;
  /** Model numbers and name of the whole family, canonical. */
  readonly familyModels: ReadonlySet<string>;
  /** The family's name, which stands for every model of it, canonical. */
  readonly familyNames: ReadonlySet<string>;
  readonly accepted: ReadonlySet<string>;
  readonly refused: ReadonlySet<string>;
  /** Numbers on fitted parts, canonical, with the type of the part. */
  readonly fitted: ReadonlyMap<string, string>;
  /** Part types that the family or the device has. */
  readonly types: ReadonlySet<string>;
  /** Which quantities its parts of each type state. */
  readonly stated: ReadonlyMap<string, ReadonlySet<string>>;
  /** What its parts of each type measure. */
  readonly sisters: Sisters;
  readonly measures: Measures;
  /** What a listing must name to concern the device. */
  readonly needles: Needles;
  readonly sieve: Sieve;
  /** The same for devices in whose eyes every listing says the same. */
  readonly reads: string;
  /** The same for devices of which, besides, the same is known, but for the date when they were built. */
  readonly settled: string;
  /** Remembered answers about numbers, by canonical number. */
  readonly standings: Map<string, Standing>;
}

/** A revision of the family with what texts may say of it. */
export interface PreparedRevision {
  readonly revision: KnownRevision;
  readonly built: readonly DateInterval[];
  readonly parts: readonly KnownPart[];
  /** Parts that one catalog gives to it and another one does not. */
  readonly disputed: readonly KnownPart[];
  /** How its name tells it apart: early, second, letter B. */
  readonly words: readonly RevisionWord[];
}

interface CompiledRules {
  readonly reading: ReadingRules;
  readonly partTypes: ReadonlyMap<string, PartTypeRule>;
  readonly measures: Measures;
}

const compiledRules = new WeakMap<RawRules, CompiledRules>();

/**
 * @param device a saved device
 * @param index the catalogs
 * @param rules every rule file; compiled once and remembered for the same object
 */
export function prepareDevice(device: Device, index: CatalogIndex, rules: RawRules): PreparedDevice {
  const { reading, partTypes, measures } = compiled(rules);
  const table = index.table();
  const resolved = resolveRevisions(device, index);
  const { family } = resolved;
  const own = ownNumbers(device);
  const revisions = (family?.revisions ?? []).map((revision) => prepareRevision(revision, index, reading));
  const familyNumbers = numbersServing(revisions, index);
  const types = new Set([
    ...revisions.flatMap(({ parts, disputed }) => [...parts, ...disputed].map(({ type }) => type)),
    ...device.fitted.map(({ type }) => type),
  ]);
  const familyNames = new Set(family === null ? [] : namesAsModels(family));
  const familyModels = canonicalSet([...device.modelNumbers, ...(family?.modelNumbers ?? []), ...familyNames]);
  const boards = canonicalSet([
    ...(device.boardNumber === undefined ? [] : [device.boardNumber]),
    ...revisions.flatMap(({ revision }) => revision.boardNumbers),
  ]);
  const needles = {
    near: new Set([...familyNumbers, ...own.parts]),
    exact: new Set([...familyModels, ...boards]),
    maker: family?.maker ?? "",
  };
  return {
    device,
    index,
    reading,
    partTypes,
    faults: reading.wording.faults,
    resolved,
    family,
    possible: new Set(resolved.revisions.map(({ id }) => id)),
    revisions,
    built: buildInterval(device.buildDate),
    known: {
      ...knownNumbers(table, own, [...familyNumbers, ...own.parts], phrasesOf(family, revisions, types, partTypes)),
      valueWords: valueWordsOf(partsOf(revisions), rules),
    },
    models: canonicalSet(device.modelNumbers),
    familyModels,
    familyNames,
    accepted: own.accepted,
    refused: own.refused,
    fitted: own.fitted,
    types,
    stated: statedQuantities(revisions, types),
    sisters: measuredByType(revisions, measures),
    measures,
    needles,
    sieve: new Sieve(needles),
    reads: readsOf(family, own, types, table),
    settled: settledOf(device, resolved),
    standings: new Map(),
  };
}

/**
 * What it rests on what a listing says and whether it concerns the device: the family, and what the device's own numbers add
 * to what the catalogs know of it.
 */
function readsOf(family: KnownFamily | null, own: OwnNumbers, types: ReadonlySet<string>, table: NumberTable): string {
  const models = canonicalSet(family?.modelNumbers ?? []);
  const boards = canonicalSet(family?.revisions.flatMap(({ boardNumbers }) => boardNumbers) ?? []);
  const isOf = (number: string, kind: "model" | "board"): boolean => {
    const key = lookalikeKey(number);
    const exact = table.look(number, number);
    return exact?.number === number && exact[kind] && table.look(key, key)?.number === number;
  };
  const added = [
    [...own.parts],
    [...own.models].filter((number) => !models.has(number) || !isOf(number, "model")),
    [...own.boards].filter((number) => !boards.has(number) || !isOf(number, "board")),
  ];
  return JSON.stringify([family?.id ?? null, [...types].sort(), ...added.map((numbers) => numbers.sort())]);
}

/** Everything else that a verdict rests on, but the date when the device was built. */
function settledOf({ fitted, accept, refuse, modelNumbers }: Device, resolved: ResolvedRevisions): string {
  const possible = resolved.revisions.map(({ id }) => id);
  return JSON.stringify([
    possible,
    resolved.contradictions,
    [...canonicalSet(modelNumbers)].sort(),
    fitted,
    accept,
    refuse,
  ]);
}

function compiled(rules: RawRules): CompiledRules {
  return remembered(compiledRules, rules, () => ({
    reading: prepareReading(rules),
    partTypes: new Map(rules.partTypes.map((rule) => [rule.id, rule])),
    measures: prepareMeasures(rules.numberFormats),
  }));
}

function remembered<K extends object, V>(memory: WeakMap<K, V>, key: K, make: () => V): V {
  const known = memory.get(key);
  if (known !== undefined) return known;
  const made = make();
  memory.set(key, made);
  return made;
}

function canonicalSet(printed: readonly string[]): Set<string> {
  return new Set(printed.map(canonicalNumber).filter((number) => number !== ""));
}

interface OwnNumbers {
  readonly accepted: ReadonlySet<string>;
  readonly refused: ReadonlySet<string>;
  readonly fitted: ReadonlyMap<string, string>;
  /** All three together. */
  readonly parts: ReadonlySet<string>;
  readonly models: ReadonlySet<string>;
  readonly boards: ReadonlySet<string>;
  /** Parts, models and boards together. */
  readonly all: ReadonlySet<string>;
}

function ownNumbers(device: Device): OwnNumbers {
  const accepted = canonicalSet(device.accept.map(({ number }) => number));
  const refused = canonicalSet(device.refuse.map(({ number }) => number));
  const fitted = new Map(
    device.fitted.flatMap(({ type, numbers }) => [...canonicalSet(numbers)].map((number) => [number, type] as const)),
  );
  const parts = new Set([...accepted, ...refused, ...fitted.keys()]);
  const models = canonicalSet(device.modelNumbers);
  const boards = canonicalSet(device.boardNumber === undefined ? [] : [device.boardNumber]);
  return { accepted, refused, fitted, parts, models, boards, all: new Set([...parts, ...models, ...boards]) };
}

function prepareRevision(revision: KnownRevision, index: CatalogIndex, reading: ReadingRules): PreparedRevision {
  return {
    revision,
    built: builtIntervals(revision),
    parts: revision.parts.flatMap((id) => index.part(id) ?? []),
    disputed: revision.disputed.flatMap((id) => index.part(id) ?? []),
    words: revisionWords(revision.name ?? "", reading),
  };
}

const NOTHING_KNOWN: KnownNumbers = {
  look: () => null,
  mayBegin: () => false,
  longest: () => 0,
  near: () => [],
  hasLetters: () => false,
  odd: false,
  resembles: () => false,
  revisionNames: compileLexicon([]),
};

/** What a revision's name says in the words of listings: "early board" is early, "board B" the letter B. */
function revisionWords(name: string, reading: ReadingRules): RevisionWord[] {
  const field = makeField("name", "title", "", name);
  const items = readItems(field, { wording: reading.wording, known: NOTHING_KNOWN, quantities: [], dates: [] });
  return readGrammar(field, items).claims.flatMap((claim) => (claim.kind === "revision" ? [claim.revision] : []));
}

function statedQuantities(
  revisions: readonly PreparedRevision[],
  types: ReadonlySet<string>,
): Map<string, Set<string>> {
  const stated = new Map([...types].map((type) => [type, new Set<string>()]));
  for (const { parts, disputed } of revisions) {
    for (const { type, readings } of [...parts, ...disputed]) {
      for (const { part } of readings) {
        for (const name of Object.keys(part.quantities ?? {})) stated.get(type)?.add(name);
      }
    }
  }
  if (stated.has("battery")) for (const name of BATTERY_QUANTITIES) stated.get("battery")?.add(name);
  return stated;
}

function partsOf(revisions: readonly PreparedRevision[]): Set<KnownPart> {
  return new Set(revisions.flatMap(({ parts, disputed }) => [...parts, ...disputed]));
}

function measuredByType(revisions: readonly PreparedRevision[], measures: Measures): Map<string, MeasuredValue[]> {
  const byType = new Map<string, MeasuredValue[]>();
  for (const { type, readings } of partsOf(revisions)) {
    const values = readings.flatMap(({ part }) => measuredOf(part, measures));
    byType.set(type, [...(byType.get(type) ?? []), ...values]);
  }
  return byType;
}

/** What every battery has, stated by the catalog or not. */
const BATTERY_QUANTITIES = ["seriesCells", "energy_Wh", "capacity_Ah"];

/** Every number that serves in the place of a part of the family, and the numbers that such numbers took over from. */
function numbersServing(revisions: readonly PreparedRevision[], index: CatalogIndex): Set<string> {
  const numbers = new Set<string>();
  for (const { parts, disputed } of revisions) {
    for (const part of [...parts, ...disputed]) {
      for (const number of part.numbers) for (const each of index.related(number)) numbers.add(each);
    }
  }
  return numbers;
}

/** Names of revisions, and part types by the names that the catalogs give them. */
function phrasesOf(
  family: KnownFamily | null,
  revisions: readonly PreparedRevision[],
  types: ReadonlySet<string>,
  partTypes: ReadonlyMap<string, PartTypeRule>,
): PhraseEntry[] {
  const entries: PhraseEntry[] = [];
  for (const { revision, words } of revisions) {
    const name = revision.name?.trim() ?? "";
    if (words.length === 0 && name.includes(" ") && name.length <= 60) {
      entries.push({ phrase: plainPhrase(name), kind: `revision:${revision.id}`, language: "" });
    }
  }
  for (const rule of partTypes.values()) if (isHad(rule, types, partTypes)) entries.push(...everydayWords(rule));
  if (family === null) return entries;
  const maker = plainPhrase(family.maker ?? "");
  if (maker.length >= 4 && maker.length <= 40) entries.push({ phrase: maker, kind: MAKER_KIND, language: "" });
  const device = plainPhrase(deviceWords(family.name ?? ""));
  if (device.length >= 4 && device.length <= 60) entries.push({ phrase: device, kind: "device", language: "" });
  for (const type of types) {
    for (const phrase of phrasesOfType(type)) entries.push({ phrase, kind: `${TYPE_KIND}${type}`, language: "" });
  }
  for (const part of new Set(revisions.flatMap(({ parts, disputed }) => [...parts, ...disputed]))) {
    const name = plainPhrase((part.name ?? "").replace(/[(,].*/, ""));
    if (name === "" || name.length > 40 || /\d/.test(name)) continue;
    for (const phrase of [name, pluralOf(name)])
      entries.push({ phrase, kind: `${TYPE_KIND}${part.type}`, language: "" });
  }
  return entries;
}

/** The device has a part of the type, or of one that catalogs may list it as. */
function isHad(
  { id, near = [] }: PartTypeRule,
  types: ReadonlySet<string>,
  partTypes: ReadonlyMap<string, PartTypeRule>,
): boolean {
  return (
    [id, ...near].some((each) => types.has(each)) ||
    [...types].some((type) => isKindOf(type, id) || partTypes.get(type)?.near?.includes(id))
  );
}

/** A type whose id ends with another one's is a kind of that: "crumb-tray", "oven-door-seal". */
export function isKindOf(type: string, other: string): boolean {
  return type.endsWith(`-${other}`);
}

/** What a type's id says in words, one thing or several, and of two words in either order: "door-seal". */
function phrasesOfType(type: string): string[] {
  const words = type.split("-");
  const phrase = words.join(" ");
  const turned = words.length === 2 ? [words.toReversed().join(" ")] : [];
  return [phrase, pluralOf(phrase), ...turned];
}

function pluralOf(phrase: string): string {
  if (/(?:s|x|ch|sh)$/.test(phrase)) return `${phrase}es`;
  return /[^aeiou]y$/.test(phrase) ? `${phrase.slice(0, -1)}ies` : `${phrase}s`;
}

/** What a family's name says it is: "stick vacuum" of "Marlow 300 stick vacuum", the words in small letters at its end. */
function deviceWords(name: string): string {
  const words = name.split(" ");
  const isSmall = (word: string): boolean => /^[\p{Ll}/-]+$/u.test(word);
  const last = words.findLastIndex((word) => !isSmall(word));
  return last < 0 ? "" : words.slice(last + 1).join(" ");
}

/** A name as a phrase: signs of the phrase notation taken out. */
function plainPhrase(name: string): string {
  return name.replace(/[^\p{L}\p{N}]+/gu, " ").trim();
}

function knownNumbers(
  table: NumberTable,
  own: OwnNumbers,
  interesting: readonly string[],
  phrases: readonly PhraseEntry[],
): KnownNumbers {
  const beginnings = new Set(interesting.flatMap((number) => /^[A-Z]{2,}/.exec(number)?.[0] ?? []));
  const digitLengths = new Set(interesting.filter((number) => /^\d{5,}$/.test(number)).map((number) => number.length));
  const neighbours = new Neighbours(interesting);
  const ownBeginnings = new Beginnings();
  for (const number of own.all)
    ownBeginnings.add(number.length, number.charCodeAt(0), number.charCodeAt(1), number.charCodeAt(2));
  const ownKeys = new Map([...own.all].map((number) => [lookalikeKey(number), number]));
  const named = (number: string): Named | null =>
    own.all.has(number)
      ? { number, part: own.parts.has(number), model: own.models.has(number), board: own.boards.has(number) }
      : null;
  const join = (a: Named, b: Named | null): Named =>
    b === null ? a : { number: a.number, part: a.part || b.part, model: a.model || b.model, board: a.board || b.board };
  return {
    look(canonical, written) {
      const mineExactly = named(canonical);
      const listed = table.look(canonical, written);
      if (mineExactly !== null) return join(mineExactly, listed?.number === canonical ? listed : null);
      if (listed !== null) return join(listed, named(listed.number));
      const alike = ownKeys.size === 0 ? undefined : ownKeys.get(lookalikeKey(written));
      return alike === undefined ? null : named(alike);
    },
    longest: () => Math.max(table.longest(), ownBeginnings.longest),
    mayBegin: (text, at) => table.mayBegin(text, at) || ownBeginnings.mayBegin(text, at),
    odd: table.odd || [...own.all].some((number) => /[^\x20-\x7e]/.test(number)),
    hasLetters: (canonical) => own.all.has(canonical) || table.hasLetters(canonical),
    near: (written) => neighbours.of(written),
    resembles(canonical) {
      if (/^\d+$/.test(canonical)) return digitLengths.has(canonical.length);
      const beginning = /^[A-Z]{2,}/.exec(canonical)?.[0];
      return beginning !== undefined && beginnings.has(beginning);
    },
    revisionNames: compileLexicon(phrases),
  };
}
