/** From display blocks to facts: which display is built in, what its panel is called, what it shows. */
import type { Quantities } from "../formats/catalog.ts";
import { type DateInterval, isoWeek, yearInterval } from "../text/dates.ts";
import { looksLikePrintedNumber } from "../text/placeholders.ts";
import type { DisplayBlock } from "./edid.ts";
import type { FittedFact, ReadoutFact, Sentence } from "./facts.ts";
import { sentence } from "./facts.ts";

/** What stands around a block in a text dump tells how the display is connected. */
export type Connection = "built-in" | "external" | "unknown";

/** Panels of portable machines end below this diagonal; bigger ones with a product name stand on a desk. */
const LARGEST_PORTABLE_IN = 19;
/** After its panel a machine is built within a year: rough, common practice, no source. */
const PANEL_LEAD = 365;
/** Makers count weeks differently, so a week is taken with one on either side. */
const WEEK_SLACK = 7;

/** Facts of one display. */
export function displayFacts(
  display: DisplayBlock,
  connection: Connection,
): { facts: ReadoutFact[]; messages: Sentence[] } {
  const place = connection === "unknown" ? guessConnection(display) : connection;
  const numbers = panelNumbers(display, place);
  const made = madeOf(display);
  const external = place === "external";
  const fitted: FittedFact = {
    field: "fitted",
    type: "display-panel",
    numbers,
    quantities: panelQuantities(display),
    made,
    replaceable: !external,
    source: "EDID",
    confidence: place === "built-in" ? (numbers.length > 0 ? "certain" : "likely") : "rough",
    ...(place === "built-in"
      ? {}
      : { note: sentence(external ? "readout_note_external" : "readout_note_maybe_external") }),
  };
  const facts: ReadoutFact[] = [fitted];
  if (place === "built-in" && made?.from != null && made.to !== null) {
    facts.push({
      field: "buildDate",
      interval: { from: made.from, to: made.to + PANEL_LEAD },
      source: "EDID",
      confidence: "rough",
      note: sentence("readout_note_first_panel"),
    });
  }
  return { facts, messages: [] };
}

/** Reads how a display hangs on the machine from the text before its block: connector names of the usual tools. */
export function connectionIn(text: string): Connection {
  const inside = lastMatch(text, /\b(?:eDP|LVDS|DSI)(?:-?\d|\b)/gi);
  const outside = lastMatch(text, /\b(?:HDMI|DVI|VGA|DisplayPort|DP)(?:-?[A-Z]?-?\d|\b)/g);
  if (inside < 0 && outside < 0) return "unknown";
  return inside >= outside ? "built-in" : "external";
}

function lastMatch(text: string, pattern: RegExp): number {
  let last = -1;
  for (const match of text.matchAll(pattern)) last = match.index;
  return last;
}

/** Built-in panels carry free texts and hardly ever a product name; monitors the other way round. */
function guessConnection(display: DisplayBlock): Connection {
  const diagonal = diagonalOf(display);
  const small = diagonal === null || diagonal <= LARGEST_PORTABLE_IN;
  if (display.texts.some((text) => text !== "") && display.serialText === null && small) return "built-in";
  if (display.name !== null && (!small || display.serialText !== null || display.extensions > 0)) return "external";
  return "unknown";
}

/** Texts that can be a number printed on the panel; a product name only where there is no free text. */
function panelNumbers(display: DisplayBlock, place: Connection): string[] {
  const texts = [...display.texts, ...display.pieces].map((text) => text.trim());
  if (place === "built-in" && texts.length === 0 && display.name !== null) texts.push(display.name.trim());
  const numbers = texts.filter((text) => looksLikePrintedNumber(text) && !/^\d{3,4}\s?[xX]\s?\d{3,4}$/.test(text));
  return place === "external" ? [] : [...new Set(numbers)];
}

function panelQuantities(display: DisplayBlock): Quantities {
  const { timing } = display;
  const diagonal = diagonalOf(display);
  const refresh = timing?.refresh_Hz ?? null;
  return {
    ...(timing === null ? {} : { width_px: timing.width_px, height_px: timing.height_px }),
    ...(refresh === null || refresh < 10 || refresh > 1_000 ? {} : { refresh_Hz: Math.round(refresh) }),
    ...(diagonal === null ? {} : { diagonal_in: diagonal }),
  };
}

/**
 * The diagonal in inches, to a hundredth, from the millimetres of the first timing. The coarser centimetres
 * must agree where both are stated, and the picture's shape must agree with its pixels: many displays state a
 * mere ratio there.
 */
function diagonalOf({ timing, size_cm }: DisplayBlock): number | null {
  const millimetres = timing?.size_mm ?? null;
  if (timing === null || millimetres === null) return null;
  const [width, height] = millimetres;
  if (width < 50 || height < 30) return null;
  if (size_cm !== null && (Math.abs(width / 10 - size_cm[0]) > 1 || Math.abs(height / 10 - size_cm[1]) > 1))
    return null;
  const shape = (width * timing.height_px) / (height * timing.width_px);
  if (shape < 0.93 || shape > 1.07) return null;
  return Math.round((Math.hypot(width, height) / 25.4) * 100) / 100;
}

function madeOf({ year, week }: DisplayBlock): DateInterval | null {
  if (year === null) return null;
  const exact = week === null ? null : isoWeek(year, week);
  if (exact === null || exact.from === null || exact.to === null) return yearInterval(year);
  return { from: exact.from - WEEK_SLACK, to: exact.to + WEEK_SLACK };
}
