/** What reading dates needs to know: today, and the month and week words of every language. */
import rules from "falsefit:rules";
import type { BuildDateOptions, DateNames } from "../../readout/build-date.ts";
import { dayNumber } from "../../text/dates.ts";

const names: readonly DateNames[] = rules.numberFormats.flatMap((format) =>
  format.kind === "words" ? [{ months: format.dates.months, week: format.dates.week }] : [],
);

/** The setting on a day. */
export function dateSetting(now: Date): BuildDateOptions {
  return { today: dayNumber(now.getFullYear(), now.getMonth() + 1, now.getDate()), names };
}
