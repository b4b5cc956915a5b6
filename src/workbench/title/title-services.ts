/** The worker's side of the title desk. */
import type { CatalogIndex, KnownPart } from "../../catalog/index.ts";
import { revisionName } from "../../catalog/resolve.ts";
import { entryListing, readEntry } from "../../desks/entries.ts";
import { type BuyerReading, openTitleDesk, type TitleDesk, type TitleReading } from "../../desks/title-check.ts";
import type { TitleFault } from "../../desks/title-faults.ts";
import type { Listing } from "../../formats/listing.ts";
import type { RawRules } from "../../formats/rules.ts";
import { type Effect, effectWords } from "../../formats/verdict.ts";
import { canonicalNumber } from "../../text/part-number.ts";
import type { Words } from "../../text/words.ts";
import { saidHazards } from "../../ui/explanation.ts";
import { markedPieces } from "../../ui/highlight.ts";
import { markWord } from "../../ui/naming.ts";
import { reasonText } from "../../verdict/line.ts";
import { listRows } from "../order/list-rows.ts";
import { placeName } from "../place-name.ts";
import { breather } from "../work/job.ts";
import type { CatalogsNow } from "../work/shelf.ts";
import type { ListedTitle, PartChoice, SaidFault, SaidReading, SaidTitle, TitleServices } from "./title-calls.ts";

/** What the services work with. */
export interface TitlePlatform {
  readonly rules: RawRules;
  readonly catalogs: () => Promise<CatalogsNow>;
  readonly words: (language: string) => Promise<Words>;
}

/** Parts that are offered for one search. */
const MOST_PARTS = 12;
const MOST_NUMBERS = 3;
const MOST_PLACES = 4;
const MOST_REASONS = 3;
/** Listings that are read of one list. */
const MOST_LISTED = 20_000;

/** A desk that is open, and what it was opened with. */
interface OpenDesk {
  readonly index: CatalogIndex;
  readonly words: Words;
  readonly desk: TitleDesk;
  readonly unreadable: readonly string[];
}

/** Makes the services. */
export function titleServices({ rules, catalogs, words: wordsOf }: TitlePlatform): TitleServices {
  const open = new Map<string, OpenDesk>();
  const deskFor = async (language: string): Promise<OpenDesk> => {
    const { index, unreadable } = await catalogs();
    const known = open.get(language);
    if (known?.index === index) return known;
    const words = await wordsOf(language);
    const opened = { index, words, desk: openTitleDesk(index, rules, words), unreadable };
    open.set(language, opened);
    return opened;
  };
  return {
    titleCheck: async ({ listing, part, language }) => {
      const opened = await deskFor(language);
      const known = part !== null && opened.index.part(part) !== undefined ? part : undefined;
      return saidTitle(listing, opened.desk.check(listing, known), opened);
    },
    titleCompose: async ({ part, limit, language }) => (await deskFor(language)).desk.compose(part, limit),
    titleParts: async ({ query }) => {
      const { index } = await catalogs();
      return findParts(query, index).map((found) => partChoice(found, index));
    },
    titleList: async ({ content, reading, shape, language }, job) => {
      const { desk, words } = await deskFor(language);
      const breathe = breather(job);
      const titles: ListedTitle[] = [];
      let beyond = 0;
      for await (const { rows, bytesDone } of listRows(content, reading)) {
        for (const { row, cells } of rows) {
          const entry = row <= shape.skip ? null : readEntry(cells, row, shape);
          if (entry === null) continue;
          if (titles.length >= MOST_LISTED) {
            beyond++;
            continue;
          }
          await breathe();
          titles.push(listedTitle(row, entryListing(entry), desk, words));
        }
        job.progress(bytesDone / content.size);
      }
      return { titles, beyond };
    },
  };
}

function listedTitle(row: number, listing: Listing, desk: TitleDesk, words: Words): ListedTitle {
  const { part, summary, faults } = desk.check(listing);
  const [worst] = faults;
  return {
    row,
    listing,
    summary,
    known: part !== null,
    faults: faults.length,
    worst: worst === undefined ? "" : faultText(worst, words),
  };
}

