/** How a text reads: one sentence, the faults by harm, and every buyer with what they would be told. */
import type { Outcome } from "../../desks/title-check.ts";
import type { Tier } from "../../formats/verdict.ts";
import type { Words } from "../../text/words.ts";
import { Drawing, Sign } from "../../ui/drawing.tsx";
import { hazardBox } from "../../ui/explanation-view.ts";
import { poseOfTier } from "../../ui/sign.ts";
import { Empty } from "../../ui/states.tsx";
import { useWords } from "../../ui/words-context.tsx";
import { effectWord } from "../order/standing-mark.tsx";
import { hrefOf } from "../route.ts";
import type { SaidFault, SaidReading, SaidTitle } from "./title-calls.ts";

/** Faults, and buyers of one fault, that are shown. */
const MOST_BUYERS_NAMED = 6;

/** The reading. */
export function TitleReadingView({ said }: { said: SaidTitle }) {
  const words = useWords();
  if (said.buyers.length === 0) return <Nobody families={said.families} />;
  const known = said.part !== null;
  const tier = tierOf(said.summary, known);
  return (
    <>
      <section class="od-verdict" data-tier={tier} aria-labelledby="td-verdict">
        <h2 id="td-verdict" class="od-sentence">
          <Sign pose={poseOfTier[tier]} size={28} />
          <span aria-live="polite">{summaryText(said.summary, known, words)}</span>
        </h2>
        {said.pieces.some(({ marked }) => marked) && (
          <p class="ff-quoted td-quoted" dir="auto">
            {said.pieces.map(({ text, marked }, i) =>
              // biome-ignore lint/suspicious/noArrayIndexKey: pieces of one text have no other name than their place.
              marked ? <mark key={i}>{text}</mark> : text,
            )}
          </p>
        )}
      </section>
      <Faults faults={said.faults} />
      <Buyers buyers={said.buyers} />
    </>
  );
}

/** Nothing in the text is known. */
function Nobody({ families }: { families: number }) {
  const words = useWords();
  return (
    <Empty title={words.say(families === 0 ? "title_desk_no_catalog" : "title_desk_nobody")}>
      <p>
        {words.say(families === 0 ? "title_desk_no_catalog_hint" : "title_desk_nobody_hint")}{" "}
        {families === 0 && <a href={hrefOf("catalogs")}>{words.say("title_desk_to_catalogs")}</a>}
      </p>
    </Empty>
  );
}

/**
 * The sign and colour for a whole text.
 *
 * @param known whether it is known which part is sold
 */
export function tierOf(summary: SaidTitle["summary"], known: boolean): Tier {
  if (inOrder.every((outcome) => summary[outcome] === 0)) return "none";
  if (summary.misled > 0 || summary["turned-away"] > 0) return "stop";
  return known && summary["left-guessing"] === 0 ? "go" : "check";
}

const inOrder: readonly Outcome[] = ["told-yes", "told-no", "left-guessing", "turned-away", "misled"];

/**
 * What becomes of all buyers, in one sentence.
 *
 * @param known whether it is known which part is sold: only then can a buyer be told something rightly
 */
export function summaryText(summary: SaidTitle["summary"], known: boolean, words: Words): string {
  const count = inOrder.reduce((sum, outcome) => sum + summary[outcome], 0);
  const parts = inOrder
    .filter((outcome) => summary[outcome] > 0)
    .map((outcome) => {
      const key = known ? `title_desk_sum_${keyOf(outcome)}` : `title_desk_told_${keyOf(outcome)}`;
      return words.say(key, { count: summary[outcome] });
    });
  const said = words.say("title_desk_sum", { count, parts });
  return known ? said : `${words.say("title_desk_which_part")} ${said}`;
}

function keyOf(outcome: Outcome): string {
  return outcome.replaceAll("-", "_");
}

function Faults({ faults }: { faults: readonly SaidFault[] }) {
  const words = useWords();
  if (faults.length === 0) return <p class="td-no-fault">{words.say("title_desk_no_fault")}</p>;
  return (
    <section class="od-block" aria-labelledby="td-faults">
      <h3 id="td-faults">{words.say("title_desk_faults")}</h3>
      <ol class="td-faults">
        {faults.map((fault, i) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: one code may stand there twice; the order is the rank.
          <li key={`${fault.code} ${i}`}>
            <p class="td-fault">{fault.sentence}</p>
            <p>{fault.fix}</p>
            <Harm fault={fault} />
          </li>
        ))}
      </ol>
    </section>
  );
}

function Harm({ fault: { buyers, effect } }: { fault: SaidFault }) {
  const words = useWords();
  if (buyers.length === 0) return null;
  const named = buyers.slice(0, MOST_BUYERS_NAMED);
  const more = buyers.length - named.length;
  return (
    <p class="od-soft">
      {words.say("title_desk_astray", { revisions: named })}
      {more > 0 && ` ${words.say("order_desk_beyond", { count: more })}`}
      {effect !== null && ` ${words.say("title_desk_worst", { effect: effectWord(effect, words) })}`}
    </p>
  );
}

function Buyers({ buyers }: { buyers: readonly SaidReading[] }) {
  const words = useWords();
  const families = [...new Set(buyers.map(({ family }) => family))];
  return (
    <section class="od-block" aria-labelledby="td-buyers">
      <h3 id="td-buyers">{words.say("title_desk_buyers")}</h3>
      <table class="td-buyers">
        <thead>
          <tr>
            <th scope="col">{words.say("title_desk_revision")}</th>
            <th scope="col">{words.say("title_desk_reads")}</th>
            <th scope="col">{words.say("title_desk_because")}</th>
          </tr>
        </thead>
        {families.map((family) => (
          <tbody key={family}>
            <tr class="td-family">
              <th scope="rowgroup" colSpan={3}>
                {family}
              </th>
            </tr>
            {buyers
              .filter((buyer) => buyer.family === family)
              .map((buyer) => (
                <BuyerRow key={buyer.id} buyer={buyer} />
              ))}
          </tbody>
        ))}
      </table>
    </section>
  );
}

function BuyerRow({ buyer }: { buyer: SaidReading }) {
  const words = useWords();
  const { revision, boards, tier, word, outcome, reasons, hazards } = buyer;
  const atRisk = outcome === "misled" || outcome === "left-guessing";
  return (
    <tr data-outcome={outcome}>
      <th scope="row">
        {revision}
        {boards.length > 0 && <small>{boards.slice(0, 3).join(", ")}</small>}
      </th>
      <td>
        <span class="od-mark" data-tier={tier}>
          <Sign pose={poseOfTier[tier]} size={14} />
          {word}
        </span>
        {buyer.right !== null && <small>{words.say(`title_outcome_${keyOf(outcome)}`)}</small>}
      </td>
      <td>
        {reasons.map((reason) => (
          <p key={reason}>{reason}</p>
        ))}
        {atRisk && hazards.map((hazard) => <Drawing key={hazard.signalText} tree={hazardBox(hazard)} />)}
      </td>
    </tr>
  );
}
