/**
 * Titles that nobody can misread: put together from what a buyer must know, most important first, and offered only
 * when the matcher itself reads them rightly for every imagined buyer.
 *
 *   number · part type · model · revision by board or years · what it is not for · quantities
 *
 * What does not fit into the limit is dropped from the least important end. Where nothing that fits can be read
 * rightly, the shortest title that can is given instead.
 */
import type { CatalogIndex, KnownFamily, KnownPart } from "../catalog/index.ts";
import type { Quantities } from "../formats/catalog.ts";
import type { RawRules } from "../formats/rules.ts";
import type { Hazard } from "../formats/verdict.ts";
import { canonicalNumber } from "../text/part-number.ts";
import type { Words } from "../text/words.ts";
import { hazardText } from "../verdict/hazard-words.ts";
import { type Buyer, buyersLike, buyersOf, revisionsServedBy } from "./buyers.ts";
import type { BuyerJudge } from "./title-check.ts";

/** A composed title. */
export interface ComposedTitle {
  readonly text: string;
  /** In characters as a person counts them (Unicode code points). */
  readonly length: number;
  /** What was known but found no room, the most important first. */
  readonly leftOut: readonly string[];
}

/** What came of composing. */
export interface Composition {
  /** Best first; every one of them is read rightly by every buyer. */
  readonly titles: readonly ComposedTitle[];
  /** Why there is none within the limit; null where there is one. */
  readonly problem: "no-such-part" | "no-number-of-its-own" | "fits-nothing" | "limit" | "cannot-be-told" | null;
  /** The shortest title that is read rightly, where the limit is too narrow. */
  readonly shortest: ComposedTitle | null;
  /** Sentences for the description: what it is for, how to tell, what a wrong one does. */
  readonly warning: readonly string[];
}

/** The usual limit of a title, in characters. */
export const DEFAULT_LIMIT = 80;
const MAX_TITLES = 3;
/** Buyers of more revisions than this are not all named in a title. */
const MAX_BOARDS_NAMED = 6;
/** Models beyond the first of each family are named up to this many in all. */
const MAX_MODELS_NAMED = 5;

/** What composing needs. */
export interface ComposeSetup {
  readonly index: CatalogIndex;
  readonly rules: RawRules;
  readonly words: Words;
  readonly judgeFor: BuyerJudge;
  /** In characters. */
  readonly limit?: number;
}

/** Composes titles for a part of the catalogs. */
export function composeTitles(partId: string, setup: ComposeSetup): Composition {
  const { index, limit = DEFAULT_LIMIT } = setup;
  const part = index.part(partId);
  if (part === undefined) return nothing("no-such-part");
  const places = index.revisionsOf(partId);
  if (places.length === 0) return nothing("fits-nothing");
  const number = numberOfItsOwn(part, index);
  if (number === null) return nothing("no-number-of-its-own");
  const sale = saleOf(part, number, [...new Set(places.map(({ family }) => family))], setup);
  const titles: ComposedTitle[] = [];
  let shortest: ComposedTitle | null = null;
  for (const head of headsOf(sale, setup)) {
    if (head.after === "" && shortest !== null) break;
    const candidates = candidateTitles(head, sale, setup);
    for (const candidate of candidates.filter(({ length }) => length <= limit)) {
      if (titles.length < MAX_TITLES && readRightly(candidate.text, sale, setup)) titles.push(candidate);
    }
    if (titles.length > 0) break;
    const longer = candidates.filter(({ length }) => length > limit && (shortest === null || length < shortest.length));
    shortest =
      longer.sort((a, b) => a.length - b.length).find(({ text }) => readRightly(text, sale, setup)) ?? shortest;
  }
  return {
    titles,
    problem: titles.length > 0 ? null : shortest === null ? "cannot-be-told" : "limit",
    shortest: titles.length > 0 ? null : shortest,
    warning: warningBlock(sale, titles[0]?.text ?? shortest?.text ?? number, setup),
  };
}

function nothing(problem: Composition["problem"]): Composition {
  return { titles: [], problem, shortest: null, warning: [] };
}

/** The first number of the part that can mean no other part. */
function numberOfItsOwn(part: KnownPart, index: CatalogIndex): string | null {
  for (const number of part.numbers) {
    const { candidates } = index.resolveNumber(number);
    if (candidates.length === 1 && candidates[0]?.own?.id === part.id) return number;
  }
  return null;
}

