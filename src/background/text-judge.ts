/** Judges one pasted or selected text for the device in hand, the same way a listing on a page is judged. */
import { buildIndex } from "../catalog/index.ts";
import { resolveRevisions } from "../catalog/resolve.ts";
import type { RawRules } from "../formats/rules.ts";
import type { SavedDevice } from "../store/devices.ts";
import type { Store } from "../store/open.ts";
import type { Words } from "../text/words.ts";
import { type Explanation, explain } from "../ui/explanation.ts";
import { judge, prepareDevice } from "../verdict/index.ts";
import { knowledgeFor } from "./knowledge.ts";

/** The verdict on a text, in words. */
export async function judgeText(
  text: string,
  saved: SavedDevice,
  { store, rules, words }: { store: Store; rules: RawRules; words: Words },
): Promise<Explanation> {
  const { device, catalogs } = await knowledgeFor(store, saved);
  const index = buildIndex(catalogs);
  const listing = { title: text };
  const verdict = judge(listing, prepareDevice(device, index, rules));
  return explain(listing, verdict, { device, index, resolved: resolveRevisions(device, index), words });
}
