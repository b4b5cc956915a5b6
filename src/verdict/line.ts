/** A verdict in one language, as the line that the command writes. */
import type { Listing } from "../formats/listing.ts";
import type { Reason, SentenceValue, Verdict, VerdictLine } from "../formats/verdict.ts";
import type { Words } from "../text/words.ts";
import { hazardText } from "./hazard-words.ts";

/**
 * @param lineNumber one-based number of the listing's line, used where it has no id
 * @param words sentences in the reader's language
 */
export function verdictLine(listing: Listing, lineNumber: number, verdict: Verdict, words: Words): VerdictLine {
  return {
    ...(listing.id === undefined ? { line: lineNumber } : { id: listing.id }),
    device: verdict.device,
    partType: verdict.partType,
    verdict: verdict.verdict,
    tier: verdict.tier,
    parts: [...verdict.parts],
    revisions: [...verdict.revisions],
    hazards: verdict.hazards.map((hazard) => ({
      effect: hazard.effect,
      signal: hazard.signal,
      because: hazardText(hazard, words),
    })),
    reasons: verdict.reasons.map((reason) => ({
      code: reason.code,
      text: reasonText(reason, words),
      spans: [...reason.spans],
    })),
    ...(listing.price === undefined ? {} : { price: listing.price }),
  };
}

/** The sentence of a reason. Long lists of numbers are cut short. */
export function reasonText({ code, values }: Reason, words: Words): string {
  const shown: Record<string, SentenceValue> = {};
  for (const [name, value] of Object.entries(values)) {
    shown[name] = typeof value === "string" || typeof value === "number" ? value : value.slice(0, MAX_LISTED);
  }
  return words.say(`reason_${code.replaceAll("-", "_")}`, shown);
}

/** Most names that one sentence lists. */
const MAX_LISTED = 6;
