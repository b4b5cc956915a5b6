/** What one page gets: what the device in hand is called, how to read this page, the sentences, the settings. */
import type { RawRules } from "../formats/rules.ts";
import { wordsForPage } from "../page/cues.ts";
import { moneyLanguage } from "../page/language.ts";
import type { Store } from "../store/open.ts";
import { shapeCovers } from "../store/shapes.ts";
import { siteOf } from "../store/sites.ts";
import { type OfferedNames, offerNames } from "../text/money-names.ts";
import { currencyOfLanguage } from "../text/money-symbols.ts";
import { makeWords } from "../text/words.ts";
import type { LoadedMessages } from "../ui/load-words.ts";
import { deviceName } from "../ui/naming.ts";
import type { PagePack } from "./messages.ts";
import { revisionNamesFor } from "./page-judge.ts";

/** Beginnings of the message keys that an overlay says. */
export const OVERLAY_SENTENCES = /^(?:overlay|strip|ui|hazard|value)_/;

/** Where a pack comes from. */
export interface PackSources {
  readonly store: Store;
  readonly rules: RawRules;
  readonly messages: () => Promise<LoadedMessages>;
}

/** Currencies that pages state most; any other is asked for in the page. */
const COMMON_CURRENCIES = ["USD", "EUR", "GBP", "CHF", "PLN", "SEK", "NOK", "DKK", "CZK", "JPY", "CAD", "AUD"];
const offers = new Map<string, OfferedNames>();
const OFFERS_KEPT = 16;

/** What a language calls the common currencies and that of its region; kept while the background is awake. */
function currencyNamesFor(language: string | undefined): OfferedNames | undefined {
  if (language === undefined) return undefined;
  const kept = offers.get(language);
  if (kept !== undefined) return kept;
  const regional = currencyOfLanguage(language);
  const codes = new Set([...COMMON_CURRENCIES, ...(regional === null ? [] : [regional])]);
  const offer = offerNames(language, [...codes]);
  if (offers.size >= OFFERS_KEPT) offers.clear();
  offers.set(language, offer);
  return offer;
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
  const said = await messages();
  const taught = await store.shapes.list();
  return {
    on: site !== undefined && (await store.sites.has(site)),
    device: saved
      ? {
          id: saved.device.id,
          name: deviceName(saved.device, makeWords(said.language, said.messages)),
          revisionNames: await revisionNamesFor(saved, { store, rules }),
        }
      : null,
    pageShapes: [...taught, ...rules.pageShapes].filter((shape) => shapeCovers(shape, host)),
    pageWords: wordsForPage(rules.pageWords, language),
    currencyNames: currencyNamesFor(moneyLanguage(language, address)),
    language: said.language,
    messages: Object.fromEntries(Object.entries(said.messages).filter(([key]) => OVERLAY_SENTENCES.test(key))),
    settings: await store.settings.get(),
  };
}
