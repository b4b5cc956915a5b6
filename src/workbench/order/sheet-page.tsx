/** The sheet that is printed: what is at stake, what is wrong, what is missing, with the cautions at its head. */
import type { SheetSection } from "../../desks/order-sheet.ts";
import type { ListSlot } from "../../store/lists.ts";
import { Button } from "../../ui/button.tsx";
import { Empty, Failure, Loading } from "../../ui/states.tsx";
import { useWords } from "../../ui/words-context.tsx";
import { useLoaded } from "../loaded.ts";
import { hrefOf } from "../route.ts";
import { useTools } from "../tools.tsx";
import type { ListState } from "./order-calls.ts";
import { Cautions, verdictText } from "./results.tsx";
import { useList } from "./use-list.ts";

/** The sheet of a list. */
export function SheetPage({ slot }: { slot: ListSlot }) {
  const words = useWords();
  const { work } = useTools();
  const { state, error } = useList(slot);
  const lines = state?.lines ?? 0;
  const sheet = useLoaded(
    (signal) => work.listSheet({ slot, needs: slot === "stock" ? "all" : "tried" }, { signal }),
    [slot, lines],
  );
  const failed = error ?? sheet.error;
  const back = <a href={hrefOf("order", { id: slot })}>{words.say("order_desk_back_to_list")}</a>;
  return (
    <div class="wb-page od od-paper">
      <div class="ff-actions od-paper-actions">
        <Button kind="strong" onPress={() => globalThis.print()}>
          {words.say("order_desk_print")}
        </Button>
        {back}
      </div>
      {failed && (
        <Failure title={words.say("order_desk_unreadable")} faults={[{ field: "", message: failed.message }]} />
      )}
      {!failed && (state === undefined || sheet.value === undefined) && <Loading />}
      {(state === null || sheet.value === null) && <Empty title={words.say("order_desk_no_list")} />}
      {state && sheet.value && <Sheet slot={slot} state={state} sections={sheet.value} />}
    </div>
  );
}

interface SheetProps {
  slot: ListSlot;
  state: ListState;
  sections: readonly SheetSection[];
}

function Sheet({ slot, state, sections }: SheetProps) {
  const words = useWords();
  const { now } = useTools();
  const date = new Intl.DateTimeFormat(words.formatting, { dateStyle: "long" });
  return (
    <article class="od-sheet">
      <header>
        <h1 tabIndex={-1} data-start="">
          {words.say("order_desk_sheet_title", { name: state.name })}
        </h1>
        <p>
          {words.say("order_desk_sheet_date", { date: date.format(now()) })} {verdictText(slot, state, null, words)}
        </p>
      </header>
      <Cautions names={state.cautions} heading="h2" />
      {state.stale && <p class="od-notice">{words.say("order_desk_stale")}</p>}
      {state.phase !== "done" && <p class="od-notice">{words.say("order_desk_cancelled", { count: state.lines })}</p>}
      {sections.map((section) => (
        <Section key={section.heading} section={section} />
      ))}
    </article>
  );
}

function Section({ section: { heading, text, table } }: { section: SheetSection }) {
  return (
    <section>
      <h2>{heading}</h2>
      {text.map((sentence) => (
        <p key={sentence}>{sentence}</p>
      ))}
      {table && (
        <table class="od-table">
          <thead>
            <tr>
              {table.head.map((cell) => (
                <th key={cell} scope="col">
                  {cell}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {table.rows.map((row) => (
              <tr key={row.join("\u001f")}>
                {row.map((cell, i) => (
                  // biome-ignore lint/suspicious/noArrayIndexKey: cells stand under their column.
                  <td key={i}>{cell}</td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      )}
    </section>
  );
}
