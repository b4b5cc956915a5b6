/**
 * From an outline to records: which section describes a board, a battery, a memory module, and what its
 * labels say in which unit.
 */
import { type DateInterval, dayNumber, daysInMonth } from "../text/dates.ts";
import type { Source } from "./facts.ts";
import {
  bareBoard,
  batteryMarks,
  explicit,
  foreignPower,
  headings,
  type LabelTable,
  labels,
  machineWords,
} from "./listing-labels.ts";
import { allSections, type Entry, foldKey, type Section } from "./outline.ts";
import type { BatteryRecord, MachineRecord, MemoryRecord } from "./records.ts";
import { sbsDate } from "./sbs-date.ts";
import { freeDate, memoryTypes, slashedDate } from "./smbios.ts";

/** What kind of text the outline came from; it names the source of the facts. */
export type ListingStyle = "text" | "report";

/** What a section describes. */
type Subject = keyof typeof headings;

const STRUCTURES: ReadonlyMap<number, Subject> = new Map([
  [0, "firmware"],
  [1, "system"],
  [2, "board"],
  [17, "memory"],
  [22, "battery"],
]);
const SMBIOS_SOURCE: Readonly<Record<Subject, Source>> = {
  firmware: "SMBIOS type 0",
  system: "SMBIOS type 1",
  board: "SMBIOS type 2",
  memory: "SMBIOS type 17",
  battery: "SMBIOS type 22",
};
/** Headings that only decoders of SMBIOS tables print. */
const DECODER_HEADINGS: ReadonlySet<string> = new Set([
  "baseboardinformation",
  "biosinformation",
  "memorydevice",
  "portablebattery",
]);

/** Records of everything that an outline describes; `cutLine` is the last line where the dump may have been cut off, else 0. */
export function recordsOfOutline(root: Section, style: ListingStyle, cutLine: number): MachineRecord[] {
  const records: MachineRecord[] = [];
  const batteries = new Set<Section>();
  const isDecoded = [...allSections(root)].some(
    (section) => section.structure !== null || DECODER_HEADINGS.has(section.key),
  );
  for (const section of allSections(root)) {
    const subject = subjectOf(section);
    const look = new Look(section, cutLine);
    records.push(...explicitRecords(look));
    if (subject === null) continue;
    if (subject === "battery") {
      if (isInside(section, batteries)) continue;
      batteries.add(section);
    }
    const record = recordOf(subject, look, sourceOf(subject, style, isDecoded));
    if (record !== null) records.push(look.cut ? { ...record, cut: true } : record);
  }
  return records;
}

/** True where any section of the outline came from a decoder of SMBIOS tables. */
export function isDecoderOutline(root: Section): boolean {
  for (const section of allSections(root)) {
    if (section.structure !== null || DECODER_HEADINGS.has(section.key)) return true;
  }
  return false;
}

function isInside(section: Section, batteries: ReadonlySet<Section>): boolean {
  for (let above = section.parent; above; above = above.parent) if (batteries.has(above)) return true;
  return false;
}

function sourceOf(subject: Subject, style: ListingStyle, isDecoded: boolean): Source {
  if (isDecoded) return SMBIOS_SOURCE[subject];
  if (subject === "battery") return style === "report" ? "battery report" : "power-supply listing";
  return "system listing";
}

function subjectOf(section: Section): Subject | null {
  if (section.structure !== null) return STRUCTURES.get(section.structure) ?? null;
  const keys = new Set(section.entries.map(({ key }) => key));
  if (isForeign(section)) return null;
  if (batteryMarks.some((mark) => keys.has(mark))) return "battery";
  const heading = withoutNumber(section.key);
  for (const subject of Object.keys(headings) as Subject[]) {
    if (headings[subject].includes(heading) && section.entries.length > 0) return subject;
  }
  if (section.entries.some(({ key, value }) => key === "description" && machineWords.has(foldKey(value))))
    return "system";
  if (/^bank\d*$/.test(section.key) || (keys.has("partnumber") && keys.has("formfactor"))) return "memory";
  return section.heading === "" && keys.has("product") && isBoardList(section, keys) ? "board" : null;
}

/** A heading without the number that counts it: `battery1` is a battery. */
function withoutNumber(key: string): string {
  let end = key.length;
  while (end > 0 && key.charCodeAt(end - 1) >= 0x30 && key.charCodeAt(end - 1) <= 0x39) end--;
  return key.slice(0, end);
}

/** A list without a heading that is a board's: it says "base board" somewhere, or holds a board's labels only. */
function isBoardList(section: Section, keys: ReadonlySet<string>): boolean {
  return (
    keys.has("hostingboard") ||
    section.entries.some(({ value }) => foldKey(value) === "baseboard") ||
    [...keys].every((key) => bareBoard.has(key))
  );
}

