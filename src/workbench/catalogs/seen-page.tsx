/** A draft learnt from devices seen: from a file of observations or from the bench; reviewed family by family, then kept. */
import { useRef, useState } from "preact/hooks";
import type { Catalog, Family } from "../../formats/catalog.ts";
import type { Fault } from "../../formats/common.ts";
import { Button } from "../../ui/button.tsx";
import { dateBar } from "../../ui/date-bar.ts";
import { Drawing } from "../../ui/drawing.tsx";
import { reasonSentence } from "../../ui/explanation.ts";
import { Toggle } from "../../ui/field.tsx";
import { Failure, Progress } from "../../ui/states.tsx";
import { useWords } from "../../ui/words-context.tsx";
import { useBench } from "../bench/bench-state.tsx";
import { lanesOf } from "../date-lanes.ts";
import { FileDrop } from "../file-drop.tsx";
import { useTools } from "../tools.tsx";
import { catalogText } from "../work/catalog-info.ts";
import type { Learned, LearnRequest } from "../work/catalog-making.ts";
import { useKeepCatalog } from "./make-catalog.ts";
import { observationsOf, withoutFamilies } from "./observations.ts";

/** The page. */
export function SeenPage() {
  const words = useWords();
  const { work } = useTools();
  const { devices = [] } = useBench();
  const [learned, setLearned] = useState<Learned | null>(null);
  const [done, setDone] = useState<number | null>(null);
  const stop = useRef<AbortController | null>(null);
  const learn = async (asked: Omit<LearnRequest, "language">) => {
    stop.current = new AbortController();
    setLearned(null);
    setDone(0);
    try {
      const { signal } = stop.current;
      setLearned(await work.learn({ ...asked, language: words.language }, { signal, onProgress: setDone }));
    } catch (error) {
      if (!stop.current.signal.aborted) throw error;
    } finally {
      setDone(null);
    }
  };
  const own = observationsOf(devices.map(({ device }) => device));
  return (
    <div class="wb-page">
      <h1 tabIndex={-1} data-start="">
        {words.say("catalog_way_seen")}
      </h1>
      <p class="wb-soft">{words.say("catalog_seen_why")}</p>
      <FileDrop
        label={words.say("catalog_seen_choose")}
        hint={words.say("catalog_seen_hint")}
        accept=".ndjson,.jsonl,.txt"
        onFiles={([content]) => {
          if (content) void learn({ content });
        }}
      >
        {own.length > 0 && (
          <div class="ff-actions">
            <Button onPress={() => learn({ observations: own })}>
              {words.say("catalog_seen_bench", { count: own.length })}
            </Button>
          </div>
        )}
      </FileDrop>
      {done !== null && (
        <Progress label={words.say("catalog_seen_learning")} done={done} onCancel={() => stop.current?.abort()} />
      )}
      {learned && <Review learned={learned} />}
    </div>
  );
}

/** The proposal, family by family, with what to check. */
function Review({ learned }: { learned: Learned }) {
  const words = useWords();
  const keep = useKeepCatalog();
  const [left, setLeft] = useState<ReadonlySet<string>>(new Set());
  const [refused, setRefused] = useState<readonly Fault[]>([]);
  const { draft, notes, observations, faults, beyond } = learned;
  const turn = (id: string, on: boolean) => {
    const next = new Set(left);
    if (on) next.delete(id);
    else next.add(id);
    setLeft(next);
  };
  const take = async (active: boolean) => {
    const chosen = withoutFamilies(draft, left);
    setRefused(await keep({ text: catalogText(chosen), origin: { kind: "made" }, active }));
  };
  const silent = notes.filter(({ model }) => !draft.families.some(({ name }) => name === model));
  return (
    <section class="wb-preview" aria-labelledby="draft-heading">
      <h2 id="draft-heading">{words.say("catalog_seen_draft", { count: observations })}</h2>
      <p>{words.say("catalog_seen_review")}</p>
      {faults.length > 0 && (
        <Failure
          title={words.say("catalog_seen_faults", { count: faults.length + beyond })}
          faults={faults.slice(0, 20)}
        />
      )}
      {draft.families.map((family) => (
        <ProposedFamily
          key={family.id}
          family={family}
          draft={draft}
          notes={notes.filter(({ model }) => model === family.name).map(({ says }) => reasonSentence(says, words))}
          taken={!left.has(family.id)}
          onTaken={(on) => turn(family.id, on)}
        />
      ))}
      {silent.length > 0 && (
        <p class="wb-soft">
          {words.say("catalog_seen_silent", { models: silent.slice(0, 30).map(({ model }) => model) })}
        </p>
      )}
      {refused.length > 0 && <Failure title={words.say("catalog_not_changed")} faults={refused} />}
      <div class="ff-actions">
        <Button kind="strong" disabled={left.size === draft.families.length} onPress={() => take(false)}>
          {words.say("catalog_seen_keep")}
        </Button>
        <Button disabled={left.size === draft.families.length} onPress={() => take(true)}>
          {words.say("catalog_seen_use")}
        </Button>
      </div>
      <p class="wb-soft">{words.say("catalog_seen_keep_hint")}</p>
    </section>
  );
}

interface ProposedFamilyProps {
  family: Family;
  draft: Catalog;
  notes: readonly string[];
  taken: boolean;
  onTaken: (on: boolean) => void;
}

function ProposedFamily({ family, draft, notes, taken, onTaken }: ProposedFamilyProps) {
  const words = useWords();
  const dated = family.revisions.map(({ id, name, built }) => ({
    name: name ?? id,
    built: built ? [built] : [],
    years: [],
  }));
  const bar = dateBar(lanesOf(dated), null, words);
  const numbersOf = (ids: readonly string[]) =>
    ids.flatMap((id) => draft.parts.find((part) => part.id === id)?.numbers ?? []).slice(0, 8);
  return (
    <div class="wb-proposal" data-taken={taken}>
      <Toggle label={family.name ?? family.id} checked={taken} onChange={onTaken} />
      <dl class="wb-facts">
        {family.revisions.map((revision) => (
          <div key={revision.id}>
            <dt>{revision.name ?? revision.id}</dt>
            <dd>
              <span class="ff-number">{numbersOf(revision.parts).join(", ")}</span>
              <span class="wb-under">
                {[revision.boardNumbers.slice(0, 6).join(", "), revision.note].filter(Boolean).join(" · ")}
              </span>
            </dd>
          </div>
        ))}
      </dl>
      {bar && <Drawing tree={bar} />}
      {notes.length > 0 && (
        <ul>
          {notes.map((note) => (
            <li key={note}>{note}</li>
          ))}
        </ul>
      )}
    </div>
  );
}
