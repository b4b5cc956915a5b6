/** What one page gets: the device in hand, its slice of the catalogs, the rules, the sentences, the settings. */
import type { RawRules } from "../formats/rules.ts";
import { wordsForPage } from "../page/cues.ts";
import type { Store } from "../store/open.ts";
import { shapeCovers } from "../store/shapes.ts";
import { siteOf } from "../store/sites.ts";
import type { LoadedMessages } from "../ui/load-words.ts";
import { knowledgeFor } from "./knowledge.ts";
import type { PagePack } from "./messages.ts";

/** Beginnings of the message keys that an overlay says. */
export const OVERLAY_SENTENCES = /^(?:overlay|strip|ui|reason|hazard|caution|value)_/;

/** Where a pack comes from. */
export interface PackSources {
  readonly store: Store;
  readonly rules: RawRules;
  readonly messages: () => Promise<LoadedMessages>;
}

/** Packs what the page at an address needs. */
export async function packFor(
  page: { address: string | undefined; language: string | undefined },
  { store, rules, messages }: PackSources,
): Promise<PagePack> {
  const { address, language } = page;
  const site = siteOf(address);
  const host = address !== undefined && URL.canParse(address) ? new URL(address).hostname : "";
  const saved = await store.devices.inHand();
  const known = saved && (await knowledgeFor(store, saved));
  const said = await messages();
  const taught = await store.shapes.list();
  return {
    on: site !== undefined && (await store.sites.has(site)),
    device: known?.device ?? null,
    catalogs: known?.catalogs ?? [],
    rules: {
      ...rules,
      pageShapes: [...taught, ...rules.pageShapes].filter((shape) => shapeCovers(shape, host)),
      pageWords: wordsForPage(rules.pageWords, language),
    },
    language: said.language,
    messages: Object.fromEntries(Object.entries(said.messages).filter(([key]) => OVERLAY_SENTENCES.test(key))),
    settings: await store.settings.get(),
    unreadable: known?.unreadable ?? [],
  };
}
