/** A list that has been checked, whole or in part: what it amounts to, what to do about it, and its lines. */
import { useState } from "preact/hooks";
import type { ListSlot } from "../../store/lists.ts";
import { addDecimal, compareDecimal } from "../../text/decimal.ts";
import type { Words } from "../../text/words.ts";
import { Button } from "../../ui/button.tsx";
import { Sign } from "../../ui/drawing.tsx";
import { poseOfTier } from "../../ui/sign.ts";
import { Failure, Progress } from "../../ui/states.tsx";
import { useUndo } from "../../ui/undo.tsx";
import { useWords } from "../../ui/words-context.tsx";
import { useLoaded } from "../loaded.ts";
import { hrefOf } from "../route.ts";
import { useTools } from "../tools.tsx";
import { Lines } from "./lines.tsx";
import type { ListState, ListSummary } from "./order-calls.ts";
import { Overview } from "./overview.tsx";

interface ResultsProps {
  slot: ListSlot;
  state: ListState;
  /** Place of the line that is open, as the address says it. */
  line: string | undefined;
  onReadDifferently: () => void;
}

/** Which needs of the jobs are looked at. */
export type Needs = "tried" | "all";

/** The results. */
export function Results({ slot, state, line, onReadDifferently }: ResultsProps) {
  const words = useWords();
  const { work } = useTools();
  const [needs, setNeeds] = useState<Needs>(slot === "stock" ? "all" : "tried");
  const version = versionOf(state);
  const summary = useLoaded((signal) => work.listSummary({ slot, needs }, { signal }), [slot, needs, version]);
  return (
    <>
      <Verdict slot={slot} state={state} summary={summary.value ?? null} onReadDifferently={onReadDifferently} />
      <Notices slot={slot} state={state} />
      <Cautions names={state.cautions} />
      {summary.error && (
        <Failure
          title={words.say("order_desk_no_summary")}
          faults={[{ field: "", message: summary.error.message }]}
          onRetry={summary.reload}
        />
      )}
      {summary.value && <Overview slot={slot} summary={summary.value} needs={needs} onNeeds={setNeeds} />}
      {state.lines > 0 && <Lines slot={slot} state={state} version={version} line={line} />}
    </>
  );
}

/** Changes whenever the lines may have changed. */
function versionOf({ name, phase, lines, stale, counts }: ListState): string {
  return [name, phase, lines, stale, ...Object.values(counts)].join(" ");
}

/** What the list amounts to, in a sentence or two. */
export function verdictText(
  slot: ListSlot,
  { counts, lines, phase }: ListState,
  summary: ListSummary | null,
  words: Words,
): string {
  const wrong = counts.wrong + counts["other-job"];
  if (lines === 0) return words.say(phase === "done" ? "order_desk_nothing_read" : "order_desk_nothing_judged");
  if (slot === "stock") return words.say("order_desk_stock_serves", { count: counts.right, lines });
  if (wrong > 0) {
    const money = atRisk(summary, words);
    const said = words.say("order_desk_wrong", { count: wrong, lines });
    return money === "" ? said : `${said} ${words.say("order_desk_at_risk", { money })}`;
  }
  if (counts.ask > 0) return words.say("order_desk_only_ask", { count: counts.ask });
  if (counts.right > 0) return words.say("order_desk_all_right", { count: counts.right });
  return words.say("order_desk_none_concern");
}

/** What the wrong lines cost, one sum a currency. */
function atRisk(summary: ListSummary | null, words: Words): string {
  const sums = (summary?.sums ?? []).filter(({ standing }) => standing === "wrong" || standing === "other-job");
  const byCurrency = new Map<string, string[]>();
  for (const { currency, total } of sums) {
    if (currency !== null && compareDecimal(total, "0") !== 0) {
      byCurrency.set(currency, [...(byCurrency.get(currency) ?? []), total]);
    }
  }
  return [...byCurrency].map(([currency, totals]) => words.money(totals.reduce(add), currency)).join(" + ");
}

function add(a: string, b: string): string {
  return addDecimal(a, b) ?? a;
}

function Verdict({
  slot,
  state,
  summary,
  onReadDifferently,
}: Omit<ResultsProps, "line"> & { summary: ListSummary | null }) {
  const words = useWords();
  const { work } = useTools();
  const tier = slot === "stock" ? stockTier(state) : worstTier(state);
  const again = () => run(work.listAgain({ slot }));
  return (
    <section class="od-verdict" data-tier={tier} aria-labelledby="od-verdict">
      <h2 id="od-verdict" class="od-sentence">
        <Sign pose={poseOfTier[tier]} size={28} />
        <span>{verdictText(slot, state, summary, words)}</span>
      </h2>
      <p class="od-of">{words.say("order_desk_of_list", { name: state.name, count: state.lines })}</p>
      <div class="ff-actions">
        <ExportButton slot={slot} />
        <a class="ff-button ff-plain" href={hrefOf("order", { id: slot }, { act: "sheet" })}>
          {words.say("order_desk_sheet")}
        </a>
        <Button kind="quiet" onPress={onReadDifferently}>
          {words.say("order_desk_read_differently")}
        </Button>
        <Button kind="quiet" onPress={again}>
          {words.say("order_desk_again")}
        </Button>
        <RemoveButton slot={slot} name={state.name} />
      </div>
    </section>
  );
}

