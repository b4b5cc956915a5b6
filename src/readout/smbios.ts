/**
 * Raw SMBIOS tables (DMTF DSP0134): entry point, structures, and the five structure types that say what a
 * repair needs: 0 firmware, 1 system, 2 board, 17 memory device, 22 portable battery.
 *
 * A table may come bare, behind a 32- or 64-bit entry point (as dump tools write them), or behind the
 * eight-byte head that one operating system puts before it. Structures that do not hold together end the
 * reading: what follows a damaged one is not trusted.
 */
import { type DateInterval, dayNumber, daysInMonth } from "../text/dates.ts";
import { byteAt, checksum, dwordAt, holdsText, wordAt } from "./bytes.ts";
import { type Sentence, sentence } from "./facts.ts";
import type { MachineRecord, MemoryRecord } from "./records.ts";
import { sbsDate } from "./sbs-date.ts";

/** Most structures of one table. */
const MAX_STRUCTURES = 4_096;
const END_OF_TABLE = 127;

/** One structure: its formatted bytes and its strings. */
export interface Structure {
  readonly type: number;
  readonly handle: number;
  /** The formatted area, header included. */
  readonly data: Uint8Array;
  readonly strings: readonly string[];
}

/** What {@link readSmbios} found. */
export interface SmbiosRead {
  readonly records: readonly MachineRecord[];
  readonly messages: readonly Sentence[];
}

/** Where a table lies among the bytes. */
interface TablePlace {
  readonly start: number;
  readonly end: number;
  /** Structures that the entry point announces, 0 where it does not say. */
  readonly count: number;
}

/** Reads a table wherever it starts among the bytes; `null` where there is none. */
export function readSmbios(bytes: Uint8Array): SmbiosRead | null {
  const place = findTable(bytes);
  if (place === "entry-point-only") return { records: [], messages: [sentence("readout_smbios_entry_only")] };
  if (place === null) return null;
  const { structures, whole } = structuresOf(bytes.subarray(place.start, place.end));
  const messages: Sentence[] = [];
  if (!whole) messages.push(sentence("readout_smbios_cut", { structures: structures.length }));
  else if (place.count > 0 && place.count !== structures.length) {
    messages.push(sentence("readout_smbios_count", { found: structures.length, told: place.count }));
  }
  return { records: structures.flatMap((structure) => recordsOf(structure)), messages };
}

/** Walks the structures of a bare table; `whole` is false where it breaks off before its end structure. */
function structuresOf(table: Uint8Array): { structures: Structure[]; whole: boolean } {
  const structures: Structure[] = [];
  for (let at = 0; at + 4 <= table.length && structures.length < MAX_STRUCTURES; ) {
    const type = byteAt(table, at);
    const length = byteAt(table, at + 1);
    if (length < 4 || at + length > table.length) return { structures, whole: false };
    const strings = stringsAt(table, at + length);
    if (strings === null) return { structures, whole: false };
    const data = table.subarray(at, at + length);
    structures.push({ type, handle: wordAt(data, 2), data, strings: strings.texts });
    if (type === END_OF_TABLE) return { structures, whole: true };
    at = strings.end;
  }
  return { structures, whole: false };
}

/** The strings behind a formatted area: each ended by a zero, the set by one more. */
function stringsAt(table: Uint8Array, from: number): { texts: string[]; end: number } | null {
  const texts: string[] = [];
  if (from + 2 > table.length) return null;
  if (byteAt(table, from) === 0 && byteAt(table, from + 1) === 0) return { texts, end: from + 2 };
  for (let at = from; at < table.length; ) {
    const end = table.indexOf(0, at);
    if (end < 0) return null;
    if (end === at) return { texts, end: at + 1 };
    texts.push(stringOf(table.subarray(at, end)));
    at = end + 1;
  }
  return null;
}

/** Firmware strings are 7-bit text or UTF-8; anything else is shown as a dot and never taken for a number. */
function stringOf(bytes: Uint8Array): string {
  let text = "";
  for (const byte of bytes.subarray(0, 512))
    text += byte >= 0x20 && byte < 0x7f ? String.fromCharCode(byte) : "\u{fffd}";
  return text.trim();
}

// Where the table is

function findTable(bytes: Uint8Array): TablePlace | "entry-point-only" | null {
  for (let at = 0; at + 24 <= bytes.length && at < 1 << 20; at += 16) {
    const found = entryPointAt(bytes, at);
    if (found !== null) return found;
  }
  const headed = headedTable(bytes);
  if (headed !== null) return headed;
  return isTableAt(bytes, 0) ? { start: 0, end: bytes.length, count: 0 } : null;
}

