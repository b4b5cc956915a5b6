/** What stands beside the list while no device is open: how the whole bench stands, and what is done to all of it. */

import { Drawing, Sign } from "../../ui/drawing.tsx";
import { deviceName } from "../../ui/naming.ts";
import { useWords } from "../../ui/words-context.tsx";
import { hrefOf } from "../route.ts";
import { BackUpButton } from "./back-up.tsx";
import { useBench } from "./bench-state.tsx";
import { poseOfStanding } from "./device-row.tsx";
import { effortOf, effortRank } from "./effort.ts";
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
      <NextLooks />
      <div class="ff-actions">
        <BackUpButton />
        <a class="ff-button ff-plain" href={hrefOf("bench", { act: "restore" })}>
          {words.say("bench_restore")}
        </a>
      </div>
    </div>
  );
}

/** Looks that are offered. */
const MOST_LOOKS = 6;

/** Where one cheap look would bring most: the cheapest first. */
function NextLooks() {
  const words = useWords();
  const { devices = [], standings } = useBench();
  const looks = devices.flatMap(({ device }) => {
    const next = device.archived ? null : standings.get(device.id)?.next;
    return next ? [{ device, next }] : [];
  });
  looks.sort((a, b) => effortRank(a.next.effort) - effortRank(b.next.effort));
  if (looks.length === 0) return <p class="wb-soft">{words.say("bench_overview_hint")}</p>;
  return (
    <section class="wb-section" aria-labelledby="looks-heading">
      <h2 id="looks-heading">{words.say("bench_next_looks")}</h2>
      <ul class="wb-rows">
        {looks.slice(0, MOST_LOOKS).map(({ device, next }) => (
          <li key={device.id}>
            <a class="wb-look" href={hrefOf("bench", { id: device.id })}>
              <Drawing tree={effortOf(next.effort, 24)} />
              <span>
                <b>{deviceName(device, words)}</b>
                <span class="wb-under">{words.say(next.ask.key, next.ask.values)}</span>
              </span>
            </a>
          </li>
        ))}
      </ul>
    </section>
  );
}
