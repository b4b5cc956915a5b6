/**
 * What a date or a date code on a label can mean: every legal reading, none chosen silently.
 *
 * Labels write dates in many ways that look alike: `2114` is week 14 of 2021, week 21 of 2014 or April 2021's
 * neighbour in year-and-month. Each reading becomes an interval of days; readings in the future or before the
 * model existed are dropped; what is left is asked.
 *
 * Weeks are taken by ISO 8601. That component date codes count weeks the same way is not confirmed, so the
 * interval of a code's first and last weeks of a year is a week wider on either side.
 */
import type { SentenceValue } from "../formats/verdict.ts";
import { calendarDate, type DateInterval, dayNumber, daysInMonth, isoWeek, yearInterval } from "../text/dates.ts";
import { type CodedMonth, codedMonths } from "./component-codes.ts";
import type { Confidence, Sentence } from "./facts.ts";
import { sentence } from "./facts.ts";

/** How a text was read. */
export type DateKind =
  | "iso-week"
  | "year-week"
  | "week-year"
  | "year-month"
  | "month-year"
  | "month-letter"
  | "year-day"
  | "year-week-day"
  | "day-first"
  | "month-first"
  | "day"
  | "month"
  | "year"
  | "serial"
  | "purchase";

/** One thing that a text can mean. */
export interface DateReading {
  /** The days to reckon with: what the code says, widened where the way of counting is not certain. */
  readonly interval: DateInterval;
  /** The days exactly as the code says. */
  readonly stated: DateInterval;
  readonly kind: DateKind;
  /** `certain` for one full date, `likely` for the only reading of a code, `rough` where several are possible. */
  readonly confidence: Confidence;
  /** What this reading says; to be shown beside the others. */
  readonly says: Sentence;
}

/** Words for months and weeks of one language, as the language's rule file holds them. */
export interface DateNames {
  /** Twelve lists, January first. */
  readonly months: readonly (readonly string[])[];
  readonly week: readonly string[];
}

/** What the caller knows. */
export interface BuildDateOptions {
  /** Day number of today. */
  readonly today: number;
  /** Day number of the first day on which the model can have been built. */
  readonly launched?: number;
  /** Month and week words of the languages to be understood. */
  readonly names?: readonly DateNames[];
}

/** A reading before the caller's knowledge is held against it. */
interface Candidate {
  readonly stated: DateInterval;
  readonly kind: DateKind;
  readonly margin_days: number;
}

/** Longest text that is read as a date. */
const MAX_CHARS = 80;
/** No label that matters here is older. */
const OLDEST_YEAR = 1980;
/** Codes that come round (one year digit, year letters) are not followed back further than this. */
const CYCLES_BACK_YEARS = 35;
const BOUNDARY_MARGIN = 7;

/**
 * Every legal reading of a date text or date code, the most telling first.
 *
 * @param text as printed, such as `2114`, `W14 2021`, `17.05.2021`, `17 maja 2021`, `21137`, `M5`
 */
export function readBuildDate(text: string, options: BuildDateOptions): DateReading[] {
  const plain = text.normalize("NFKC").trim();
  if (plain === "" || plain.length > MAX_CHARS) return [];
  const candidates = [
    ...namedWeek(plain, options),
    ...separated(plain, options),
    ...withMonthName(plain, options),
    ...digitsOnly(plain, options),
    ...letterCode(plain, options),
  ];
  return finish(candidates, plain, options);
}

/**
 * The date of purchase: the device was built on that day at the latest. How long before, the date does not
 * say: stock can lie for a year and more, so the start stays open (or at the launch, where known).
 */
export function readPurchaseDate(text: string, options: BuildDateOptions): DateReading[] {
  return readBuildDate(text, options).map((reading) => {
    const interval = { from: options.launched ?? null, to: reading.stated.to };
    return {
      interval,
      stated: reading.stated,
      kind: "purchase",
      confidence: reading.confidence === "rough" ? "rough" : "likely",
      says: sentence("readout_date_purchase", { date: intervalWords(reading.stated) }),
    };
  });
}