function entryPointAt(bytes: Uint8Array, at: number): TablePlace | "entry-point-only" | null {
  if (holdsText(bytes, at, "_SM3_")) {
    const length = byteAt(bytes, at + 6);
    if (length < 0x18 || at + length > bytes.length || checksum(bytes, at, length) !== 0) return null;
    return placeTable(bytes, at, length, dwordAt(bytes, at + 0x10), dwordAt(bytes, at + 0x0c), 0);
  }
  if (holdsText(bytes, at, "_SM_")) {
    const length = byteAt(bytes, at + 5);
    if (length < 0x1e || length > 0x20 || at + 0x1f > bytes.length) return null;
    if (checksum(bytes, at, Math.min(length, bytes.length - at)) !== 0 || !holdsText(bytes, at + 0x10, "_DMI_"))
      return null;
    const [address, size, count] = [dwordAt(bytes, at + 0x18), wordAt(bytes, at + 0x16), wordAt(bytes, at + 0x1c)];
    return placeTable(bytes, at, Math.max(length, 0x1f), address, size, count);
  }
  return null;
}

/** The address where it lies inside the bytes and holds a table, else right behind the entry point, else 32 bytes on. */
function placeTable(
  bytes: Uint8Array,
  at: number,
  length: number,
  address: number,
  size: number,
  count: number,
): TablePlace | "entry-point-only" {
  for (const start of [address, at + length, at + 32]) {
    if (start > 0 && isTableAt(bytes, start)) {
      return { start, end: size > 0 ? Math.min(bytes.length, start + size) : bytes.length, count };
    }
  }
  return "entry-point-only";
}

/** The eight-byte head of one operating system: calling method, version, revision, length of the table. */
function headedTable(bytes: Uint8Array): TablePlace | null {
  const [major, length] = [byteAt(bytes, 1), dwordAt(bytes, 4)];
  const plausible = byteAt(bytes, 0) <= 1 && major >= 2 && major <= 3 && length >= 32 && length <= 1 << 20;
  if (!plausible || !isTableAt(bytes, 8)) return null;
  return { start: 8, end: Math.min(bytes.length, 8 + length), count: 0 };
}

/** Three structures in a row (or two and the end) that hold together, of types that the standard knows. */
function isTableAt(bytes: Uint8Array, start: number): boolean {
  if (start + 8 > bytes.length) return false;
  const { structures } = structuresOf(bytes.subarray(start, Math.min(bytes.length, start + 4_096)));
  const first = structures[0];
  if (first === undefined || !isKnownType(first.type)) return false;
  const few = structures.slice(0, 3);
  const ends = few.some(({ type }) => type === END_OF_TABLE);
  return few.every(({ type }) => isKnownType(type)) && (few.length === 3 || ends);
}

function isKnownType(type: number): boolean {
  return type <= 46 || type >= 126;
}

// What the structures say

function recordsOf(structure: Structure): MachineRecord[] {
  switch (structure.type) {
    case 0:
      return [{ kind: "firmware", source: "SMBIOS type 0", released: slashedDate(textAt(structure, 0x08)) }];
    case 1:
      return [
        {
          kind: "system",
          source: "SMBIOS type 1",
          product: textAt(structure, 0x05),
          version: textAt(structure, 0x06),
          stockNumber: textAt(structure, 0x19),
        },
      ];
    case 2:
      return isMainBoard(structure)
        ? [
            {
              kind: "board",
              source: "SMBIOS type 2",
              product: textAt(structure, 0x05),
              version: textAt(structure, 0x06),
            },
          ]
        : [];
    case 17:
      return memoryOf(structure);
    case 22:
      return [batteryOf(structure)];
    default:
      return [];
  }
}

/** Board type 0Ah is the motherboard; machines that do not say have one board. Others are riser and daughter boards. */
function isMainBoard({ data }: Structure): boolean {
  const type = data.length > 0x0d ? byteAt(data, 0x0d) : 0;
  return type === 0 || type === 1 || type === 2 || type === 0x0a || type === 0x0b || type === 0x0c;
}

/** The string that a byte of the formatted area numbers; `null` for none, a missing one, or one with strange bytes. */
function textAt({ data, strings }: Structure, at: number): string | null {
  if (at >= data.length) return null;
  const number = byteAt(data, at);
  const text = number === 0 ? undefined : strings[number - 1];
  return text === undefined || text === "" || text.includes("\u{fffd}") ? null : text;
}

