/** Which lines a list shows, and in which order: worked out from one byte a line, so that 100,000 lines cost nothing. */
import { type Standing, standings } from "../../desks/order-check.ts";
import { canonicalNumber } from "../../text/part-number.ts";
import { type KeptLine, standingOfKind } from "./kept.ts";
import type { LineOrder } from "./order-calls.ts";

/** What a person should see first. */
export const standingOrder: readonly Standing[] = ["wrong", "other-job", "ask", "no-job", "right"];

/** How many different bytes there are. */
const KINDS = standings.length * 16;

/**
 * Places of the lines of some standings.
 *
 * @param kinds one byte a line, as `kindOf` makes them
 * @returns zero-based places; worst first by standing, then by effect, then as listed
 */
export function linePlaces(kinds: Uint8Array, wanted: readonly Standing[], order: LineOrder): Uint32Array {
  const shown = Array.from({ length: KINDS }, (_, kind) => wanted.includes(standingOfKind(kind)));
  const sizes = new Uint32Array(KINDS);
  for (const kind of kinds) if (shown[kind]) sizes[kind] = (sizes[kind] ?? 0) + 1;
  const places = new Uint32Array(sizes.reduce((sum, size) => sum + size, 0));
  const starts = startsOf(sizes, order === "worst-first");
  for (let place = 0; place < kinds.length; place++) {
    const kind = kinds[place] ?? 0;
    if (!shown[kind]) continue;
    const bucket = order === "worst-first" ? kind : 0;
    const at = starts[bucket] ?? 0;
    places[at] = place;
    starts[bucket] = at + 1;
  }
  return places;
}

/**
 * Tells lines that have a text in their number (however it is separated), description or job.
 *
 * @param text what a person looks for; case makes no difference
 */
export function lineFinder(text: string): (line: Pick<KeptLine, "entry">) => boolean {
  const number = canonicalNumber(text);
  const plain = text.trim().toLowerCase();
  return ({ entry }) =>
    (number !== "" && canonicalNumber(entry.number).includes(number)) ||
    entry.title.toLowerCase().includes(plain) ||
    entry.job.toLowerCase().includes(plain);
}

/** Where the lines of each kind begin; all at the start where the order is the list's own. */
function startsOf(sizes: Uint32Array, sorted: boolean): Uint32Array {
  const starts = new Uint32Array(KINDS);
  if (!sorted) return starts;
  const byWorst = Array.from({ length: KINDS }, (_, kind) => kind).sort((a, b) => rank(a) - rank(b));
  let at = 0;
  for (const kind of byWorst) {
    starts[kind] = at;
    at += sizes[kind] ?? 0;
  }
  return starts;
}

function rank(kind: number): number {
  return standingOrder.indexOf(standingOfKind(kind)) * 16 + (kind & 15);
}
