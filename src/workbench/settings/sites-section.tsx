/** The sites whose listings are marked. */
import { useState } from "preact/hooks";
import { matchPattern } from "../../store/sites.ts";
import { Button } from "../../ui/button.tsx";
import { useUndo } from "../../ui/undo.tsx";
import { useWords } from "../../ui/words-context.tsx";
import { useLoaded } from "../loaded.ts";
import { useStoredTurn } from "../stored.ts";
import { useTools } from "../tools.tsx";

/** The section. */
export function SitesSection() {
  const words = useWords();
  const { store, ask, permissions } = useTools();
  const offerUndo = useUndo();
  const turn = useStoredTurn("site/");
  const sites = useLoaded(() => store.sites.list(), [turn]);
  const [failed, setFailed] = useState<string | null>(null);
  const switchSite = async (site: string, on: boolean) => {
    const reply = await ask({ kind: "switch-site", site, on, tab: null });
    setFailed(reply.ok ? null : site);
    return reply.ok;
  };
  const remove = async (site: string) => {
    if (!(await switchSite(site, false))) return;
    offerUndo(words.say("settings_site_off", { site }), async () => {
      if (await permissions.ask(matchPattern(site))) await switchSite(site, true);
    });
  };
  return (
    <section class="wb-section" aria-labelledby="sites-heading">
      <h2 id="sites-heading">{words.say("settings_sites")}</h2>
      <p class="wb-soft">{words.say("settings_sites_why")}</p>
      {sites.value?.length === 0 && <p>{words.say("settings_sites_none")}</p>}
      <ul class="wb-rows">
        {sites.value?.map((site) => (
          <li key={site} class="wb-setting-row">
            <span dir="ltr">{site}</span>
            <Button
              kind="quiet"
              label={words.say("workbench_act_on", { act: words.say("settings_site_remove"), on: site })}
              onPress={() => remove(site)}
            >
              {words.say("settings_site_remove")}
            </Button>
          </li>
        ))}
      </ul>
      {failed !== null && (
        <p class="ff-error" role="alert">
          {words.say("settings_site_failed", { site: failed })}
        </p>
      )}
    </section>
  );
}
