/** The line that is open: for each of its jobs the verdict in full, and what would be right instead. */
import { useState } from "preact/hooks";
import type { ListSlot } from "../../store/lists.ts";
import { Drawing, Sign } from "../../ui/drawing.tsx";
import { explanationBody } from "../../ui/explanation-view.ts";
import { SelectField } from "../../ui/field.tsx";
import { poseOfTier } from "../../ui/sign.ts";
import { Empty, Failure, Loading } from "../../ui/states.tsx";
import { useWords } from "../../ui/words-context.tsx";
import { useLoaded } from "../loaded.ts";
import { hrefOf } from "../route.ts";
import { useTools } from "../tools.tsx";
import { useJobNames } from "./job-name.ts";
import type { ShownLine } from "./order-calls.ts";
import { StandingMark } from "./standing-mark.tsx";

interface LineDetailProps {
  slot: ListSlot;
  place: number;
  line: ShownLine | null | undefined;
  version: string;
}

/** The open line. */
export function LineDetail({ slot, place, line, version }: LineDetailProps) {
  const words = useWords();
  return (
    <article class="od-detail" aria-labelledby="od-detail">
      <p class="od-close">
        <a href={hrefOf("order", { id: slot })}>{words.say("order_desk_close_line")}</a>
      </p>
      {line === undefined && <Loading />}
      {line === null && <Empty title={words.say("order_desk_no_such_line")} />}
      {line && <LineSheet key={`${place} ${version}`} slot={slot} place={place} line={line} />}
    </article>
  );
}

function LineSheet({ slot, place, line }: { slot: ListSlot; place: number; line: ShownLine }) {
  const words = useWords();
  const nameOf = useJobNames();
  const { entry, standing, verdicts, moreJobs } = line;
  const [device, setDevice] = useState(verdicts[0]?.device ?? "");
  return (
    <>
      <h3 id="od-detail" tabIndex={-1} data-start="" dir="auto">
        {entry.number || entry.title}
      </h3>
      <p>
        <StandingMark slot={slot} standing={standing} />{" "}
        <span class="od-soft">{words.say("order_desk_row", { row: entry.row })}</span>
      </p>
      {!entry.quantityRead && <p class="ff-error">{words.say("order_desk_quantity_unread")}</p>}
      <Remedy line={line} />
      {verdicts.length > 1 && (
        <SelectField
          label={words.say("order_desk_read_for")}
          value={device}
          options={verdicts.map((each) => ({ value: each.device, label: nameOf(each.device) }))}
          {...(moreJobs > 0 ? { hint: words.say("order_desk_more_jobs", { count: moreJobs }) } : {})}
          onChange={setDevice}
        />
      )}
      {device !== "" && <Explained key={device} slot={slot} place={place} device={device} />}
      <Places line={line} />
    </>
  );
}

/** What would be right, and where it already stands. */
function Remedy({ line }: { line: ShownLine }) {
  const words = useWords();
  const nameOf = useJobNames();
  const { right, rightFor, elsewhere, inStock } = line;
  const sentences = [
    right?.dependsOnRevision ? words.say("order_depends") : "",
    right && right.numbers.length > 0 ? words.say("order_desk_right_is", { numbers: right.numbers }) : "",
    elsewhere.length > 0
      ? words.say("order_desk_in_list", { count: elsewhere.length, rows: elsewhere.map(String) })
      : "",
    inStock.length > 0 ? words.say("order_desk_in_stock", { count: inStock.length, rows: inStock.map(String) }) : "",
    rightFor.length > 0 ? words.say("order_right_for", { jobs: rightFor.map(nameOf) }) : "",
  ].filter((sentence) => sentence !== "");
  if (sentences.length === 0) return null;
  return (
    <ul class="od-remedy">
      {sentences.map((sentence) => (
        <li key={sentence}>{sentence}</li>
      ))}
    </ul>
  );
}

function Explained({ slot, place, device }: { slot: ListSlot; place: number; device: string }) {
  const words = useWords();
  const { work } = useTools();
  const found = useLoaded((signal) => work.listExplain({ slot, place, device }, { signal }), [slot, place, device]);
  if (found.error) {
    const faults = [{ field: "", message: found.error.message }];
    return <Failure title={words.say("order_desk_unreadable")} faults={faults} onRetry={found.reload} />;
  }
  if (found.value === undefined) return <Loading />;
  if (found.value === null) return <p class="ff-hint">{words.say("order_desk_job_gone")}</p>;
  const { tier, headline } = found.value;
  return (
    <div class="od-explained" data-tier={tier}>
      <p class="od-headline">
        <Sign pose={poseOfTier[tier]} size={18} /> <b>{headline}</b>
      </p>
      <Drawing tree={explanationBody(found.value, words)} />
    </div>
  );
}

/** Which revisions the part of the line belongs to. */
function Places({ line: { places, moreRevisions } }: { line: ShownLine }) {
  const words = useWords();
  if (places.length === 0) return null;
  return (
    <>
      <h4>{words.say("order_column_revisions")}</h4>
      <ul class="od-facts">
        {places.map((place) => (
          <li key={place}>{place}</li>
        ))}
      </ul>
      {moreRevisions > 0 && <p class="ff-hint">{words.say("order_desk_beyond", { count: moreRevisions })}</p>}
    </>
  );
}