/** What is sold, and to whom. */
interface Sale {
  readonly part: KnownPart;
  readonly number: string;
  readonly families: readonly KnownFamily[];
  readonly right: readonly Buyer[];
  readonly wrong: readonly Buyer[];
}

function saleOf(part: KnownPart, number: string, families: readonly KnownFamily[], { index }: ComposeSetup): Sale {
  const fits = revisionsServedBy(part.id, index);
  const buyers = families.flatMap(buyersOf);
  return {
    part,
    number,
    families,
    right: buyers.filter(({ revision }) => fits.has(revision)),
    wrong: buyers.filter(({ revision }) => !fits.has(revision)),
  };
}

/** True when every buyer of a right revision is told yes and every buyer of a wrong one no. */
function readRightly(title: string, { right, wrong }: Sale, { judgeFor }: ComposeSetup): boolean {
  const reads = (buyers: readonly Buyer[], verdict: string): boolean =>
    buyers.every((buyer) => buyersLike(buyer).every(({ device }) => judgeFor({ title }, device).verdict === verdict));
  return reads(right, "fits") && reads(wrong, "other-revision");
}

/** How a title starts; the maker's name may stand between the two. */
interface Head {
  readonly before: string;
  readonly after: string;
}

/** Most other words for a part type that are tried. */
const MAX_OTHER_WORDS = 4;

/**
 * Number and part type, the usual way first. A number that looks like a year needs a word that says what it is; a
 * name of a part type that also means something else ("cinghia": belt, strap) needs another one. The bare number is
 * the last resort.
 */
