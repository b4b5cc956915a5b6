/**
 * A verdict put into words for a person: what it is, which words of the listing it rests on, what a wrong part would
 * do, how the two connectors differ, and what to look for on the part. Plain data, so that the background can work
 * it out and any surface can show it.
 */
import type { CatalogIndex, KnownPart } from "../catalog/index.ts";
import type { ResolvedRevisions } from "../catalog/resolve.ts";
import type { Device } from "../formats/bench.ts";
import type { Listing } from "../formats/listing.ts";
import type { Hazard, Reason, SignalWord, Tier, Verdict, VerdictWord } from "../formats/verdict.ts";
import type { Words } from "../text/words.ts";
import { hazardText } from "../verdict/hazard-words.ts";
import { reasonText } from "../verdict/line.ts";
import type { PinSide } from "./connector-pair.ts";
import { markedPieces, type Piece } from "./highlight.ts";
import { deviceName, headlineOf, markWord } from "./naming.ts";

/** Hazards of one signal word in words. */
export interface SaidHazard {
  readonly signal: SignalWord | null;
  /** The signal word in the language; empty where there is none. */
  readonly signalText: string;
  readonly sentences: readonly string[];
  /** The general cautions that belong to them, each once. */
  readonly cautions: readonly string[];
}

/** Text of another field of the listing that a reason rests on. */
export interface Quote {
  readonly field: string;
  readonly pieces: readonly Piece[];
}

export { reasonText as reasonSentence } from "../verdict/line.ts";

/** A verdict put into words. */
export interface Explanation {
  readonly tier: Tier;
  readonly verdict: VerdictWord;
  /** The short word of the mark. */
  readonly word: string;
  /** One sentence that says what the verdict means for this device. */
  readonly headline: string;
  readonly device: string;
  readonly title: readonly Piece[];
  readonly quotes: readonly Quote[];
  readonly reasons: readonly string[];
  readonly hazards: readonly SaidHazard[];
  readonly pins: { readonly offered: PinSide; readonly yours: PinSide } | null;
  /** What to look for or ask before buying. */
  readonly checks: readonly string[];
}

/** What an explanation needs to know besides the listing. */
export interface Knowledge {
  readonly device: Device;
  readonly index: CatalogIndex;
  readonly resolved: ResolvedRevisions;
  readonly words: Words;
}

/** Quotes, checks and reasons that are shown; a listing that needs more says nothing clearer with them. */
const MOST_QUOTES = 3;
const MOST_CHECKS = 4;
const MOST_REASONS = 8;
const MOST_HAZARDS = 4;
/** How many of a part's numbers are named in a sentence. */
const MOST_NUMBERS = 3;

/** Puts a verdict into words. */
export function explain(listing: Listing, verdict: Verdict, known: Knowledge): Explanation {
  const { device, words } = known;
  const spans = verdict.reasons.flatMap((reason) => reason.spans);
  const own = partsOfDevice(known, verdict.partType);
  return {
    tier: verdict.tier,
    verdict: verdict.verdict,
    word: markWord(verdict.verdict, words),
    headline: headlineOf(verdict.verdict, deviceName(device, words), words),
    device: deviceName(device, words),
    title: markedPieces(listing.title, spans, "title"),
    quotes: quotesOf(listing, verdict.reasons, words),
    reasons: verdict.reasons.slice(0, MOST_REASONS).map((reason) => reasonText(reason, words)),
    hazards: saidHazards(verdict.hazards.slice(0, MOST_HAZARDS), words),
    pins: pinsOf(verdict, own, known.index),
    checks: checksOf(verdict, own, known),
  };
}

/** One entry a signal word, in the order of the hazards (worst first). */
export function saidHazards(hazards: readonly Hazard[], words: Words): SaidHazard[] {
  const signals = [...new Set(hazards.map(({ signal }) => signal))];
  return signals.map((signal) => {
    const own = hazards.filter((hazard) => hazard.signal === signal);
    const cautions = new Set(own.flatMap(({ caution }) => (caution === null ? [] : [caution])));
    return {
      signal,
      signalText: signal === null ? "" : words.say(signalKeys[signal]),
      sentences: own.map((hazard) => hazardText(hazard, words)),
      cautions: [...cautions].map((caution) => words.say(`caution_${caution.replaceAll("-", "_")}`)),
    };
  });
}