/** An interval as a person reads it in any language: `2021-05-17` or `2021-05-17 – 2021-05-23`. */
export function intervalWords({ from, to }: DateInterval): string {
  const day = (at: number | null): string => {
    if (at === null) return "…";
    const { year, month, day: ofMonth } = calendarDate(at);
    return `${year}-${String(month).padStart(2, "0")}-${String(ofMonth).padStart(2, "0")}`;
  };
  return from === to ? day(from) : `${day(from)} – ${day(to)}`;
}

/** Full years that two digits (or one) can mean: not after today, not before 1980, one digit not further back than 35 years. */
export function yearsOf(digits: string, today: number): number[] {
  const current = calendarDate(today).year;
  const step = 10 ** digits.length;
  const years: number[] = [];
  const oldest = digits.length === 1 ? Math.max(OLDEST_YEAR, current - CYCLES_BACK_YEARS) : OLDEST_YEAR;
  for (let year = current - ((current - Number(digits)) % step); year >= oldest; year -= step) {
    if (year <= current) years.push(year);
  }
  return years;
}

/** Days of a week reading; the first and last weeks of a year carry a margin. */
export function weekCandidate(year: number, week: number, kind: DateKind): Candidate[] {
  const stated = isoWeek(year, week);
  if (stated === null) return [];
  return [{ stated, kind, margin_days: kind === "iso-week" ? 0 : week === 1 || week >= 52 ? BOUNDARY_MARGIN : 0 }];
}

function monthCandidate(year: number, month: number, kind: DateKind): Candidate[] {
  if (month < 1 || month > 12) return [];
  const stated = { from: dayNumber(year, month, 1), to: dayNumber(year, month, daysInMonth(year, month)) };
  return [{ stated, kind, margin_days: 0 }];
}

function dayCandidate(year: number, month: number, day: number, kind: DateKind): Candidate[] {
  if (month < 1 || month > 12 || day < 1 || day > daysInMonth(year, month)) return [];
  const at = dayNumber(year, month, day);
  return [{ stated: { from: at, to: at }, kind, margin_days: 0 }];
}

/** Day of the year, 1 to 365 or 366. */
function yearDayCandidate(year: number, day: number): Candidate[] {
  const { from, to } = yearInterval(year);
  if (from === null || to === null || day < 1 || from + day - 1 > to) return [];
  return [{ stated: { from: from + day - 1, to: from + day - 1 }, kind: "year-day", margin_days: 0 }];
}

// Written with signs or words

/** `2021-W14`, `2021W141`, `W14 2021`, `week 14/2021`, and the same with another language's word. */
function namedWeek(text: string, { names = [] }: BuildDateOptions): Candidate[] {
  const iso = /^(\d{4})-?W(\d{2})(?:-?([1-7]))?$/i.exec(text);
  if (iso) {
    const found = weekCandidate(Number(iso[1]), Number(iso[2]), "iso-week");
    const day = iso[3] === undefined ? null : Number(iso[3]) - 1;
    return found.map((each) => (day === null ? each : { ...each, stated: weekday(each.stated, day) }));
  }
  const words = tokens(text);
  const known = new Set(["w", "wk", "week", ...names.flatMap(({ week }) => week.map((word) => word.toLowerCase()))]);
  const rest = words.filter((word) => !known.has(word));
  const numbers = rest.map(Number);
  if (rest.length === words.length || numbers.length !== 2 || !rest.every((word) => /^\d{1,4}$/.test(word))) return [];
  const yearAt = rest.findIndex((word) => word.length === 4);
  const [year, week] = yearAt === 0 ? [numbers[0], numbers[1]] : [numbers[1], numbers[0]];
  return yearAt < 0 || year === undefined || week === undefined ? [] : weekCandidate(year, week, "iso-week");
}

function weekday({ from }: DateInterval, day: number): DateInterval {
  return from === null ? { from, to: from } : { from: from + day, to: from + day };
}