/** A battery of a mouse or a phone, a mains adapter: nothing of this machine. */
function isForeign(section: Section): boolean {
  const value = (key: string): string =>
    foldKey([...section.entries, ...(section.parent?.entries ?? [])].find((entry) => entry.key === key)?.value ?? "");
  if (foreignPower.has(section.key)) return true;
  const type = value("powersupplytype");
  return (type !== "" && type !== "battery") || value("powersupplyscope") === "device" || value("powersupply") === "no";
}

/**
 * Finds values by label in a section, what lies under it and, for one style, what it lies under.
 *
 * A value in a last line that may have been cut off is taken as a name only, and marks the record; a measure or
 * a date cut off would be a wrong one.
 */
class Look {
  readonly section: Section;
  readonly #cutLine: number;
  /** True once a name was taken from the last line. */
  cut = false;

  constructor(section: Section, cutLine: number) {
    this.section = section;
    this.#cutLine = cutLine;
  }

  /** The first whole value among the labels, in the order of the labels; `null` for none or an empty one. */
  value(names: readonly string[], from: readonly Entry[] = this.section.entries): string | null {
    return this.#find(names, from, false);
  }

  /** A name or number, taken from an unfinished line too. */
  name(names: readonly string[]): string | null {
    return this.#find(names, this.section.entries, true);
  }

  deep(names: readonly string[]): string | null {
    return this.#deep(names, false);
  }

  deepName(names: readonly string[]): string | null {
    return this.#deep(names, true);
  }

  has(key: string): boolean {
    return this.section.entries.some((entry) => entry.key === key);
  }

  #deep(names: readonly string[], isName: boolean): string | null {
    for (const section of allSections(this.section)) {
      const found = this.#find(names, section.entries, isName);
      if (found !== null) return found;
    }
    const above = this.section.parent;
    return above?.entries.some(({ key }) => key === "nativepath") ? this.#find(names, above.entries, isName) : null;
  }

  #find(names: readonly string[], from: readonly Entry[], isName: boolean): string | null {
    for (const name of names) {
      const entry = from.find(({ key, value }) => key === name && value !== "");
      if (!entry) continue;
      const isCut = this.#cutLine > 0 && entry.line === this.#cutLine;
      if (isCut && !isName) continue;
      if (isCut) this.cut = true;
      return entry.value;
    }
    return null;
  }
}

function explicitRecords(look: Look): MachineRecord[] {
  const source: Source = "system listing";
  const records: MachineRecord[] = [];
  const add = (record: MachineRecord): void => {
    records.push(look.cut ? { ...record, cut: true } : record);
    look.cut = false;
  };
  const product = look.name(explicit.systemProduct);
  const stockNumber = look.value(explicit.systemStock);
  if (product !== null || stockNumber !== null) add({ kind: "system", source, product, version: null, stockNumber });
  const board = look.name(explicit.boardProduct);
  if (board !== null) {
    add({ kind: "board", source, product: board, version: look.value(explicit.boardVersion) });
  }
  const dated = look.value(explicit.firmwareDate);
  if (dated !== null) add({ kind: "firmware", source, released: freeDate(lastWord(dated)) });
  for (const record of oneLiners(look)) add(record);
  return records;
}

function lastWord(text: string): string {
  return text.slice(text.lastIndexOf(" ") + 1);
}

/** Tools that print a whole part in one line: `Mobo: maker model: X v: 1`, `Battery 0: design capacity 4000 mAh, …`. */
function oneLiners(look: Look): MachineRecord[] {
  const board = look.value(["mobo"]);
  const model = board === null ? null : between(board, "model: ", [" v: ", " serial: ", " part-nu: "]);
  const batteries = look.section.entries.filter(({ key, value }) => /^battery\d?$/.test(key) && value.includes(DESIGN));
  const records: MachineRecord[] = [];
  if (model !== null) {
    records.push({ kind: "board", source: "system listing", product: model, version: null });
  }
  for (const { value } of batteries.slice(0, 8)) {
    const capacity = measure(between(value, DESIGN, [","]), "");
    records.push({
      kind: "battery",
      source: "power-supply listing",
      name: null,
      volts: null,
      energy_Wh: capacity?.dimension === "Wh" ? capacity.value : null,
      capacity_Ah: capacity?.dimension === "Ah" ? capacity.value : null,
      made: null,
    });
  }
  return records;
}

const DESIGN = "design capacity ";

