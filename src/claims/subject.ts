/**
 * What is sold: the part, something that goes with it, a whole device, a service, or nothing of the kind.
 *
 * The title's nouns are read with how they hang together: what stands behind "for" is what the thing is for, what
 * stands behind "with" comes along, and of nouns side by side an accessory takes the lead ("battery cable", "câble de
 * batterie"). Description and fields only add what a title leaves out.
 */
import type { Span } from "../formats/verdict.ts";
import { type Field, stopsBehind } from "./fields.ts";
import type { Item } from "./items.ts";
import type { Meaning } from "./lexicon.ts";
import {
  gapBefore,
  isAsked,
  isModel,
  isPartNumber,
  isPhrase,
  partsBefore,
  type ReadField,
  type Relation,
  relationOf,
  spanOfItem,
  typesOf,
} from "./look.ts";
import { stateSpan } from "./state.ts";
import { isStranger } from "./stranger.ts";
import { ORDINAL_KIND, TYPE_KIND } from "./vocabulary.ts";

/** What a listing offers. */
export type Sold = "part" | "accessory" | "device" | "service" | "wanted" | "nothing" | "without" | "unsaid";

/** What a listing sells, and in which state. */
export interface Subject {
  readonly sold: Sold;
  /** Part types that the words name as sold, in order; empty where only numbers tell. */
  readonly types: readonly string[];
  /** Part types that the sold thing is for: "charger for battery …". */
  readonly forTypes: readonly string[];
  readonly spans: readonly Span[];
  readonly defective: Span | null;
  readonly used: Span | null;
  /** True for lots and sets. */
  readonly several: boolean;
  /** True where the title calls the thing by a word that no rule knows. */
  readonly stranger: boolean;
}

interface Noun {
  readonly at: number;
  readonly types: readonly string[];
  readonly accessory: boolean;
  readonly device: boolean;
  readonly languages: ReadonlySet<string>;
  relation: Relation;
  /** Nouns with the same chain number stand side by side. */
  readonly chain: number;
  /** Nouns with the same segment number have no sign and no "for" or "with" between them. */
  readonly segment: number;
  readonly span: Span;
  /** True at the beginning of a stretch set off by a dash. */
  readonly afterDash: boolean;
}

/** Phrases that do not part two nouns side by side. */
const BETWEEN = new Set(
  "filler only trait numberCue modelCue boardCue revisionNoun unitNoun early late older newer grade used lot not".split(
    " ",
  ),
);
/** Phrases that may stand beside a thing's name without telling what it is. */
const BETWEEN_STRANGERS = ["filler", "grade", "used", "lot", "trait"];
/** Shortest word that is taken for a thing's name, in UTF-16 code units. */
const LEAST_NOUN = 5;
/** Within how many items a description says what it sells. */
const OPENING_ITEMS = 4;
/** How many items a device's name may take. */
const NAME_ITEMS = 6;

/** @param isWanted true for part types that the device in hand is known to have */
export function readSubject(texts: readonly ReadField[], isWanted: (type: string) => boolean): Subject {
  const fields = texts.map(({ field, items }) => ({ field, items: items.map((item) => asPart(item, isWanted)) }));
  const title = fields[0];
  const nouns = title === undefined ? [] : nounsOf(title, isWanted);
  const whole = title === undefined ? null : wholeTitle(title, nouns);
  const sale = whole ?? saleOf(title, nouns, fields, isWanted);
  const emptied = sale.sold === "part" || sale.sold === "unsaid" ? takenOut(fields, sale.types) : null;
  return {
    ...sale,
    ...(emptied === null ? {} : { sold: emptied.sold, spans: [emptied.span] }),
    forTypes: nouns.filter(({ relation }) => relation === "target").flatMap(({ types }) => types),
    defective: stateSpan(fields, "defective", sale.types.slice(0, 1)),
    used: stateSpan(fields, "used", []),
    several: fields.some(({ items, field }) => field.part === "title" && items.some((item) => isPhrase(item, "lot"))),
    stranger: isStranger(title),
  };
}

/** What the device's catalog has as a part of its own is one, whatever else the word may mean: "toner", "seal", "lid". */
function asPart(item: Item, isWanted: (type: string) => boolean): Item {
  if (item.type !== "phrase" || !typesOf(item).some(isWanted)) return item;
  return { ...item, meanings: item.meanings.filter(({ kind }) => !NO_PART.has(kind)) };
}

