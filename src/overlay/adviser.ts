/**
 * What the overlay knows and whom it asks. Listings are judged and explained by the background, so that a page's own
 * thread only reads and draws, and neither the saved device nor the catalogs ever come into a page's process.
 */
import type { PagePack, Request } from "../background/messages.ts";
import type { Listing } from "../formats/listing.ts";
import { tierOf } from "../formats/tiers.ts";
import type { Verdict } from "../formats/verdict.ts";
import type { Settings } from "../store/settings.ts";
import { makeWords, type Words } from "../text/words.ts";
import type { Explanation } from "../ui/explanation.ts";
import { headlineOf, markWord } from "../ui/naming.ts";
import { type Sentence, sayAll } from "../ui/sentences.ts";
import { ask, type Runtime } from "./courier.ts";

/** Most listings that one message carries: an answer is never long in coming, and the marks come with the last. */
const LISTINGS_A_MESSAGE = 120;

/** Sentences as a message carries them: the same, to be checked again where they arrive. */
type SentenceRequest = Extract<Request, { kind: "say" }>["sentences"];

/** Says how listings stand for the device in hand. */
export interface Adviser {
  /** The saved device's id. */
  readonly device: string;
  readonly deviceName: string;
  readonly words: Words;
  readonly settings: Settings;
  readonly pageWords: PagePack["pageWords"];
  readonly pageShapes: PagePack["pageShapes"];
  readonly currencyNames: PagePack["currencyNames"];
  /**
   * Verdicts in the order of the listings; `null` for one that could not be judged. Ends early, with fewer, once the
   * signal is raised.
   */
  judge(listings: readonly Listing[], signal: AbortSignal): Promise<(Verdict | null)[]>;
  /** A verdict in words. Without an answer of the background it holds the headline and says that reasons are missing. */
  explain(listing: Listing, verdict: Verdict): Promise<Explanation>;
  /** A text that is no listing of the page; `null` where the background cannot judge it. */
  explainText(text: string): Promise<Explanation | null>;
  /** Sentences in the person's language, in their order. */
  say(sentences: readonly Sentence[]): Promise<string[]>;
  /** A revision of the device's family; the id itself where the family names none. */
  revisionName(id: string): string;
}

/** The adviser for a pack; `null` when no device is in hand. */
export function adviserFor(pack: PagePack, runtime: Runtime): Adviser | null {
  const { device, settings, pageWords, pageShapes, currencyNames } = pack;
  if (device === null) return null;
  const words = makeWords(pack.language, pack.messages);
  const explanationOf = async (listing: Listing): Promise<Explanation | null> => {
    const reply = await ask(runtime, { kind: "explain-listing", device: device.id, listing });
    if (reply.ok) return reply.data;
    console.warn(`Falsefit: a listing could not be explained (${reply.failure.code}: ${reply.failure.detail}).`);
    return null;
  };
  return {
    device: device.id,
    deviceName: device.name,
    words,
    settings,
    pageWords,
    pageShapes,
    currencyNames,
    judge: (listings, signal) => judgeInBatches(runtime, device.id, listings, signal),
    explain: async (listing, verdict) =>
      (await explanationOf(listing)) ?? withoutReasons(listing, verdict, device.name, words),
    explainText: (text) => explanationOf({ title: text }),
    say: async (sentences) => {
      const reply = await ask(runtime, { kind: "say", sentences: sentences as SentenceRequest });
      // Without the background they are said here: that only takes the page a little longer.
      return reply.ok ? [...reply.data] : sayAll(sentences, words);
    },
    revisionName: (id) => device.revisionNames[id] ?? id,
  };
}

async function judgeInBatches(
  runtime: Runtime,
  device: string,
  listings: readonly Listing[],
  signal: AbortSignal,
): Promise<(Verdict | null)[]> {
  const verdicts: (Verdict | null)[] = [];
  for (let at = 0; at < listings.length && !signal.aborted; at += LISTINGS_A_MESSAGE) {
    const batch = listings.slice(at, at + LISTINGS_A_MESSAGE);
    const reply = await ask(runtime, { kind: "judge-listings", device, listings: batch });
    if (!reply.ok) {
      console.warn(`Falsefit: listings could not be judged (${reply.failure.code}: ${reply.failure.detail}).`);
    }
    verdicts.push(...(reply.ok ? reply.data : batch.map(() => null)));
  }
  return verdicts;
}

function withoutReasons(listing: Listing, { verdict }: Verdict, device: string, words: Words): Explanation {
  return {
    tier: tierOf[verdict],
    verdict,
    word: markWord(verdict, words),
    headline: headlineOf(verdict, device, words),
    device,
    title: [{ text: listing.title, marked: false }],
    quotes: [],
    reasons: [words.say("overlay_reasons_missing")],
    hazards: [],
    pins: null,
    checks: [],
  };
}
