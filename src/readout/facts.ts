/** What a readout yields: facts about the device in hand, each with its source and how far to trust it. */
import type { DeviceFact, FittedPart } from "../formats/bench.ts";
import type { Quantities } from "../formats/catalog.ts";
import type { SentenceValue } from "../formats/verdict.ts";
import type { DateInterval } from "../text/dates.ts";

/** A sentence before it is put into words: the key names the message, the values fill it. */
export interface Sentence {
  readonly key: string;
  readonly values: Readonly<Record<string, SentenceValue>>;
}

/** How far a fact may be trusted; `rough` facts are shown but never fill a field of the device. */
export type Confidence = DeviceFact["confidence"];

/** Where a fact was read; each has a name in words, see {@link sourceSentence}. */
export type Source =
  | "SMBIOS type 0"
  | "SMBIOS type 1"
  | "SMBIOS type 2"
  | "SMBIOS type 17"
  | "SMBIOS type 22"
  | "EDID"
  | "battery report"
  | "power-supply listing"
  | "system listing"
  | "date code"
  | "purchase date";

/** What every fact carries besides its value. */
interface Origin {
  readonly source: Source;
  readonly confidence: Confidence;
  /** Why it is less than certain, or what it does not mean. */
  readonly note?: Sentence;
}

/** A number or name read off the machine. */
export interface NumberFact extends Origin {
  readonly field: "modelNumber" | "boardNumber" | "boardVersion";
  readonly value: string;
}

/** When the device was built, as far as the dump can tell. */
export interface BuildDateFact extends Origin {
  readonly field: "buildDate";
  readonly interval: DateInterval;
}

/** A part that is in the device now: not necessarily the one it was built with. */
export interface FittedFact extends Origin {
  readonly field: "fitted";
  readonly type: string;
  readonly numbers: readonly string[];
  readonly quantities: Quantities;
  /** When the part itself was made, where it says so. */
  readonly made: DateInterval | null;
  /** False for a display on a cable and for memory soldered to the board: nothing that one buys as a part of this device. */
  readonly replaceable: boolean;
}

/** One fact of a readout. */
export type ReadoutFact = NumberFact | BuildDateFact | FittedFact;

/** What kind of dump was recognised. */
export type DumpKind =
  | "smbios-binary"
  | "smbios-text"
  | "edid"
  | "battery-report"
  | "power-supply"
  | "system-listing"
  | "manufacture-date";

/** The outcome of reading a dump. */
export interface Readout {
  /** Every kind that was found in the input, most telling first; empty when nothing was recognised. */
  readonly kinds: readonly DumpKind[];
  readonly facts: readonly ReadoutFact[];
  /** What could not be read or was left out, one sentence each. */
  readonly messages: readonly Sentence[];
}

/** A sentence without values. */
export function sentence(key: string, values: Readonly<Record<string, SentenceValue>> = {}): Sentence {
  return { key, values };
}

const sourceKeys: Readonly<Partial<Record<Source, string>>> = {
  EDID: "readout_source_edid",
  "battery report": "readout_source_battery_report",
  "power-supply listing": "readout_source_power_supply_listing",
  "system listing": "readout_source_system_listing",
  "date code": "readout_source_date_code",
  "purchase date": "readout_source_purchase_date",
};

/** The message that names a source in the user's language. */
export function sourceSentence(source: Source): Sentence {
  const type = /^SMBIOS type (\d+)$/.exec(source);
  if (type) return sentence("readout_source_smbios", { type: type[1] ?? "" });
  return sentence(sourceKeys[source] ?? "readout_source_system_listing");
}

/** The `source` word of a fitted part in a bench file. */
export const FITTED_BY_READOUT: FittedPart["source"] = "readout";
