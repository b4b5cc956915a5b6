/** The bench: the list of devices on one side, the one that is open on the other. */
import { useState } from "preact/hooks";
import { useWords } from "../../ui/words-context.tsx";
import { actOf, hrefOf, idOf, type Place } from "../route.ts";
import { BenchList } from "./bench-list.tsx";
import { useBench } from "./bench-state.tsx";
import { DeviceForm } from "./device-form.tsx";
import { DevicePage } from "./device-page.tsx";
import { EmptyBench } from "./empty-bench.tsx";
import { BenchOverview } from "./overview.tsx";
import { RestorePage } from "./restore-page.tsx";
import type { BenchFilter, BenchQuery } from "./search.ts";

/** The desk. */
export function BenchDesk({ place }: { place: Place }) {
  const words = useWords();
  const { devices } = useBench();
  const [query, setQuery] = useState<BenchQuery>({ text: "", filter: "all", order: "newest" });
  const opened = place.steps.length > 0;
  if (devices?.length === 0 && !opened) return <EmptyBench />;
  return (
    <div class="wb-split" data-open={opened}>
      <section class="wb-list" aria-labelledby="bench-heading">
        <div class="wb-list-title">
          <h1 id="bench-heading" tabIndex={-1} data-start={opened ? undefined : ""}>
            {words.say("workbench_desk_bench")}
          </h1>
          <a class="ff-button ff-strong" href={hrefOf("bench", { act: "add" })}>
            {words.say("bench_add")}
          </a>
        </div>
        <BenchList currentId={idOf(place.steps[0])} query={query} onQuery={setQuery} />
      </section>
      <div class="wb-side">
        {opened && (
          <p class="wb-back">
            <a href={hrefOf("bench")}>{words.say("bench_back")}</a>
          </p>
        )}
        {(opened || devices) && <Side place={place} onFilter={(filter) => setQuery({ ...query, filter, text: "" })} />}
      </div>
    </div>
  );
}

/** What is open: a device, its form, or something that concerns the whole bench. */
function Side({ place, onFilter }: { place: Place; onFilter: (filter: BenchFilter) => void }) {
  const [first, second] = place.steps;
  const id = idOf(first);
  if (id !== undefined)
    return actOf(second) === "edit" ? <DeviceForm id={id} key={id} /> : <DevicePage id={id} key={id} />;
  if (actOf(first) === "add") return <DeviceForm id={undefined} key=":add" />;
  if (actOf(first) === "restore") return <RestorePage />;
  return <BenchOverview onFilter={onFilter} />;
}
