/**
 * The manufacture date word of smart batteries (Smart Battery Data Specification, register 1Bh; SMBIOS type 22
 * packs its date the same way): day in bits 0–4, month in bits 5–8, years since 1980 in bits 9–15.
 */
import { type DateInterval, dayNumber, daysInMonth } from "../text/dates.ts";

/**
 * @param word 16 bits
 * @returns the one day it names, or `null` for zero, all ones and dates that no calendar has
 */
export function sbsDate(word: number): DateInterval | null {
  if (!Number.isInteger(word) || word < 0 || word > 0xffff) return null;
  const day = word & 31;
  const month = (word >> 5) & 15;
  const year = 1980 + (word >> 9);
  if (month < 1 || month > 12 || day < 1 || day > daysInMonth(year, month)) return null;
  const at = dayNumber(year, month, day);
  return { from: at, to: at };
}
