/** Revisions as lanes of the build-date drawing. Pure. */
import { buildInterval } from "../catalog/resolve.ts";
import type { DateSpanText } from "../formats/catalog.ts";
import { yearInterval } from "../text/dates.ts";
import type { DateLane } from "../ui/date-bar.ts";

/** What is said of a revision's dates: spans, or model years where no span is given. */
export interface DatedRevision {
  readonly name: string;
  readonly built: readonly DateSpanText[];
  readonly years: readonly number[];
}

/** One lane a span; a run of years is one lane; spans that cannot be read are left out. */
export function lanesOf(revisions: readonly DatedRevision[]): DateLane[] {
  return revisions.flatMap(({ name, built, years }) => {
    const spans = built.flatMap((span) => {
      const interval = buildInterval(span);
      return interval === null ? [] : [{ name, ...interval }];
    });
    return spans.length > 0 ? spans : yearRuns(years).map((run) => ({ name, ...run }));
  });
}

function yearRuns(years: readonly number[]): { from: number | null; to: number | null }[] {
  const runs: { first: number; last: number }[] = [];
  for (const year of [...years].sort((a, b) => a - b)) {
    const run = runs.at(-1);
    if (run && year <= run.last + 1) run.last = year;
    else runs.push({ first: year, last: year });
  }
  return runs.map(({ first, last }) => ({ from: yearInterval(first).from, to: yearInterval(last).to }));
}