function stockTier({ counts }: ListState): "go" | "none" {
  return counts.right > 0 ? "go" : "none";
}

function worstTier({ counts }: ListState): "stop" | "check" | "go" | "none" {
  if (counts.wrong + counts["other-job"] > 0) return "stop";
  if (counts.ask > 0) return "check";
  return counts.right > 0 ? "go" : "none";
}

/** Runs something whose outcome comes back as news of the list. */
function run(work: Promise<unknown>): void {
  work.catch((error: unknown) => console.error("Falsefit:", error));
}

function ExportButton({ slot }: { slot: ListSlot }) {
  const words = useWords();
  const { work, download } = useTools();
  const [done, setDone] = useState<number | null>(null);
  const [failed, setFailed] = useState(false);
  const write = async () => {
    setFailed(false);
    setDone(0);
    try {
      const file = await work.listExport({ slot }, { onProgress: setDone });
      if (file !== null) download(file.name, file.content);
    } catch (error) {
      console.error("Falsefit:", error);
      setFailed(true);
    }
    setDone(null);
  };
  return (
    <>
      <Button busy={done !== null} onPress={write}>
        {words.say("order_desk_export")}
      </Button>
      {done !== null && <Progress label={words.say("order_desk_exporting")} done={done} />}
      {failed && <span class="ff-error">{words.say("order_desk_export_failed")}</span>}
    </>
  );
}

function RemoveButton({ slot, name }: { slot: ListSlot; name: string }) {
  const words = useWords();
  const { work } = useTools();
  const offerUndo = useUndo();
  const remove = () => {
    run(work.listRemove({ slot, removed: true }));
    offerUndo(words.say("order_desk_removed", { name }), () => run(work.listRemove({ slot, removed: false })));
  };
  return (
    <Button kind="quiet" onPress={remove}>
      {words.say("order_desk_remove")}
    </Button>
  );
}

/** What keeps the result from being the last word. */
function Notices({ slot, state }: { slot: ListSlot; state: ListState }) {
  const words = useWords();
  const { work } = useTools();
  const { phase, failure, stale, faults, faultsBeyond } = state;
  const goOn = () => run(work.listGoOn({ slot }));
  const again = () => run(work.listAgain({ slot }));
  return (
    <>
      {phase === "failed" && (
        <Failure title={words.say(`order_desk_failed_${failure || "broken"}`)} onRetry={goOn}>
          <p>{words.say("order_desk_kept_so_far", { count: state.lines })}</p>
        </Failure>
      )}
      {phase === "elsewhere" && (
        <Notice text={words.say("order_desk_elsewhere")} action={words.say("order_desk_look_again")} onAction={goOn} />
      )}
      {phase === "cancelled" && !stale && (
        <Notice
          text={words.say("order_desk_cancelled", { count: state.lines })}
          action={words.say("order_desk_go_on")}
          onAction={goOn}
        />
      )}
      {stale && state.lines > 0 && phase !== "elsewhere" && (
        <Notice text={words.say("order_desk_stale")} action={words.say("order_desk_again")} onAction={again} />
      )}
      {state.unreadable.length > 0 && (
        <p class="od-notice">{words.say("bench_unreadable_catalogs", { titles: state.unreadable })}</p>
      )}
      {faults.length > 0 && (
        <details class="od-notice">
          <summary>{words.say("order_desk_faults", { count: faults.length + faultsBeyond })}</summary>
          <ul>
            {faults.map(({ row, kind }) => (
              <li key={`${row} ${kind}`}>
                {words.say("order_desk_row", { row })} {words.say(`order_desk_fault_${kind.replaceAll("-", "_")}`)}
              </li>
            ))}
          </ul>
        </details>
      )}
    </>
  );
}

function Notice({ text, action, onAction }: { text: string; action: string; onAction: () => void }) {
  return (
    <div class="od-notice" role="status">
      <p>{text}</p>
      <Button onPress={onAction}>{action}</Button>
    </div>
  );
}

/** The general cautions that belong to lines which are wrong or in doubt, where the decision is made. */
export function Cautions({ names, heading: Heading = "h3" }: { names: readonly string[]; heading?: "h2" | "h3" }) {
  const words = useWords();
  if (names.length === 0) return null;
  return (
    <section class="od-cautions" aria-label={words.say("order_section_cautions")}>
      <Heading>{words.say("order_section_cautions")}</Heading>
      {names.map((name) => (
        <p key={name}>{words.say(`caution_${name.replaceAll("-", "_")}`)}</p>
      ))}
    </section>
  );
}
