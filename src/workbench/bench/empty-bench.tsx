/** A bench without any device: what it is for, and three ways to begin. */
import { useState } from "preact/hooks";
import { Button } from "../../ui/button.tsx";
import { Empty, Failure } from "../../ui/states.tsx";
import { useWords } from "../../ui/words-context.tsx";
import { hrefOf } from "../route.ts";
import { useTools } from "../tools.tsx";

/** The first page of all. */
export function EmptyBench() {
  const words = useWords();
  const { ask } = useTools();
  const [state, setState] = useState<"ready" | "busy" | "failed">("ready");
  const addExample = async () => {
    setState("busy");
    const reply = await ask({ kind: "add-example" });
    if (reply.ok) location.hash = hrefOf("bench", { id: reply.data.device });
    else setState("failed");
  };
  return (
    <div class="wb-page wb-middle">
      <h1 class="ff-unseen" tabIndex={-1} data-start="">
        {words.say("workbench_desk_bench")}
      </h1>
      <Empty title={words.say("bench_empty")}>
        <p>{words.say("bench_empty_why")}</p>
        <div class="ff-actions">
          <a class="ff-button ff-strong" href={hrefOf("bench", { act: "add" })}>
            {words.say("bench_add")}
          </a>
          <Button busy={state === "busy"} onPress={addExample}>
            {words.say("bench_add_example")}
          </Button>
          <a class="ff-button ff-quiet" href={hrefOf("bench", { act: "restore" })}>
            {words.say("bench_restore")}
          </a>
        </div>
        <p class="ff-hint">{words.say("bench_example_hint")}</p>
      </Empty>
      {state === "failed" && <Failure level={2} title={words.say("bench_example_failed")} onRetry={addExample} />}
    </div>
  );
}
