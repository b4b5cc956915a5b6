/** What a person sets, keeps and throws away. */
import { useWords } from "../../ui/words-context.tsx";
import { actOf, type Place } from "../route.ts";
import { AsideSection } from "./aside-section.tsx";
import { CautionsSection } from "./cautions-section.tsx";
import { KeepSection } from "./keep-section.tsx";
import { LookSection } from "./look-section.tsx";
import { MarksSection } from "./marks-section.tsx";
import { RestoreAllPage } from "./restore-all-page.tsx";
import { ShapesSection } from "./shapes-section.tsx";
import { SitesSection } from "./sites-section.tsx";
import { useSettings } from "./use-settings.ts";

/** The desk. Addresses: `#settings`, `#settings/:restore`. */
export function SettingsDesk({ place }: { place: Place }) {
  const words = useWords();
  const inUse = useSettings();
  if (actOf(place.steps[0]) === "restore") return <RestoreAllPage />;
  return (
    <div class="wb-page wb-settings">
      <h1 tabIndex={-1} data-start="">
        {words.say("workbench_desk_settings")}
      </h1>
      {inUse && <LookSection {...inUse} />}
      {inUse && <MarksSection {...inUse} />}
      <SitesSection />
      <ShapesSection />
      <KeepSection />
      <AsideSection />
      <CautionsSection />
    </div>
  );
}
