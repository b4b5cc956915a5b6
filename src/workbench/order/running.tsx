/** A check under way: how far it is, what it has found so far, and the way to stop it. */
import type { ListSlot } from "../../store/lists.ts";
import { Progress } from "../../ui/states.tsx";
import { useWords } from "../../ui/words-context.tsx";
import { useTools } from "../tools.tsx";
import { standingOrder } from "./line-places.ts";
import type { ListState } from "./order-calls.ts";
import { StandingMark } from "./standing-mark.tsx";

/** The running check. */
export function Running({ slot, state }: { slot: ListSlot; state: ListState }) {
  const words = useWords();
  const { work } = useTools();
  const cancel = () => {
    work.listCancel({ slot }).catch((error: unknown) => console.error("Falsefit:", error));
  };
  return (
    <section class="od-running" aria-label={words.say("order_desk_running", { name: state.name })}>
      <Progress
        label={words.say("order_desk_running_lines", { name: state.name, count: state.lines })}
        done={state.done}
        onCancel={cancel}
      />
      <ul class="od-counts">
        {standingOrder.map((standing) => (
          <li key={standing}>
            <StandingMark slot={slot} standing={standing} />{" "}
            <b>{words.say("order_desk_number", { number: state.counts[standing] })}</b>
          </li>
        ))}
      </ul>
      <p class="ff-hint">{words.say("order_desk_running_hint")}</p>
    </section>
  );
}
