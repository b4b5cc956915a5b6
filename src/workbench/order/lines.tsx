/** The lines of a checked list: which of them, in which order, and the one that is open. */
import { useMemo, useState } from "preact/hooks";
import { type Standing, standings } from "../../desks/order-check.ts";
import type { ListSlot } from "../../store/lists.ts";
import { SelectField, TextField } from "../../ui/field.tsx";
import { Failure, Loading } from "../../ui/states.tsx";
import { useWords } from "../../ui/words-context.tsx";
import { LinkList } from "../link-list.tsx";
import { useLoaded } from "../loaded.ts";
import { hrefOf } from "../route.ts";
import { useTools } from "../tools.tsx";
import { useSettled } from "../use-settled.ts";
import { useJobNames } from "./job-name.ts";
import { LineDetail } from "./line-detail.tsx";
import { standingOrder } from "./line-places.ts";
import { LineRow, useRowHeight } from "./line-row.tsx";
import type { LineOrder, ListState } from "./order-calls.ts";
import { StandingMark } from "./standing-mark.tsx";
import { useLines } from "./use-list.ts";

interface LinesProps {
  slot: ListSlot;
  state: ListState;
  /** Another one means that the lines may have changed. */
  version: string;
  /** Place of the line that is open. */
  line: string | undefined;
}

/** The lines. */
export function Lines({ slot, state, version, line }: LinesProps) {
  const words = useWords();
  const { work } = useTools();
  const [shown, setShown] = useState<Standing | "all">("all");
  const [order, setOrder] = useState<LineOrder>(slot === "order" ? "worst-first" : "as-listed");
  const [query, setQuery] = useState("");
  const text = useSettled(query);
  const lineAt = useLines(slot, version);
  const nameOf = useJobNames();
  const rowHeight_px = useRowHeight();
  const places = useLoaded(
    (signal) => work.listPlaces({ slot, standings: shown === "all" ? standings : [shown], order, text }, { signal }),
    [slot, shown, order, text, version],
  );
  const items = useMemo(() => Array.from(places.value ?? [], String), [places.value]);
  return (
    <section class="od-lines" aria-labelledby="od-lines">
      <div class="od-lines-head">
        <h3 id="od-lines">{words.say("order_desk_lines")}</h3>
        <TextField label={words.say("order_desk_find")} value={query} search maxLength={80} onInput={setQuery} />
        {slot === "order" && (
          <SelectField
            label={words.say("order_desk_order")}
            value={order}
            options={(["worst-first", "as-listed"] as const).map((value) => ({
              value,
              label: words.say(`order_desk_order_${value.replaceAll("-", "_")}`),
            }))}
            onChange={(value) => setOrder(value === "as-listed" ? "as-listed" : "worst-first")}
          />
        )}
      </div>
      <Filters slot={slot} state={state} shown={shown} onShown={setShown} />
      {places.error && (
        <Failure
          title={words.say("order_desk_unreadable")}
          faults={[{ field: "", message: places.error.message }]}
          onRetry={places.reload}
        />
      )}
      {places.value === undefined && !places.error && <Loading />}
      {places.value !== undefined && (text !== "" || items.length === 0) && (
        <p class="ff-hint" role="status">
          {words.say("order_desk_found", { count: items.length })}
        </p>
      )}
      <div class="od-split" aria-busy={places.loading} data-open={line !== undefined}>
        {items.length > 0 && (
          <LinkList<string>
            label={words.say("order_desk_lines")}
            items={items}
            keyOf={(item) => item}
            hrefOf={(item) => hrefOf("order", { id: slot }, { id: item })}
            currentKey={line}
            rowHeight_px={rowHeight_px}
            row={(item) => <LineRow slot={slot} line={lineAt(Number(item))} nameOf={nameOf} />}
          />
        )}
        {line !== undefined && (
          <LineDetail slot={slot} place={Number(line)} line={lineAt(Number(line))} version={version} />
        )}
      </div>
    </section>
  );
}

interface FiltersProps {
  slot: ListSlot;
  state: ListState;
  shown: Standing | "all";
  onShown: (shown: Standing | "all") => void;
}

/** One button a standing that occurs, with how many lines it has. */
function Filters({ slot, state, shown, onShown }: FiltersProps) {
  const words = useWords();
  const occurring = standingOrder.filter((standing) => state.counts[standing] > 0);
  return (
    <fieldset class="od-filters">
      <legend class="ff-unseen">{words.say("order_desk_filter")}</legend>
      <button type="button" class="od-filter" aria-pressed={shown === "all"} onClick={() => onShown("all")}>
        {words.say("order_desk_all_lines")} <b>{words.say("order_desk_number", { number: state.lines })}</b>
      </button>
      {occurring.map((standing) => (
        <button
          key={standing}
          type="button"
          class="od-filter"
          aria-pressed={shown === standing}
          onClick={() => onShown(standing)}
        >
          <StandingMark slot={slot} standing={standing} />{" "}
          <b>{words.say("order_desk_number", { number: state.counts[standing] })}</b>
        </button>
      ))}
    </fieldset>
  );
}
