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
  for (const read of [statedIn, mentionedIn]) {
    for (const [number, line] of lines.entries()) {
      if (line.text.length > MAX_LINE) continue;
      const said = read(cues, line, number === titleLine);
      if (said) return said.trim();
    }
  }
  return null;
}

/** A field: a line or an element that says nothing else and is no sentence, or what follows the label. */
function statedIn(cues: Cues, line: Line, isTitle: boolean): string | null {
  const { text } = line;
  if (!isTitle) {
    const at = text.search(/[:：]/);
    if (at > 0 && cues.is("conditionLabel", foldWords(text.slice(0, at)))) return text.slice(at + 1).trim() || null;
    if (isCondition(cues, text) && !text.endsWith(".")) return text;
  }
  return partsOf(line).find((part) => isCondition(cues, part)) ?? null;
}

/** A sentence, or a part of a line between separators. */
function mentionedIn(cues: Cues, { text }: Line, isTitle: boolean): string | null {
  if (isTitle) return null;
  if (isCondition(cues, text)) return text;
  return SEPARATOR.test(text) ? (text.split(SEPARATOR).find((part) => isCondition(cues, part)) ?? null) : null;
}

function isCondition(cues: Cues, text: string): boolean {
  return cues.is("conditions", foldWords(text));
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