/** Two or three numbers with signs between them. */
function separated(text: string, { today }: BuildDateOptions): Candidate[] {
  const parts = /^(\d{1,4})[./\s-]{1,2}(\d{1,2})(?:[./\s-]{1,2}(\d{2,4}))?\.?$/.exec(text);
  const monthYear = /^(\d{1,2})[./\s-]{1,2}(\d{4})$/.exec(text);
  if (monthYear) return monthCandidate(Number(monthYear[2]), Number(monthYear[1]), "month");
  if (!parts) return [];
  const [first = "", second = "", third] = parts.slice(1);
  if (first.length === 4) {
    if (third === undefined) return monthCandidate(Number(first), Number(second), "month");
    return third.length > 2 ? [] : dayCandidate(Number(first), Number(second), Number(third), "day");
  }
  if (third === undefined || first.length > 2 || third.length === 3) return [];
  return longYears(third, today).flatMap((year) => dayOrMonthFirst(year, Number(first), Number(second)));
}

function longYears(digits: string, today: number): number[] {
  return digits.length === 4 ? [Number(digits)] : yearsOf(digits, today);
}

/** Day before month and month before day, where both exist. */
function dayOrMonthFirst(year: number, a: number, b: number): Candidate[] {
  if (a === b) return dayCandidate(year, a, b, "day");
  const dayFirst = dayCandidate(year, b, a, "day-first");
  const monthFirst = dayCandidate(year, a, b, "month-first");
  const only = dayFirst.length + monthFirst.length === 1;
  return [...dayFirst, ...monthFirst].map((each) => (only ? { ...each, kind: "day" } : each));
}

/** `17 May 2021`, `May 17, 2021`, `17 de mayo de 2021`, `maj 2021`. */
function withMonthName(text: string, { names = [], today }: BuildDateOptions): Candidate[] {
  const words = tokens(text);
  const months = new Set<number>();
  let nameAt = -1;
  for (const [i, word] of words.entries()) {
    for (const { months: lists } of names) {
      const month = lists.findIndex((list) => list.some((name) => name.toLowerCase() === word));
      if (month >= 0) {
        months.add(month + 1);
        nameAt = i;
      }
    }
  }
  const numbers = words
    .filter((word) => /^\d{1,4}(?:st|nd|rd|th|er)?$/.test(word))
    .map((word) => Number.parseInt(word, 10));
  const [month] = months;
  if (months.size !== 1 || month === undefined || nameAt < 0 || numbers.length === 0 || numbers.length > 2) return [];
  const yearWord = words.findLast((word) => /^(?:\d{4}|\d{2})$/.test(word)) ?? "";
  const years = longYears(yearWord, today);
  if (yearWord === "") return [];
  if (numbers.length === 1) return years.flatMap((year) => monthCandidate(year, month, "month"));
  const day = Number(yearWord) === numbers[1] ? numbers[0] : numbers[1];
  return years.flatMap((year) => dayCandidate(year, month, day ?? 0, "day"));
}

