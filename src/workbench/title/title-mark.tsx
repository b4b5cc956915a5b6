/** The sign and the word for a whole title. */
import { Sign } from "../../ui/drawing.tsx";
import { poseOfTier } from "../../ui/sign.ts";
import { useWords } from "../../ui/words-context.tsx";
import type { SaidTitle } from "./title-calls.ts";
import { tierOf } from "./title-reading.tsx";

/** Misleads, leaves guessing, or is clear; a title that touches no device is none of these. */
export function TitleMark({ summary, known }: { summary: SaidTitle["summary"]; known: boolean }) {
  const words = useWords();
  const tier = tierOf(summary, known);
  return (
    <span class="od-mark" data-tier={tier}>
      <Sign pose={poseOfTier[tier]} size={14} />
      {words.say(`title_desk_mark_${tier}`)}
    </span>
  );
}
