/**
 * A person's own pattern for serial numbers: where in it the date stands. A mask, not an expression, so that
 * nothing a person types can run long.
 *
 * One sign a character: `Y` year digit, `W` week digit, `M` month digit, `D` digit of the day of the month, `J`
 * digit of the day of the year, `CC` the two-character component code (letter for the year, mark for the month),
 * `?` any character, `*` once any number of characters. Everything else stands for itself; case makes no
 * difference there, so small letters are letters: `??YYWW*`, `sn-YWW*`.
 */
import { dayNumber, daysInMonth, yearInterval } from "../text/dates.ts";
import { type BuildDateOptions, type DateReading, finish, recentMonths, weekCandidate, yearsOf } from "./build-date.ts";
import { type Sentence, sentence } from "./facts.ts";

/** Readings, or why the mask or the serial number cannot be used. */
export type MaskOutcome =
  | { readonly ok: true; readonly readings: readonly DateReading[] }
  | { readonly ok: false; readonly fault: Sentence };

const MAX_MASK = 80;
const FIELDS = "YWMDJC";

/** The fields that a mask can hold together, each with its number of digits. */
type Fields = Partial<Record<string, string>>;

/**
 * @param serial as printed
 * @param mask the person's pattern
 */
export function readSerial(serial: string, mask: string, options: BuildDateOptions): MaskOutcome {
  const fault = maskFault(mask);
  if (fault !== null) return { ok: false, fault };
  const fields = matchMask(serial.trim(), mask);
  if (fields === null) return { ok: false, fault: sentence("readout_mask_no_match", { mask }) };
  const readings = finish(candidatesOf(fields, options), serial.trim(), options);
  return readings.length === 0 ? { ok: false, fault: sentence("readout_mask_no_date") } : { ok: true, readings };
}

/** What is wrong with a mask, or `null`: fields that name no date together, split fields, two stars. */
export function maskFault(mask: string): Sentence | null {
  if (mask.length > MAX_MASK) return sentence("readout_mask_long", { most: MAX_MASK });
  if (mask.split("*").length > 2) return sentence("readout_mask_stars");
  for (const field of FIELDS) {
    const first = mask.indexOf(field);
    const last = mask.lastIndexOf(field);
    if (first >= 0 && mask.slice(first, last + 1) !== field.repeat(last - first + 1)) {
      return sentence("readout_mask_split", { field });
    }
  }
  const counts = [...FIELDS].map((field) => `${field}${mask.split(field).length - 1}`).join("");
  return LEGAL_COUNTS.has(counts) ? null : sentence("readout_mask_fields");
}

/** Which counts of Y, W, M, D, J and C make a date. */
const LEGAL_COUNTS: ReadonlySet<string> = new Set(
  ["1", "2", "4"]
    .flatMap((year) => [
      `Y${year}W2M0D0J0C0`,
      `Y${year}W0M2D0J0C0`,
      `Y${year}W0M2D2J0C0`,
      `Y${year}W0M0D0J3C0`,
      `Y${year}W0M0D0J0C0`,
    ])
    .concat("Y0W0M0D0J0C2"),
);

function matchMask(serial: string, mask: string): Fields | null {
  const [head = "", tail] = mask.split("*");
  const fields: Record<string, string> = {};
  if (tail === undefined) return serial.length === head.length && take(serial, head, fields) ? fields : null;
  if (serial.length < head.length + tail.length) return null;
  const matched =
    take(serial.slice(0, head.length), head, fields) && take(serial.slice(serial.length - tail.length), tail, fields);
  return matched ? fields : null;
}

/** Holds one stretch of the serial number against one of the mask, character by character. */
function take(text: string, mask: string, into: Record<string, string>): boolean {
  for (let i = 0; i < mask.length; i++) {
    const sign = mask.charAt(i);
    const character = text.charAt(i);
    if (sign === "?") continue;
    if (!FIELDS.includes(sign)) {
      if (sign.toLowerCase() !== character.toLowerCase()) return false;
    } else if (sign !== "C" && !/^[0-9]$/.test(character)) return false;
    else into[sign] = (into[sign] ?? "") + character;
  }
  return true;
}

function candidatesOf(fields: Fields, { today }: BuildDateOptions): Parameters<typeof finish>[0] {
  const { Y: year, W: week, M: month, D: day, J: ofYear, C: code } = fields;
  if (code !== undefined) {
    return recentMonths(code, today).flatMap((each) => monthOf(each.year, each.month, undefined));
  }
  if (year === undefined) return [];
  const years = year.length === 4 ? [Number(year)] : yearsOf(year, today);
  return years.flatMap((each) => {
    if (week !== undefined) return weekCandidate(each, Number(week), "serial");
    if (month !== undefined) return monthOf(each, Number(month), day);
    if (ofYear !== undefined) return dayOfYear(each, Number(ofYear));
    return [{ stated: yearInterval(each), kind: "serial" as const, margin_days: 0 }];
  });
}

function monthOf(year: number, month: number, day: string | undefined): Parameters<typeof finish>[0] {
  if (month < 1 || month > 12) return [];
  const last = daysInMonth(year, month);
  if (day !== undefined && (Number(day) < 1 || Number(day) > last)) return [];
  const from = dayNumber(year, month, day === undefined ? 1 : Number(day));
  const to = day === undefined ? dayNumber(year, month, last) : from;
  return [{ stated: { from, to }, kind: "serial", margin_days: 0 }];
}

function dayOfYear(year: number, day: number): Parameters<typeof finish>[0] {
  const { from, to } = yearInterval(year);
  if (from === null || to === null || day < 1 || from + day - 1 > to) return [];
  return [{ stated: { from: from + day - 1, to: from + day - 1 }, kind: "serial", margin_days: 0 }];
}
