/** A device as it is being typed: texts only, and the way back to a device with every fault named at its field. */
import { BENCH_FORMAT, checkBench, type Device, type FittedPart } from "../../formats/bench.ts";
import type { BuildDateOptions } from "../../readout/build-date.ts";
import type { Sentence } from "../../readout/facts.ts";
import { canonicalNumber } from "../../text/part-number.ts";
import { type DateDraft, dateDraftOf, dateFact, readDateDraft } from "./build-date-draft.ts";

/** A fitted part as it is being typed. */
export interface FittedDraft {
  /** Only for the page: stays with the part while others come and go. */
  readonly key: string;
  readonly type: string;
  readonly numbers: string;
  readonly source: FittedPart["source"];
  /** Values by quantity name. */
  readonly quantities: Readonly<Record<string, string>>;
  readonly note: string;
}

/** A device as it is being typed. */
export interface DeviceDraft {
  readonly name: string;
  readonly job: string;
  readonly models: string;
  readonly board: string;
  readonly built: DateDraft;
  readonly family: string;
  readonly revision: string;
  readonly fitted: readonly FittedDraft[];
  readonly note: string;
  /** `null`: to be taken away; `undefined`: as it was. */
  readonly picture: string | null | undefined;
}

/** Which field has which fault, as the key of the sentence that says what to write instead. */
export type DraftFaults = ReadonlyMap<string, string>;

/** A saved device, to be changed; without one, an empty form. */
export function draftOf(device: Device | undefined): DeviceDraft {
  return {
    name: device?.name ?? "",
    job: device?.job ?? "",
    models: device?.modelNumbers.join(", ") ?? "",
    board: device?.boardNumber ?? "",
    built: dateDraftOf(device ?? {}),
    family: device?.family ?? "",
    revision: device?.revision ?? "",
    fitted: (device?.fitted ?? []).map(fittedDraft),
    note: device?.note ?? "",
    picture: undefined,
  };
}

function fittedDraft(part: FittedPart, place: number): FittedDraft {
  const quantities = Object.entries(part.quantities ?? {}).map(([name, value]) => [name, String(value)]);
  return {
    key: `saved ${place}`,
    type: part.type,
    numbers: part.numbers.join(", "),
    source: part.source,
    quantities: Object.fromEntries(quantities),
    note: part.note ?? "",
  };
}

/** A part to be filled in. */
export function emptyFitted(key: string, type: string): FittedDraft {
  return { key, type, numbers: "", source: "label", quantities: {}, note: "" };
}

/** What the way back needs. */
export interface DraftSetting extends BuildDateOptions {
  readonly id: string;
  /** The device as it was, with what no form shows. */
  readonly before: Device | undefined;
  readonly say: (sentence: Sentence) => string;
}

/** The device that a draft describes, or its faults. */
export function deviceFrom(
  draft: DeviceDraft,
  setting: DraftSetting,
): { ok: true; device: Device } | { ok: false; faults: DraftFaults } {
  const faults = new Map<string, string>();
  const models = splitNumbers(draft.models);
  if (models.length === 0 && draft.name.trim() === "") faults.set("models", "bench_fault_nameless");
  if (models.some(tooLong)) faults.set("models", "bench_fault_number_long");
  for (const { key, type, numbers } of draft.fitted) {
    if (type.trim() === "") faults.set(`fitted ${key}`, "bench_fault_part_type");
    if (splitNumbers(numbers).some(tooLong)) faults.set(`fitted ${key}`, "bench_fault_number_long");
  }
  const outcome = readDateDraft(draft.built, setting);
  const kept = keepsDate(draft, setting.before);
  if (!kept && outcome.kind === "unreadable") faults.set("built", "bench_fault_date");
  if (!kept && outcome.kind === "ask") faults.set("built", "bench_fault_date_choose");
  if (faults.size > 0) return { ok: false, faults };
  const dated = kept
    ? { buildDate: setting.before?.buildDate, fact: null }
    : outcome.kind === "date"
      ? { buildDate: outcome.buildDate, fact: dateFact(outcome, setting.say) }
      : { buildDate: undefined, fact: null };
  return checked(composed(draft, models, dated, setting));
}

/** A date that nobody touched stays exactly as it was stored. */
function keepsDate({ built }: DeviceDraft, before: Device | undefined): boolean {
  const was = dateDraftOf(before ?? {});
  return built.origin === "made" && built.text.trim() === was.text && was.text !== "";
}

function composed(
  draft: DeviceDraft,
  modelNumbers: string[],
  { buildDate, fact }: { buildDate: Device["buildDate"]; fact: NonNullable<Device["facts"]>[number] | null },
  { id, before }: DraftSetting,
): Device {
  const { name, job, board, family, revision, note, picture } = draft;
  const facts = [...(before?.facts ?? []), ...(fact === null ? [] : [fact])].slice(-500);
  return {
    id,
    ...filled("name", name),
    modelNumbers,
    ...filled("boardNumber", board),
    ...(buildDate === undefined ? {} : { buildDate }),
    ...filled("family", family),
    ...filled("revision", revision),
    fitted: draft.fitted.map(fittedFrom),
    accept: before?.accept ?? [],
    refuse: before?.refuse ?? [],
    ...(facts.length === 0 ? {} : { facts }),
    ...filled("job", job),
    ...filled("note", note),
    ...(before?.archived === true ? { archived: true } : {}),
    ...(typeof picture === "string" ? { picture } : {}),
  };
}

function filled<K extends string>(field: K, text: string): { [k in K]?: string } {
  const trimmed = text.trim();
  return (trimmed === "" ? {} : { [field]: trimmed }) as { [k in K]?: string };
}

function fittedFrom({ type, numbers, source, quantities, note }: FittedDraft): FittedPart {
  const stated = Object.entries(quantities).filter(([, text]) => text.trim() !== "");
  const read = Object.fromEntries(stated.map(([name, text]) => [name, quantityValue(text)]));
  return {
    type: type.trim(),
    numbers: splitNumbers(numbers),
    ...(stated.length === 0 ? {} : { quantities: read }),
    source,
    ...filled("note", note),
  };
}

/** A typed value: a number where it is one (with a point or a comma), yes or no, else a word. */
export function quantityValue(text: string): number | string | boolean {
  const plain = text.trim();
  if (plain === "true" || plain === "false") return plain === "true";
  return /^-?\d{1,12}(?:[.,]\d{1,9})?$/.test(plain) ? Number(plain.replace(",", ".")) : plain.slice(0, 120);
}

/** Numbers as people list them: separated by commas, semicolons or line breaks, each once. */
export function splitNumbers(text: string): string[] {
  const seen = new Set<string>();
  return text
    .split(/[,;\n]/)
    .map((number) => number.trim())
    .filter((number) => {
      const key = canonicalNumber(number);
      if (key === "" || seen.has(key)) return false;
      seen.add(key);
      return true;
    });
}

function tooLong(number: string): boolean {
  return number.length > 80;
}

/** The format's own check stands behind the form's: nothing is saved that could not be read again. */
function checked(device: Device): { ok: true; device: Device } | { ok: false; faults: DraftFaults } {
  const outcome = checkBench({ format: BENCH_FORMAT, devices: [device] });
  if (outcome.ok) return { ok: true, device };
  return { ok: false, faults: new Map(outcome.faults.map(({ field, message }) => [field, message])) };
}
