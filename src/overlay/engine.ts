/** A page's pack made ready: judges listings and puts verdicts into words, all in the page, without the background. */
import type { PagePack } from "../background/messages.ts";
import { buildIndex } from "../catalog/index.ts";
import { resolveRevisions } from "../catalog/resolve.ts";
import type { Device } from "../formats/bench.ts";
import type { Listing } from "../formats/listing.ts";
import type { RawRules } from "../formats/rules.ts";
import type { Verdict } from "../formats/verdict.ts";
import type { Settings } from "../store/settings.ts";
import { makeWords, type Words } from "../text/words.ts";
import { deviceName, type Explanation, explain } from "../ui/explanation.ts";
import { judge, prepareDevice } from "../verdict/index.ts";

/** Judges for the device in hand. */
export interface Engine {
  readonly device: Device;
  readonly deviceName: string;
  readonly words: Words;
  readonly settings: Settings;
  readonly rules: RawRules;
  judge(listing: Listing): Verdict;
  explain(listing: Listing, verdict: Verdict): Explanation;
  /** A revision of the device's family, or the family's id where it belongs to none. */
  revisionName(id: string): string;
}

/** Makes a pack ready; `null` when no device is in hand. */
export function makeEngine(pack: PagePack): Engine | null {
  const { device, settings, rules } = pack;
  if (device === null) return null;
  const words = makeWords(pack.language, pack.messages);
  const index = buildIndex(pack.catalogs);
  const prepared = prepareDevice(device, index, rules);
  const resolved = resolveRevisions(device, index);
  return {
    device,
    deviceName: deviceName(device, words),
    words,
    settings,
    rules,
    judge: (listing) => judge(listing, prepared),
    explain: (listing, verdict) => explain(listing, verdict, { device, index, resolved, words }),
    revisionName: (id) => resolved.family?.revisions.find((revision) => revision.id === id)?.name ?? id,
  };
}
