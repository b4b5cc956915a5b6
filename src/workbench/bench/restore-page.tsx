/** Restoring a bench from a file: what it would add, change and leave alone is shown before anything is done. */
import { useState } from "preact/hooks";
import type { Outcome } from "../../formats/common.ts";
import { Button } from "../../ui/button.tsx";
import { useUndo } from "../../ui/undo.tsx";
import { useWords } from "../../ui/words-context.tsx";
import { FilePage } from "../file-page.tsx";
import { hrefOf } from "../route.ts";
import { useTools } from "../tools.tsx";
import { useBench } from "./bench-state.tsx";
import { type Choice, choiceFor, KEEP_MINE, PlanView, savedBy } from "./plan-view.tsx";
import type { RestorePlan } from "./restore.ts";
import { applyPlan, planFor } from "./restore-apply.ts";

/** The page. */
export function RestorePage() {
  const words = useWords();
  const { work, store } = useTools();
  const { devices = [] } = useBench();
  const read = async (file: File): Promise<Outcome<RestorePlan>> => {
    const bench = await work.readBench(await file.text());
    const mine = devices.map(({ device }) => device);
    return bench.ok ? { ok: true, value: await planFor(store, mine, bench.value) } : bench;
  };
  return (
    <FilePage
      heading={words.say("bench_restore")}
      why={words.say("bench_restore_why")}
      choose={words.say("bench_restore_choose")}
      read={read}
      show={(name, plan, onDone) => <Preview name={name} plan={plan} onDone={onDone} />}
    />
  );
}

interface PreviewProps {
  name: string;
  plan: RestorePlan;
  onDone: () => void;
}

function Preview({ name, plan, onDone }: PreviewProps) {
  const words = useWords();
  const { store, newId } = useTools();
  const offerUndo = useUndo();
  const [choice, setChoice] = useState<Choice>(KEEP_MINE);
  const [busy, setBusy] = useState(false);
  const count = savedBy(plan, choice);
  const restore = async () => {
    setBusy(true);
    const { saved, undo } = await applyPlan(store, plan, (id) => choiceFor(choice, id), newId);
    offerUndo(words.say("bench_restored", { count: saved }), undo);
    location.hash = hrefOf("bench");
  };
  return (
    <section class="wb-preview" aria-labelledby="restore-heading">
      <h2 id="restore-heading">{words.say("bench_restore_preview", { file: name })}</h2>
      <PlanView plan={plan} choice={choice} onChoice={setChoice} />
      <div class="ff-actions">
        <Button kind="strong" busy={busy} disabled={count === 0 && plan.shapes.length === 0} onPress={restore}>
          {words.say("bench_restore_do", { count })}
        </Button>
        <Button kind="quiet" onPress={onDone}>
          {words.say("ui_cancel")}
        </Button>
      </div>
    </section>
  );
}
