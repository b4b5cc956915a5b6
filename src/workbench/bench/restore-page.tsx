/** Restoring a bench from a file: what it would add, change and leave alone is shown before anything is done. */
import { useState } from "preact/hooks";
import type { Fault } from "../../formats/common.ts";
import { Button } from "../../ui/button.tsx";
import { Failure, Loading } from "../../ui/states.tsx";
import { useUndo } from "../../ui/undo.tsx";
import { useWords } from "../../ui/words-context.tsx";
import { FileDrop } from "../file-drop.tsx";
import { hrefOf } from "../route.ts";
import { useTools } from "../tools.tsx";
import { useBench } from "./bench-state.tsx";
import { type Choice, choiceFor, KEEP_MINE, PlanView, savedBy } from "./plan-view.tsx";
import type { RestorePlan } from "./restore.ts";
import { applyPlan, planFor } from "./restore-apply.ts";

type State =
  | { step: "choose" }
  | { step: "reading" }
  | { step: "refused"; name: string; faults: readonly Fault[] }
  | { step: "preview"; name: string; plan: RestorePlan };

/** The page. */
export function RestorePage() {
  const words = useWords();
  const { work, store } = useTools();
  const { devices = [] } = useBench();
  const [state, setState] = useState<State>({ step: "choose" });
  const read = async ([file]: readonly File[]) => {
    if (file === undefined) return;
    setState({ step: "reading" });
    const bench = await work.readBench(await file.text());
    const mine = devices.map(({ device }) => device);
    if (!bench.ok) setState({ step: "refused", name: file.name, faults: bench.faults });
    else setState({ step: "preview", name: file.name, plan: await planFor(store, mine, bench.value) });
  };
  return (
    <div class="wb-page">
      <h1 tabIndex={-1} data-start="">
        {words.say("bench_restore")}
      </h1>
      <p class="wb-soft">{words.say("bench_restore_why")}</p>
      {state.step !== "preview" && (
        <FileDrop
          label={words.say("bench_restore_choose")}
          hint={words.say("workbench_or_drop")}
          accept=".json,application/json"
          onFiles={read}
        />
      )}
      {state.step === "reading" && <Loading />}
      {state.step === "refused" && (
        <Failure level={2} title={words.say("workbench_file_refused", { file: state.name })} faults={state.faults} />
      )}
      {state.step === "preview" && (
        <Preview name={state.name} plan={state.plan} onDone={() => setState({ step: "choose" })} />
      )}
    </div>
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