function tokens(text: string): string[] {
  return text
    .toLowerCase()
    .replace(/(\p{L})(?=\d)/gu, "$1 ")
    .split(/[\s.,/'’-]+/u)
    .filter((word) => word !== "" && word !== "de" && word !== "of");
}

// Bare codes

function digitsOnly(text: string, options: BuildDateOptions): Candidate[] {
  if (!/^\d{4,8}$/.test(text)) return [];
  const at = (from: number, length: number): string => text.slice(from, from + length);
  const years = (digits: string): number[] => yearsOf(digits, options.today);
  const number = (from: number, length: number): number => Number(at(from, length));
  switch (text.length) {
    case 4:
      return [
        ...years(at(0, 2)).flatMap((year) => weekCandidate(year, number(2, 2), "year-week")),
        ...years(at(2, 2)).flatMap((year) => weekCandidate(year, number(0, 2), "week-year")),
        ...years(at(0, 2)).flatMap((year) => monthCandidate(year, number(2, 2), "year-month")),
        ...years(at(2, 2)).flatMap((year) => monthCandidate(year, number(0, 2), "month-year")),
        ...fullYear(number(0, 4)),
        ...years(at(0, 1)).flatMap((year) => yearDayCandidate(year, number(1, 3))),
      ];
    case 5:
      return [
        ...years(at(0, 2)).flatMap((year) => yearDayCandidate(year, number(2, 3))),
        ...years(at(0, 2)).flatMap((year) => yearWeekDay(year, number(2, 2), number(4, 1))),
      ];
    case 6:
      return [
        ...years(at(0, 2)).flatMap((year) => dayCandidate(year, number(2, 2), number(4, 2), "day")),
        ...years(at(4, 2)).flatMap((year) => dayOrMonthFirst(year, number(0, 2), number(2, 2))),
        ...weekCandidate(number(0, 4), number(4, 2), "year-week"),
        ...monthCandidate(number(0, 4), number(4, 2), "year-month"),
      ];
    case 8:
      return [
        ...dayCandidate(number(0, 4), number(4, 2), number(6, 2), "day"),
        ...dayOrMonthFirst(number(4, 4), number(0, 2), number(2, 2)),
      ];
    default:
      return [];
  }
}

function fullYear(year: number): Candidate[] {
  return year >= OLDEST_YEAR && year < 2100 ? [{ stated: yearInterval(year), kind: "year", margin_days: 0 }] : [];
}

function yearWeekDay(year: number, week: number, day: number): Candidate[] {
  if (day < 1 || day > 7) return [];
  return weekCandidate(year, week, "year-week-day").map((each) => ({ ...each, stated: weekday(each.stated, day - 1) }));
}

function letterCode(text: string, { today }: BuildDateOptions): Candidate[] {
  return recentMonths(text, today).flatMap(({ year, month }) => monthCandidate(year, month, "month-letter"));
}

/** The months that a component code can mean, not further back than 35 years. */
export function recentMonths(code: string, today: number): CodedMonth[] {
  const oldest = calendarDate(today).year - CYCLES_BACK_YEARS;
  return codedMonths(code).filter(({ year }) => year >= oldest);
}

// What is left

/** Drops what cannot be, gives each reading its confidence and its sentence. */
export function finish(candidates: readonly Candidate[], code: string, options: BuildDateOptions): DateReading[] {
  const { today, launched } = options;
  const possible = candidates.filter(({ stated }) => {
    const { from, to } = stated;
    if (from === null || to === null || from > today) return false;
    return to >= (launched ?? dayNumber(OLDEST_YEAR, 1, 1));
  });
  const distinct = new Map<string, Candidate>();
  for (const each of possible) {
    const key = `${each.stated.from}:${each.stated.to}`;
    if (!distinct.has(key)) distinct.set(key, each);
  }
  const readings = [...distinct.values()];
  return readings.map(({ stated, kind, margin_days }) => ({
    interval: { from: (stated.from ?? 0) - margin_days, to: Math.min(today, (stated.to ?? 0) + margin_days) },
    stated,
    kind,
    confidence: readings.length > 1 ? "rough" : isWritten(kind) ? "certain" : "likely",
    says: saying(kind, code, stated, margin_days),
  }));
}

function isWritten(kind: DateKind): boolean {
  return kind === "iso-week" || kind === "day" || kind === "month" || kind === "year";
}

/** Sentences of readings that carry a margin. */
const marginKeys: Readonly<Partial<Record<DateKind, string>>> = {
  "year-week": "readout_date_year_week_margin",
  "week-year": "readout_date_week_year_margin",
  "year-week-day": "readout_date_year_week_day_margin",
  serial: "readout_date_serial_margin",
};

function saying(kind: DateKind, code: string, stated: DateInterval, margin_days: number): Sentence {
  const values: Record<string, SentenceValue> = { code, date: intervalWords(stated) };
  const plain = `readout_date_${kind.replaceAll("-", "_")}`;
  return sentence(margin_days > 0 ? (marginKeys[kind] ?? plain) : plain, values);
}
