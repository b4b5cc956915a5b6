/** This page in one sentence, and whether its site is switched on. The permission is asked for at the click. */
import { useState } from "preact/hooks";
import type { PageState } from "../background/messages.ts";
import { Button } from "../ui/button.tsx";
import { Sign } from "../ui/drawing.tsx";
import { poseOfTier } from "../ui/sign.ts";
import { useWords } from "../ui/words-context.tsx";
import type { PopupModel } from "./model.ts";

interface PageSectionProps {
  model: PopupModel;
  /** Straight from the click; false when the person said no to the browser. */
  onSwitch: (on: boolean) => Promise<boolean>;
  onOnce: () => void;
  onTeach: () => void;
  onShowMarks: () => void;
}

/** The page in front. */
export function PageSection({ model, onSwitch, onOnce, onTeach, onShowMarks }: PageSectionProps) {
  const words = useWords();
  const [refused, setRefused] = useState(false);
  const [busy, setBusy] = useState(false);
  const { tab, siteOn, page } = model;
  if (tab?.site === undefined) {
    return (
      <section>
        <h2>{words.say("popup_this_page")}</h2>
        <p>{words.say("popup_page_closed")}</p>
      </section>
    );
  }
  const host = new URL(tab.site).hostname;
  const marking = page !== undefined && page.phase !== "idle";
  const press = async (on: boolean) => {
    setBusy(true);
    setRefused(!(await onSwitch(on)) && on);
    setBusy(false);
  };
  return (
    <section>
      <h2>{words.say("popup_this_page")}</h2>
      <p class="says" aria-live="polite" data-tone={page?.tone}>
        {marking && <Sign pose={poseOfTier[page.tone]} size={18} />}
        <span>{marking ? pageSentence(page, words.say) : words.say("popup_page_off", { host })}</span>
      </p>
      {refused && <p class="ff-error">{words.say("popup_permission_refused", { host })}</p>}
      <div class="ff-actions">
        {siteOn ? (
          <Button onPress={() => press(false)} busy={busy}>
            {words.say("popup_site_off")}
          </Button>
        ) : (
          <Button kind="strong" onPress={() => press(true)} busy={busy}>
            {words.say("popup_site_on")}
          </Button>
        )}
        {!siteOn && !marking && (
          <Button kind="quiet" onPress={onOnce}>
            {words.say("popup_once")}
          </Button>
        )}
        {page?.hidden && (
          <Button kind="quiet" onPress={onShowMarks}>
            {words.say("popup_show_marks")}
          </Button>
        )}
        {(marking || siteOn) && (
          <Button kind="quiet" onPress={onTeach} title={words.say("popup_teach_hint")}>
            {words.say("popup_teach")}
          </Button>
        )}
      </div>
      {!siteOn && <p class="ff-hint">{words.say("popup_site_why", { host })}</p>}
    </section>
  );
}

function pageSentence(page: PageState, say: (key: string) => string): string {
  if (page.phase === "no-device") return say("popup_page_no_device");
  return page.phase === "watching" || page.sentence === "" ? say("popup_page_nothing") : page.sentence;
}