/** Kinds of words that say that something else than a part is sold. */
const NO_PART = new Set(["accessory", "device", "nothing", "wrapping"]);

/** The nouns of a text and how they hang together. */
function nounsOf({ field, items }: ReadField, isWanted: (type: string) => boolean): Noun[] {
  const nouns: Noun[] = [];
  let relation: Relation = "head";
  let chain = 0;
  let segment = 0;
  let afterDash = false;
  for (const [at, item] of items.entries()) {
    const gap = gapBefore(field, item);
    const stops = item.first > 0 && stopsBehind(field, item.first - 1);
    if (stops || /[,;!?|\n+&()/]|\s[-·]|[-·]\s/.test(gap)) {
      chain++;
      segment++;
    }
    if (stops || /[;!?|\n]|\s[-·]|[-·]\s/.test(gap)) {
      relation = "head";
      afterDash = true;
    } else if (/,/.test(gap) && relation !== "with") relation = "head";
    else if (/[+&]/.test(gap) && relation !== "without") relation = isSoldBefore(items, at, nouns) ? "with" : "head";
    if (item.type === "word") chain++;
    if (item.type !== "phrase") continue;
    const noun = nounAt(field, items, item, at, isWanted, { relation, chain, segment, afterDash });
    if (noun !== null) {
      nouns.push(noun);
      afterDash = false;
      continue;
    }
    const next = relationOf(item);
    if (next !== null) {
      chain++;
      segment++;
      relation = next;
    } else if (isPhrase(item, "included") || isPhrase(item, "notIncluded")) {
      const last = nouns.at(-1);
      const behind =
        last?.at === at - 1 || (last?.at === at - 2 && last.types.length > 0 && isPartNumber(items[at - 1]));
      if (last !== undefined && behind && last.relation === "head")
        last.relation = isPhrase(item, "included") ? "with" : "without";
      chain++;
    } else if (!item.meanings.some(({ kind }) => BETWEEN.has(kind))) chain++;
  }
  return nouns;
}

/** A part stood before: what is added to it by "+" comes along. */
function isSoldBefore(items: readonly Item[], at: number, nouns: readonly Noun[]): boolean {
  if (nouns.some(({ types, relation }) => types.length > 0 && relation === "head")) return true;
  return items.slice(0, at).some((item) => item.type === "number" && item.named?.part === true);
}

function nounAt(
  field: Field,
  items: readonly Item[],
  item: Extract<Item, { type: "phrase" }>,
  at: number,
  isWanted: (type: string) => boolean,
  where: { relation: Relation; chain: number; segment: number; afterDash: boolean },
): Noun | null {
  const types = isRevisionName(field, items, at) ? [] : typesOf(item);
  const accessory = isPhrase(item, "accessory") && !types.some(isWanted) && !isCounted(field, items, at);
  const device = isPhrase(item, "device") && types.length === 0;
  if (types.length === 0 && !accessory && !device) return null;
  const isNoun = ({ kind }: Meaning): boolean => (accessory ? kind === "accessory" : kind.startsWith(TYPE_KIND));
  const languages = new Set(item.meanings.filter((each) => device || isNoun(each)).map(({ language }) => language));
  const owners = isBuyers(items, at) || (device && isOwner(items, at));
  const relation = where.relation === "head" && owners ? "target" : where.relation;
  const span = spanOfItem(field, item);
  return { at, types: accessory ? [] : types, accessory, device, languages, span, ...where, relation };
}

/** "Fusor de impresora", "cuve de machine à pain": a device behind a word and "of" is what the thing belongs to. */
function isOwner(items: readonly Item[], at: number): boolean {
  const before = items[at - 1];
  if (!isPhrase(before, "of")) return false;
  const thing = items[at - 2];
  return thing?.type === "word" || (thing?.type === "phrase" && typesOf(thing).length > 0);
}

/** "turns your battery into …": the buyer's own thing is not what is sold. */
function isBuyers(items: readonly Item[], at: number): boolean {
  const before = items[at - 1];
  const further = isPhrase(before, "older") || isPhrase(before, "filler") || isPhrase(before, "used");
  return isPhrase(before, "yours") || (further && isPhrase(items[at - 2], "yours"));
}