function saidTitle(listing: Listing, reading: TitleReading, { index, words, unreadable }: OpenDesk): SaidTitle {
  const { part, named, buyers, faults, summary } = reading;
  const choices = [...new Set([...named, ...(part === null ? [] : [part])])];
  const spans = faults.flatMap((fault) => fault.spans);
  return {
    part: part === null ? null : choiceOf(part, index),
    named: choices.flatMap((id) => choiceOf(id, index) ?? []),
    pieces: markedPieces(listing.title, spans, "title"),
    buyers: [...buyers].sort(byHarm).map((buyer) => saidReading(buyer, index, words)),
    summary,
    faults: faults.map((fault) => saidFault(fault, index, words)),
    families: index.families.length,
    unreadable,
  };
}

const OUTCOME_ORDER = ["misled", "turned-away", "left-guessing", "told-yes", "told-no"] as const;

function byHarm(a: BuyerReading, b: BuyerReading): number {
  const byOutcome = OUTCOME_ORDER.indexOf(a.outcome) - OUTCOME_ORDER.indexOf(b.outcome);
  return byOutcome !== 0 ? byOutcome : effectRank(a.effect) - effectRank(b.effect);
}

function effectRank(effect: Effect | null): number {
  return effect === null ? effectWords.length : effectWords.indexOf(effect);
}

function saidReading(reading: BuyerReading, index: CatalogIndex, words: Words): SaidReading {
  const { family: familyId, revision: revisionId, right, outcome, verdict } = reading;
  const family = index.family(familyId);
  const revision = family?.revisions.find(({ id }) => id === revisionId);
  return {
    id: `${familyId}/${revisionId}`,
    family: [family?.maker, family?.name ?? familyId].filter(Boolean).join(" "),
    revision: revision === undefined ? revisionId : revisionName(revision),
    boards: revision?.boardNumbers ?? [],
    right,
    outcome,
    tier: verdict.tier,
    word: markWord(verdict.verdict, words),
    reasons: verdict.reasons.slice(0, MOST_REASONS).map((reason) => reasonText(reason, words)),
    hazards: right === true ? [] : saidHazards(verdict.hazards, words),
  };
}

function saidFault(fault: TitleFault, index: CatalogIndex, words: Words): SaidFault {
  return {
    code: fault.code,
    sentence: faultText(fault, words),
    fix: words.say(`title_fix_${fault.code.replaceAll("-", "_")}`, fault.values),
    buyers: fault.buyers.map((place) => placeName(place, index)),
    effect: fault.effect,
  };
}

function faultText({ code, values }: TitleFault, words: Words): string {
  return words.say(`title_fault_${code.replaceAll("-", "_")}`, values);
}

function choiceOf(id: string, index: CatalogIndex): PartChoice | null {
  const part = index.part(id);
  return part === undefined ? null : partChoice(part, index);
}

function partChoice({ id, type, numbers }: KnownPart, index: CatalogIndex): PartChoice {
  const places = index.revisionsOf(id).slice(0, MOST_PLACES);
  return {
    id,
    type,
    numbers: numbers.slice(0, MOST_NUMBERS),
    places: places.map(({ family, revision }) => placeName(`${family.id}/${revision.id}`, index)),
  };
}

/** Parts by number first (whole, then begun), then those of devices whose model number or name has the text in it. */
function findParts(query: string, index: CatalogIndex): KnownPart[] {
  const number = canonicalNumber(query);
  const text = query.trim().toLowerCase();
  if (text === "") return [];
  const found = new Set<KnownPart>();
  for (const { serves } of index.resolveNumber(number).candidates) for (const { part } of serves) found.add(part);
  for (const part of index.parts) {
    if (found.size >= MOST_PARTS) break;
    const begun = number !== "" && part.numbers.some((printed) => canonicalNumber(printed).startsWith(number));
    if (begun || part.name?.toLowerCase().includes(text)) found.add(part);
  }
  for (const family of index.families) {
    if (found.size >= MOST_PARTS) break;
    const named = family.name?.toLowerCase().includes(text);
    const model = number !== "" && family.modelNumbers.some((each) => canonicalNumber(each).startsWith(number));
    if (!named && !model) continue;
    for (const id of family.revisions.flatMap(({ parts }) => parts)) {
      const part = index.part(id);
      if (part !== undefined) found.add(part);
    }
  }
  return [...found].slice(0, MOST_PARTS);
}
