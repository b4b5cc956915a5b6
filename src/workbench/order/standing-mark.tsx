/** The sign and the word for what a line amounts to. */
import type { Standing } from "../../desks/order-check.ts";
import type { Tier } from "../../formats/verdict.ts";
import type { ListSlot } from "../../store/lists.ts";
import type { Words } from "../../text/words.ts";
import { Sign } from "../../ui/drawing.tsx";
import { poseOfTier } from "../../ui/sign.ts";
import { useWords } from "../../ui/words-context.tsx";

/** The tier whose sign and colour stand for a standing. A part in stock is not wrong for serving another revision. */
const tiers: Readonly<Record<ListSlot, Readonly<Record<Standing, Tier>>>> = {
  order: { right: "go", ask: "check", wrong: "stop", "other-job": "stop", "no-job": "none" },
  stock: { right: "go", ask: "check", wrong: "none", "other-job": "none", "no-job": "none" },
};

/** The word for a standing. */
function standingWord(slot: ListSlot, standing: Standing, words: Words): string {
  const word = standing.replaceAll("-", "_");
  return words.say(slot === "order" ? `order_standing_${word}` : `order_desk_stock_${word}`);
}

/** The word for an effect. */
export function effectWord(effect: string, words: Words): string {
  return words.say(`order_effect_${effect.replaceAll("-", "_")}`);
}

/** Sign and word, in the colours of the tier. */
export function StandingMark({ slot, standing }: { slot: ListSlot; standing: Standing }) {
  const words = useWords();
  const tier = tiers[slot][standing];
  return (
    <span class="od-mark" data-tier={tier}>
      <Sign pose={poseOfTier[tier]} size={14} />
      {standingWord(slot, standing, words)}
    </span>
  );
}
