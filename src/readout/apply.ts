/**
 * Fills a saved device with the facts of a readout and keeps where each came from.
 *
 * What a person entered is never overwritten; a fact that disagrees is kept beside it, so that the resolver
 * and the person can see both. Rough facts fill nothing: they are kept as facts only.
 */
import type { Device, DeviceFact, FittedPart } from "../formats/bench.ts";
import type { Quantities } from "../formats/catalog.ts";
import { calendarDate, type DateInterval, isoWeekday, isoWeekOf } from "../text/dates.ts";
import { canonicalNumber } from "../text/part-number.ts";
import type { Words } from "../text/words.ts";
import { FITTED_BY_READOUT, type FittedFact, type ReadoutFact } from "./facts.ts";

const MAX_FACTS = 500;
const MAX_MODELS = 50;
const MAX_FITTED = 200;
const MAX_NUMBERS = 200;

/**
 * @param words puts the notes of facts into the user's language; without it the facts carry no notes
 * @returns a new device; the given one is left alone
 */
export function applyFacts(device: Device, facts: readonly ReadoutFact[], words?: Words): Device {
  let filled = device;
  for (const fact of facts) {
    if (fact.confidence !== "rough") filled = fill(filled, fact);
    filled = remember(filled, fact, words);
  }
  return filled;
}

/** A fact in one line of the bench file. */
export function asDeviceFact(fact: ReadoutFact, words?: Words): DeviceFact {
  const note =
    fact.note === undefined || words === undefined ? {} : { note: words.say(fact.note.key, fact.note.values) };
  return {
    field: fact.field === "fitted" ? `fitted.${fact.type}` : fact.field,
    value: valueText(fact),
    source: fact.source,
    confidence: fact.confidence,
    ...note,
  };
}

/** An interval as the formats write it: one day, one ISO week, or from and to; open ends left out. */
export function intervalText({ from, to }: DateInterval): NonNullable<Device["buildDate"]> {
  if (from !== null && from === to) return dayText(from);
  if (from !== null && to === from + 6 && isoWeekday(from) === 1) {
    const { year, week } = isoWeekOf(from);
    return `${padded(year, 4)}-W${padded(week, 2)}`;
  }
  return { ...(from === null ? {} : { from: dayText(from) }), ...(to === null ? {} : { to: dayText(to) }) };
}

/** `2021-05-17`. */
function dayText(day: number): string {
  const { year, month, day: ofMonth } = calendarDate(day);
  return `${padded(year, 4)}-${padded(month, 2)}-${padded(ofMonth, 2)}`;
}

function padded(value: number, width: number): string {
  return String(value).padStart(width, "0");
}

function valueText(fact: ReadoutFact): string {
  switch (fact.field) {
    case "buildDate": {
      const text = intervalText(fact.interval);
      return typeof text === "string" ? text : `${text.from ?? "…"} – ${text.to ?? "…"}`;
    }
    case "fitted": {
      const quantities = Object.entries(fact.quantities).map(([name, value]) => `${name} ${value}`);
      return [...fact.numbers, ...quantities].join(", ").slice(0, 2_000);
    }
    default:
      return fact.value;
  }
}

function fill(device: Device, fact: ReadoutFact): Device {
  switch (fact.field) {
    case "boardNumber":
      return device.boardNumber === undefined ? { ...device, boardNumber: fact.value } : device;
    case "boardVersion":
      return device;
    case "modelNumber":
      return withModel(device, fact.value);
    case "buildDate":
      return device.buildDate === undefined ? { ...device, buildDate: intervalText(fact.interval) } : device;
    case "fitted":
      return fact.replaceable ? { ...device, fitted: withFitted(device.fitted, fact) } : device;
  }
}

function withModel(device: Device, number: string): Device {
  const key = canonicalNumber(number);
  const known = device.modelNumbers.some((each) => canonicalNumber(each) === key);
  if (known || device.modelNumbers.length >= MAX_MODELS) return device;
  return { ...device, modelNumbers: [...device.modelNumbers, number] };
}

/** Joins what is the same part; what was only assumed of this type gives way to what was read. */
function withFitted(fitted: readonly FittedPart[], fact: FittedFact): FittedPart[] {
  const keys = new Set(fact.numbers.map(canonicalNumber));
  const same = fitted.findIndex(
    ({ type, numbers }) => type === fact.type && numbers.some((number) => keys.has(canonicalNumber(number))),
  );
  if (same >= 0) return fitted.map((part, i) => (i === same ? joined(part, fact) : part));
  const kept = fitted.filter(({ type, source }) => type !== fact.type || source !== "assumed");
  if (kept.length >= MAX_FITTED) return [...fitted];
  const added: FittedPart = {
    type: fact.type,
    numbers: fact.numbers.slice(0, MAX_NUMBERS),
    source: FITTED_BY_READOUT,
    ...(Object.keys(fact.quantities).length === 0 ? {} : { quantities: fact.quantities }),
  };
  return kept.some((part) => JSON.stringify(part) === JSON.stringify(added)) ? kept : [...kept, added];
}

/** What stands on the label stays; the readout adds numbers and quantities that are missing. */
function joined(part: FittedPart, fact: FittedFact): FittedPart {
  const known = new Set(part.numbers.map(canonicalNumber));
  const numbers = [...part.numbers, ...fact.numbers.filter((number) => !known.has(canonicalNumber(number)))];
  const quantities: Quantities = { ...fact.quantities, ...part.quantities };
  return {
    ...part,
    numbers: numbers.slice(0, MAX_NUMBERS),
    source: part.source === "assumed" ? FITTED_BY_READOUT : part.source,
    ...(Object.keys(quantities).length === 0 ? {} : { quantities }),
  };
}

/** Keeps the fact, each once; the oldest give way when there are too many. */
function remember(device: Device, fact: ReadoutFact, words: Words | undefined): Device {
  const entry = asDeviceFact(fact, words);
  const known = device.facts ?? [];
  const isKnown = known.some(
    ({ field, value, source }) => field === entry.field && value === entry.value && source === entry.source,
  );
  return isKnown ? device : { ...device, facts: [...known, entry].slice(-MAX_FACTS) };
}
