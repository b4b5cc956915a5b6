/** An item's condition as a record's lines state it. */
import { type Cues, foldWords } from "./cues.ts";
import type { Line } from "./lines.ts";

/** Longest line that may state a condition among other things. */
const MAX_LINE = 200;
const SEPARATOR = /\s[·•|/]\s|\s[–—-]\s|,\s/;

/**
 * The record's condition: a line or a part of one that says nothing else, or what follows the label.
 *
 * @param titleLine number of the line with the title: only parts of it in elements of their own are looked at
 */
export function conditionOf(cues: Cues, lines: readonly Line[], titleLine: number): string | null {
  for (const [number, line] of lines.entries()) {
    if (line.text.length > MAX_LINE) continue;
    const said = number === titleLine ? null : wholeLine(cues, line.text);
    const part = said ?? partsOf(line).find((text) => cues.is("conditions", foldWords(text)));
    if (part) return part.trim();
  }
  return null;
}

function wholeLine(cues: Cues, text: string): string | null {
  if (cues.is("conditions", foldWords(text))) return text;
  const at = text.search(/[:：]/);
  if (at > 0 && cues.is("conditionLabel", foldWords(text.slice(0, at)))) return text.slice(at + 1).trim() || null;
  return SEPARATOR.test(text)
    ? (text.split(SEPARATOR).find((part) => cues.is("conditions", foldWords(part))) ?? null)
    : null;
}

/** The texts of a line that stand in elements of their own. */
function partsOf({ text, pieces }: Line): string[] {
  return pieces.length < 2 ? [] : pieces.map((piece) => text.slice(piece.start, piece.end));
}

/** The condition among item specifics, by the names that such a field has. */
export function labelledCondition(cues: Cues, specifics: Readonly<Record<string, string>>): string | null {
  const entry = Object.entries(specifics).find(([name]) => cues.is("conditionLabel", foldWords(name)));
  return entry?.[1] ?? null;
}
