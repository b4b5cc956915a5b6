/**
 * Designations that standards give to cells, memory modules, cards and plugs, decoded into quantities.
 *
 * The tables are data (`rules/number-formats/`), each with its source. Decoders are strict: a text that does not follow
 * the grammar to the end is none. A designation is never a maker's part number.
 */
import type { NumberFormatOf, NumberFormatRule } from "../formats/number-format-rule.ts";
import type { StatedQuantity } from "./quantities.ts";
import { numberCandidates, type Token, tokenise } from "./tokens.ts";

/** A secondary lithium cell or battery by IEC 61960. */
export interface LithiumCell {
  readonly series: number;
  readonly parallel: number;
  /** True where the number of cells in series is written, so that it describes a battery and not one cell of it. */
  readonly battery: boolean;
  readonly shape: "round" | "prismatic";
  readonly positive: string;
  /** Millimetres; diameter and height of a round one, thickness, width and height of a prismatic one. */
  readonly size_mm: readonly number[];
  /** Nominal volts of all cells in series, where the chemistry settles them. */
  readonly nominalVoltage_V: number | null;
}

/** A primary cell, or a rechargeable one of the same size, by IEC 60086. */
export interface CoinOrRoundCell {
  readonly series: number;
  readonly system: string;
  readonly rechargeable: boolean;
  readonly nominalVoltage_V: number;
  /** Diameter and height in millimetres, where the number says them. */
  readonly size_mm: readonly [diameter: number, height: number] | null;
  /** What stands after the system letters: cells of one size share it ("R2032"). */
  readonly size: string;
}

/** A memory module's label. */
export interface ModuleLabel {
  readonly generation: string;
  /** Data rates in millions of transfers a second that the label can mean. */
  readonly transferRates_MTs: readonly number[];
  readonly supplyVoltage_V: number;
  /** From the letter after the number, of the second and third generation only. */
  readonly formFactor: "SODIMM" | "DIMM" | null;
  readonly positions: number | null;
}

/** An M.2 module's type name. */
export interface CardSize {
  readonly width_mm: number;
  readonly length_mm: number;
  /** `M`, `B+M`, … where the name says it. */
  readonly key: string | null;
}

/** A plug class of EIAJ RC-5320A. */
export type PlugClass = NumberFormatOf<"plug-class">["classes"][number];

/** The tables of {@link readDesignations}, picked out once. */
export interface DesignationRules {
  readonly lithium: NumberFormatOf<"cell-designation"> | null;
  readonly primary: NumberFormatOf<"primary-cell"> | null;
  readonly memory: NumberFormatOf<"memory-module"> | null;
  readonly card: NumberFormatOf<"card-size"> | null;
  readonly plug: NumberFormatOf<"plug-class"> | null;
}

/** A designation in a text and the quantities that it states. */
export interface Designation {
  /** Id of the rule that decodes it, such as `iec-61960`. */
  readonly standard: string;
  readonly text: string;
  /** Half-open range of the folded text. */
  readonly span: readonly [start: number, end: number];
  readonly quantities: readonly StatedQuantity[];
}

const LITHIUM = /^([1-9]\d?)?([A-Z])([A-Z])([A-Z])([\dT/]{4,14})(?:-(\d{1,2}))?$/;
const PRIMARY = /^([2-9])?(ML|LI|[LSPCBG])?R(\d{1,4})$/;
const LABEL = /^(?:PC([2-5])?(L)?([ -]?)(\d{3,5})([A-Z]?)|DDR([2-5])?(L)?[ -](\d{3,5}))$/;
const CARD = /^(\d{2})(\d{2,3})(?:-[SD]\d)?(?:-([A-Z])(?:-([A-Z]))?)?$/;
const PLUG = /^(?:EIAJ|JEITA)[ -]?0?([1-5])$/;
/** What a designation may begin with; everything else is not looked at twice. */
const BEGINNING = /^(?:\d{1,2}[IL]|[IL][A-Z]{2}|[2-9]?(?:ML|LI|[LSPCBG])?R\d|PC|DDR|EIAJ|JEITA|\d{4,5}$)/;
/** How many tokens before a card size "M.2" or "NGFF" may stand. */
const CARD_REACH = 4;