function headsOf({ part, number }: Sale, setup: ComposeSetup): Head[] {
  const { rules, words } = setup;
  const cued = words.say("title_piece_number", { number });
  const cues = rules.partTypes.find(({ id }) => id === part.type)?.words[words.language] ?? [];
  const others = cues.filter((cue) => !/[*(]/.test(cue)).map((cue) => cue.replace(/\|[^ ]+/g, ""));
  const names = [...new Set([partTypeName(part.type, setup), ...others.slice(0, MAX_OTHER_WORDS)])];
  return [
    ...names.map((name) => ({ before: number, after: name })),
    ...names.map((name) => ({ before: "", after: `${name} ${cued}` })),
    { before: number, after: "" },
  ];
}

/** Every way to go on after the head, the most telling first. */
function candidateTitles(head: Head, sale: Sale, setup: ComposeSetup): ComposedTitle[] {
  const { words } = setup;
  const models = sale.families.flatMap(({ modelNumbers }) => modelNumbers.slice(0, 1));
  const allModels = sale.families.flatMap(({ modelNumbers }) => modelNumbers);
  const makers = [...new Set(sale.families.map(({ maker }) => maker).filter((maker) => maker !== undefined))];
  const boardsOf = (buyers: readonly Buyer[]): string[] => buyers.flatMap(({ revision }) => revision.boardNumbers);
  const rightBoards = boardsOf(sale.right);
  const wrongBoards = boardsOf(sale.wrong);
  const revision =
    sale.wrong.length === 0 || rightBoards.length === 0 || rightBoards.length > MAX_BOARDS_NAMED
      ? ""
      : words.say("title_piece_board", { boards: rightBoards.join(" / ") });
  const notFor =
    wrongBoards.length === 0 || wrongBoards.length > MAX_BOARDS_NAMED
      ? ""
      : words.say("title_piece_not_for", { boards: wrongBoards.join(" / ") });
  // Most important first; the order in the title is another one, because a negation reaches to the end.
  const pieces = {
    model: models.length === 0 ? "" : words.say("title_piece_for", { models: models.join(" / ") }),
    revision,
    notFor,
    otherModels:
      allModels.length === models.length || allModels.length > MAX_MODELS_NAMED
        ? ""
        : words.say("title_piece_for", { models: allModels.join(" / ") }),
    quantities: quantitiesText(sale.part, words),
    maker: makers.join(" / "),
  };
  const names = (Object.keys(pieces) as (keyof typeof pieces)[]).filter((name) => pieces[name] !== "");
  const chosenSets = subsets(names).filter((chosen) => chosen.includes("model") || !chosen.includes("otherModels"));
  const otherModels = allModels.filter((model) => !models.includes(model)).join(" / ");
  const titles = chosenSets.map((chosen): ComposedTitle => {
    const has = (name: keyof typeof pieces): string => (chosen.includes(name) ? pieces[name] : "");
    const start = joined([head.before, has("maker"), head.after, has("otherModels") || has("model")], " ");
    const text = joined([start, has("revision"), has("quantities"), has("notFor")], ", ");
    const left = names.filter((name) => !chosen.includes(name));
    const leftOut = left.map((name) => (name === "otherModels" ? otherModels : pieces[name]));
    return { text, length: [...text].length, leftOut };
  });
  return titles;
}

function joined(pieces: readonly string[], separator: string): string {
  return pieces.filter((piece) => piece !== "").join(separator);
}

/** All subsets of a ranked list: one that holds a more important thing before one that does not. */
function subsets<T>(ranked: readonly T[]): T[][] {
  const [first, ...rest] = ranked;
  if (first === undefined) return [[]];
  const others = subsets(rest);
  return [...others.map((each) => [first, ...each]), ...others];
}

/** The part type as listings call it in the language; its id in words where no rule names it. */
function partTypeName(type: string, { rules, words }: Pick<ComposeSetup, "rules" | "words">): string {
  const names = rules.partTypes.find(({ id }) => id === type)?.names;
  return names?.[words.language] ?? names?.["en"] ?? type.replaceAll("-", " ");
}

/** Quantities that buyers look for, in this order, and how a title writes their units. */
const TITLE_QUANTITIES: readonly (readonly [string, string])[] = [
  ["nominalVoltage_V", "V"],
  ["outputVoltage_V", "V"],
  ["supplyVoltage_V", "V"],
  ["energy_Wh", "Wh"],
  ["capacity_Ah", "Ah"],
  ["outputCurrent_A", "A"],
  ["power_W", "W"],
  ["capacity_GB", "GB"],
];
const MAX_QUANTITIES = 3;

function quantitiesText({ readings }: KnownPart, words: Words): string {
  const stated: Quantities = Object.assign({}, ...readings.map(({ part }) => part.quantities ?? {}));
  return TITLE_QUANTITIES.flatMap(([name, unit]) => {
    const value = stated[name];
    return typeof value === "number" ? [`${words.say("title_piece_amount", { value })} ${unit}`] : [];
  })
    .slice(0, MAX_QUANTITIES)
    .join(" ");
}

/** The block for the description. */
function warningBlock(sale: Sale, title: string, setup: ComposeSetup): string[] {
  const { words, judgeFor } = setup;
  const lines = [
    words.say("title_warning_for", {
      number: sale.number,
      type: partTypeName(sale.part.type, setup),
      revisions: sale.right.map((buyer) => revisionText(buyer, words)),
    }),
    ...tellByLines([...sale.right, ...sale.wrong], words),
  ];
  const cautions = new Set<string>();
  for (const buyer of sale.wrong) {
    const { hazards } = judgeFor({ title }, buyer.device);
    const worst = hazards[0];
    lines.push(
      words.say("title_warning_not", { number: sale.number, revision: revisionText(buyer, words) }) +
        (worst === undefined ? "" : ` ${hazardSentence(worst, words)}`),
    );
    for (const { caution } of hazards) if (caution !== null) cautions.add(caution);
  }
  for (const caution of cautions) lines.push(words.say(`caution_${caution.replaceAll("-", "_")}`));
  return lines;
}

/** `WARNING: …` */
function hazardSentence(hazard: Hazard, words: Words): string {
  const sentence = hazardText(hazard, words);
  return hazard.signal === null ? sentence : `${words.say(`ui_signal_${hazard.signal.toLowerCase()}`)}: ${sentence}`;
}

/** "Lark 20, early board (PW-4410-2; built 2019-W06 to 2021-W14)". */
function revisionText({ family, revision }: Buyer, words: Words): string {
  const name = [family.name ?? family.modelNumbers[0] ?? family.id, revision.name ?? revision.id].join(", ");
  const spans = revision.built.map(({ from, to }) =>
    words.say(from === undefined ? "title_built_to" : to === undefined ? "title_built_from" : "title_built", {
      from: from ?? "",
      to: to ?? "",
    }),
  );
  const marks = [...revision.boardNumbers, ...spans].filter((mark) => canonicalNumber(mark) !== "");
  return marks.length === 0 ? name : `${name} (${marks.join("; ")})`;
}

function tellByLines(buyers: readonly Buyer[], words: Words): string[] {
  const ways = new Set(buyers.flatMap(({ revision }) => revision.tellBy ?? []));
  return [...ways].map((way) => words.say("title_warning_tell", { way }));
}
