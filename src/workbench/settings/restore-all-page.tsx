/** Everything back from a backup: bench, catalogs and settings, each shown before it is done and to be left out. */
import { useState } from "preact/hooks";
import type { Outcome } from "../../formats/common.ts";
import { Button } from "../../ui/button.tsx";
import { Toggle } from "../../ui/field.tsx";
import { useUndo } from "../../ui/undo.tsx";
import { useWords } from "../../ui/words-context.tsx";
import { useBench } from "../bench/bench-state.tsx";
import { type Choice, choiceFor, KEEP_MINE, PlanView } from "../bench/plan-view.tsx";
import type { RestorePlan } from "../bench/restore.ts";
import { applyPlan, planFor } from "../bench/restore-apply.ts";
import { FilePage } from "../file-page.tsx";
import { hrefOf } from "../route.ts";
import { useTools } from "../tools.tsx";
import type { FoundBackup } from "../work/backup-services.ts";

/** A backup that was read, and what its bench would do to the one that is here. */
interface Read {
  readonly backup: FoundBackup;
  readonly plan: RestorePlan;
}

/** The page. */
export function RestoreAllPage() {
  const words = useWords();
  const { work, store } = useTools();
  const { devices = [] } = useBench();
  const read = async (file: File): Promise<Outcome<Read>> => {
    const outcome = await work.readBackup(file);
    if (!outcome.ok) return outcome;
    const mine = devices.map(({ device }) => device);
    const plan = await planFor(store, mine, outcome.value.bench);
    return { ok: true, value: { backup: outcome.value, plan } };
  };
  return (
    <FilePage
      above={
        <p>
          <a href={hrefOf("settings")}>{words.say("settings_back")}</a>
        </p>
      }
      heading={words.say("settings_restore")}
      why={words.say("settings_restore_why")}
      choose={words.say("settings_restore_choose")}
      read={read}
      show={(name, value, onDone) => <Preview name={name} {...value} onDone={onDone} />}
    />
  );
}

interface PreviewProps extends Read {
  name: string;
  onDone: () => void;
}

function Preview({ name, backup, plan, onDone }: PreviewProps) {
  const words = useWords();
  const { store, work, newId } = useTools();
  const offerUndo = useUndo();
  const [choice, setChoice] = useState<Choice>(KEEP_MINE);
  const [catalogs, setCatalogs] = useState<ReadonlySet<string>>(new Set(backup.catalogs.map(({ id }) => id)));
  const [withSettings, setWithSettings] = useState(backup.savedAt !== "");
  const [withPatterns, setWithPatterns] = useState(true);
  const [busy, setBusy] = useState(false);
  const restore = async () => {
    setBusy(true);
    const before = await store.settings.get();
    const patterns = await store.serialPatterns.all();
    const bench = await applyPlan(store, plan, (id) => choiceFor(choice, id), newId);
    const kept = await work.restoreCatalogs([...catalogs]);
    if (withSettings) await store.settings.change(backup.settings);
    if (withPatterns) await store.serialPatterns.add(backup.serialPatterns);
    offerUndo(words.say("settings_restored"), async () => {
      await bench.undo();
      if (kept.undo !== null) await work.catalogUndo(kept.undo);
      if (withSettings) await store.settings.change(before);
      if (withPatterns) await store.serialPatterns.replace(patterns);
    });
    location.hash = hrefOf("bench");
  };
  return (
    <section class="wb-preview" aria-labelledby="restore-heading">
      <h2 id="restore-heading">{words.say("bench_restore_preview", { file: name })}</h2>
      <h3>{words.say("workbench_desk_bench")}</h3>
      <PlanView plan={plan} choice={choice} onChoice={setChoice} />
      {backup.catalogs.length > 0 && (
        <fieldset class="ff-choices">
          <legend>{words.say("workbench_desk_catalogs")}</legend>
          {backup.catalogs.map(({ id, info, here }) => (
            <Toggle
              key={id}
              label={info.head.title || words.say("catalog_untitled")}
              hint={words.say(here ? "settings_restore_replaces" : "settings_restore_adds")}
              checked={catalogs.has(id)}
              onChange={(on) =>
                setCatalogs(new Set(on ? [...catalogs, id] : [...catalogs].filter((each) => each !== id)))
              }
            />
          ))}
        </fieldset>
      )}
      {backup.savedAt !== "" && (
        <Toggle label={words.say("settings_restore_settings")} checked={withSettings} onChange={setWithSettings} />
      )}
      {backup.serialPatterns.length > 0 && (
        <Toggle label={words.say("settings_restore_patterns")} checked={withPatterns} onChange={setWithPatterns} />
      )}
      {backup.sites.length > 0 && <p class="wb-soft">{words.say("settings_restore_sites", { sites: backup.sites })}</p>}
      <div class="ff-actions">
        <Button kind="strong" busy={busy} onPress={restore}>
          {words.say("settings_restore_do")}
        </Button>
        <Button kind="quiet" onPress={onDone}>
          {words.say("ui_cancel")}
        </Button>
      </div>
    </section>
  );
}