/** Picks the tables out of all rules. */
export function prepareDesignationRules(formats: readonly NumberFormatRule[]): DesignationRules {
  const of = <K extends NumberFormatRule["kind"]>(kind: K): NumberFormatOf<K> | null =>
    (formats.find((rule) => rule.kind === kind) as NumberFormatOf<K> | undefined) ?? null;
  return {
    lithium: of("cell-designation"),
    primary: of("primary-cell"),
    memory: of("memory-module"),
    card: of("card-size"),
    plug: of("plug-class"),
  };
}

/**
 * Decodes an IEC 61960 designation: `N1 A1 A2 A3 N2 [/N3] /N4 [-N5]`, or with the sizes run together.
 *
 * @returns `null` where the text does not follow the grammar
 */
export function decodeLithiumCell(text: string, rule: NumberFormatOf<"cell-designation">): LithiumCell | null {
  const match = LITHIUM.exec(text.trim().toUpperCase());
  const [, n1, a1 = "", a2 = "", a3 = "", sizes = "", n5] = match ?? [];
  const shape = own(rule.shapes, a3);
  const positive = own(rule.positive, a2);
  if (match === null || shape === undefined || positive === undefined || own(rule.negative, a1) === undefined)
    return null;
  const size = shape === "round" ? roundSize(sizes) : prismaticSize(sizes);
  const parallel = n5 === undefined ? 1 : Number(n5);
  // A single string is never written: "-1" is no designation.
  if (size === null || (n5 !== undefined && parallel < 2)) return null;
  const series = n1 === undefined ? 1 : Number(n1);
  const volts = positive.nominalVoltage_V;
  return {
    series,
    parallel,
    battery: n1 !== undefined,
    shape,
    positive: positive.name,
    size_mm: size,
    nominalVoltage_V: volts === undefined ? null : tidy(volts * series),
  };
}

/** "18/65" and "18650": diameter, height; run together the height is in tenths of a millimetre. */
function roundSize(sizes: string): number[] | null {
  const slashed = /^(\d{1,3})\/(\d{1,3})$/.exec(sizes);
  if (slashed !== null) return [Number(slashed[1]), Number(slashed[2])];
  return /^\d{5}$/.test(sizes) ? [Number(sizes.slice(0, 2)), Number(sizes.slice(2)) / 10] : null;
}

/** "08/34/150", "103450", "T73448": thickness, width, height; T means tenths of a millimetre. */
function prismaticSize(sizes: string): number[] | null {
  const match =
    /^(T\d|\d{1,3})\/(T\d|\d{1,3})\/(T\d|\d{1,3})$/.exec(sizes) ?? /^(T\d|\d{2})(\d{2})(\d{2})$/.exec(sizes);
  return match === null
    ? null
    : match.slice(1).map((each) => (each.startsWith("T") ? Number(each.slice(1)) / 10 : Number(each)));
}

/**
 * Decodes an IEC 60086 designation such as `CR2032`, `LR6`, `6LR61`, or a rechargeable one of its size (`ML2032`, `LIR2032`).
 *
 * @returns `null` where the text does not follow the grammar
 */
export function decodePrimaryCell(text: string, rule: NumberFormatOf<"primary-cell">): CoinOrRoundCell | null {
  const upper = text.trim().toUpperCase();
  // ML cells are written without the R of round ones.
  const match = PRIMARY.exec(/^ML\d/.test(upper) ? `MLR${upper.slice(2)}` : upper);
  const system = own(rule.systems, match?.[2] ?? "");
  if (match === null || system === undefined) return null;
  const series = match[1] === undefined ? 1 : Number(match[1]);
  const size = `R${match[3] ?? ""}`;
  return {
    series,
    system: system.name,
    rechargeable: system.rechargeable === true,
    nominalVoltage_V: tidy(system.nominalVoltage_V * series),
    size_mm: own(rule.sizes, size) ?? coinSize(match[3] ?? "", rule),
    size,
  };
}

function coinSize(digits: string, rule: NumberFormatOf<"primary-cell">): [number, number] | null {
  const diameter = digits.length < 3 ? undefined : own(rule.diameters, digits.slice(0, -2));
  return diameter === undefined ? null : [diameter, Number(digits.slice(-2)) / 10];
}