/** What stands between a mark and the first of some others (or the end); `null` without the mark. */
function between(text: string, start: string, ends: readonly string[]): string | null {
  const at = text.indexOf(start);
  if (at < 0) return null;
  const rest = text.slice(at + start.length);
  const stops = ends.map((end) => rest.indexOf(end)).filter((stop) => stop >= 0);
  return rest.slice(0, Math.min(rest.length, ...stops)).trim();
}

function recordOf(subject: Subject, look: Look, source: Source): MachineRecord | null {
  const field = (table: LabelTable, name: string): string | null =>
    name === "product" ? look.name(table[name] ?? []) : look.value(table[name] ?? []);
  switch (subject) {
    case "system": {
      const table = labels.system;
      const product = field(table, "product");
      const stockNumber = field(table, "stockNumber");
      if (product === null && stockNumber === null) return null;
      return { kind: "system", source, product, version: field(table, "version"), stockNumber };
    }
    case "board": {
      const product = field(labels.board, "product");
      if (product === null) return null;
      const guessed = look.section.heading === "" && look.section.structure === null;
      return { kind: "board", source, product, version: field(labels.board, "version"), guessed };
    }
    case "firmware": {
      const released = slashedDate(field(labels.firmware, "released"));
      return released === null ? null : { kind: "firmware", source, released };
    }
    case "battery":
      return batteryOf(look, source);
    case "memory":
      return memoryOf(look, source);
  }
}

// Batteries

function batteryOf(look: Look, source: Source): BatteryRecord | null {
  const table = labels.battery;
  const capacity = capacityOf(look);
  const volts = measure(
    look.deep(table.voltage),
    look.deep(["powersupplyvoltagemindesign"]) !== null || isPath(look) ? "uV" : "mV",
  );
  const name = look.deepName(table.name);
  const record: BatteryRecord = {
    kind: "battery",
    source,
    name: name === "" ? null : name,
    volts: volts?.dimension === "V" ? volts.value : null,
    energy_Wh: capacity?.dimension === "Wh" ? capacity.value : null,
    capacity_Ah: capacity?.dimension === "Ah" ? capacity.value : null,
    made: madeOf(look),
  };
  const says = record.name !== null || record.volts !== null || capacity !== null || record.made !== null;
  return says ? record : null;
}

/** Design energy or charge; a bare number has the unit that its label always has, or none is taken. */
function capacityOf(look: Look): Measure | null {
  const bare: readonly (readonly [readonly string[], string])[] = [
    [["powersupplyenergyfulldesign"], "uWh"],
    [["powersupplychargefulldesign"], "uAh"],
    [["energyfulldesign"], "uWh"],
    [["chargefulldesign"], "uAh"],
    [["designedcapacity"], "mWh"],
    [["designcapacity"], look.has("fullchargecapacity") ? "mWh" : ""],
    [labels.battery.capacity, ""],
  ];
  for (const [names, unit] of bare) {
    const found = measure(look.deep(names), unit);
    if (found !== null && found.dimension !== "V" && found.value > 0) return found;
  }
  return null;
}

function isPath(look: Look): boolean {
  return look.section.heading.startsWith("/");
}

/** A date in text, a packed word, or year, month and day apart. */
function madeOf(look: Look): DateInterval | null {
  const text = look.deep(labels.battery.made);
  const dated = dateOfText(text);
  if (dated !== null) return dated;
  const [year, month, day] = [labels.battery.year, labels.battery.month, labels.battery.day].map((names) =>
    Number(look.deep(names) ?? Number.NaN),
  );
  if (year === undefined || !(year > 1990 && year < 2100)) return null;
  const known = month !== undefined && month >= 1 && month <= 12 ? month : null;
  if (known === null) return { from: dayNumber(year, 1, 1), to: dayNumber(year, 12, 31) };
  const last = daysInMonth(year, known);
  const exact = day !== undefined && day >= 1 && day <= last ? day : null;
  return { from: dayNumber(year, known, exact ?? 1), to: dayNumber(year, known, exact ?? last) };
}

/** `2018-07-23`, `07/23/2018`, `20180723000000.000000+000`, or a packed word of smart batteries. */
function dateOfText(text: string | null): DateInterval | null {
  if (text === null) return null;
  const stamp = /^(\d{4})(\d{2})(\d{2})(?:\d{6}\.|$)/.exec(text);
  if (stamp) return slashedDate(`${stamp[1]}-${stamp[2]}-${stamp[3]}`);
  if (/^\d{1,5}$/.test(text)) return sbsDate(Number(text));
  if (/^0x[0-9A-Fa-f]{1,4}$/.test(text)) return sbsDate(Number.parseInt(text.slice(2), 16));
  return freeDate(text.split(/[ T]/, 1)[0] ?? "");
}

