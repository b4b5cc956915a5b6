/** Stored values that could not be read: kept aside, to be downloaded or thrown away. */
import { useState } from "preact/hooks";
import type { SetAside } from "../../store/records.ts";
import { Button } from "../../ui/button.tsx";
import { Dialog } from "../../ui/dialog.tsx";
import { useWords } from "../../ui/words-context.tsx";
import { useLoaded } from "../loaded.ts";
import { useStoredTurn } from "../stored.ts";
import { useTools } from "../tools.tsx";

/** The section; nothing where everything could be read. */
export function AsideSection() {
  const words = useWords();
  const { store, download } = useTools();
  const turn = useStoredTurn("aside/");
  const aside = useLoaded(() => store.records.setAside(), [turn]);
  const [going, setGoing] = useState<SetAside | null>(null);
  const list = aside.value ?? [];
  if (list.length === 0) return null;
  const throwAway = async () => {
    if (going !== null) await store.records.discardAside(going.id);
    setGoing(null);
  };
  return (
    <section class="wb-section" aria-labelledby="aside-heading">
      <h2 id="aside-heading">{words.say("settings_aside")}</h2>
      <p class="wb-soft">{words.say("settings_aside_why")}</p>
      <ul class="wb-rows">
        {list.map((entry) => (
          <li key={entry.id} class="wb-setting-row">
            <span>
              <span class="ff-number" dir="ltr">
                {entry.key}
              </span>
              <span class="wb-under">{entry.faults[0]?.message}</span>
            </span>
            <span class="ff-actions">
              <Button
                label={words.say("workbench_act_on", { act: words.say("settings_aside_download"), on: entry.key })}
                onPress={() => download("falsefit-unreadable.json", `${JSON.stringify(entry, null, 2)}\n`)}
              >
                {words.say("settings_aside_download")}
              </Button>
              <Button
                kind="quiet"
                label={words.say("workbench_act_on", { act: words.say("settings_aside_discard"), on: entry.key })}
                onPress={() => setGoing(entry)}
              >
                {words.say("settings_aside_discard")}
              </Button>
            </span>
          </li>
        ))}
      </ul>
      {going && (
        <Dialog
          title={words.say("settings_aside_sure")}
          onClose={() => setGoing(null)}
          actions={
            <>
              <Button onPress={() => setGoing(null)}>{words.say("ui_cancel")}</Button>
              <Button kind="danger" onPress={throwAway}>
                {words.say("settings_aside_discard")}
              </Button>
            </>
          }
        >
          <p>{words.say("settings_aside_for_good", { key: going.key })}</p>
        </Dialog>
      )}
    </section>
  );
}
