/** The general cautions in full, and what becomes of what a person types in. */
import { useWords } from "../../ui/words-context.tsx";

/** The section. */
export function CautionsSection() {
  const words = useWords();
  const cautions = [
    { name: words.say("settings_caution_lithium"), text: words.say("caution_lithium") },
    { name: words.say("settings_caution_mains"), text: words.say("caution_mains") },
    { name: words.say("settings_caution_backlight"), text: words.say("caution_backlight") },
    { name: words.say("settings_caution_stored_charge"), text: words.say("caution_stored_charge") },
  ];
  return (
    <section class="wb-section" aria-labelledby="cautions-heading">
      <h2 id="cautions-heading">{words.say("settings_cautions")}</h2>
      <p class="wb-soft">{words.say("settings_cautions_why")}</p>
      <dl class="wb-facts">
        {cautions.map(({ name, text }) => (
          <div key={name}>
            <dt>{name}</dt>
            <dd>{text}</dd>
          </div>
        ))}
      </dl>
      <h3>{words.say("settings_private")}</h3>
      <p class="wb-soft">{words.say("settings_private_text")}</p>
    </section>
  );
}
