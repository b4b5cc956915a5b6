/** Everything as one file, everything back from a file, and the example away. */
import { useState } from "preact/hooks";
import { Button } from "../../ui/button.tsx";
import { Failure } from "../../ui/states.tsx";
import { useWords } from "../../ui/words-context.tsx";
import { benchOf } from "../bench/back-up.tsx";
import { useBench } from "../bench/bench-state.tsx";
import { hrefOf } from "../route.ts";
import { dateToday, useTools } from "../tools.tsx";

/** Devices of the example bear this before their id. */
const EXAMPLE = "demo-";

/** The section. */
export function KeepSection() {
  const words = useWords();
  const { store, work, download, now, ask } = useTools();
  const { devices = [] } = useBench();
  const [busy, setBusy] = useState(false);
  const [leftOut, setLeftOut] = useState<readonly string[]>([]);
  const [failure, setFailure] = useState("");
  const backUp = async () => {
    setBusy(true);
    try {
      const [bench, settings, sites, serialPatterns] = await Promise.all([
        benchOf(store),
        store.settings.get(),
        store.sites.list(),
        store.serialPatterns.all(),
      ]);
      const savedAt = now().toISOString();
      const backup = await work.backUp({ savedAt, bench, settings, sites, serialPatterns });
      download(`falsefit-${dateToday(now())}.backup.json`, backup.content);
      setLeftOut(backup.leftOut);
      setFailure("");
    } catch (error) {
      setFailure(error instanceof Error ? error.message : String(error));
    } finally {
      setBusy(false);
    }
  };
  const hasExample = devices.some(({ device }) => device.id.startsWith(EXAMPLE));
  return (
    <section class="wb-section" aria-labelledby="keep-heading">
      <h2 id="keep-heading">{words.say("settings_keep")}</h2>
      <p class="wb-soft">{words.say("settings_keep_why")}</p>
      <div class="ff-actions">
        <Button busy={busy} onPress={backUp}>
          {words.say("settings_back_up")}
        </Button>
        <a class="ff-button ff-plain" href={hrefOf("settings", { act: "restore" })}>
          {words.say("settings_restore")}
        </a>
        {hasExample ? (
          <Button kind="quiet" onPress={() => ask({ kind: "drop-example" })}>
            {words.say("settings_drop_example")}
          </Button>
        ) : (
          <Button kind="quiet" onPress={() => ask({ kind: "add-example" })}>
            {words.say("bench_add_example")}
          </Button>
        )}
      </div>
      {leftOut.length > 0 && <p class="wb-note">{words.say("settings_left_out", { titles: leftOut })}</p>}
      {failure !== "" && (
        <Failure title={words.say("settings_back_up_failed")} faults={[{ field: "", message: failure }]} />
      )}
    </section>
  );
}
