/**
 * What a machine says about itself, whatever the dump looked like, and the facts that follow from it.
 *
 * Readers of single formats fill these records; here placeholders are dropped, values are checked for
 * plausibility, and each becomes a fact with its source and confidence.
 */
import type { Quantities } from "../formats/catalog.ts";
import { isWellFormed } from "../formats/common.ts";
import type { DateInterval } from "../text/dates.ts";
import { canonicalNumber } from "../text/part-number.ts";
import { isPlaceholder, looksLikePrintedNumber } from "../text/placeholders.ts";
import type { Confidence, ReadoutFact, Sentence, Source } from "./facts.ts";
import { sentence } from "./facts.ts";

/** The machine as a whole. */
export interface SystemRecord {
  readonly kind: "system";
  readonly source: Source;
  readonly product: string | null;
  readonly version: string | null;
  readonly stockNumber: string | null;
}

/** A main board. */
export interface BoardRecord {
  readonly kind: "board";
  readonly source: Source;
  readonly product: string | null;
  readonly version: string | null;
  /** True where only the labels of a list without a heading say that it is a board's. */
  readonly guessed?: boolean;
}

/** The firmware's release date. */
export interface FirmwareRecord {
  readonly kind: "firmware";
  readonly source: Source;
  readonly released: DateInterval | null;
}

/** A battery; volts, watt-hours and ampere-hours by design. */
export interface BatteryRecord {
  readonly kind: "battery";
  readonly source: Source;
  readonly name: string | null;
  readonly volts: number | null;
  readonly energy_Wh: number | null;
  readonly capacity_Ah: number | null;
  readonly made: DateInterval | null;
}

/** A memory module, or memory soldered to the board. */
export interface MemoryRecord {
  readonly kind: "memory";
  readonly source: Source;
  readonly partNumber: string | null;
  readonly type: string | null;
  readonly speed_MTs: number | null;
  readonly volts: number | null;
  readonly size_GB: number | null;
  /** `DIMM` or `SODIMM`; `null` for anything else. */
  readonly form: "DIMM" | "SODIMM" | null;
  readonly soldered: boolean;
}

/** One record. `cut` marks what stood in the last, possibly unfinished line of the dump. */
export type MachineRecord = (SystemRecord | BoardRecord | FirmwareRecord | BatteryRecord | MemoryRecord) & {
  readonly cut?: boolean;
};

/** Facts and what had to be left out. */
export interface FactsFound {
  readonly facts: readonly ReadoutFact[];
  readonly messages: readonly Sentence[];
}

/** How long after its first battery or panel a device is built, at most, in days: rough, common practice, no source. */
const BATTERY_LEAD = 270;
/** Some machines state the name of the measuring chip in the pack where its number belongs. */
const GAUGE_CHIP = /^bq\d{2}[a-z0-9]{0,8}$/i;
/** Longest number that the formats take. */
const MAX_NUMBER = 80;

/** Most records of one dump; a machine has a board, a few batteries and at most some dozens of memory modules. */
const MAX_RECORDS = 500;

/** The facts of all records, each once. */
export function factsOf(records: readonly MachineRecord[]): FactsFound {
  const facts = new Map<string, ReadoutFact>();
  const messages = new Map<string, Sentence>();
  const kept = records.slice(0, MAX_RECORDS);
  for (const record of kept) {
    const found = factsOfRecord(record, kept);
    for (const fact of record.cut ? found.facts.map(asCut) : found.facts) {
      const key = JSON.stringify({ ...fact, source: "" });
      if (!facts.has(key)) facts.set(key, fact);
    }
    for (const message of found.messages) messages.set(JSON.stringify(message), message);
  }
  return { facts: [...facts.values()], messages: [...messages.values()] };
}

/** A value that says something, trimmed and fit for the formats; `null` for placeholders and oversized values. */
function telling(value: string | null): string | null {
  const text = value?.trim() ?? "";
  if (text === "" || text.length > MAX_NUMBER || !isWellFormed(text) || isPlaceholder(text)) return null;
  return canonicalNumber(text) === "" ? null : text;
}

function factsOfRecord(record: MachineRecord, all: readonly MachineRecord[]): FactsFound {
  switch (record.kind) {
    case "system":
      return systemFacts(record);
    case "board":
      return boardFacts(record, all);
    case "firmware":
      return firmwareFacts(record);
    case "battery":
      return batteryFacts(record);
    case "memory":
      return memoryFacts(record);
  }
}

function systemFacts({ source, product, version, stockNumber }: SystemRecord): FactsFound {
  const facts: ReadoutFact[] = [];
  const messages: Sentence[] = [];
  const model = telling(product);
  if (model !== null) facts.push({ field: "modelNumber", value: model, source, confidence: "certain" });
  else if (product !== null) messages.push(dropped(product));
  // Some makers keep the name that people know in the version, or the number of one configuration beside it.
  for (const [value, key] of [
    [version, "readout_note_version"],
    [stockNumber, "readout_note_configuration"],
  ] as const) {
    const number = telling(value);
    if (number !== null && number !== model && looksLikeModel(number)) {
      facts.push({ field: "modelNumber", value: number, source, confidence: "rough", note: sentence(key) });
    }
  }
  return { facts, messages };
}