/** "board E4071A", "early board", "scheda B": the word names a revision there, not what is sold. */
function isRevisionName(field: Field, items: readonly Item[], at: number): boolean {
  if (!isPhrase(items[at], "revisionNoun")) return false;
  const before = items[at - 1];
  const next = items[at + 1];
  if (["early", "late", "older", "newer"].some((kind) => isPhrase(before, kind) || isPhrase(next, kind))) return true;
  if (before?.type === "phrase" && before.meanings.some(({ kind }) => kind.startsWith(ORDINAL_KIND))) return true;
  if (next?.type === "number") return next.named?.board === true && !next.named.part;
  const token = next === undefined ? undefined : field.tokens[next.first];
  return token !== undefined && /^[A-Z0-9]$/.test(token.text);
}

/** "connector 30 pins", "5-pin plug": the word tells how the thing plugs in. */
function isCounted(field: Field, items: readonly Item[], at: number): boolean {
  if (at === 0) return false;
  const before = items[at - 1];
  if (before?.type === "word" && /^\d{1,2}$/.test(field.words[before.first] ?? "")) return true;
  const next = items[at + 1];
  const further = next !== undefined && typesOf(next).length > 0 ? undefined : items[at + 2];
  return [before, next, further].some(
    (item) => item?.type === "quantity" && item.quantities.some(({ dimension }) => dimension === "positions"),
  );
}

type Sale = Pick<Subject, "sold" | "types" | "spans">;

/** Wanted ads, services, empty boxes and papers: the title says so as a whole. */
function wholeTitle({ field, items }: ReadField, nouns: readonly Noun[]): Sale | null {
  const firstPart = nouns.find(({ types, relation }) => types.length > 0 && relation === "head")?.at ?? items.length;
  let relation: Relation = "head";
  for (const [k, item] of items.entries()) {
    if (partsBefore(field, item)) relation = "head";
    relation = relationOf(item) ?? relation;
    const sold = (kind: Sold): Sale => ({ sold: kind, types: [], spans: [spanOfItem(field, item)] });
    const asked = isPhrase(item, "wanted") && isAsked(field, items, item);
    if (isPhrase(item, "wanted") && isOpening(items, k) && !asked) return sold("wanted");
    const next = items[k + 1];
    if (isPhrase(item, "wantedAfter") && (next === undefined || partsBefore(field, next))) return sold("wanted");
    if (isPhrase(item, "empty") || isWrapping(field, items, k)) return sold("nothing");
    if (isPhrase(item, "mine") && isOpening(items, k) && namesDevice(field, items, k + 1)) return sold("device");
    if (isPhrase(item, "whole") && relation !== "target" && !nouns.some((noun) => noun.at < k && isSoldPart(noun)))
      return sold("device");
    if (relation === "with") continue;
    if (isPhrase(item, "service") && !isForParts(items, k)) return sold("service");
    if (isPhrase(item, "nothing") && (k < firstPart || nextTo(field, items, k, nouns))) return sold("nothing");
  }
  return null;
}

/** A number, and that it is broken: "PB-1840 dead, for parts or reconditioning" offers the thing, not the work. */
function isForParts(items: readonly Item[], k: number): boolean {
  if (items.some((item) => isPhrase(item, "wanted") || isPhrase(item, "wantedAfter"))) return false;
  return items.some((item) => isPhrase(item, "defective")) && items.slice(0, k).some(isPartNumber);
}

function isSoldPart({ types, relation }: Noun): boolean {
  return types.length > 0 && relation === "head";
}

/** "… my PL-20, battery …": a device or a model follows, and no part or number of one right behind it. */
function namesDevice(field: Field, items: readonly Item[], from: number): boolean {
  let named = false;
  for (const item of items.slice(from, from + NAME_ITEMS)) {
    if (named && (partsBefore(field, item) || relationOf(item) === "with")) return true;
    if (typesOf(item).length > 0 || isPartNumber(item)) return false;
    named ||= isPhrase(item, "device") || (item.type === "number" && item.named?.model === true);
  }
  return named;
}

/** Nothing but a word or two stands before: "I need", "hi, looking for". */
function isOpening(items: readonly Item[], k: number): boolean {
  return k <= 1 || (k <= 3 && items.slice(0, k).every((item) => item.type === "word" || isPhrase(item, "filler")));
}

