/**
 * Answers requests. Every message is checked here before anything else sees it; what a page's overlay may not ask for
 * is refused; whatever goes wrong comes back as a failure with a code.
 */
import type { Listing } from "../formats/listing.ts";
import type { RawRules } from "../formats/rules.ts";
import type { SavedDevice } from "../store/devices.ts";
import type { Store } from "../store/open.ts";
import type { Words } from "../text/words.ts";
import type { LoadedMessages } from "../ui/load-words.ts";
import { type Sentence, sayAll } from "../ui/sentences.ts";
import { addExample, dropExample } from "./example.ts";
import {
  type Answers,
  type Failure,
  type HandedText,
  type PageState,
  type Reply,
  type Request,
  requestSchema,
  requestsOfPages,
  type WorkbenchPlace,
} from "./messages.ts";
import { packFor } from "./pack.ts";
import { explainListing, judgeListings } from "./page-judge.ts";

/** Who asks. */
export interface Sender {
  /** True for the popup and the workbench, false for an overlay in a page. */
  readonly own: boolean;
  readonly tab: number | undefined;
  readonly address: string | undefined;
}

/** What the background can do in the browser; `main.ts` wires it to the real one. */
export interface Surroundings {
  readonly store: Store;
  readonly rules: RawRules;
  readonly messages: () => Promise<LoadedMessages>;
  readonly words: () => Promise<Words>;
  readonly readFile: (path: string) => Promise<string>;
  readonly loadMarks: (tab: number) => Promise<void>;
  readonly showStops: (tab: number, stops: number) => Promise<void>;
  readonly openWorkbench: (place: WorkbenchPlace) => Promise<void>;
  readonly rememberWanted: (site: string, tab: number) => void;
  readonly switchSite: (site: string, on: boolean, tab: number | null) => Promise<void>;
  readonly markOnce: (tab: number) => Promise<void>;
  readonly takeText: () => Promise<HandedText | null>;
  readonly writeField: (tab: number, frame: number, text: string) => Promise<boolean>;
}

type Answer<K extends Request["kind"]> = Answers[K] | Refusal;
type Handlers = {
  [K in Request["kind"]]: (
    request: Extract<Request, { kind: K }>,
    sender: Sender,
    around: Surroundings,
  ) => Promise<Answer<K>>;
};

class Refusal {
  readonly failure: Failure;
  constructor(code: Failure["code"], detail: string) {
    this.failure = { code, detail };
  }
}

const handlers: Handlers = {
  pack: ({ language }, { address }, around) => packFor({ address, language }, around),
  "load-marks": async (_request, { tab }, { loadMarks }) => {
    if (tab === undefined) return new Refusal("not-allowed", "Only for a page in a tab.");
    await loadMarks(tab);
    return null;
  },
  report: async ({ state }, { tab }, { showStops }) => {
    if (tab !== undefined) await showStops(tab, stopsOf(state));
    return null;
  },
  settle: async ({ device, number, as }, { own }, { store }) => {
    const inHand = await store.devices.inHand();
    if (!own && inHand?.device.id !== device) return new Refusal("not-allowed", "Only the device in hand.");
    const settled = await store.devices.settle(device, number, as);
    return settled === undefined ? new Refusal("no-device", device) : null;
  },
  "keep-shape": async ({ shape }, { own, address }, { store }) => {
    const host = address !== undefined && URL.canParse(address) ? new URL(address).hostname : "";
    if (!own && shape.host !== host) return new Refusal("not-allowed", "A page teaches its own host only.");
    await store.shapes.save({ ...shape, origin: "taught" });
    return null;
  },
  "open-workbench": async ({ place }, _sender, { openWorkbench }) => {
    await openWorkbench(place);
    return null;
  },
  "judge-listings": async ({ device, listings }, _sender, { store, rules }) => {
    const saved = await stillInHand(store, device);
    return saved instanceof Refusal ? saved : judgeListings(listings, saved, { store, rules });
  },
  "explain-listing": async ({ device, listing }, _sender, { store, rules, words }) => {
    const saved = await stillInHand(store, device);
    if (saved instanceof Refusal) return saved;
    return explainListing(listing as Listing, saved, { store, rules, words: await words() });
  },
  say: async ({ sentences }, _sender, { words }) => sayAll(sentences as Sentence[], await words()),
  "judge-text": async ({ text }, _sender, { store, rules, words }) => {
    const saved = await store.devices.inHand();
    if (saved === undefined) return new Refusal("no-device", "No device is in hand.");
    return explainListing({ title: text }, saved, { store, rules, words: await words() });
  },
  "site-wanted": async ({ site, tab }, _sender, { rememberWanted }) => {
    rememberWanted(site, tab);
    return null;
  },
  "switch-site": async ({ site, on, tab }, _sender, { switchSite }) => {
    await switchSite(site, on, tab);
    return null;
  },
  "mark-once": async ({ tab }, _sender, { markOnce }) => {
    await markOnce(tab);
    return null;
  },
  "add-example": async (_request, _sender, { store, readFile }) => ({ device: await addExample(store, readFile) }),
  "drop-example": async (_request, _sender, { store }) => {
    await dropExample(store);
    return null;
  },
  "take-text": (_request, _sender, { takeText }) => takeText(),
  "write-back": async ({ tab, frame, text }, _sender, { writeField }) =>
    (await writeField(tab, frame, text)) ? null : new Refusal("no-such-thing", "The field is no longer there."),
};

/** The device that a page was marked for, if it is still the one in hand. */
async function stillInHand(store: Store, device: string): Promise<SavedDevice | Refusal> {
  const saved = await store.devices.inHand();
  return saved?.device.id === device ? saved : new Refusal("no-device", "Another device is in hand by now.");
}

function stopsOf(state: PageState): number {
  return state.hidden ? 0 : (state.tiers.stop ?? 0);
}

/** Checks a message and answers it; never throws. */
export async function answer(message: unknown, sender: Sender, around: Surroundings): Promise<Reply<Request["kind"]>> {
  const checked = requestSchema.safeParse(message);
  if (!checked.success) return refused("not-understood", checked.error.issues[0]?.message ?? "");
  const request = checked.data;
  if (!sender.own && !requestsOfPages.has(request.kind)) return refused("not-allowed", request.kind);
  try {
    const handle = handlers[request.kind] as (
      request: Request,
      sender: Sender,
      around: Surroundings,
    ) => Promise<Answers[Request["kind"]] | Refusal>;
    const data = await handle(request, sender, around);
    return data instanceof Refusal ? { ok: false, failure: data.failure } : { ok: true, data };
  } catch (error) {
    console.error(`Falsefit: "${request.kind}" failed.`, error);
    return refused("failed", error instanceof Error ? error.message : String(error));
  }
}

function refused(code: Failure["code"], detail: string): { ok: false; failure: Failure } {
  return { ok: false, failure: { code, detail } };
}
