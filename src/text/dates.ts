/**
 * Build dates as intervals of days, and the dates that a listing states.
 *
 * Days are counted from 1970-01-01 (day 0), proleptic Gregorian calendar; an interval includes both ends and an
 * open end is `null`. Weeks follow ISO 8601: Monday to Sunday, week 1 holds 4 January.
 */

/** Days since 1970-01-01, both ends included; `null` is an open end. */
export interface DateInterval {
  readonly from: number | null;
  readonly to: number | null;
}

const DATE_TEXT = /^(\d{4})(?:-W(\d{2})|-(\d{2})(?:-(\d{2}))?)?$/;

/** The day number of a calendar date. Month 1–12; days beyond the month's end run over. */
export function dayNumber(year: number, month: number, day: number): number {
  // Days from civil, March-based: leap days fall at the end of the shifted year.
  const shifted = month <= 2 ? year - 1 : year;
  const era = Math.floor(shifted / 400);
  const yearOfEra = shifted - era * 400;
  const dayOfYear = Math.floor((153 * (month + (month > 2 ? -3 : 9)) + 2) / 5) + day - 1;
  const dayOfEra = yearOfEra * 365 + Math.floor(yearOfEra / 4) - Math.floor(yearOfEra / 100) + dayOfYear;
  return era * 146_097 + dayOfEra - 719_468;
}

/** Year, month (1–12) and day of a day number. */
export function calendarDate(day: number): { year: number; month: number; day: number } {
  const z = day + 719_468;
  const era = Math.floor(z / 146_097);
  const dayOfEra = z - era * 146_097;
  const yearOfEra = Math.floor(
    (dayOfEra - Math.floor(dayOfEra / 1460) + Math.floor(dayOfEra / 36_524) - Math.floor(dayOfEra / 146_096)) / 365,
  );
  const dayOfYear = dayOfEra - (365 * yearOfEra + Math.floor(yearOfEra / 4) - Math.floor(yearOfEra / 100));
  const shiftedMonth = Math.floor((5 * dayOfYear + 2) / 153);
  const month = shiftedMonth < 10 ? shiftedMonth + 3 : shiftedMonth - 9;
  return {
    year: yearOfEra + era * 400 + (month <= 2 ? 1 : 0),
    month,
    day: dayOfYear - Math.floor((153 * shiftedMonth + 2) / 5) + 1,
  };
}

/** How many days a month has. */
export function daysInMonth(year: number, month: number): number {
  return dayNumber(month === 12 ? year + 1 : year, month === 12 ? 1 : month + 1, 1) - dayNumber(year, month, 1);
}

/** ISO weekday of a day number: 1 Monday … 7 Sunday. */
export function isoWeekday(day: number): number {
  return ((((day + 3) % 7) + 7) % 7) + 1;
}

/** How many ISO weeks a year has: 52 or 53. */
export function weeksInYear(year: number): number {
  return (mondayOfWeekOne(year + 1) - mondayOfWeekOne(year)) / 7;
}

/** Monday to Sunday of an ISO week, or `null` where the year has no such week. */
export function isoWeek(year: number, week: number): DateInterval | null {
  if (!Number.isInteger(year) || !Number.isInteger(week) || week < 1 || week > weeksInYear(year)) return null;
  const from = mondayOfWeekOne(year) + (week - 1) * 7;
  return { from, to: from + 6 };
}

/** ISO week-year and week of a day number. */
export function isoWeekOf(day: number): { year: number; week: number } {
  const thursday = day - isoWeekday(day) + 4;
  const { year } = calendarDate(thursday);
  return { year, week: Math.floor((thursday - mondayOfWeekOne(year)) / 7) + 1 };
}

/**
 * The days that a date text covers: `2021`, `2021-05`, `2021-05-17` or `2021-W14`.
 *
 * @returns `null` for any other text and for dates that do not exist
 */
export function intervalOfDateText(text: string): DateInterval | null {
  const match = DATE_TEXT.exec(text);
  if (match === null) return null;
  const year = Number(match[1]);
  if (match[2] !== undefined) return isoWeek(year, Number(match[2]));
  if (match[3] === undefined) return yearInterval(year);
  const month = Number(match[3]);
  if (month < 1 || month > 12) return null;
  const last = daysInMonth(year, month);
  if (match[4] === undefined) return { from: dayNumber(year, month, 1), to: dayNumber(year, month, last) };
  const day = Number(match[4]);
  if (day < 1 || day > last) return null;
  const at = dayNumber(year, month, day);
  return { from: at, to: at };
}

/** 1 January to 31 December. */
export function yearInterval(year: number): DateInterval {
  return { from: dayNumber(year, 1, 1), to: dayNumber(year, 12, 31) };
}

/** True where both intervals share at least one day. */
export function intersects(a: DateInterval, b: DateInterval): boolean {
  return intersection(a, b) !== null;
}

/** The days that both intervals cover, or `null` for none. */
export function intersection(a: DateInterval, b: DateInterval): DateInterval | null {
  const from = a.from === null ? b.from : b.from === null ? a.from : Math.max(a.from, b.from);
  const to = a.to === null ? b.to : b.to === null ? a.to : Math.min(a.to, b.to);
  return from !== null && to !== null && from > to ? null : { from, to };
}

/** True where every day of `inner` lies in `outer`. */
export function contains(outer: DateInterval, inner: DateInterval): boolean {
  const startsIn = outer.from === null || (inner.from !== null && inner.from >= outer.from);
  const endsIn = outer.to === null || (inner.to !== null && inner.to <= outer.to);
  return startsIn && endsIn;
}

function mondayOfWeekOne(year: number): number {
  const fourth = dayNumber(year, 1, 4);
  return fourth - isoWeekday(fourth) + 1;
}
