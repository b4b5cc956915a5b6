/** What stands beside the list while no device is open: how the whole bench stands, and what is done to all of it. */
import { Sign } from "../../ui/drawing.tsx";
import { useWords } from "../../ui/words-context.tsx";
import { hrefOf } from "../route.ts";
import { BackUpButton } from "./back-up.tsx";
import { useBench } from "./bench-state.tsx";
import { poseOfStanding } from "./device-row.tsx";
import { type BenchFilter, countByFilter } from "./search.ts";

const STANDINGS = ["pinned", "open", "contradicted", "unknown"] as const;

/** The overview. */
export function BenchOverview({ onFilter }: { onFilter: (filter: BenchFilter) => void }) {
  const words = useWords();
  const { devices = [], standings } = useBench();
  const counts = countByFilter(devices, standings);
  const say = {
    pinned: words.say("bench_overview_pinned", { count: counts.pinned }),
    open: words.say("bench_overview_open", { count: counts.open }),
    contradicted: words.say("bench_overview_contradicted", { count: counts.contradicted }),
    unknown: words.say("bench_overview_unknown", { count: counts.unknown }),
  };
  return (
    <div class="wb-page">
      <h2>{words.say("bench_overview")}</h2>
      <ul class="wb-overview">
        {STANDINGS.filter((word) => counts[word] > 0).map((word) => (
          <li key={word}>
            <button type="button" class="wb-line-button" data-standing={word} onClick={() => onFilter(word)}>
              <Sign pose={poseOfStanding[word]} size={24} />
              <span>{say[word]}</span>
            </button>
          </li>
        ))}
      </ul>
      <p class="wb-soft">{words.say("bench_overview_hint")}</p>
      <div class="ff-actions">
        <BackUpButton />
        <a class="ff-button ff-plain" href={hrefOf("bench", { act: "restore" })}>
          {words.say("bench_restore")}
        </a>
      </div>
    </div>
  );
}
