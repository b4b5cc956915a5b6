/** What a person sets, keeps and throws away. */
import { useWords } from "../../ui/words-context.tsx";

/** The desk. */
export function SettingsDesk() {
  const words = useWords();
  return (
    <div class="wb-page">
      <h1 tabIndex={-1} data-start="">
        {words.say("workbench_desk_settings")}
      </h1>
    </div>
  );
}