// Memory

function memoryOf(look: Look, source: Source): MemoryRecord | null {
  const table = labels.memory;
  const description = look.value(["description"]) ?? "";
  const size = sizeOf(look.value(table.size));
  const partNumber = look.name(table.partNumber);
  if (size === null) return null;
  const type = memoryTypeOf(look.value(table.type) ?? description) ?? memoryTypeOf(description);
  const form = foldKey(look.value(table.form) ?? description);
  const speed = measure(look.value(table.speed), "MT/s");
  const volts = measure(look.value(table.volts), "mV");
  return {
    kind: "memory",
    source,
    partNumber,
    type,
    speed_MTs: speed?.dimension === "MT/s" ? speed.value : null,
    volts: volts?.dimension === "V" ? volts.value : null,
    size_GB: size,
    form: moduleForm(form),
    soldered: form.includes("rowofchips") || ((type?.startsWith("LP") ?? false) && !form.includes("dimm")),
  };
}

/** The form factor in words, or as the number that one query tool prints. */
function moduleForm(form: string): MemoryRecord["form"] {
  if (form.includes("sodimm") || form === "12") return "SODIMM";
  return form.includes("dimm") || form === "8" ? "DIMM" : null;
}

function memoryTypeOf(text: string): string | null {
  const named = /\b((?:LP)?DDR[2-5]?)\b/.exec(text.toUpperCase())?.[1];
  if (named !== undefined) return named;
  return /^\d{1,3}$/.test(text) ? (memoryTypes.get(Number(text)) ?? null) : null;
}

/** Gigabytes from `8 GB`, `8192 MB`, `8GiB` or a bare count of bytes; `null` for an empty slot. */
function sizeOf(text: string | null): number | null {
  const parts = text === null ? null : /^(\d{1,15})\s*([KMGT]i?B)?$/i.exec(text.trim());
  if (!parts) return null;
  const value = Number(parts[1]);
  const unit = parts[2]?.charAt(0).toUpperCase();
  if (unit === undefined) return value >= 1 << 26 ? value / 2 ** 30 : null;
  const scale = { K: 2 ** -20, M: 2 ** -10, G: 1, T: 1024 }[unit] ?? 0;
  return value * scale > 0 ? value * scale : null;
}

// Measures

interface Measure {
  readonly value: number;
  readonly dimension: "V" | "Wh" | "Ah" | "MT/s";
}

const UNITS: ReadonlyMap<string, readonly [Measure["dimension"], number]> = new Map([
  ["v", ["V", 1]],
  ["mv", ["V", 1e-3]],
  ["uv", ["V", 1e-6]],
  ["µv", ["V", 1e-6]],
  ["wh", ["Wh", 1]],
  ["mwh", ["Wh", 1e-3]],
  ["uwh", ["Wh", 1e-6]],
  ["µwh", ["Wh", 1e-6]],
  ["ah", ["Ah", 1]],
  ["mah", ["Ah", 1e-3]],
  ["uah", ["Ah", 1e-6]],
  ["µah", ["Ah", 1e-6]],
  ["mt/s", ["MT/s", 1]],
  ["mhz", ["MT/s", 1]],
] as const);

/**
 * A number with its unit: `56010 mWh`, `56,010 mWh`, `56.01 Wh`, `11550 [mV]`.
 *
 * @param bareUnit the unit of a number without one; `""` takes none
 */
function measure(text: string | null, bareUnit: string): Measure | null {
  const parts =
    text === null ? null : /^(\d[\d.,'\u00a0\u2009\u202f ]{0,20})\s*\[?([A-Za-zµμ/]{0,5})\]?/u.exec(text.trim());
  if (!parts) return null;
  const unit = (parts[2] === undefined || parts[2] === "" ? bareUnit : parts[2]).toLowerCase().replace("μ", "µ");
  const known = UNITS.get(unit);
  const value = numberOf(parts[1] ?? "", unit.startsWith("m") || unit.startsWith("u") || unit.startsWith("µ"));
  if (known === undefined || value === null) return null;
  return { value: value * known[1], dimension: known[0] };
}

/** Digits with separators: groups of three in small units are thousands, anything else a decimal part. */
function numberOf(text: string, small: boolean): number | null {
  const plain = text.replace(/[\u00a0\u2009\u202f ']/g, "").replace(/[.,]$/, "");
  if (/^\d+$/.test(plain)) return Number(plain);
  if (small && /^\d{1,3}(?:[.,]\d{3})+$/.test(plain)) return Number(plain.replace(/[.,]/g, ""));
  return /^\d+[.,]\d+$/.test(plain) ? Number(plain.replace(",", ".")) : null;
}
