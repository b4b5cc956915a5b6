/** How listings are marked. */
import { Sign } from "../../ui/drawing.tsx";
import { Choices, Toggle } from "../../ui/field.tsx";
import { markWord } from "../../ui/naming.ts";
import { useWords } from "../../ui/words-context.tsx";
import type { SettingsInUse } from "./use-settings.ts";

/** The section. */
export function MarksSection({ settings, change }: SettingsInUse) {
  const words = useWords();
  return (
    <section class="wb-section" aria-labelledby="marks-heading">
      <h2 id="marks-heading">{words.say("settings_marks")}</h2>
      <Examples withWords={settings.marks === "words"} />
      <Toggle
        label={words.say("settings_marks_show")}
        hint={words.say("settings_marks_show_hint")}
        checked={settings.showMarks}
        onChange={(showMarks) => change({ showMarks })}
      />
      <Choices
        legend={words.say("settings_marks_style")}
        value={settings.marks}
        options={[
          { value: "words", label: words.say("settings_marks_words") },
          { value: "signs", label: words.say("settings_marks_signs"), note: words.say("settings_marks_signs_note") },
        ]}
        onChange={(marks) => change({ marks })}
      />
      <Choices
        legend={words.say("settings_dim")}
        value={settings.dim}
        options={[
          { value: "nothing", label: words.say("settings_dim_nothing") },
          { value: "stop", label: words.say("settings_dim_stop") },
          { value: "all-but-go", label: words.say("settings_dim_rest") },
        ]}
        onChange={(dim) => change({ dim })}
      />
    </section>
  );
}

/** The three signs as they stand on listings. */
function Examples({ withWords }: { withWords: boolean }) {
  const words = useWords();
  const examples = [
    { tier: "go", pose: "aligned", verdict: "fits" },
    { tier: "check", pose: "apart", verdict: "ambiguous" },
    { tier: "stop", pose: "crossed", verdict: "other-revision" },
  ] as const;
  return (
    <p class="wb-mark-examples">
      {examples.map(({ tier, pose, verdict }) => (
        <span key={tier} class="wb-mark" data-tier={tier}>
          <Sign pose={pose} />
          <span class={withWords ? undefined : "ff-unseen"}>{markWord(verdict, words)}</span>
        </span>
      ))}
    </p>
  );
}
