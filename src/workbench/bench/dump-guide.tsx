/** Which command makes a machine print what it knows, by system. */
import { useState } from "preact/hooks";
import { type GuideEntry, guide } from "../../readout/guide.ts";
import { Button } from "../../ui/button.tsx";
import { Choices } from "../../ui/field.tsx";
import { useWords } from "../../ui/words-context.tsx";

type System = GuideEntry["system"];
const systems: readonly System[] = [...new Set(guide.map(({ system }) => system))];

/** The guide, folded until it is needed. */
export function DumpGuide() {
  const words = useWords();
  const [system, setSystem] = useState<System | null>(null);
  return (
    <details class="wb-more wb-guide">
      <summary>{words.say("bench_guide")}</summary>
      <p class="wb-soft">{words.say("bench_guide_how")}</p>
      <Choices
        legend={words.say("bench_guide_system")}
        value={system}
        options={systems.map((value) => ({ value, label: value }))}
        onChange={setSystem}
      />
      <ul class="wb-plain">
        {guide
          .filter((entry) => entry.system === system)
          .map((entry) => (
            <li key={entry.command}>
              <Command entry={entry} />
            </li>
          ))}
      </ul>
    </details>
  );
}

function Command({ entry: { tells, command, needs } }: { entry: GuideEntry }) {
  const words = useWords();
  const [copied, setCopied] = useState(false);
  const act = words.say(copied ? "bench_guide_copied" : "bench_guide_copy");
  const copy = async () => {
    await navigator.clipboard.writeText(command);
    setCopied(true);
  };
  return (
    <div class="wb-command">
      <p>{words.say(tells)}</p>
      <div class="wb-command-line">
        <code dir="ltr">{command}</code>
        <Button kind="quiet" label={words.say("workbench_act_on", { act, on: command })} onPress={copy}>
          {act}
        </Button>
      </div>
      {needs !== null && <p class="wb-soft">{words.say(needs)}</p>}
    </div>
  );
}
