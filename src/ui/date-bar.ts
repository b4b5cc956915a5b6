/**
 * Build dates on a line: one lane a revision, the stretch in which two revisions overlap (the changeover) hatched,
 * and the device's own date as a bracket across all lanes. Everything drawn is also said in words.
 */
import type { Words } from "../text/words.ts";
import { type Drawn, drawn } from "./drawn.ts";

/** Days since 1970-01-01, both ends included; `null` is open. */
export interface DaySpan {
  readonly from: number | null;
  readonly to: number | null;
}

/** One lane of the drawing. */
export interface DateLane extends DaySpan {
  readonly name: string;
}

/** What of the line a drawing covers and where its stretches lie, as fractions of it from 0 to 1. */
export interface DateLayout {
  readonly first: number;
  readonly last: number;
  readonly lanes: readonly { start: number; end: number }[];
  /** Stretches in which two lanes or more overlap. */
  readonly overlaps: readonly { start: number; end: number }[];
  readonly device: { start: number; end: number } | null;
}

const DAY_MS = 86_400_000;
/** Room left of the first and right of the last date that is known, in days. */
const MARGIN_DAYS = 120;

/** Lays lanes out; `null` when no date at all is known. */
export function layDates(lanes: readonly DateLane[], device: DaySpan | null): DateLayout | null {
  const known = [...lanes, ...(device ? [device] : [])].flatMap(({ from, to }) => [from, to]).filter(isNumber);
  if (known.length === 0) return null;
  const first = Math.min(...known) - MARGIN_DAYS;
  const last = Math.max(...known) + MARGIN_DAYS;
  const place = ({ from, to }: DaySpan) => ({
    start: from === null ? 0 : (from - first) / (last - first),
    end: to === null ? 1 : (to + 1 - first) / (last - first),
  });
  const placed = lanes.map(place);
  return { first, last, lanes: placed, overlaps: overlapsOf(placed), device: device && place(device) };
}

function isNumber(value: number | null): value is number {
  return value !== null;
}

/** Stretches covered by two or more, merged and in order. */
function overlapsOf(lanes: readonly { start: number; end: number }[]): { start: number; end: number }[] {
  const edges = lanes
    .flatMap(({ start, end }) => [
      { at: start, step: 1 },
      { at: end, step: -1 },
    ])
    .sort((a, b) => a.at - b.at || a.step - b.step);
  const found: { start: number; end: number }[] = [];
  let depth = 0;
  let start = 0;
  for (const { at, step } of edges) {
    if (depth < 2 && depth + step >= 2) start = at;
    if (depth >= 2 && depth + step < 2 && at > start) found.push({ start, end: at });
    depth += step;
  }
  return found;
}

/** Draws the bar; `null` when no date is known. */
export function dateBar(lanes: readonly DateLane[], device: DaySpan | null, words: Words): Drawn | null {
  const layout = layDates(lanes, device);
  if (layout === null) return null;
  const bars = lanes.map((lane, i) => {
    const at = layout.lanes[i] ?? { start: 0, end: 1 };
    const open = `${lane.from === null ? " ff-open-start" : ""}${lane.to === null ? " ff-open-end" : ""}`;
    return drawn(
      "li",
      {},
      drawn("span", { class: "ff-lane-name" }, lane.name),
      drawn("span", { class: "ff-lane" }, drawn("span", { class: `ff-bar${open}`, style: across(at) })),
      drawn("span", { class: "ff-lane-dates" }, spanText(lane, words)),
    );
  });
  return drawn(
    "figure",
    { class: "ff-dates" },
    drawn(
      "div",
      { class: "ff-dates-lines" },
      drawn(
        "div",
        { class: "ff-dates-over", "aria-hidden": "true" },
        ...layout.overlaps.map((at) => drawn("span", { class: "ff-changeover", style: across(at) })),
        layout.device ? drawn("span", { class: "ff-own-date", style: across(layout.device) }) : null,
      ),
      drawn("ul", {}, ...bars),
    ),
    drawn("figcaption", {}, captionOf(layout, device, words)),
  );
}

function captionOf(layout: DateLayout, device: DaySpan | null, words: Words): string {
  const said = layout.overlaps.map(({ start, end }) => {
    const day = (at: number) => Math.round(layout.first + at * (layout.last - layout.first));
    return words.say("ui_dates_changeover", {
      from: monthText(day(start), words),
      to: monthText(day(end) - 1, words),
    });
  });
  if (device && layout.device) {
    const own = layout.device;
    const inside = layout.overlaps.some(({ start, end }) => own.start < end && own.end > start);
    const values = { dates: spanText(device, words) };
    said.push(inside ? words.say("ui_dates_yours_undecided", values) : words.say("ui_dates_yours", values));
  }
  return said.join(" ");
}

function spanText({ from, to }: DaySpan, words: Words): string {
  if (from === null && to === null) return words.say("ui_dates_unknown");
  if (from === null) return words.say("ui_dates_until", { to: monthText(to ?? 0, words) });
  if (to === null) return words.say("ui_dates_since", { from: monthText(from, words) });
  const [start, end] = [monthText(from, words), monthText(to, words)];
  return start === end ? start : words.say("ui_dates_between", { from: start, to: end });
}

/** A day as month and year in the language. */
function monthText(day: number, words: Words): string {
  return new Intl.DateTimeFormat(words.formatting, { year: "numeric", month: "short", timeZone: "UTC" }).format(
    day * DAY_MS,
  );
}

function across({ start, end }: { start: number; end: number }): string {
  const percent = (fraction: number) => `${Math.round(fraction * 1000) / 10}%`;
  return `inset-inline-start:${percent(start)};inline-size:${percent(Math.max(end - start, 0.012))}`;
}

/** The look of the bar; needs the theme's tokens. */
export const dateBarCss = `
.ff-dates{margin:0;--ff-name:8.5em;--ff-said:9.5em}
.ff-dates-lines{position:relative}
.ff-dates ul{list-style:none;margin:0;padding:0}
.ff-dates li{display:grid;grid-template-columns:var(--ff-name) 1fr var(--ff-said);gap:8px;align-items:center;min-block-size:26px}
.ff-lane{position:relative;block-size:10px;background:var(--ff-sunken);border-radius:2px}
.ff-bar{position:absolute;inset-block:0;background:var(--ff-edge);border-radius:2px;forced-color-adjust:none}
.ff-open-start{border-start-start-radius:0;border-end-start-radius:0}
.ff-open-end{border-start-end-radius:0;border-end-end-radius:0}
.ff-lane-dates{color:var(--ff-soft);font-size:.88em;font-variant-numeric:tabular-nums}
.ff-dates-over{position:absolute;z-index:1;pointer-events:none;inset-block:0;inset-inline-start:calc(var(--ff-name) + 8px);inset-inline-end:calc(var(--ff-said) + 8px)}
.ff-changeover{position:absolute;inset-block:0;forced-color-adjust:none;border-inline:1px solid var(--ff-check-edge);background:repeating-linear-gradient(-45deg,transparent 0 4px,var(--ff-check-edge) 4px 5.5px)}
.ff-own-date{position:absolute;inset-block:-2px;border:2px solid var(--ff-accent);border-radius:3px}
.ff-dates figcaption{color:var(--ff-soft);margin-block-start:6px;min-block-size:1.4em}
@media (max-width:480px){.ff-dates{--ff-name:6em;--ff-said:0px}.ff-lane-dates{grid-column:1/-1;margin-block-end:4px}.ff-dates-over{display:none}}
`;
