/**
 * Judges a page's listings for the device in hand. What the device and its catalogs amount to is prepared once and
 * kept while the background is awake: the next page, and the next reading of the same one, start from there.
 */
import { buildIndex, type CatalogIndex } from "../catalog/index.ts";
import { type ResolvedRevisions, resolveRevisions } from "../catalog/resolve.ts";
import type { Device } from "../formats/bench.ts";
import { type Listing, listingSchema } from "../formats/listing.ts";
import type { RawRules } from "../formats/rules.ts";
import type { Verdict } from "../formats/verdict.ts";
import type { SavedDevice } from "../store/devices.ts";
import type { Store } from "../store/open.ts";
import type { Words } from "../text/words.ts";
import { type Explanation, explain } from "../ui/explanation.ts";
import { judge, type PreparedDevice, prepareDevice } from "../verdict/index.ts";
import { knowledgeFor, knowledgeStamp } from "./knowledge.ts";

/** A device made ready to judge for. */
interface Stand {
  readonly stamp: string;
  readonly device: Device;
  readonly index: CatalogIndex;
  readonly resolved: ResolvedRevisions;
  /** Made when the first listing is judged: the words of six languages take longer than everything else. */
  readonly prepared: () => PreparedDevice;
}

/** The last stand of each store: one device is in hand at a time. */
const stands = new WeakMap<Store, Stand>();

/** What judging needs. */
export interface JudgeSources {
  readonly store: Store;
  readonly rules: RawRules;
}

/**
 * Verdicts in the order of the listings, which come from a page and are checked one by one; `null`, and a word in the
 * console, for one that is no listing or fails: it does not stop the others.
 */
export async function judgeListings(
  listings: readonly unknown[],
  saved: SavedDevice,
  sources: JudgeSources,
): Promise<(Verdict | null)[]> {
  const stand = await standFor(saved, sources);
  return listings.map((each) => judgeOne(each, stand.prepared()));
}

/** The verdict on one listing or text, in words. */
export async function explainListing(
  listing: Listing,
  saved: SavedDevice,
  sources: JudgeSources & { readonly words: Words },
): Promise<Explanation> {
  const { device, index, prepared, resolved } = await standFor(saved, sources);
  return explain(listing, judge(listing, prepared()), { device, index, resolved, words: sources.words });
}

function judgeOne(candidate: unknown, prepared: PreparedDevice): Verdict | null {
  try {
    return judge(listingSchema.parse(candidate) as Listing, prepared);
  } catch (error) {
    console.error("Falsefit: one listing could not be judged.", error);
    return null;
  }
}

/** Names of the revisions that the device's family has, by their ids; those without a name are left out. */
export async function revisionNamesFor(saved: SavedDevice, sources: JudgeSources): Promise<Record<string, string>> {
  const { family } = (await standFor(saved, sources)).resolved;
  return Object.fromEntries((family?.revisions ?? []).flatMap(({ id, name }) => (name ? [[id, name]] : [])));
}

async function standFor(saved: SavedDevice, { store, rules }: JudgeSources): Promise<Stand> {
  const stamp = await knowledgeStamp(store, saved);
  const kept = stands.get(store);
  if (kept?.stamp === stamp) return kept;
  const { device, catalogs, unreadable } = await knowledgeFor(store, saved);
  if (unreadable.length > 0)
    console.warn(`Falsefit: judged without catalogs that cannot be read: ${unreadable.join(", ")}.`);
  const index = buildIndex(catalogs);
  let prepared: PreparedDevice | undefined;
  const stand: Stand = {
    stamp,
    device,
    index,
    resolved: resolveRevisions(device, index),
    prepared: () => {
      prepared ??= prepareDevice(device, index, rules);
      return prepared;
    },
  };
  stands.set(store, stand);
  return stand;
}