/**
 * Decodes a memory module's label: `PC3-12800`, `PC3L-12800S`, `PC4-2400`, `PC3200`, `DDR4-3200`.
 *
 * The number after `PC` is megabytes a second, eight for each transfer; with the later generations small numbers are
 * the data rate itself, so that `PC4-3200` and `PC4-25600` are the same speed.
 *
 * @returns `null` where no data rate of the generation fits
 */
export function decodeModuleLabel(text: string, rule: NumberFormatOf<"memory-module">): ModuleLabel | null {
  const match = LABEL.exec(text.trim().toUpperCase());
  if (match === null) return null;
  const [, pcPrefix, pcLow, gap, bandwidth, letter, ddrPrefix, ddrLow, rate] = match;
  // "PC3200" is the first generation; only "PC3-200…" names the third.
  if (bandwidth !== undefined && pcPrefix !== undefined && gap === "") return decodeFirst(bandwidth, pcPrefix, rule);
  const generation = rule.generations.find(({ prefix }) => prefix === (pcPrefix ?? ddrPrefix ?? ""));
  if (generation === undefined) return null;
  const low = pcLow !== undefined || ddrLow !== undefined;
  if (low && generation.lowVoltage_V === undefined) return null;
  const number = Number(bandwidth ?? rate);
  const direct = rate !== undefined || (generation.rateBelow !== undefined && number < generation.rateBelow);
  return labelOf(generation, direct ? [number] : ratesOf(number, generation, rule.tolerance), low, letter ?? "");
}

function decodeFirst(rest: string, digit: string, rule: NumberFormatOf<"memory-module">): ModuleLabel | null {
  const first = rule.generations.find(({ prefix }) => prefix === "");
  return first === undefined ? null : labelOf(first, ratesOf(Number(digit + rest), first, rule.tolerance), false, "");
}

type Generation = NumberFormatOf<"memory-module">["generations"][number];

function ratesOf(bandwidth: number, { rates }: Generation, tolerance: number): number[] {
  return rates.filter((rate) => Math.abs(bandwidth - 8 * rate) <= tolerance * 8 * rate);
}

function labelOf(generation: Generation, rates: readonly number[], low: boolean, letter: string): ModuleLabel | null {
  const known = rates.filter((rate) => generation.rates.includes(rate));
  if (known.length === 0) return null;
  const lettered = generation.prefix === "2" || generation.prefix === "3";
  const formFactor = !lettered ? null : letter === "S" ? "SODIMM" : letter === "U" || letter === "R" ? "DIMM" : null;
  return {
    generation: generation.name,
    transferRates_MTs: known,
    supplyVoltage_V: low ? (generation.lowVoltage_V ?? generation.supplyVoltage_V) : generation.supplyVoltage_V,
    formFactor,
    positions: formFactor === null ? null : formFactor === "SODIMM" ? generation.pins.sodimm : generation.pins.dimm,
  };
}

/**
 * Decodes an M.2 type name: `2280`, `22110`, `2280-S3-M`, `2242-D5-B-M`. Whether it speaks SATA or NVMe is not in it.
 *
 * @returns `null` for sizes and keys that the specification does not have
 */
export function decodeCardSize(text: string, rule: NumberFormatOf<"card-size">): CardSize | null {
  const match = CARD.exec(text.trim().toUpperCase());
  if (match === null) return null;
  const [width, length] = [Number(match[1]), Number(match[2])];
  const keys = [match[3], match[4]].filter((key) => key !== undefined);
  if (!rule.widths_mm.includes(width) || !rule.lengths_mm.includes(length)) return null;
  if (keys.some((key) => own(rule.keys, key) === undefined)) return null;
  return { width_mm: width, length_mm: length, key: keys.length === 0 ? null : keys.sort().join("+") };
}

/** True where a module with this key goes into a socket with that one: a module may be cut for two. */
export function keyFits(module: string, socket: string): boolean {
  return module
    .toUpperCase()
    .split(/[+&/ -]+/)
    .includes(socket.toUpperCase());
}

/** The class of a plug written as `EIAJ-04`, or `null`. */
export function decodePlug(text: string, rule: NumberFormatOf<"plug-class">): PlugClass | null {
  const number = Number(PLUG.exec(text.trim().toUpperCase())?.[1] ?? "0");
  return rule.classes.find((each) => each.number === number) ?? null;
}

