/** An item's condition as a record's lines state it. */
import { type Cues, foldWords } from "./cues.ts";
import type { Line } from "./lines.ts";

/** The record's condition: a line that says nothing else, or one with the label. */
export function conditionOf(cues: Cues, lines: readonly Line[], titleLine: number): string | null {
  for (const [number, line] of lines.entries()) {
    if (number === titleLine || line.text.length > 80) continue;
    const folded = foldWords(line.text);
    if (cues.is("conditions", folded)) return line.text.trim();
    const at = line.text.search(/[:：]/);
    if (at > 0 && cues.is("conditionLabel", foldWords(line.text.slice(0, at)))) {
      const value = line.text.slice(at + 1).trim();
      if (value !== "") return value;
    }
    const part = line.text.split(/\s[·•|/]\s|\s[–—-]\s|,\s/).find((piece) => cues.is("conditions", foldWords(piece)));
    if (part !== undefined) return part.trim();
  }
  return null;
}

/** The condition among item specifics, by the names that such a field has. */
export function labelledCondition(cues: Cues, specifics: Readonly<Record<string, string>>): string | null {
  const entry = Object.entries(specifics).find(([name]) => cues.is("conditionLabel", foldWords(name)));
  return entry?.[1] ?? null;
}
