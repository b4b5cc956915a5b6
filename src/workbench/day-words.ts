/** Days as people say them. */
import type { DateInterval } from "../text/dates.ts";
import type { Words } from "../text/words.ts";

const DAY_MS = 86_400_000;

/** `17–23 May 2021`, `since 4 January 2021`; an empty text where nothing is known. */
export function dayWords({ from, to }: DateInterval, words: Words): string {
  const format = new Intl.DateTimeFormat(words.formatting, {
    day: "numeric",
    month: "short",
    year: "numeric",
    timeZone: "UTC",
  });
  if (from !== null && to !== null) {
    return from === to ? format.format(from * DAY_MS) : format.formatRange(from * DAY_MS, to * DAY_MS);
  }
  if (from !== null) return words.say("bench_since", { day: format.format(from * DAY_MS) });
  return to === null ? "" : words.say("bench_until", { day: format.format(to * DAY_MS) });
}
