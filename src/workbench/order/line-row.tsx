/** One line of a checked list in two or three short rows of text. */
import { useEffect, useState } from "preact/hooks";
import type { ListSlot } from "../../store/lists.ts";
import type { Words } from "../../text/words.ts";
import { useWords } from "../../ui/words-context.tsx";
import { hazardText } from "../../verdict/hazard-words.ts";
import { reasonText } from "../../verdict/line.ts";
import type { ShownLine } from "./order-calls.ts";
import { StandingMark } from "./standing-mark.tsx";

/** Below this width of the window, rows have one more line of text. */
const NARROW = "(max-width: 700px)";
const WIDE_ROW_PX = 58;
const NARROW_ROW_PX = 84;

/** The height of every row in CSS pixels. */
export function useRowHeight(): number {
  const [narrow, setNarrow] = useState(() => globalThis.matchMedia?.(NARROW).matches ?? false);
  useEffect(() => {
    const query = globalThis.matchMedia?.(NARROW);
    const change = () => setNarrow(query?.matches ?? false);
    query?.addEventListener("change", change);
    return () => query?.removeEventListener("change", change);
  }, []);
  return narrow ? NARROW_ROW_PX : WIDE_ROW_PX;
}

interface LineRowProps {
  slot: ListSlot;
  line: ShownLine | null | undefined;
  /** Names a job by its device's id. */
  nameOf: (id: string) => string;
}

/** The row; it keeps its place while the line is being fetched. */
export function LineRow({ slot, line, nameOf }: LineRowProps) {
  const words = useWords();
  if (!line) return <span class="od-row od-row-empty">{line === undefined ? "…" : ""}</span>;
  const { entry, standing } = line;
  const money =
    entry.total !== null && entry.currency !== null ? words.money(entry.total, entry.currency) : entry.total;
  return (
    <span class="od-row">
      <span class="od-row-mark">
        <StandingMark slot={slot} standing={standing} />
        <span class="od-row-no">{words.say("order_desk_row", { row: entry.row })}</span>
      </span>
      <span class="od-row-what" dir="auto">
        {entry.number !== "" && <span class="ff-number">{entry.number}</span>} <span>{entry.title}</span>
      </span>
      <span class="od-row-why">{slot === "stock" ? placesText(line, words) : orderText(line, words, nameOf)}</span>
      <span class="od-row-money">{money}</span>
    </span>
  );
}

/** For an order: the job, and what would be right or why. */
function orderText(line: ShownLine, words: Words, nameOf: (id: string) => string): string {
  const { verdicts, moreJobs, right, elsewhere, inStock } = line;
  const job = verdicts[0] === undefined ? "" : nameOf(verdicts[0].device);
  const more = moreJobs + Math.max(0, verdicts.length - 1);
  const jobs = more > 0 ? words.say("order_desk_job_and_more", { job, count: more }) : job;
  const next =
    right !== null && right.numbers.length > 0
      ? words.say("order_desk_right_is", { numbers: right.numbers.slice(0, 2) })
      : lineSentence(line, words);
  const where =
    elsewhere.length > 0
      ? words.say("order_desk_in_list", { count: elsewhere.length, rows: elsewhere.slice(0, 3).map(String) })
      : "";
  const stock =
    inStock.length > 0 ? words.say("order_desk_in_stock", { count: inStock.length, rows: inStock.map(String) }) : "";
  const said = [next, where, stock].filter((text) => text !== "").join(" ");
  return [jobs, said].filter((text) => text !== "").join(" · ");
}

/** For stock: which revisions the part fits. */
function placesText({ places, moreRevisions }: ShownLine, words: Words): string {
  if (places.length === 0) return words.say("order_desk_fits_unknown");
  const said = words.say("order_desk_fits_places", { places });
  return moreRevisions > 0 ? `${said} ${words.say("order_desk_beyond", { count: moreRevisions })}` : said;
}

/** Why, in one sentence: what a wrong part would do, else the first reason. */
function lineSentence({ verdicts, standing }: Pick<ShownLine, "verdicts" | "standing">, words: Words): string {
  const verdict = verdicts[0]?.verdict;
  const hazard = verdict?.hazards[0];
  if (hazard !== undefined && standing === "wrong") return hazardText(hazard, words);
  const reason = verdict?.reasons[0];
  return reason === undefined ? "" : reasonText(reason, words);
}
