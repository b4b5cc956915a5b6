/** The popup: device in hand, this page, one pasted title. */
import { useCallback, useEffect, useState } from "preact/hooks";
import { askBackground, tellPage } from "../background/ask.ts";
import type { Device } from "../formats/bench.ts";
import type { Store } from "../store/open.ts";
import { Button } from "../ui/button.tsx";
import { Sign } from "../ui/drawing.tsx";
import { useUndo } from "../ui/undo.tsx";
import { useWords } from "../ui/words-context.tsx";
import { DeviceSection } from "./device-section.tsx";
import { FirstRun } from "./first-run.tsx";
import { onPageReport, onStoreChange, type PopupModel, readModel, switchSiteOff, switchSiteOn } from "./model.ts";
import { PageSection } from "./page-section.tsx";
import { TitleSection } from "./title-section.tsx";

interface AppProps {
  store: Store;
  start: PopupModel;
}

/** Keeps the model fresh and shows it. */
export function App({ store, start }: AppProps) {
  const words = useWords();
  const offerUndo = useUndo();
  const [model, setModel] = useState(start);
  const [adding, setAdding] = useState(false);
  // A text that a menu handed over; null when the popup was opened by itself.
  const [handed, setHanded] = useState<string | null>(null);
  const { tab } = start;
  const refresh = useCallback(async () => setModel(await readModel(store, tab)), [store, tab]);
  useEffect(() => onStoreChange(refresh), [refresh]);
  useEffect(() => {
    askBackground({ kind: "take-text" }).then((reply) => reply.ok && reply.data && setHanded(reply.data.text));
  }, []);
  useEffect(
    () => (tab === null ? undefined : onPageReport(tab.id, (page) => setModel((before) => ({ ...before, page })))),
    [tab],
  );

  const take = async (id: string) => {
    setModel({ ...model, inHand: id });
    await store.devices.takeInHand(id);
  };
  const save = async (device: Device) => {
    await store.devices.save(device);
    await store.devices.takeInHand(device.id);
    setAdding(false);
  };
  const dropExample = async () => {
    const dropped = await askBackground({ kind: "drop-example" });
    if (!dropped.ok) return;
    offerUndo(words.say("popup_example_dropped"), async () => {
      await askBackground({ kind: "add-example" });
    });
  };
  const switchSite = async (on: boolean) => {
    if (tab?.site === undefined) return false;
    const done = await (on ? switchSiteOn : switchSiteOff)({ id: tab.id, site: tab.site });
    await refresh();
    return done;
  };
  if (adding || model.devices.length === 0) {
    return (
      <main class="popup">
        <FirstRun
          first={model.devices.length === 0}
          onSave={save}
          onExample={() => askBackground({ kind: "add-example" })}
          onBack={() => setAdding(false)}
        />
      </main>
    );
  }
  return (
    <main class="popup">
      <div class="top">
        <Sign pose="crossed" size={18} />
        <h1>{words.say("popup_name_of_program")}</h1>
        <Button kind="quiet" onPress={() => askBackground({ kind: "open-workbench", place: "bench" }).then(closePopup)}>
          {words.say("popup_workbench")}
        </Button>
      </div>
      {model.setAside > 0 && <p class="aside">{words.say("popup_set_aside", { count: model.setAside })}</p>}
      <DeviceSection model={model} onTake={take} onAdd={() => setAdding(true)} onDropExample={dropExample} />
      <PageSection
        model={model}
        onSwitch={switchSite}
        onOnce={() => tab && askBackground({ kind: "mark-once", tab: tab.id })}
        onTeach={() => tab && tellPage(tab.id, { kind: "teach" }).then(closePopup)}
        onShowMarks={() => tab && tellPage(tab.id, { kind: "toggle-marks" })}
      />
      <TitleSection key={handed} device={model.inHand} start={handed ?? ""} focus={handed !== null} />
    </main>
  );
}

/** Leaves the page to the person; a popup that stands in a tab of its own stays. */
function closePopup(): void {
  if (new URLSearchParams(location.search).get("tab") === null) window.close();
}