/** "packaging for battery PB-1840", "PB-1840 packaging": the title leads or ends with it. */
function isWrapping(field: Field, items: readonly Item[], k: number): boolean {
  const item = items[k];
  if (item === undefined || !isPhrase(item, "wrapping")) return false;
  const next = items[k + 1];
  if (k === 0)
    return (
      next !== undefined &&
      !partsBefore(field, next) &&
      (isPhrase(next, "for") || typesOf(next).length > 0 || isPartNumber(next))
    );
  const before = items[k - 1];
  return (
    next === undefined && gapBefore(field, item) === " " && (isPartNumber(before) || typesOf(before ?? item).length > 0)
  );
}

function isSpaced(field: Field, item: Item | undefined): boolean {
  return item !== undefined && gapBefore(field, item) === " ";
}

/** "battery manual": the paper stands right behind the part. */
function nextTo(field: Field, items: readonly Item[], k: number, nouns: readonly Noun[]): boolean {
  const item = items[k];
  let before = k - 1;
  while (before > k - 3 && items[before]?.type === "word" && isSpaced(field, items[before])) before--;
  const noun = isPartNumber(items[before]) ? before - 1 : k - 1;
  return item !== undefined && gapBefore(field, item) === " " && nouns.some(({ at }) => at === noun);
}

function saleOf(
  title: ReadField | undefined,
  nouns: readonly Noun[],
  fields: readonly ReadField[],
  isWanted: (type: string) => boolean,
): Sale {
  const head = nouns.filter(({ relation }) => relation === "head");
  const first = head[0];
  if (first === undefined) return headless(title, nouns, fields, isWanted);
  const alone = head.find(({ at, accessory }) => accessory && isPhrase(title?.items[at - 1], "only"));
  if (alone !== undefined) return { sold: "accessory", types: [], spans: [alone.span] };
  const chain = head.filter((noun) => noun.chain === first.chain);
  const later = head.filter((noun) => noun.chain !== first.chain);
  const lead = leadOf(chain, head, title?.items ?? []);
  const named = namesPart(title) || fields.some((read) => read.field.part === "specifics" && namesPart(read));
  if (lead !== null && !listed(title, lead, later) && !(named && isAside(title, lead))) {
    return { sold: "accessory", types: [], spans: [lead.span] };
  }
  const parts = [...chain, ...later].filter((noun) => noun.types.length > 0 && !isHeldBy(noun, head));
  if (parts.length === 0 && isWholeDevice(title, chain, later, named))
    return { sold: "device", types: [], spans: [first.span] };
  if (parts.length === 0)
    return named ? { sold: "unsaid", types: [], spans: [] } : { sold: "device", types: [], spans: [first.span] };
  if (isWholeDevice(title, chain, later, named) || comesWithNumber(title, parts, isWanted))
    return { sold: "device", types: [], spans: [first.span] };
  if (first.device && (offersDevice(fields, first) || isRefitted(title, parts, fields)))
    return { sold: "device", types: [], spans: [first.span] };
  const beside = head.find((noun) => noun.accessory && isJoined(title, first, noun));
  if (beside !== undefined && lead === null && !parts.some(({ types }) => types.some(isWanted)))
    return { sold: "accessory", types: [], spans: [beside.span] };
  const sold = withoutModifiers(parts);
  const types = [...new Set(sold.flatMap((noun) => noun.types))];
  return { sold: "part", types, spans: sold.map(({ span }) => span) };
}

/** "torba na baterię": in languages that name the thing first, what stands behind a bag is what it is for. */
function isHeldBy(part: Noun, head: readonly Noun[]): boolean {
  return head.some(
    ({ accessory, at, segment, languages }) =>
      accessory &&
      segment === part.segment &&
      at < part.at &&
      part.at - at <= 2 &&
      ![...languages].some((language) => RIGHT_HEADED.has(language)),
  );
}

/** "strap and bag": two things of a list. */
function isJoined(title: ReadField | undefined, first: Noun, noun: Noun): boolean {
  if (title === undefined) return false;
  return title.items
    .slice(first.at + 1, noun.at + 1)
    .some((item) => isPhrase(item, "and") || /[+&]|^ ?\/ ?$/.test(gapBefore(title.field, item)));
}

