/** The order desk: an order list against the jobs on the bench, and the stock list beside it. */
import { useState } from "preact/hooks";
import type { ListSlot } from "../../store/lists.ts";
import { Failure, Loading } from "../../ui/states.tsx";
import { useWords } from "../../ui/words-context.tsx";
import { actOf, hrefOf, idOf, type Place } from "../route.ts";
import { useTools } from "../tools.tsx";
import { type Draft, draftOf } from "./draft.ts";
import { Intake } from "./intake.tsx";
import { Preview } from "./preview.tsx";
import { Results } from "./results.tsx";
import { Running } from "./running.tsx";
import { SheetPage } from "./sheet-page.tsx";
import { useList, useTellBench } from "./use-list.ts";

/** The desk. Addresses: `#order`, `#order/stock`, `#order/order/17` (a line), `#order/order/:sheet` (to print). */
export function OrderDesk({ place }: { place: Place }) {
  const words = useWords();
  useTellBench();
  const [first, second] = place.steps;
  const slot: ListSlot = idOf(first) === "stock" ? "stock" : "order";
  const line = idOf(second);
  if (actOf(second) === "sheet") return <SheetPage slot={slot} />;
  return (
    <div class="wb-page od">
      <header class="od-head">
        <h1 tabIndex={-1} data-start={line === undefined ? "" : undefined}>
          {words.say("workbench_desk_order")}
        </h1>
        <SlotLinks slot={slot} />
      </header>
      <ListPane key={slot} slot={slot} line={line} />
    </div>
  );
}

const slots: readonly ListSlot[] = ["order", "stock"];

function SlotLinks({ slot }: { slot: ListSlot }) {
  const words = useWords();
  return (
    <nav aria-label={words.say("order_desk_lists")}>
      <ul class="od-slots">
        {slots.map((each) => (
          <li key={each}>
            <a href={hrefOf("order", { id: each })} aria-current={each === slot ? "page" : undefined}>
              {words.say(`order_desk_slot_${each}`)}
            </a>
          </li>
        ))}
      </ul>
    </nav>
  );
}

/** One of the two lists, whatever state it is in. */
function ListPane({ slot, line }: { slot: ListSlot; line: string | undefined }) {
  const words = useWords();
  const { work } = useTools();
  const { state, error, retry } = useList(slot);
  const [draft, setDraft] = useState<Draft | null>(null);
  if (error) {
    const faults = [{ field: "", message: error.message }];
    return <Failure title={words.say("order_desk_unreadable")} faults={faults} onRetry={retry} />;
  }
  if (state === undefined) return <Loading />;
  if (draft !== null) {
    return <Preview slot={slot} draft={draft} onDraft={setDraft} onDone={() => setDraft(null)} />;
  }
  if (state === null) return <Intake slot={slot} onDraft={setDraft} />;
  if (state.phase === "running") return <Running slot={slot} state={state} />;
  const readDifferently = async () => {
    const source = await work.listSource({ slot });
    if (source !== null) setDraft(await draftOf(source, work, { reading: state.reading, shape: state.shape }));
  };
  return <Results slot={slot} state={state} line={line} onReadDifferently={readDifferently} />;
}
