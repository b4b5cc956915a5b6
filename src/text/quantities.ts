/**
 * Quantities with their units in listing text, in any of the languages that the rules carry words for.
 *
 *   folded text ─▶ numbers ─▶ the unit that follows (or "2x" before, "lot of" before) ─▶ StatedQuantity
 *
 * Unit words, plausible ranges, picture sizes and cue words are data in `rules/number-formats/`. Which quantity a unit
 * states depends on the part type: volts are `nominalVoltage_V` for a battery, `outputVoltage_V` for a charger; ask
 * {@link quantityName}. A span that a known part number covers is no quantity: drop those that overlap one.
 */
import { plainWord } from "./plain-word.ts";
import { withRole } from "./quantity-roles.ts";
import { COUNTED, isDigit, plausible, type QuantityRules, tidy, type Unit, unitAt } from "./quantity-units.ts";
import { type Token, tokenise } from "./tokens.ts";
import { readNumberAt, readSpacedNumberAt, type WrittenNumber } from "./written-number.ts";

export { prepareQuantityRules, type QuantityRules } from "./quantity-units.ts";

/** One quantity that a text states. */
export interface StatedQuantity {
  /** Design vocabulary, such as `nominalVoltage_V`, where no part type says otherwise. */
  readonly name: string;
  /** The value in the unit that the name ends with; text for sizes such as `80x80x15`. */
  readonly value: number | string;
  /** Further values: "11.1V/10.8V", "30/40 pin", the ends of a range, the sets behind "HD", an unclear separator. */
  readonly alternatives: readonly (number | string)[];
  /** Half-open range of the folded text. */
  readonly span: readonly [start: number, end: number];
  /** What the unit measures, such as `voltage`. */
  readonly dimension: string;
  /** What a cue word says it is about: `input`, `output`, `charge`, `pitch`, … */
  readonly role: string | null;
}

/** What is read where a number stands: quantities and the index to go on from. */
interface Reading {
  readonly found: readonly StatedQuantity[];
  readonly end: number;
}

/** Most quantities read from one text; a listing states a dozen. With so many found, more may stand there. */
export const MAX_QUANTITIES = 200;
/** Most numbers that share a unit: "10.8/11.1/11.4 V". */
const MAX_ALTERNATIVES = 4;
const TIMES = / ?[xX*] ?/y;
const OR = / ?[/|] ?| ?[-~] ?/y;
const SERIES_PARALLEL = /^(\d{1,2})s(\d{1,2})p$/;

/**
 * Reads every quantity that a folded text states, in order.
 *
 * @param text as `foldVisible` gives it
 * @param tokens of the same text, where the caller has them
 */
export function readQuantities(
  text: string,
  rules: QuantityRules,
  tokens: readonly Token[] = tokenise(text),
): StatedQuantity[] {
  const found: StatedQuantity[] = [];
  let readTo = 0;
  for (const [i, token] of tokens.entries()) {
    if (token.start < readTo) continue;
    if (found.length >= MAX_QUANTITIES) break;
    let reading = readAt(text, rules, tokens, i);
    while (reading !== null) {
      for (const quantity of reading.found) found.push(withRole(quantity, rules, tokens, i));
      readTo = reading.end;
      // "11.1V5200mAh": another one begins inside the token in which this one ends.
      reading = isDigit(text, readTo) ? readUnited(text, rules, readTo, readTo, true) : null;
    }
  }
  return found;
}

/**
 * The quantity that a labelled value states where the unit stands in the label: "Voltage (V)" and "11.1".
 *
 * @returns `null` where the value is no bare number or the label names no unit
 */
export function readLabelledQuantity(label: string, value: string, rules: QuantityRules): StatedQuantity | null {
  const trimmed = value.trim();
  const number = readNumberAt(trimmed, 0);
  if (number === null || number.end !== trimmed.length) return null;
  for (const token of tokenise(label)) {
    const word = token.text.toLowerCase();
    const unit = rules.units.get(word) ?? rules.labels.get(word);
    if (unit === undefined) continue;
    const start = value.indexOf(trimmed);
    return quantityOf(unit, [number], start, start + trimmed.length);
  }
  return null;
}

/** The name of a stated quantity for a part type, by the type's `readsAs`; a role named by a cue word comes first. */
export function quantityName(
  quantity: StatedQuantity,
  partType: { readonly readsAs?: Readonly<Record<string, string>> | undefined } | undefined,
): string {
  return quantity.role === null ? (partType?.readsAs?.[quantity.dimension] ?? quantity.name) : quantity.name;
}