/** The plug class that the standard gives to a voltage, or `null` where it lies outside all. */
export function plugForVoltage(volts: number, rule: NumberFormatOf<"plug-class">): PlugClass | null {
  return rule.classes.find(({ over_V, upTo_V }) => volts > over_V && volts <= upTo_V) ?? null;
}

/**
 * Finds the designations in a folded text, in order, none inside another. A card size counts only after "M.2" or "NGFF"
 * or with its key, because four digits alone may be anything.
 */
export function readDesignations(
  text: string,
  rules: DesignationRules,
  tokens: readonly Token[] = tokenise(text),
): Designation[] {
  const found: Designation[] = [];
  let readTo = 0;
  for (const [i, token] of tokens.entries()) {
    if (token.start < readTo || !BEGINNING.test(token.text.toUpperCase())) continue;
    const candidates = numberCandidates(text, tokens, i);
    for (let c = candidates.length - 1; c >= 0; c--) {
      const candidate = candidates[c];
      const decoded = candidate && decode(candidate.text, rules, tokens, i);
      if (!decoded) continue;
      const span = [candidate.start, candidate.end] as const;
      const quantities = decoded.stated.map((each) => ({ ...each, span, dimension: "designation", role: null }));
      found.push({ standard: decoded.standard, text: candidate.text, span, quantities });
      readTo = candidate.end;
      break;
    }
  }
  return found;
}

type Stated = Pick<StatedQuantity, "name" | "value" | "alternatives">;

function decode(
  text: string,
  rules: DesignationRules,
  tokens: readonly Token[],
  at: number,
): { standard: string; stated: Stated[] } | null {
  const { lithium, primary, memory, card, plug } = rules;
  const cell = lithium && decodeLithiumCell(text, lithium);
  if (lithium && cell) return { standard: lithium.id, stated: cell.battery ? batteryOf(cell) : [] };
  const coin = primary && decodePrimaryCell(text, primary);
  if (primary && coin) return { standard: primary.id, stated: [] };
  const label = memory && decodeModuleLabel(text, memory);
  if (memory && label) return { standard: memory.id, stated: moduleOf(label) };
  const size = card && decodeCardSize(text, card);
  if (card && size && (size.key !== null || afterCardWord(tokens, at)))
    return { standard: card.id, stated: cardOf(size) };
  return plug && decodePlug(text, plug) ? { standard: plug.id, stated: [] } : null;
}

function batteryOf({ series, parallel }: LithiumCell): Stated[] {
  return [said("seriesCells", [series]), said("cells", [series * parallel])];
}

function moduleOf({ generation, transferRates_MTs, supplyVoltage_V, formFactor, positions }: ModuleLabel): Stated[] {
  return [
    said("generation", [generation]),
    said("transferRate_MTs", transferRates_MTs),
    said("supplyVoltage_V", [supplyVoltage_V]),
    ...(formFactor === null ? [] : [said("formFactor", [formFactor])]),
    ...(positions === null ? [] : [said("positions", [positions])]),
  ];
}

function cardOf({ width_mm, length_mm, key }: CardSize): Stated[] {
  return [said("width_mm", [width_mm]), said("length_mm", [length_mm]), ...(key === null ? [] : [said("key", [key])])];
}

function said(name: string, values: readonly (number | string)[]): Stated {
  const [value = 0, ...alternatives] = values;
  return { name, value, alternatives };
}

function afterCardWord(tokens: readonly Token[], at: number): boolean {
  for (let i = at - 1; i >= Math.max(0, at - CARD_REACH); i--) {
    const word = tokens[i]?.text.toUpperCase();
    if (word === "NGFF" || word === "M2" || (word === "M" && tokens[i + 1]?.text === "2")) return true;
  }
  return false;
}

/** A key's own value; never one that every object inherits. */
function own<T>(record: Readonly<Record<string, T>>, key: string): T | undefined {
  return Object.hasOwn(record, key) ? record[key] : undefined;
}

/** Takes the dust of binary fractions off: 3 × 3.6 is 10.8. */
function tidy(value: number): number {
  return Number(value.toPrecision(12));
}
