/** Which number of a listing a person may settle by hand. */
import type { Verdict } from "../formats/verdict.ts";

/** The number that nothing here knows, as the listing prints it; `null` where there is none to settle. */
export function settleable(verdict: Verdict): string | null {
  if (verdict.verdict !== "unknown-part") return null;
  for (const { values } of verdict.reasons) {
    const { number } = values;
    if (typeof number === "string" && number !== "") return number;
  }
  return null;
}