function readAt(text: string, rules: QuantityRules, tokens: readonly Token[], i: number): Reading | null {
  const token = tokens[i];
  if (token === undefined || (token.kind === "letters" && !rules.beginnings.has(plainWord(token.text)))) return null;
  const named =
    readPicture(text, rules, tokens, i) ??
    readSeriesParallel(token) ??
    readSeries(text, rules, tokens, i) ??
    readCountWord(rules, token) ??
    readNumeral(text, rules, token);
  if (named !== null) return named;
  const start = token.start + leadingLetters(token.text);
  if (start >= token.end) return null;
  return (
    readMultiplied(text, rules, token, start) ??
    readUnited(text, rules, token.start, start) ??
    readLotBefore(text, rules, tokens, i, start)
  );
}

/** "FHD", "Full HD", "4K", "HD+": one reading of width and height, or several. */
function readPicture(text: string, rules: QuantityRules, tokens: readonly Token[], i: number): Reading | null {
  const token = tokens[i];
  if (token === undefined || token.text.length > 8) return null;
  const next = tokens[i + 1];
  const word = token.text.toLowerCase();
  const two = next !== undefined && token.gap.length === 1 ? `${word} ${next.text.toLowerCase()}` : "";
  const plus = text[token.end] === "+" ? `${word}+` : "";
  for (const [name, end] of [
    [two, next?.end ?? 0],
    [plus, token.end + 1],
    [word, token.end],
  ] as const) {
    const pixels = rules.pictures.get(name);
    if (pixels === undefined) continue;
    return { found: pictureSize(pixels, token.start, end), end };
  }
  return null;
}

function pictureSize(
  pixels: readonly (readonly [width: number, height: number])[],
  start: number,
  end: number,
): StatedQuantity[] {
  return (["width_px", "height_px"] as const).map((name, axis) => {
    const [value = 0, ...alternatives] = new Set(pixels.map((size) => size[axis] ?? 0));
    return { name, value, alternatives, span: [start, end], dimension: "pixels", role: null };
  });
}

/** "3S2P": three in series, two in parallel, six cells. */
function readSeriesParallel(token: Token): Reading | null {
  const match = token.kind === "mixed" ? SERIES_PARALLEL.exec(token.text.toLowerCase()) : null;
  if (match === null) return null;
  const series = Number(match[1]);
  const parallel = Number(match[2]);
  if (series < 1 || parallel < 1) return null;
  const said = (name: string, value: number): StatedQuantity => ({
    name,
    value,
    alternatives: [],
    span: [token.start, token.end],
    dimension: "cells",
    role: null,
  });
  return { found: [said("seriesCells", series), said("cells", series * parallel)], end: token.end };
}

/** "6S" beside a word for a battery: six cells in series. */
function readSeries(text: string, rules: QuantityRules, tokens: readonly Token[], i: number): Reading | null {
  const token = tokens[i];
  const count = Number(token?.kind === "mixed" ? (/^(\d{1,2})S$/.exec(token.text)?.[1] ?? 0) : 0);
  if (token === undefined || count < 1 || !startsFreely(text, token.start)) return null;
  const beside = [tokens[i - 1], tokens[i + 1]].map((each) => plainWord(each?.text ?? ""));
  if (!beside.some((word) => rules.prefixes.has(word))) return null;
  const span: readonly [number, number] = [token.start, token.end];
  const found = { name: "seriesCells", value: count, alternatives: [], span, dimension: "cells", role: null };
  return { found: [found], end: token.end };
}

/** "six cells", "single-cell", "sechszellig": a count in words. */
function readNumeral(text: string, rules: QuantityRules, token: Token): Reading | null {
  const word = plainWord(token.text);
  const whole = rules.compounds.get(word);
  const count = whole?.count ?? rules.numerals.get(word);
  if (count === undefined) return null;
  const number: WrittenNumber = { values: [count], start: token.start, end: token.end, decimal: false };
  const found = whole === undefined ? unitAt(text, rules, token.end, number) : { unit: whole.unit, end: token.end };
  if (found === null || !COUNTED.has(found.unit.dimension)) return null;
  const quantity = quantityOf(found.unit, [number], token.start, found.end);
  return quantity === null ? null : { found: [quantity], end: found.end };
}

