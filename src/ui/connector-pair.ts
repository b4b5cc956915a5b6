/**
 * The two connectors side by side, pin by pin: what the offered part puts on each pin and what yours expects there.
 * Pins that differ are drawn crossed, heavier and in the colour of stop; long runs of equal pins are folded.
 */
import type { Words } from "../text/words.ts";
import { pinText } from "../verdict/hazard-words.ts";
import { type Drawn, drawn } from "./drawn.ts";

/** One side of the drawing. */
export interface PinSide {
  /** The part's number, or what else names it. */
  readonly name: string;
  /** What stands on each pin, pin 1 first. */
  readonly pins: readonly string[];
}

/** A row: one pin, or a folded run of equal ones (`from` to `to`, one-based, both included). */
export interface PinRow {
  readonly from: number;
  readonly to: number;
  readonly offered: string;
  readonly yours: string;
  readonly differs: boolean;
}

/** Up to this many pins, every pin has its own row. */
const ALL_SHOWN = 8;
/** Rows with a difference that are drawn; the rest is counted. */
const MOST_DIFFERENCES = 12;

/** Compares two sets of pins; a side without a pin there has an empty word. */
export function pinRows(offered: readonly string[], yours: readonly string[]): PinRow[] {
  const count = Math.max(offered.length, yours.length);
  const rows: PinRow[] = [];
  for (let pin = 1; pin <= count; pin++) {
    const row = pinRow(pin, offered[pin - 1] ?? "", yours[pin - 1] ?? "");
    const last = rows.at(-1);
    if (count > ALL_SHOWN && last && !last.differs && !row.differs) rows[rows.length - 1] = { ...last, to: pin };
    else rows.push(row);
  }
  return rows;
}

function pinRow(pin: number, offered: string, yours: string): PinRow {
  return { from: pin, to: pin, offered, yours, differs: offered !== yours };
}

/** Draws the pair as a table that a screen reader reads row by row. */
export function connectorPair(offered: PinSide, yours: PinSide, words: Words): Drawn {
  const rows = pinRows(offered.pins, yours.pins);
  const differing = rows.filter((row) => row.differs).length;
  const shown = rows.slice(0, lastShown(rows));
  const left = differing - shown.filter((row) => row.differs).length;
  return drawn(
    "table",
    { class: "ff-pair" },
    drawn("caption", {}, words.say("ui_pair_caption", { count: differing })),
    drawn(
      "thead",
      {},
      drawn(
        "tr",
        {},
        drawn("th", { scope: "col", class: "ff-pin" }, words.say("ui_pair_pin")),
        drawn("th", { scope: "col" }, words.say("ui_pair_offered"), drawn("b", {}, offered.name)),
        drawn("td", {}),
        drawn("th", { scope: "col" }, words.say("ui_pair_yours"), drawn("b", {}, yours.name)),
      ),
    ),
    drawn("tbody", {}, ...shown.map((row) => drawRow(row, words))),
    left > 0
      ? drawn("tfoot", {}, drawn("tr", {}, drawn("td", { colspan: "4" }, words.say("ui_pair_more", { count: left }))))
      : null,
  );
}

/** How many rows are drawn: up to the last one within {@link MOST_DIFFERENCES} differences. */
function lastShown(rows: readonly PinRow[]): number {
  let differences = 0;
  for (const [i, row] of rows.entries()) {
    if (row.differs && ++differences > MOST_DIFFERENCES) return i;
  }
  return rows.length;
}

function drawRow(row: PinRow, words: Words): Drawn {
  const folded = row.to > row.from;
  const pins = folded ? `${row.from}–${row.to}` : String(row.from);
  const word = (pin: string) => {
    if (folded) return words.say("ui_pair_same");
    return pin === "" ? words.say("ui_pair_none") : pinText(pin, words);
  };
  return drawn(
    "tr",
    { class: row.differs ? "ff-differs" : "ff-equal" },
    drawn("th", { scope: "row", class: "ff-pin" }, pins),
    drawn("td", { class: "ff-half" }, word(row.offered)),
    drawn("td", { class: "ff-wire", "aria-hidden": "true" }, wire(row.differs)),
    drawn("td", { class: "ff-half" }, word(row.yours)),
  );
}

function wire(differs: boolean): Drawn {
  return drawn(
    "svg",
    {
      viewBox: "0 0 40 16",
      width: "40",
      height: "16",
      fill: "none",
      stroke: "currentColor",
      "stroke-width": differs ? "2.4" : "1.2",
    },
    drawn("path", { d: differs ? "M0 8H12M28 8H40M13 2L27 14M13 14L27 2" : "M0 8H40" }),
  );
}

/** The look of the pair; needs the theme's tokens. */
export const connectorPairCss = `
.ff-pair{border-collapse:separate;border-spacing:0 2px;inline-size:100%;font-size:.92em;text-align:start}
.ff-pair caption{text-align:start;color:var(--ff-soft);padding-block-end:4px}
.ff-pair th{font-weight:400;color:var(--ff-soft);text-align:start;vertical-align:bottom;padding:0 8px 2px}
.ff-pair th b{display:block;color:var(--ff-ink);font-weight:600;overflow-wrap:anywhere}
.ff-pair .ff-pin{inline-size:1%;white-space:nowrap;padding:0 6px 0 0;text-align:end;font-variant-numeric:tabular-nums}
[dir=rtl] .ff-pair .ff-pin{padding:0 0 0 6px}
.ff-half{background:var(--ff-sunken);padding:3px 8px;overflow-wrap:anywhere}
.ff-half:nth-child(2){border-inline-end:4px solid var(--ff-edge)}
.ff-half:nth-child(4){border-inline-start:4px solid var(--ff-edge)}
.ff-wire{inline-size:40px;min-inline-size:40px;padding:0;color:var(--ff-edge);line-height:0}
.ff-differs .ff-half{font-weight:600;border-color:var(--ff-stop-edge)}
.ff-differs .ff-wire{color:var(--ff-stop-edge)}
.ff-equal .ff-half{color:var(--ff-soft)}
.ff-pair tfoot td{color:var(--ff-soft);padding-block-start:4px}
`;
