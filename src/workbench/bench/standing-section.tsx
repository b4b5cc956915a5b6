/** Which revision the device is: the answer, the build dates as a drawing, and what the answer rests on. */

import type { KnownRevision } from "../../catalog/index.ts";
import type { EvidenceKind, ResolvedRevisions } from "../../catalog/resolve.ts";
import { buildInterval, revisionName } from "../../catalog/resolve.ts";
import type { Device } from "../../formats/bench.ts";
import { dateBar } from "../../ui/date-bar.ts";
import { Drawing, Sign } from "../../ui/drawing.tsx";
import { reasonSentence } from "../../ui/explanation.ts";
import { useWords } from "../../ui/words-context.tsx";
import { type DatedRevision, lanesOf } from "../date-lanes.ts";
import { hrefOf } from "../route.ts";
import type { Study } from "../work/device-services.ts";
import { eitherOf, poseOfStanding } from "./device-row.tsx";

/** The section. */
export function StandingSection({ device, study }: { device: Device; study: Study }) {
  const words = useWords();
  const { standing, resolved, unreadable } = study;
  const bar =
    resolved.family && dateBar(lanesOf(resolved.family.revisions.map(dated)), buildInterval(device.buildDate), words);
  return (
    <section class="wb-section" aria-labelledby="standing-heading">
      <div class="wb-answer" data-standing={standing.word}>
        <Sign pose={poseOfStanding[standing.word]} size={36} />
        <div>
          <h2 id="standing-heading">{answerText(study, words)}</h2>
          <p class="wb-soft">{reasonSentence(resolved.familyBy, words)}</p>
        </div>
      </div>
      {standing.word === "unknown" && (
        <p>
          <a href={hrefOf("catalogs")}>{words.say("bench_to_catalogs")}</a>
        </p>
      )}
      {resolved.contradictions.length > 0 && (
        <ul class="wb-contradictions">
          {resolved.contradictions.map((reason) => {
            const text = reasonSentence(reason, words);
            return <li key={text}>{text}</li>;
          })}
        </ul>
      )}
      {bar && <Drawing tree={bar} />}
      <Evidence resolved={resolved} />
      {unreadable.length > 0 && <p class="wb-note">{words.say("bench_unreadable_catalogs", { titles: unreadable })}</p>}
    </section>
  );
}

function answerText({ standing: { word, possible } }: Study, words: ReturnType<typeof useWords>): string {
  const revisions = eitherOf(possible.length > 0 ? possible : [words.say("bench_no_revision")], words);
  if (word === "pinned") return words.say("bench_answer_pinned", { revision: revisions });
  if (word === "open") return words.say("bench_answer_open", { revisions });
  if (word === "contradicted") return words.say("bench_answer_contradicted", { revisions });
  return words.say("bench_answer_unknown");
}

function dated(revision: KnownRevision): DatedRevision {
  return { name: revisionName(revision), built: revision.built, years: revision.years };
}

/** Every piece of evidence and what it leaves. */
function Evidence({ resolved: { evidence } }: { resolved: ResolvedRevisions }) {
  const words = useWords();
  if (evidence.length === 0) return null;
  const kinds: Readonly<Record<EvidenceKind, string>> = {
    stated: words.say("bench_evidence_stated"),
    board: words.say("bench_evidence_board"),
    date: words.say("bench_evidence_date"),
    part: words.say("bench_evidence_part"),
  };
  return (
    <dl class="wb-facts">
      {evidence.map(({ kind, value, leaves, says }) => (
        <div key={`${kind} ${value} ${says.code}`} data-tells={leaves !== null}>
          <dt>{kinds[kind]}</dt>
          <dd>{reasonSentence(says, words)}</dd>
        </div>
      ))}
    </dl>
  );
}