/** "pair" means two of them; "each" says that the price is for one. */
function readCountWord(rules: QuantityRules, token: Token): Reading | null {
  const unit = rules.byId.get("piece");
  const value = rules.counts.get(token.text.toLowerCase());
  if (unit === undefined || value === undefined) return null;
  const span: readonly [number, number] = [token.start, token.end];
  return {
    found: [{ name: unit.name, value, alternatives: [], span, dimension: unit.dimension, role: null }],
    end: token.end,
  };
}

/** "1920x1080", "80x80x15mm", "2x8GB", "2x", "x2". */
function readMultiplied(text: string, rules: QuantityRules, token: Token, start: number): Reading | null {
  const before = text.slice(token.start, start).toLowerCase();
  if (before === "x")
    return /^\d{1,3}$/.test(text.slice(start, token.end)) ? lot(rules, text, start, start, token.start) : null;
  if (before !== "" || !startsFreely(text, start)) return null;
  const factors: WrittenNumber[] = [];
  let at = start;
  let end = start;
  while (factors.length < 3) {
    const number = readNumberAt(text, at);
    if (number === null) break;
    factors.push(number);
    end = number.end;
    TIMES.lastIndex = end;
    const times = TIMES.exec(text)?.[0];
    if (times === undefined) break;
    at = end + times.length;
    if (readNumberAt(text, at) === null) return factors.length === 1 ? lotTimes(text, rules, factors, at) : null;
  }
  return factors.length < 2 ? null : sizeOf(text, rules, factors, end);
}

/** What several multiplied numbers are: pixels, millimetres, or a count of something with its own unit. */
function sizeOf(text: string, rules: QuantityRules, factors: readonly WrittenNumber[], end: number): Reading | null {
  const start = factors[0]?.start ?? end;
  const unit = unitAt(text, rules, end, factors.at(-1));
  const [width = 0, height = 0] = factors.map((factor) => factor.values[0] ?? 0);
  if (unit !== null && unit.unit.dimension === "length") {
    const value = factors.map((factor) => tidy((factor.values[0] ?? 0) * unit.unit.scale)).join("x");
    const span: readonly [number, number] = [start, unit.end];
    return {
      found: [{ name: "size_mm", value, alternatives: [], span, dimension: "size", role: null }],
      end: unit.end,
    };
  }
  const pictureUnit = unit?.unit.dimension === "pixels";
  // "120x120" is a fan's frame; pictures as small as that are not square.
  const least = width === height ? 240 : 120;
  const picture = factors.length === 2 && [width, height].every((side) => side >= least && Number.isInteger(side));
  if (picture && (unit === null || pictureUnit)) {
    const until = pictureUnit ? (unit?.end ?? end) : end;
    return { found: pictureSize([[width, height]], start, until), end: until };
  }
  const second = factors[1];
  if (factors.length !== 2 || unit === null || second === undefined || width > 16) return null;
  const counted = lot(rules, text, start, start, start);
  const each = quantityOf(unit.unit, [second], second.start, unit.end);
  return counted === null || each === null ? null : { found: [...counted.found, each], end: unit.end };
}

/** "2x Akku", "2 x Akku": a count before a thing. */
function lotTimes(text: string, rules: QuantityRules, factors: readonly WrittenNumber[], at: number): Reading | null {
  const start = factors[0]?.start ?? 0;
  const unit = unitAt(text, rules, at, factors[0]);
  const cells = unit?.unit.dimension === "cells" ? quantityOf(unit.unit, factors, start, unit.end) : null;
  if (unit !== null && cells !== null) return { found: [cells], end: unit.end };
  const after = text.slice(at, at + 1);
  if (/[\p{L}\p{N}]/u.test(after) && !/[xX*] $/.test(text.slice(start, at))) return null;
  const counted = lot(rules, text, start, start, start);
  return counted === null ? null : { found: counted.found, end: at };
}

/** A count of things: whole, 1 to 100. */
function lot(rules: QuantityRules, text: string, at: number, start: number, spanStart: number): Reading | null {
  const number = readNumberAt(text, at);
  const unit = rules.byId.get("piece");
  const count = number?.values[0] ?? 0;
  if (number === null || unit === undefined || !Number.isInteger(count) || count < 1 || count > 100) return null;
  const span: readonly [number, number] = [Math.min(spanStart, start), number.end];
  return {
    found: [{ name: unit.name, value: count, alternatives: [], span, dimension: unit.dimension, role: null }],
    end: number.end,
  };
}

