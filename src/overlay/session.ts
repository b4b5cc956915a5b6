/**
 * One session of marking a page: reads the page and keeps reading it, has what is new judged, hands everything to the
 * surface and tells the background how the page stands.
 */
import type { PagePack, PageState } from "../background/messages.ts";
import type { Listing } from "../formats/listing.ts";
import type { Verdict } from "../formats/verdict.ts";
import type { FoundListing } from "../page/read.ts";
import { watchPage } from "../page/watch.ts";
import { type Adviser, adviserFor } from "./adviser.ts";
import { ask, type Runtime } from "./courier.ts";
import type { Life } from "./life.ts";
import { pageLook } from "./page-look.ts";
import { raiseRoot } from "./root.ts";
import { Surface } from "./surface.ts";

/** What a session runs on. */
export interface SessionGround {
  readonly document: Document;
  readonly runtime: Runtime;
  readonly life: Life;
  /** Gives tests a way into the overlay's shadow root. */
  readonly open: boolean;
}

/** Marks one page for one device until it is ended or the life is over. */
export class Session {
  readonly #ground: SessionGround;
  readonly #adviser: Adviser;
  readonly #controller = new AbortController();
  readonly #known = new WeakMap<Element, { listing: Listing; verdict: Verdict }>();
  #surface: Surface | null = null;
  #watches = false;
  #turn = 0;

  constructor(ground: SessionGround, adviser: Adviser) {
    this.#ground = ground;
    this.#adviser = adviser;
    const { signal } = this.#controller;
    ground.life.signal.addEventListener("abort", () => this.end(), { signal });
    // Whoever comes back to a page after the extension was renewed finds it clean.
    for (const event of ["visibilitychange", "pointerdown", "keydown"]) {
      ground.document.addEventListener(event, () => ground.life.goesOn(), { capture: true, passive: true, signal });
    }
  }

  /** Begins to read the page, and never stops the page for longer than a slice. */
  watch(): void {
    this.#watches = true;
    const { document } = this.#ground;
    const options = {
      pageWords: this.#adviser.pageWords,
      shapes: this.#adviser.pageShapes,
      currencyNames: this.#adviser.currencyNames,
      isOwn: (node: Node) => node === this.#surface?.host,
    };
    watchPage(document, options, this.#controller.signal, ({ all }) => this.#judge(all));
  }

  /** Ends the session and takes everything that was drawn away. */
  end(): void {
    this.#controller.abort();
  }

  get state(): PageState {
    const summary = this.#surface?.summary;
    return {
      phase: !this.#watches ? "idle" : summary ? "marking" : "watching",
      device: this.#adviser.deviceName,
      tone: summary?.tone ?? "none",
      tiers: summary?.tiers ?? {},
      sentence: summary?.sentences.join(" ") ?? "",
      hidden: this.#surface?.hidden ?? false,
    };
  }

  /** Goes to the next or previous mark, if any is drawn. */
  move(to: "next" | "previous"): void {
    this.#surface?.move(to);
  }

  /** Hides or shows what is drawn. */
  toggle(): void {
    this.#surface?.toggle();
  }

  /** Lets the person teach this page; what they keep is told to the background, which has every page read anew. */
  teach(): void {
    const { runtime, life } = this.#ground;
    this.surface.teach((shape) => {
      if (life.goesOn()) void ask(runtime, { kind: "keep-shape", shape });
    });
  }

  /** The surface, raised when it is first needed: a page without listings gets no element of ours. */
  get surface(): Surface {
    this.#surface ??= this.#raise();
    return this.#surface;
  }

  async #judge(all: readonly FoundListing[]): Promise<void> {
    if (!this.#ground.life.goesOn()) return;
    const turn = ++this.#turn;
    await this.#judgeNew(all);
    // A later reading overtook this one.
    if (turn !== this.#turn || this.#controller.signal.aborted) return;
    const judged = all.flatMap((found) => {
      const verdict = this.#known.get(found.card)?.verdict;
      return verdict ? [{ found, verdict }] : [];
    });
    if (this.#surface === null && !judged.some(({ verdict }) => verdict.tier !== "none")) return;
    await this.surface.show(judged);
    this.#report();
  }

  /** Has those listings judged that no verdict is known for, or that say something else than before. */
  async #judgeNew(all: readonly FoundListing[]): Promise<void> {
    const fresh = all.filter(({ card, listing }) => !isSame(this.#known.get(card)?.listing, listing));
    const listings = fresh.map(({ listing }) => listing);
    const verdicts = await this.#adviser.judge(listings, this.#controller.signal);
    for (const [at, { card, listing }] of fresh.entries()) {
      const verdict = verdicts[at];
      if (verdict) this.#known.set(card, { listing, verdict });
      else this.#known.delete(card);
    }
  }

  #raise(): Surface {
    const { document, runtime, life, open } = this.#ground;
    const { signal } = this.#controller;
    // Looked at before anything of ours is in the page, while its styles are settled.
    const look = pageLook(document);
    const root = raiseRoot(document, { open, signal, onGivenUp: () => this.end() });
    return new Surface(document, root, this.#adviser, {
      look,
      signal,
      goesOn: () => life.goesOn(),
      openWorkbench: () => void ask(runtime, { kind: "open-workbench", place: "bench" }),
      settle: (number, as) => {
        if (life.goesOn()) void ask(runtime, { kind: "settle", device: this.#adviser.device, number, as });
      },
      toggled: () => this.#report(),
    });
  }

  #report(): void {
    const { runtime, life } = this.#ground;
    if (life.goesOn()) void ask(runtime, { kind: "report", state: this.state });
  }
}

function isSame(a: Listing | undefined, b: Listing): boolean {
  return a === b || (a !== undefined && JSON.stringify(a) === JSON.stringify(b));
}

/** A session for a pack; `null` without a device in hand. */
export function sessionFor(ground: SessionGround, pack: PagePack): Session | null {
  const adviser = adviserFor(pack, ground.runtime);
  return adviser && new Session(ground, adviser);
}
