/**
 * Reads whatever a machine printed about itself: raw tables, decoded tables, display blocks, battery reports,
 * power-supply listings. The kind is told from the content, never from a file name. No input throws; what
 * cannot be read is said in a sentence, and damaged data yields no fact.
 */
import { readJson } from "../formats/common.ts";
import type { DateInterval } from "../text/dates.ts";
import { decodeText, looksLikeText, MAX_DUMP } from "./bytes.ts";
import { type Connection, connectionIn, displayFacts } from "./displays.ts";
import { isDisplayHeader, readDisplays } from "./edid.ts";
import { type DumpKind, type Readout, type ReadoutFact, type Sentence, sentence } from "./facts.ts";
import { findBase64, findByteRuns } from "./hex.ts";
import { columnHeads } from "./listing-labels.ts";
import { isDecoderOutline, recordsOfOutline } from "./listings.ts";
import { looksLikeHtml, looksLikeXml, outlineOfHtml, outlineOfJson, outlineOfXml } from "./markup.ts";
import { outlineOfText, plainLines, type Section } from "./outline.ts";
import { factsOf, type MachineRecord } from "./records.ts";
import { sbsDate } from "./sbs-date.ts";
import { readSmbios } from "./smbios.ts";
import { tableOfUndecoded } from "./undecoded.ts";

/** What the caller knows. */
export interface DumpOptions {
  /** Day number of today: later dates are dropped. */
  readonly today?: number;
  /** Day number of the first day on which the model can have been built: dates that end before it are dropped. */
  readonly launched?: number;
}

/** Most displays and tables of one dump. */
const MAX_BLOCKS = 64;
/** How far above a block its connector may be named, in lines. */
const CONTEXT_LINES = 30;

/** Reads a dump: a file's bytes or pasted text. */
export function readDump(input: Uint8Array | string, options: DumpOptions = {}): Readout {
  if (input.length > MAX_DUMP) return { kinds: [], facts: [], messages: [sentence("readout_too_large")] };
  const found = new Findings();
  if (typeof input !== "string" && !looksLikeText(input)) readBinary(input, "unknown", found);
  else if (typeof input === "string") readText(input, false, found);
  else readText(decodeText(input).text, true, found);
  return found.readout(options);
}

/** Collects what the readers find. */
class Findings {
  readonly kinds: DumpKind[] = [];
  readonly records: MachineRecord[] = [];
  readonly facts: ReadoutFact[] = [];
  readonly messages: Sentence[] = [];
  blocks = 0;

  kind(kind: DumpKind): void {
    if (!this.kinds.includes(kind)) this.kinds.push(kind);
  }

  readout(options: DumpOptions): Readout {
    const ofRecords = factsOf(this.records);
    const facts: ReadoutFact[] = [];
    const messages = [...this.messages, ...ofRecords.messages];
    const seen = new Set<string>();
    for (const fact of [...ofRecords.facts, ...this.facts]) {
      const dated = withPlausibleDates(fact, options);
      if (dated.dropped) messages.push(sentence("readout_date_dropped"));
      const key = JSON.stringify(dated.fact);
      if (dated.fact === null || seen.has(key)) continue;
      seen.add(key);
      facts.push(dated.fact);
    }
    if (this.kinds.length === 0 && messages.length === 0) messages.push(sentence("readout_nothing"));
    else if (facts.length === 0 && messages.length === 0) messages.push(sentence("readout_no_facts"));
    const distinct = new Map(messages.map((message) => [JSON.stringify(message), message]));
    return { kinds: this.kinds, facts, messages: [...distinct.values()] };
  }
}

/** Dates before 1990, in the future, or before the model existed are nobody's build dates. */
function withPlausibleDates(
  fact: ReadoutFact,
  { today, launched }: DumpOptions,
): { fact: ReadoutFact | null; dropped: boolean } {
  const cannotBe = ({ from, to }: DateInterval): boolean =>
    (from !== null && (from < EARLIEST || (today !== undefined && from > today))) ||
    (to !== null && launched !== undefined && to < launched);
  if (fact.field === "buildDate" && cannotBe(fact.interval)) return { fact: null, dropped: true };
  if (fact.field === "fitted" && fact.made !== null && cannotBe(fact.made)) {
    return { fact: { ...fact, made: null }, dropped: true };
  }
  return { fact, dropped: false };
}