const signalKeys: Readonly<Record<SignalWord, string>> = {
  WARNING: "ui_signal_warning",
  CAUTION: "ui_signal_caution",
  NOTICE: "ui_signal_notice",
};

function quotesOf(listing: Listing, reasons: readonly Reason[], words: Words): Quote[] {
  const spans = reasons.flatMap((reason) => reason.spans);
  const fields = [...new Set(spans.map(([, , field]) => field))].filter((field) => field !== "title");
  return fields.slice(0, MOST_QUOTES).flatMap((field) => {
    const text = fieldText(listing, field);
    const name = field === "description" ? words.say("ui_field_description") : field.replace(/^specifics\./, "");
    return text === undefined ? [] : [{ field: name, pieces: markedPieces(text, spans, field) }];
  });
}

function fieldText(listing: Listing, field: string): string | undefined {
  if (field === "description") return listing.description;
  if (field === "condition") return listing.condition;
  return field.startsWith("specifics.") ? listing.specifics?.[field.slice("specifics.".length)] : undefined;
}

/** The parts of one type that the device's possible revisions take. */
function partsOfDevice({ index, resolved }: Knowledge, partType: string | null): KnownPart[] {
  const ids = new Set(resolved.revisions.flatMap((revision) => revision.parts));
  return [...ids].flatMap((id) => {
    const part = index.part(id);
    return part && part.type === partType ? [part] : [];
  });
}

/** The two connectors, when the offered part is another one and the pins of both are known for sure. */
function pinsOf(verdict: Verdict, own: readonly KnownPart[], index: CatalogIndex): Explanation["pins"] {
  const yours = own.flatMap(pinSide);
  const ownIds = new Set(own.map((part) => part.id));
  const [first] = yours;
  const known = first !== undefined && yours.every((side) => side.pins.join() === first.pins.join());
  if (!known || verdict.tier !== "stop") return null;
  for (const id of verdict.parts) {
    const part = index.part(id);
    if (part === undefined || ownIds.has(id)) continue;
    const [offered] = pinSide(part);
    if (offered && offered.pins.join() !== first.pins.join()) return { offered, yours: first };
  }
  return null;
}

function pinSide(part: KnownPart): PinSide[] {
  const pins = part.readings.find((reading) => reading.part.connector?.pins)?.part.connector?.pins;
  return pins ? [{ name: part.numbers[0] ?? part.name ?? part.id, pins }] : [];
}

/** What to look for: the number on the part, then how the revisions are told apart where that is still open. */
function checksOf(verdict: Verdict, own: readonly KnownPart[], { device, resolved, words }: Knowledge): string[] {
  const fitted = device.fitted.filter((part) => part.type === verdict.partType).flatMap((part) => part.numbers);
  const numbers = [...new Set([...own.flatMap((part) => part.numbers), ...fitted])].slice(0, MOST_NUMBERS);
  const checks: string[] = [];
  const differ = resolved.revisions.length > 1 && own.length > 1;
  if (differ) checks.push(words.say("ui_check_revision_first"));
  else if (verdict.tier === "check" && numbers.length > 0) checks.push(words.say("ui_check_ask_number", { numbers }));
  else if (numbers.length > 0) checks.push(words.say("ui_check_number", { numbers }));
  if (!resolved.pinned) {
    for (const [tellBy, revisions] of byTell(resolved))
      checks.push(words.say("ui_check_tell_by", { revisions, tellBy }));
  }
  return checks.slice(0, MOST_CHECKS);
}

/** Names of the possible revisions, grouped by what tells them: often one look tells several. */
function byTell({ revisions }: ResolvedRevisions): Map<string, string[]> {
  const groups = new Map<string, string[]>();
  for (const { id, name, tellBy } of revisions) {
    if (tellBy) groups.set(tellBy, [...(groups.get(tellBy) ?? []), name ?? id]);
  }
  return groups;
}