/** "Vends le fauteuil de ma mère …": the description opens with the sale of a device. */
function offersDevice(fields: readonly ReadField[], device: Noun): boolean {
  const [title] = fields;
  const name = title?.field.words[title.items[device.at]?.first ?? 0] ?? "";
  return fields.some(({ field, items }) => {
    if (field.part !== "description") return false;
    const sale = items.slice(0, OPENING_ITEMS).findIndex((item) => isPhrase(item, "offers") || isPhrase(item, "mine"));
    if (sale < 0) return false;
    const stops = (at: number): boolean =>
      at > 0 && partsBefore(field, items[at] ?? { type: "word", first: 0, last: 1 });
    for (let at = sale + 1; at <= sale + 3 && at < items.length && !stops(at); at++) {
      const item = items[at];
      if (item === undefined || typesOf(item).length > 0 || isPartNumber(item)) return false;
      if (isPhrase(item, "device") || isModel(item) || field.words[item.first] === name) return true;
    }
    return false;
  });
}

/** "Wheelchair Rowan, 2 new batteries", sold as used: what is new is not all that is sold. */
function isRefitted(title: ReadField | undefined, parts: readonly Noun[], fields: readonly ReadField[]): boolean {
  const used = fields.some(
    ({ field, items }) => field.part === "condition" && items.some((item) => isPhrase(item, "used")),
  );
  if (title === undefined || !used) return false;
  return parts.some(({ at }) => {
    const beside = title.items.slice(Math.max(0, at - 1), at + 4);
    return beside.some((item) => isPhrase(item, "fresh") || isPhrase(item, "newer"));
  });
}

/** Of two part words side by side one only says which kind: "battery charger", "chargeur de batterie". */
function withoutModifiers(parts: readonly Noun[]): readonly Noun[] {
  const left = parts.filter((noun, i) => {
    const rightHeaded = [...noun.languages].some((language) => RIGHT_HEADED.has(language));
    const neighbour = parts[rightHeaded ? i + 1 : i - 1];
    if (neighbour === undefined || neighbour.chain !== noun.chain || Math.abs(neighbour.at - noun.at) > 2) return true;
    return neighbour.types.some((type) => noun.types.includes(type));
  });
  return left.length > 0 ? left : parts;
}

/**
 * The accessory that leads a chain of nouns, or null. English and German put the thing last ("battery cable", "label sensor"),
 * the other languages first ("câble de batterie", "sensor de etiquetas"); where a word leaves that open, the accessory leads.
 */
function leadOf(chain: readonly Noun[], head: readonly Noun[], items: readonly Item[]): Noun | null {
  const accessory = chain.find((noun) => noun.accessory);
  if (accessory === undefined) return null;
  const languages = [...accessory.languages];
  const last = head.filter(({ segment }) => segment === accessory.segment).at(-1);
  const isPartBehind = (noun: Noun | undefined): boolean =>
    noun !== undefined &&
    noun.at > accessory.at &&
    noun.types.length > 0 &&
    !items.slice(accessory.at + 1, noun.at).some(isPartNumber);
  const endsInPart = isPartBehind(last) || isPartBehind(chain.at(-1));
  const english = languages.every((language) => language === "en");
  if (endsInPart && (english || (last?.chain !== accessory.chain && languages.every((each) => RIGHT_HEADED.has(each)))))
    return null;
  const startsWithPart = chain[0] !== accessory && (chain[0]?.types.length ?? 0) > 0;
  if (startsWithPart && !languages.some((language) => RIGHT_HEADED.has(language))) return null;
  return accessory;
}

/** Languages whose compounds end with what the thing is. */
const RIGHT_HEADED = new Set(["en", "de"]);

/** Not right behind the number in a title that names one: "QV7145R, this is NOT the QV7143R, check your sticker". */
function isAside(title: ReadField | undefined, lead: Noun): boolean {
  const number = title?.items.findIndex((item) => item.type === "number" && item.named?.part === true) ?? -1;
  if (title === undefined || number < 0 || number > lead.at) return false;
  return title.items.slice(number + 1, lead.at + 1).some((item, i) => {
    if (gapBefore(title.field, item).includes("(") || partsBefore(title.field, item)) return true;
    if (number + 1 + i === lead.at) return false;
    if (item.type === "word") return true;
    return item.type === "phrase" && typesOf(item).length === 0 && !item.meanings.some(({ kind }) => BETWEEN.has(kind));
  });
}

