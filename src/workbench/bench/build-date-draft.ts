/** From a date as a person types it to the build date of a device, every legal reading on the table. */
import { dateWords } from "../../catalog/resolve.ts";
import type { Device, DeviceFact } from "../../formats/bench.ts";
import { dateText } from "../../formats/catalog.ts";
import { intervalText } from "../../readout/apply.ts";
import { type BuildDateOptions, type DateReading, readBuildDate, readPurchaseDate } from "../../readout/build-date.ts";
import type { Sentence } from "../../readout/facts.ts";
import { readSerial } from "../../readout/serial-mask.ts";
import { intervalOfDateText } from "../../text/dates.ts";

/** What the typed date is the date of. */
export const dateOrigins = ["made", "bought", "serial"] as const;
/** What the typed date is: of making, of buying, or a serial number that holds one. */
export type DateOrigin = (typeof dateOrigins)[number];

/** A build date as far as it is typed. */
export interface DateDraft {
  readonly origin: DateOrigin;
  readonly text: string;
  /** Where in a serial number the date stands. */
  readonly mask: string;
  /** Place of the reading that the person chose among several. */
  readonly chosen: number | null;
}

/** The date of a saved device, to be changed. */
export function dateDraftOf(device: Pick<Device, "buildDate">): DateDraft {
  const text = device.buildDate === undefined ? "" : dateWords(device.buildDate);
  return { origin: "made", text, mask: "", chosen: null };
}

/** What a draft amounts to. */
export type DateOutcome =
  /** Nothing is typed. */
  | { readonly kind: "none" }
  /** One reading, or the one that was chosen. */
  | {
      readonly kind: "date";
      readonly buildDate: NonNullable<Device["buildDate"]>;
      readonly reading: DateReading | null;
    }
  /** Several readings, and none is chosen yet. */
  | { readonly kind: "ask"; readonly readings: readonly DateReading[] }
  | { readonly kind: "unreadable"; readonly because: Sentence | null };

/** Reads a draft. */
export function readDateDraft(draft: DateDraft, options: BuildDateOptions): DateOutcome {
  const text = draft.text.trim();
  if (text === "") return { kind: "none" };
  const span = draft.origin === "made" ? spanOf(text) : null;
  if (span !== null) return { kind: "date", buildDate: span, reading: null };
  const read = readingsOf(draft, text, options);
  if (!Array.isArray(read)) return { kind: "unreadable", because: read };
  const reading = read.length === 1 ? read[0] : read[draft.chosen ?? -1];
  if (reading) return { kind: "date", buildDate: buildDateOf(text, reading), reading };
  return read.length === 0 ? { kind: "unreadable", because: null } : { kind: "ask", readings: read };
}

/** All readings of a draft, to be shown as a choice; empty where there is nothing to choose. */
export function readingsToChoose(draft: DateDraft, options: BuildDateOptions): readonly DateReading[] {
  const outcome = readDateDraft({ ...draft, chosen: null }, options);
  return outcome.kind === "ask" ? outcome.readings : [];
}

/** The fact that is kept with a date that was read out of a code, a purchase or a serial number. */
export function dateFact(
  { reading, buildDate }: { reading: DateReading | null; buildDate: NonNullable<Device["buildDate"]> },
  note: (sentence: Sentence) => string,
): DeviceFact | null {
  if (reading === null || reading.confidence === "certain") return null;
  return {
    field: "buildDate",
    value: dateWords(buildDate),
    source: reading.kind === "purchase" ? "purchase date" : "date code",
    // The person chose it among several: the code alone would not have told.
    confidence: "likely",
    note: note(reading.says),
  };
}

function readingsOf(draft: DateDraft, text: string, options: BuildDateOptions): DateReading[] | Sentence {
  if (draft.origin === "bought") return readPurchaseDate(text, options);
  if (draft.origin === "made") return readBuildDate(text, options);
  const outcome = readSerial(text, draft.mask.trim(), options);
  return outcome.ok ? [...outcome.readings] : outcome.fault;
}

/** A date that is written in full stays as it is written; everything else becomes days. */
function buildDateOf(text: string, { kind, interval }: DateReading): NonNullable<Device["buildDate"]> {
  const written = kind === "iso-week" || kind === "month" || kind === "day" || kind === "year";
  return written && isDateText(text) ? text : intervalText(interval);
}

/** `2021-02 – 2021-07`, `… – 2021-07`: two dates as the formats write them; an end may be open. */
function spanOf(text: string): { from?: string; to?: string } | null {
  const ends = text.split(/ [–—-] |\.{2,3}(?=\d)/);
  if (ends.length !== 2) return null;
  const [from, to] = ends.map((end) => end.replaceAll("…", "").trim());
  if (from === undefined || to === undefined || (from === "" && to === "")) return null;
  if ((from !== "" && !isDateText(from)) || (to !== "" && !isDateText(to))) return null;
  return { ...(from === "" ? {} : { from }), ...(to === "" ? {} : { to }) };
}

function isDateText(text: string): boolean {
  return dateText.safeParse(text).success && intervalOfDateText(text) !== null;
}
