/** Language and look of our own pages and marks. */
import { Choices, SelectField, Toggle } from "../../ui/field.tsx";
import { languageNames } from "../../ui/load-words.ts";
import { useWords } from "../../ui/words-context.tsx";
import type { SettingsInUse } from "./use-settings.ts";

/** The section; every change takes effect at once. */
export function LookSection({ settings, change }: SettingsInUse) {
  const words = useWords();
  const languages = Object.entries(languageNames).map(([value, label]) => ({ value, label }));
  return (
    <section class="wb-section" aria-labelledby="look-heading">
      <h2 id="look-heading">{words.say("settings_look")}</h2>
      <div class="wb-short-field">
        <SelectField
          label={words.say("settings_language")}
          value={settings.language}
          options={[{ value: "auto", label: words.say("settings_language_auto") }, ...languages]}
          onChange={(language) => change({ language })}
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
        onChange={(scheme) => change({ scheme })}
      />
      <Toggle
        label={words.say("settings_contrast")}
        hint={words.say("settings_contrast_hint")}
        checked={settings.contrast === "more"}
        onChange={(more) => change({ contrast: more ? "more" : "system" })}
      />
    </section>
  );
}