/** Structure type 22: design capacity in mWh times a multiplier, design voltage in mV, date as text or packed. */
function batteryOf(structure: Structure): MachineRecord {
  const { data } = structure;
  const capacity = data.length >= 0x0c ? wordAt(data, 0x0a) : 0;
  const voltage = data.length >= 0x0e ? wordAt(data, 0x0c) : 0;
  const multiplier = data.length > 0x15 ? byteAt(data, 0x15) || 1 : 1;
  const packed = data.length >= 0x14 ? sbsDate(wordAt(data, 0x12)) : null;
  return {
    kind: "battery",
    source: "SMBIOS type 22",
    name: textAt(structure, 0x08),
    volts: isUnset(voltage) ? null : voltage / 1000,
    energy_Wh: isUnset(capacity) ? null : (capacity * multiplier) / 1000,
    capacity_Ah: null,
    made: byteAt(data, 0x06) === 0 ? packed : (freeDate(textAt(structure, 0x06)) ?? packed),
  };
}

function isUnset(word: number): boolean {
  return word === 0 || word === 0xffff;
}

/** Structure type 17. Nothing where the slot is empty. */
function memoryOf(structure: Structure): MachineRecord[] {
  const { data } = structure;
  const size = memorySize(data);
  if (size === null) return [];
  const speed = data.length >= 0x17 ? wordAt(data, 0x15) : 0;
  const volts = data.length >= 0x28 ? wordAt(data, 0x26) : 0;
  const form = byteAt(data, 0x0e);
  const type = memoryTypes.get(byteAt(data, 0x12)) ?? null;
  const record: MemoryRecord = {
    kind: "memory",
    source: "SMBIOS type 17",
    partNumber: textAt(structure, 0x1a),
    type,
    speed_MTs: isUnset(speed) ? null : speed,
    volts: isUnset(volts) ? null : volts / 1000,
    size_GB: size,
    form: form === 0x0d ? "SODIMM" : form === 0x09 ? "DIMM" : null,
    soldered: isSoldered(form, type),
  };
  return [record];
}

/** Form factor 0Bh is a row of chips; low-power types are soldered unless a module's form says otherwise. */
function isSoldered(form: number, type: string | null): boolean {
  if (form === 0x0b) return true;
  return (type?.startsWith("LP") ?? false) && form !== 0x09 && form !== 0x0d;
}

/** Offset 0Ch in MB, or KB with bit 15; 7FFFh points to the double word at 1Ch. `null`: empty slot or unknown. */
function memorySize(data: Uint8Array): number | null {
  if (data.length < 0x15) return null;
  const word = wordAt(data, 0x0c);
  if (isUnset(word)) return null;
  if (word === 0x7fff) return data.length >= 0x20 ? (dwordAt(data, 0x1c) & 0x7fffffff) / 1024 : null;
  return word & 0x8000 ? (word & 0x7fff) / (1024 * 1024) : word / 1024;
}

/** Memory device types that are sold as modules or soldered in machines (DSP0134, table "Memory Device: Type"). */
export const memoryTypes: ReadonlyMap<number, string> = new Map([
  [0x12, "DDR"],
  [0x13, "DDR2"],
  [0x18, "DDR3"],
  [0x1a, "DDR4"],
  [0x1b, "LPDDR"],
  [0x1c, "LPDDR2"],
  [0x1d, "LPDDR3"],
  [0x1e, "LPDDR4"],
  [0x22, "DDR5"],
  [0x23, "LPDDR5"],
]);

/** A battery's date in free text: where day and month could be either, the days from one reading to the other. */
export function freeDate(text: string | null): DateInterval | null {
  const monthFirst = slashedDate(text);
  const parts = text === null ? null : /^(\d{1,2})[/.-](\d{1,2})[/.-](\d{4})$/.exec(text.trim());
  if (!parts) return monthFirst;
  const dayFirst = oneDay(Number(parts[3]), Number(parts[2]), Number(parts[1]));
  const days = [monthFirst, dayFirst].flatMap((each) => (each === null || each.from === null ? [] : [each.from]));
  return days.length === 0 ? null : { from: Math.min(...days), to: Math.max(...days) };
}

/** `mm/dd/yyyy` or `mm/dd/yy` (then 19yy), the form that the standard gives to dates; also `yyyy-mm-dd`. */
export function slashedDate(text: string | null): DateInterval | null {
  const parts = text === null ? null : /^(\d{1,2})[/.-](\d{1,2})[/.-](\d{4}|\d{2})$/.exec(text.trim());
  const iso = text === null ? null : /^(\d{4})[/.-](\d{1,2})[/.-](\d{1,2})$/.exec(text.trim());
  if (iso) return oneDay(Number(iso[1]), Number(iso[2]), Number(iso[3]));
  if (!parts) return null;
  const year = Number(parts[3]);
  return oneDay(year < 100 ? 1900 + year : year, Number(parts[1]), Number(parts[2]));
}

function oneDay(year: number, month: number, day: number): DateInterval | null {
  if (year < 1980 || month < 1 || month > 12 || day < 1 || day > daysInMonth(year, month)) return null;
  const at = dayNumber(year, month, day);
  return { from: at, to: at };
}