/** 1990-01-01: the first year that a display block can state. */
const EARLIEST = 7_305;

function readBinary(bytes: Uint8Array, connection: Connection, found: Findings): boolean {
  if (found.blocks >= MAX_BLOCKS) return false;
  const { displays, messages } = readDisplays(bytes);
  found.messages.push(...messages);
  if (displays.length > 0 || messages.length > 0) found.kind("edid");
  for (const display of displays) {
    found.blocks++;
    found.facts.push(...displayFacts(display, connection).facts);
  }
  if (displays.length > 0) return true;
  const smbios = readSmbios(bytes);
  if (smbios === null) return messages.length > 0;
  found.blocks++;
  found.kind("smbios-binary");
  found.records.push(...smbios.records);
  found.messages.push(...smbios.messages);
  return true;
}

function readText(text: string, isFile: boolean, found: Findings): void {
  const word = text.trim();
  if (/^(?:0x[0-9A-Fa-f]{1,4}|\d{1,5})$/.test(word)) {
    readDateWord(word, found);
    return;
  }
  const lines = plainLines(text);
  const undecoded = tableOfUndecoded(lines);
  if (undecoded !== null) {
    readBinary(undecoded, "unknown", found);
    return;
  }
  readBlocks(text, lines, found);
  const { outline, isReport } = outlineOf(text, lines);
  // A text that does not end with a line end may have been cut off there; one pasted line is taken as it is.
  const mayBeCut = !isReport && lines.at(-1)?.trim() !== "" && (isFile || lines.length > 1);
  const cutLine = mayBeCut ? lines.length : 0;
  const records = recordsOfOutline(outline, isReport ? "report" : "text", cutLine);
  if (records.length === 0) return;
  if (isDecoderOutline(outline)) found.kind("smbios-text");
  else if (records.some(({ kind }) => kind === "battery")) found.kind(isReport ? "battery-report" : "power-supply");
  if (records.some(({ source }) => source === "system listing")) found.kind("system-listing");
  found.records.push(...records);
}

function outlineOf(text: string, lines: readonly string[]): { outline: Section; isReport: boolean } {
  if (looksLikeHtml(text)) return { outline: outlineOfHtml(text), isReport: true };
  if (looksLikeXml(text)) return { outline: outlineOfXml(text), isReport: true };
  const start = text.trimStart().charAt(0);
  if (start === "{" || start === "[") {
    const json = readJson(text);
    if (json.ok) return { outline: outlineOfJson(json.value), isReport: true };
  }
  return { outline: outlineOfText(lines, columnHeads), isReport: false };
}

/** Blocks written as hex or base64; the lines above tell the connector. */
function readBlocks(text: string, lines: readonly string[], found: Findings): void {
  const runs = [...findByteRuns(lines.join("\n")), ...findBase64(text)];
  for (const run of runs) {
    if (found.blocks >= MAX_BLOCKS) return;
    const above = lines.slice(Math.max(0, run.line - 1 - CONTEXT_LINES), run.line).join("\n");
    const start = above.slice(-4_000);
    if (run.bytes.length < 128 && !isDisplayHeader(run.bytes, 0)) continue;
    readBinary(run.bytes, connectionIn(start), found);
  }
}

/** A single number can be the packed manufacture date of a smart battery. */
function readDateWord(word: string, found: Findings): void {
  found.kind("manufacture-date");
  const value = word.startsWith("0x") ? Number.parseInt(word.slice(2), 16) : Number(word);
  const made = sbsDate(value);
  if (made === null) found.messages.push(sentence("readout_date_word"));
  else {
    found.records.push({
      kind: "battery",
      source: "date code",
      name: null,
      volts: null,
      energy_Wh: null,
      capacity_Ah: null,
      made,
    });
  }
}
