/** The sign and the word for what a line amounts to. */
import type { Standing } from "../../desks/order-check.ts";
import type { Tier } from "../../formats/verdict.ts";
import type { Words } from "../../text/words.ts";
import { Sign } from "../../ui/drawing.tsx";
import { poseOfTier } from "../../ui/sign.ts";
import { useWords } from "../../ui/words-context.tsx";

/** The tier whose sign and colour stand for a standing. */
export const tierOfStanding: Readonly<Record<Standing, Tier>> = {
  right: "go",
  ask: "check",
  wrong: "stop",
  "other-job": "stop",
  "no-job": "none",
};

/** The word for a standing. */
export function standingWord(standing: Standing, words: Words): string {
  return words.say(`order_standing_${standing.replaceAll("-", "_")}`);
}

/** The word for an effect. */
export function effectWord(effect: string, words: Words): string {
  return words.say(`order_effect_${effect.replaceAll("-", "_")}`);
}

/** Sign and word, in the colours of the tier. */
export function StandingMark({ standing }: { standing: Standing }) {
  const words = useWords();
  const tier = tierOfStanding[standing];
  return (
    <span class="od-mark" data-tier={tier}>
      <Sign pose={poseOfTier[tier]} size={14} />
      {standingWord(standing, words)}
    </span>
  );
}
