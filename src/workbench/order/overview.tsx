/** What concerns the list as a whole: money at stake, what the jobs still lack, what is there twice or too rarely. */
import type { ComponentChildren } from "preact";
import type { Missing, Sum } from "../../desks/order-tally.ts";
import type { ListSlot } from "../../store/lists.ts";
import { Toggle } from "../../ui/field.tsx";
import { useWords } from "../../ui/words-context.tsx";
import { usePartNames } from "../part-names.ts";
import { hrefOf } from "../route.ts";
import { useJobNames } from "./job-name.ts";
import type { ListSummary } from "./order-calls.ts";
import type { Needs } from "./results.tsx";
import { effectWord, StandingMark } from "./standing-mark.tsx";

interface OverviewProps {
  slot: ListSlot;
  summary: ListSummary;
  needs: Needs;
  onNeeds: (needs: Needs) => void;
}

/** The overview. */
export function Overview({ slot, summary, needs, onNeeds }: OverviewProps) {
  const words = useWords();
  const { duplicates, duplicatesBeyond, contested, contestedBeyond } = summary;
  const nameOf = useJobNames();
  const partName = usePartNames();
  return (
    <div class="od-overview">
      {summary.sums.length > 0 && <Risk slot={slot} sums={summary.sums} />}
      <MissingParts summary={summary} needs={needs} onNeeds={onNeeds} />
      {slot === "order" && duplicates.length + contested.length > 0 && (
        <Block
          title={words.say("order_section_double")}
          count={duplicates.length + duplicatesBeyond + contested.length}
        >
          <ul class="od-facts">
            {duplicates.map(({ device, partType, rows, pieces }) => (
              <li key={`${device} ${partType}`}>
                {words.say("order_double", {
                  job: nameOf(device),
                  type: partName(partType),
                  rows: rows.map(String),
                  pieces,
                })}
              </li>
            ))}
            {contested.map(({ row, number, pieces, jobs }) => (
              <li key={row}>{words.say("order_contested", { row, number, pieces, jobs: jobs.map(nameOf) })}</li>
            ))}
          </ul>
          <Beyond count={duplicatesBeyond + contestedBeyond} />
        </Block>
      )}
    </div>
  );
}

function Block({ title, count, children }: { title: string; count: number; children: ComponentChildren }) {
  const words = useWords();
  return (
    <section class="od-block">
      <h3>
        {title} <span class="od-count">{words.say("order_desk_number", { number: count })}</span>
      </h3>
      {children}
    </section>
  );
}

function Beyond({ count }: { count: number }) {
  const words = useWords();
  return count > 0 ? <p class="ff-hint">{words.say("order_desk_beyond", { count })}</p> : null;
}

/** Money by what the lines amount to; for an order, by the worst effect too. */
function Risk({ slot, sums }: { slot: ListSlot; sums: readonly Sum[] }) {
  const words = useWords();
  const heading = (name: string) => words.say(`order_column_${name}`);
  const unpriced = sums.some(({ linesWithoutPrice }) => linesWithoutPrice > 0);
  return (
    <section class="od-block od-risk" aria-labelledby="od-risk">
      <h3 id="od-risk">{words.say(slot === "order" ? "order_section_risk" : "order_desk_worth")}</h3>
      <table class="od-sums">
        <thead>
          <tr>
            <th scope="col">{heading("standing")}</th>
            {slot === "order" && <th scope="col">{heading("effect")}</th>}
            <th scope="col" class="od-figure">
              {heading("lines")}
            </th>
            <th scope="col" class="od-figure">
              {heading("total")}
            </th>
            {unpriced && (
              <th scope="col" class="od-figure">
                {heading("without_price")}
              </th>
            )}
          </tr>
        </thead>
        <tbody>
          {sums.map(({ standing, effect, currency, lines, total, linesWithoutPrice }) => (
            <tr key={`${standing} ${effect} ${currency}`}>
              <th scope="row">
                <StandingMark slot={slot} standing={standing} />
              </th>
              {slot === "order" && <td>{effect === null ? "" : effectWord(effect, words)}</td>}
              <td class="od-figure">{words.say("order_desk_number", { number: lines })}</td>
              <td class="od-figure">
                {lines === linesWithoutPrice ? "" : currency === null ? total : words.money(total, currency)}
              </td>
              {unpriced && (
                <td class="od-figure">
                  {linesWithoutPrice === 0 ? "" : words.say("order_desk_number", { number: linesWithoutPrice })}
                </td>
              )}
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}

function MissingParts({ summary, needs, onNeeds }: Pick<OverviewProps, "summary" | "needs" | "onNeeds">) {
  const words = useWords();
  const { missing, missingBeyond } = summary;
  return (
    <Block title={words.say("order_section_missing")} count={missing.length + missingBeyond}>
      <Toggle
        label={words.say("order_desk_needs_all")}
        checked={needs === "all"}
        onChange={(all) => onNeeds(all ? "all" : "tried")}
      />
      {missing.length === 0 ? (
        <p class="ff-hint">{words.say("order_desk_nothing_missing")}</p>
      ) : (
        <ul class="od-facts">
          {missing.map((each) => (
            <MissingPart key={`${each.device} ${each.partType}`} missing={each} />
          ))}
        </ul>
      )}
      <Beyond count={missingBeyond} />
    </Block>
  );
}

function MissingPart({ missing: { device, partType, right, dependsOnRevision, inStock } }: { missing: Missing }) {
  const words = useWords();
  const nameOf = useJobNames();
  const partName = usePartNames();
  return (
    <li>
      <a href={hrefOf("bench", { id: device })}>{nameOf(device)}</a>: {partName(partType)}
      {dependsOnRevision && <span class="od-soft"> · {words.say("order_depends")}</span>}
      {right.length > 0 && (
        <span class="od-soft"> · {words.say("order_desk_right_is", { numbers: right.slice(0, 3) })}</span>
      )}
      {inStock.length > 0 && (
        <span class="od-have">
          {" "}
          · {words.say("order_desk_in_stock", { count: inStock.length, rows: inStock.map(String) })}
        </span>
      )}
    </li>
  );
}
