/** Language and look of our own pages and marks. */
import type { Settings } from "../../store/settings.ts";
import { Choices, SelectField, Toggle } from "../../ui/field.tsx";
import { languageNames } from "../../ui/load-words.ts";
import { useWords } from "../../ui/words-context.tsx";
import { useTools } from "../tools.tsx";

/** The section; every change takes effect at once. */
export function LookSection({ settings }: { settings: Settings }) {
  const words = useWords();
  const { store } = useTools();
  const languages = Object.entries(languageNames).map(([value, label]) => ({ value, label }));
  return (
    <section class="wb-section" aria-labelledby="look-heading">
      <h2 id="look-heading">{words.say("settings_look")}</h2>
      <div class="wb-short-field">
        <SelectField
          label={words.say("settings_language")}
          value={settings.language}
          options={[{ value: "auto", label: words.say("settings_language_auto") }, ...languages]}
          onChange={(language) => store.settings.change({ language })}
        />
      </div>
      <Choices
        legend={words.say("settings_scheme")}
        value={settings.scheme}
        options={[
          { value: "system", label: words.say("settings_scheme_system") },
          { value: "light", label: words.say("settings_scheme_light") },
          { value: "dark", label: words.say("settings_scheme_dark") },
        ]}
        onChange={(scheme) => store.settings.change({ scheme })}
      />
      <Toggle
        label={words.say("settings_contrast")}
        hint={words.say("settings_contrast_hint")}
        checked={settings.contrast === "more"}
        onChange={(more) => store.settings.change({ contrast: more ? "more" : "system" })}
      />
    </section>
  );
}