function looksLikeModel(value: string): boolean {
  return canonicalNumber(value).length >= 4 && /[\p{L}]/u.test(value);
}

function boardFacts({ source, product, version, guessed }: BoardRecord, all: readonly MachineRecord[]): FactsFound {
  const number = telling(product);
  if (number === null) return { facts: [], messages: product === null ? [] : [dropped(product)] };
  // A board that only repeats the model's name tells the model, not the board.
  const repeats = all.some(
    (other) => other.kind === "system" && canonicalNumber(other.product ?? "") === canonicalNumber(number),
  );
  const facts: ReadoutFact[] = [
    repeats
      ? {
          field: "boardNumber",
          value: number,
          source,
          confidence: "rough",
          note: sentence("readout_note_board_repeats"),
        }
      : { field: "boardNumber", value: number, source, confidence: guessed ? "likely" : "certain" },
  ];
  const boardVersion = telling(version);
  if (boardVersion !== null) facts.push({ field: "boardVersion", value: boardVersion, source, confidence: "certain" });
  return { facts, messages: [] };
}

/** A firmware may be renewed at any time, so its date bounds nothing for certain. */
function firmwareFacts({ source, released }: FirmwareRecord): FactsFound {
  if (released === null) return { facts: [], messages: [] };
  return {
    facts: [
      {
        field: "buildDate",
        interval: { from: released.from, to: null },
        source,
        confidence: "rough",
        note: sentence("readout_note_firmware"),
      },
    ],
    messages: [sentence("readout_firmware_date")],
  };
}

function batteryFacts(record: BatteryRecord): FactsFound {
  const { source, made } = record;
  const messages: Sentence[] = [];
  const name = telling(record.name);
  const isGauge = name !== null && GAUGE_CHIP.test(name);
  const isNumber = name !== null && !isGauge && looksLikePrintedNumber(name);
  if (record.name !== null && record.name.trim() !== "" && !isNumber) messages.push(dropped(record.name));
  const quantities: Quantities = {
    ...bounded("nominalVoltage_V", record.volts, 1, 120, messages),
    ...bounded("energy_Wh", record.energy_Wh, 0.5, 5_000, messages),
    ...bounded("capacity_Ah", record.capacity_Ah, 0.05, 500, messages),
  };
  const facts: ReadoutFact[] = [];
  if (isNumber || Object.keys(quantities).length > 0) {
    facts.push({
      field: "fitted",
      type: "battery",
      numbers: isNumber ? [name] : [],
      quantities,
      made,
      replaceable: true,
      source,
      confidence: isNumber ? "certain" : "likely",
    });
  }
  if (made !== null && made.from !== null && made.to !== null) {
    facts.push({
      field: "buildDate",
      interval: { from: made.from, to: made.to + BATTERY_LEAD },
      source,
      confidence: "rough",
      note: sentence("readout_note_first_battery"),
    });
  }
  return { facts, messages };
}

function memoryFacts(record: MemoryRecord): FactsFound {
  const { source, type, form, soldered } = record;
  const number = telling(record.partNumber);
  const messages: Sentence[] = [];
  const quantities: Quantities = {
    ...bounded("capacity_GB", record.size_GB, 1 / 64, 4_096, messages),
    ...bounded("transferRate_MTs", record.speed_MTs, 66, 20_000, messages),
    ...bounded("supplyVoltage_V", record.volts, 0.5, 5, messages),
    ...(type === null ? {} : { generation: type }),
    ...(form === null ? {} : { formFactor: form }),
  };
  if (record.size_GB === null && number === null) return { facts: [], messages };
  const confidence: Confidence = number === null ? "likely" : "certain";
  const note = soldered ? { note: sentence("readout_note_soldered") } : {};
  return {
    facts: [
      {
        field: "fitted",
        type: "memory-module",
        numbers: number === null ? [] : [number],
        quantities,
        made: null,
        replaceable: !soldered,
        source,
        confidence,
        ...note,
      },
    ],
    messages,
  };
}

/** A quantity inside its plausible range; outside it a sentence says so. Zero and absent values mean "not told". */
function bounded(
  name: string,
  value: number | null,
  low: number,
  high: number,
  messages: Sentence[],
): Record<string, number> {
  if (value === null || value === 0) return {};
  if (!(value >= low && value <= high)) {
    messages.push(sentence("readout_implausible", { name, value: Number.isFinite(value) ? value : 0 }));
    return {};
  }
  return { [name]: Math.round(value * 10_000) / 10_000 };
}

function dropped(value: string): Sentence {
  return sentence("readout_placeholder", { value: value.trim().slice(0, 60) });
}

/** A fact from the last line of a dump that may have been cut off there. */
function asCut(fact: ReadoutFact): ReadoutFact {
  return { ...fact, confidence: "rough", note: sentence("readout_note_last_line") };
}
