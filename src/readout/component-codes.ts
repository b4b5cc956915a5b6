/**
 * Month and year letters of component date codes (IEC 60062, two-character code).
 *
 * The letters are from memory: the table of the standard was not at hand. Twenty letters name twenty years in
 * turn, so every code has a twin twenty years off; which one is meant, only other knowledge can tell.
 */

/** Year letters in order: A is 1990, 2010, 2030 … The letters G, I, O, Q, Y and Z are left out. */
const YEAR_LETTERS = "ABCDEFHJKLMNPRSTUVWX";
const FIRST_YEAR = 1970;
const LAST_YEAR = 2069;
/** Month marks in order: 1 to 9, O for October, N for November, D for December. */
const MONTH_MARKS = "123456789OND";

/** A month that a code can stand for. */
export interface CodedMonth {
  readonly year: number;
  readonly month: number;
}

/**
 * Every month that a two-character code can mean between 1970 and 2069, earliest first; none for a text that is no code.
 */
export function codedMonths(code: string): CodedMonth[] {
  const upper = code.toUpperCase();
  if (upper.length !== 2) return [];
  const letter = YEAR_LETTERS.indexOf(upper.charAt(0));
  const month = MONTH_MARKS.indexOf(upper.charAt(1)) + 1;
  if (letter < 0 || month < 1) return [];
  const months: CodedMonth[] = [];
  for (let year = FIRST_YEAR + letter; year <= LAST_YEAR; year += YEAR_LETTERS.length) months.push({ year, month });
  return months;
}
