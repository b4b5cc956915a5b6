/** Which parts the device takes, as far as that is decided. */
import type { Device } from "../../formats/bench.ts";
import { useWords } from "../../ui/words-context.tsx";
import { usePartNames } from "../part-names.ts";
import type { PartForDevice, Study } from "../work/device-services.ts";
import { eitherOf } from "./device-row.tsx";

/** The section; nothing where no catalog lists a part. */
export function PartsSection({ study }: { device: Device; study: Study }) {
  const words = useWords();
  const partName = usePartNames();
  const types = [...new Set(study.parts.map(({ type }) => type))];
  if (types.length === 0) return null;
  return (
    <section class="wb-section" aria-labelledby="parts-heading">
      <h2 id="parts-heading">{words.say("bench_parts")}</h2>
      <dl class="wb-facts">
        {types.map((type) => (
          <div key={type}>
            <dt>{partName(type)}</dt>
            {study.parts
              .filter((part) => part.type === type)
              .map((part) => (
                <PartLine key={part.id} part={part} />
              ))}
          </div>
        ))}
      </dl>
    </section>
  );
}

function PartLine({ part }: { part: PartForDevice }) {
  const words = useWords();
  return (
    <dd>
      <span class="ff-number">{part.numbers.length > 0 ? part.numbers.join(", ") : (part.name ?? part.id)}</span>
      {!part.forAll && (
        <span class="wb-part-only">{words.say("bench_part_only", { revisions: eitherOf(part.revisions, words) })}</span>
      )}
    </dd>
  );
}