/** An accessory that is one of several things in a set, a part among them: "tools + battery". */
function listed(title: ReadField | undefined, lead: Noun, later: readonly Noun[]): boolean {
  const part = later.find(
    ({ types, segment }) => types.length > 0 && !later.some((noun) => noun.accessory && noun.segment === segment),
  );
  if (title === undefined || part === undefined) return false;
  return title.items
    .slice(lead.at + 1, part.at + 1)
    .some((item) => isPhrase(item, "and") || /[+&]|^\/$/.test(gapBefore(title.field, item)));
}

/** A device followed by parts of several kinds: "laptop 8 GB RAM, new keyboard, 13.3 display". */
function isInventory(device: Noun, chain: readonly Noun[], later: readonly Noun[]): boolean {
  if (chain[0] !== device) return false;
  return new Set([...chain, ...later].flatMap(({ types }) => types.slice(0, 1))).size > 1;
}

function namesPart(read: ReadField | undefined): boolean {
  return read?.items.some((item) => item.type === "number" && item.named?.part === true && !item.named.model) === true;
}

/** "notebook QS13 i5 8 GB …", "server complete": what is told right behind a device is told of all of it. */
function isToldWhole(title: ReadField, device: Noun, chain: readonly Noun[], later: readonly Noun[]): boolean {
  const nouns = [...chain, ...later].filter(({ types }) => types.length > 0);
  const inside = nouns.filter((noun) => isData(noun) && isOfData(title.items[noun.at - 1]));
  const parts = inside.length > 1 ? nouns.filter((noun) => !inside.includes(noun)) : nouns;
  const first = parts[0]?.at ?? title.items.length;
  if (first < device.at || title.items.slice(0, device.at).some(isPartNumber)) return false;
  const number = title.items.findIndex(isPartNumber);
  const told = title.items.slice(device.at + 1, Math.min(first, number < 0 ? first : number));
  if (told.some((item) => relationOf(item) !== null)) return false;
  if (told.some((item) => isPhrase(item, "spec") || isPhrase(item, "entire"))) return true;
  return !parts.some(isData) && told.some(isOfData);
}

function isData({ types }: Noun): boolean {
  return types.some((type) => HOLDING_DATA.has(type));
}

/** Part types that themselves have a size in gigabytes. */
const HOLDING_DATA = new Set(["memory-module", "storage-module"]);

/** "8 GB": a size of memory. */
function isOfData(item: Item | undefined): boolean {
  return item?.type === "quantity" && item.quantities.some(({ dimension }) => dimension === "capacity");
}

/** A device named first, and its parts only told of: "notebook, 8 GB memory, good battery". */
function isWholeDevice(
  title: ReadField | undefined,
  chain: readonly Noun[],
  later: readonly Noun[],
  named: boolean,
): boolean {
  const device = chain.find((noun) => noun.device);
  if (title === undefined || device === undefined) return false;
  if (isToldWhole(title, device, chain, later)) return true;
  if (isInventory(device, chain, later) && !named && !title.items.some((item) => isPhrase(item, "lot"))) return true;
  if (chain.some(({ types }) => types.length > 0)) return false;
  if (later.some(({ afterDash, types }) => afterDash && types.length > 0)) return false;
  const number = title.items.findIndex((item) => item.type === "number" && item.named?.part === true);
  if (number < 0) return !named;
  if (number < device.at) return false;
  const between = title.items.slice(device.at + 1, number + 1);
  return between.some(
    (item) => /[,+&]/.test(gapBefore(title.field, item)) || ["with", "without"].includes(relationOf(item) ?? ""),
  );
}

/** "pool pump with drive RFB5C": none of the device's parts is named as sold, and the number comes along. */
function comesWithNumber(
  title: ReadField | undefined,
  parts: readonly Noun[],
  isWanted: (type: string) => boolean,
): boolean {
  if (title === undefined || parts.some(({ types }) => types.some(isWanted))) return false;
  const number = title.items.findIndex(isPartNumber);
  const joint = title.items.findLastIndex((item, at) => at < number && relationOf(item) !== null);
  const item = title.items[joint];
  return item !== undefined && joint > (parts[0]?.at ?? number) && relationOf(item) === "with";
}

