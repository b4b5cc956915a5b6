/** One title, pasted from anywhere, judged for the device in hand. */
import { useEffect, useState } from "preact/hooks";
import { askBackground } from "../background/ask.ts";
import { Drawing, Sign } from "../ui/drawing.tsx";
import type { Explanation } from "../ui/explanation.ts";
import { explanationBody } from "../ui/explanation-view.ts";
import { TextField } from "../ui/field.tsx";
import { poseOfTier } from "../ui/sign.ts";
import { useWords } from "../ui/words-context.tsx";

/** Waits for the typing to pause, in milliseconds. */
const PAUSE_MS = 150;

interface TitleSectionProps {
  /** Judged anew when another device is taken in hand. */
  device: string | null;
  /** What a menu handed over. */
  start: string;
  /** Puts the cursor into the field: the popup was opened for it. */
  focus: boolean;
}

/** The field and, below it, the verdict in words. */
export function TitleSection({ device, start, focus }: TitleSectionProps) {
  const words = useWords();
  const [text, setText] = useState(start);
  const [explained, setExplained] = useState<Explanation | null>(null);
  const [failed, setFailed] = useState(false);
  // biome-ignore lint/correctness/useExhaustiveDependencies: another device in hand means another verdict.
  useEffect(() => {
    if (text.trim() === "") {
      setExplained(null);
      return undefined;
    }
    let current = true;
    const timer = setTimeout(async () => {
      const reply = await askBackground({ kind: "judge-text", text: text.trim() });
      if (!current) return;
      setExplained(reply.ok ? reply.data : null);
      setFailed(!reply.ok);
    }, PAUSE_MS);
    return () => {
      current = false;
      clearTimeout(timer);
    };
  }, [text, device]);
  return (
    <section>
      <h2>{words.say("popup_title_heading")}</h2>
      <TextField
        label={words.say("popup_title_label")}
        value={text}
        onInput={setText}
        rows={2}
        maxLength={20_000}
        autoFocus={focus}
      />
      <div aria-live="polite">
        {failed && <p class="ff-error">{words.say("popup_title_failed")}</p>}
        {explained && (
          <div class="verdict" data-tone={explained.tier}>
            <h3>
              <Sign pose={poseOfTier[explained.tier]} size={18} />
              <span>
                {explained.word}
                <small>{explained.headline}</small>
              </span>
            </h3>
            <Drawing tree={explanationBody(explained, words)} />
          </div>
        )}
      </div>
    </section>
  );
}