/** "lot of 2", "Satz 4", "qty 3". */
function readLotBefore(
  text: string,
  rules: QuantityRules,
  tokens: readonly Token[],
  i: number,
  start: number,
): Reading | null {
  if (tokens[i]?.kind !== "digits") return null;
  const one = tokens[i - 1]?.text.toLowerCase() ?? "";
  const two = `${tokens[i - 2]?.text.toLowerCase() ?? ""} ${one}`;
  const phrase = rules.lotsBefore.has(two) ? 2 : rules.lotsBefore.has(one) ? 1 : 0;
  if (phrase === 0 || !/^[ :.]{0,3}$/.test(tokens[i - 1]?.gap ?? "-")) return null;
  return lot(rules, text, start, start, tokens[i - phrase]?.start ?? start);
}

/** One or several numbers with a unit: "11.1V", "11.1/10.8 V", "10.8V/11.1V", "100-240V". */
function readUnited(
  text: string,
  rules: QuantityRules,
  spanStart: number,
  start: number,
  afterQuantity = false,
): Reading | null {
  const prefix = text.slice(spanStart, start).toLowerCase();
  if (prefix !== "" && !rules.prefixes.has(prefix)) return null;
  const numbers: WrittenNumber[] = [];
  let unit: Unit | null = null;
  let at = start;
  let end = start;
  while (numbers.length < MAX_ALTERNATIVES) {
    const number = withUnit(text, rules, at);
    if (number === null) break;
    if (number.unit !== null && unit !== null && number.unit.dimension !== unit.dimension) break;
    if (number.unit === null && unit !== null) break;
    numbers.push(number.number);
    if (number.unit !== null) {
      unit = number.unit;
      end = number.end;
    }
    OR.lastIndex = number.end;
    const or = OR.exec(text)?.[0];
    if (or === undefined) break;
    at = number.end + or.length;
  }
  if (unit === null) return null;
  const said = numbers.filter((number) => number.end <= end);
  const free = afterQuantity || prefix !== "" || startsFreely(text, start) || codeLikeButStated(text, said, unit);
  const quantity = free ? quantityOf(unit, said, spanStart, end) : null;
  return quantity === null ? null : { found: [quantity], end };
}

interface United {
  readonly number: WrittenNumber;
  readonly unit: Unit | null;
  readonly end: number;
}

/** The number at `at` with the unit after it, if any; thousands set apart by spaces only where a unit follows. */
function withUnit(text: string, rules: QuantityRules, at: number): United | null {
  const spaced = readSpacedNumberAt(text, at);
  const spacedUnit = spaced === null ? null : unitAt(text, rules, spaced.end, spaced);
  if (spaced !== null && spacedUnit !== null && plausible(spacedUnit.unit, spaced).length > 0)
    return { number: spaced, unit: spacedUnit.unit, end: spacedUnit.end };
  const number = readNumberAt(text, at);
  if (number === null) return null;
  const unit = unitAt(text, rules, number.end, number);
  return { number, unit: unit?.unit ?? null, end: unit?.end ?? number.end };
}

function quantityOf(unit: Unit, numbers: readonly WrittenNumber[], start: number, end: number): StatedQuantity | null {
  const readings = numbers.map((number) => plausible(unit, number));
  if (readings.length === 0 || readings.some((values) => values.length === 0)) return null;
  const [value = 0, ...alternatives] = new Set(readings.flat().map((each) => tidy(each * unit.scale)));
  return { name: unit.name, value, alternatives, span: [start, end], dimension: unit.dimension, role: null };
}

/** No letter, digit, point or hyphen of a longer code stands directly before. */
function startsFreely(text: string, start: number): boolean {
  return !/[\p{L}\p{N}][-._/:]?$|[-_]$/u.test(text.slice(Math.max(0, start - 3), start));
}

/** "Akku-11,1V", "LCD-15.6 Zoll", "10.8V/57Wh": behind a hyphen or slash, but clearly a quantity. */
function codeLikeButStated(text: string, numbers: readonly WrittenNumber[], unit: Unit): boolean {
  const first = numbers[0];
  if (first === undefined || /[\p{L}\p{N}.]$/u.test(text.slice(0, first.start).slice(-1))) return false;
  return first.decimal || unit.words.every((word) => word.length > 1);
}

function leadingLetters(text: string): number {
  let i = 0;
  while (i < text.length && !isDigit(text, i)) i++;
  return i;
}
