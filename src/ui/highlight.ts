/** A text cut at the places that reasons rest on, so that each piece can be shown marked or plain. */
import type { Span } from "../formats/verdict.ts";

/** A piece of a text; `marked` when a reason rests on it. */
export interface Piece {
  readonly text: string;
  readonly marked: boolean;
}

/** Longest text that is shown whole, in UTF-16 code units; a longer one is shown around its marked places. */
const LONGEST = 400;
/** What is shown around a marked place of a longer text. */
const AROUND = 40;

/**
 * Cuts a field's text at its spans. Spans may overlap, touch, be out of order or lie outside of the text.
 *
 * @param field the field of the listing that the text is, such as `title`
 */
export function markedPieces(text: string, spans: readonly Span[], field: string): Piece[] {
  const own = mergedSpans(spans, field, text.length);
  const pieces: Piece[] = [];
  let at = 0;
  for (const [start, end] of own) {
    if (start > at) pieces.push({ text: text.slice(at, start), marked: false });
    pieces.push({ text: text.slice(start, end), marked: true });
    at = end;
  }
  if (at < text.length) pieces.push({ text: text.slice(at), marked: false });
  return text.length > LONGEST ? shortened(pieces) : pieces;
}

/** The spans of one field, clipped to the text, sorted and joined where they meet. */
function mergedSpans(spans: readonly Span[], field: string, length: number): [number, number][] {
  const own = spans
    .filter(([, , name]) => name === field)
    .map(([start, end]): [number, number] => [Math.max(0, start), Math.min(length, end)])
    .filter(([start, end]) => start < end)
    .sort((a, b) => a[0] - b[0]);
  const merged: [number, number][] = [];
  for (const [start, end] of own) {
    const last = merged.at(-1);
    if (last && start <= last[1]) last[1] = Math.max(last[1], end);
    else merged.push([start, end]);
  }
  return merged;
}

/** Keeps marked pieces and a little on each side of them; what is left out becomes an ellipsis. */
function shortened(pieces: readonly Piece[]): Piece[] {
  return pieces.slice(0, 24).map((piece, i, all) => {
    if (piece.marked || piece.text.length <= 2 * AROUND) return piece;
    const head = i === 0 ? "" : piece.text.slice(0, AROUND);
    const tail = i === all.length - 1 ? "" : piece.text.slice(-AROUND);
    return {
      text: i === 0 && all.length === 1 ? `${piece.text.slice(0, LONGEST)}…` : `${head}…${tail}`,
      marked: false,
    };
  });
}