/** "PL-20 incl. PB-1840": a model, named as what is sold, and the number comes along. */
function withNumber(title: ReadField | undefined): Span | null {
  const items = title?.items ?? [];
  const joint = items.findIndex((item, k) => relationOf(item) === "with" && isPartNumber(items[k + 1]));
  const before = items.slice(0, Math.max(0, joint));
  const model = before.find((item) => item.type === "number" && item.named?.model === true && !item.named.part);
  if (
    title === undefined ||
    model === undefined ||
    before.some((item) => relationOf(item) !== null || isPartNumber(item))
  )
    return null;
  return spanOfItem(title.field, model);
}

/**
 * The title opens with a word that no rule knows, and the part's number or kind stands only behind "for": "cleaning
 * cards for PB-1840". Whatever that thing is, it is not shown to be the part.
 */
function strangerWithPurpose(title: ReadField | undefined): Span | null {
  const joint = title?.items.findIndex((item) => isPhrase(item, "for")) ?? -1;
  if (title === undefined || joint < 1) return null;
  const before = title.items.slice(0, joint);
  if (before.some((item) => item.type !== "word" && !BETWEEN_STRANGERS.some((kind) => isPhrase(item, kind))))
    return null;
  const noun = before.find((item) => item.type === "word" && isLong(title.field, item));
  return noun === undefined ? null : spanOfItem(title.field, noun);
}

function isLong(field: Field, { first }: Item): boolean {
  return (field.tokens[first]?.text.length ?? 0) >= LEAST_NOUN;
}

/** No noun stands for what is sold: "for PL-20: battery", "PL-20 with battery", a bare number. */
function headless(
  title: ReadField | undefined,
  nouns: readonly Noun[],
  fields: readonly ReadField[],
  isWanted: (type: string) => boolean,
): Sale {
  const model = withNumber(title);
  if (model !== null && nouns.length === 0) return { sold: "device", types: [], spans: [model] };
  const along = nouns.find(
    ({ relation, types }) => (relation === "with" || relation === "without") && types.length > 0,
  );
  if (along !== undefined) {
    const joint = title?.items.findLastIndex((item, at) => at < along.at && relationOf(item) !== null) ?? -1;
    const before = title?.items.slice(0, Math.max(0, joint)) ?? [];
    const told = before.some(
      (item, i) => isModel(item) && !before.slice(0, i).some((each) => relationOf(each) === "target"),
    );
    if (along.relation === "without") return { sold: "without", types: [], spans: [along.span] };
    if (told) return { sold: "device", types: [], spans: [along.span] };
  }
  const stranger = strangerWithPurpose(title);
  if (stranger !== null) return { sold: "accessory", types: [], spans: [stranger] };
  const target = nouns.filter(({ types, relation }) => types.length > 0 && relation !== "without");
  if (target.length > 0) {
    return {
      sold: "part",
      types: [...new Set(target.flatMap(({ types }) => types))],
      spans: target.map(({ span }) => span),
    };
  }
  for (const read of fields.slice(1)) {
    if (read.field.part === "condition") continue;
    const noun = nounsOf(read, isWanted).find(({ types, relation }) => relation === "head" && types.length > 0);
    if (noun !== undefined) return { sold: "part", types: noun.types, spans: [noun.span] };
  }
  return { sold: "unsaid", types: [], spans: [] };
}

/** "battery not included", "box only", said anywhere. */
function takenOut(fields: readonly ReadField[], types: readonly string[]): { sold: Sold; span: Span } | null {
  for (const { field, items } of fields) {
    for (const [k, item] of items.entries()) {
      if (isPhrase(item, "empty")) return { sold: "nothing", span: spanOfItem(field, item) };
      const named = typesOf(item).some((type) => types.includes(type));
      if (!named && !isPartNumber(item)) continue;
      const next = items[k + 1];
      const before = items[k - 1];
      if (next !== undefined && isPhrase(next, "notIncluded") && gapBefore(field, next).length <= 1)
        return { sold: "without", span: spanOfItem(field, next) };
      if (
        named &&
        before !== undefined &&
        isPhrase(before, "without") &&
        !isPhrase(before, "not") &&
        gapBefore(field, item) === " "
      )
        return { sold: "without", span: spanOfItem(field, before) };
    }
  }
  return null;
}
