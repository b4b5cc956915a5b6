/**
 * One session of marking a page: fetches the pack, reads the page and keeps reading it, judges what is new in short
 * slices, hands everything to the surface and tells the background how the page stands.
 */
import type { PagePack, PageState } from "../background/messages.ts";
import type { Verdict } from "../formats/verdict.ts";
import type { FoundListing } from "../page/read.ts";
import { watchPage } from "../page/watch.ts";
import { ask, type Runtime } from "./courier.ts";
import { type Engine, makeEngine } from "./engine.ts";
import type { Judged } from "./judged.ts";
import type { Life } from "./life.ts";
import { raiseRoot } from "./root.ts";
import { inSlices } from "./slices.ts";
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
  readonly #engine: Engine;
  readonly #controller = new AbortController();
  readonly #known = new WeakMap<Element, { key: string; verdict: Verdict }>();
  #surface: Surface | null = null;
  #watches = false;
  #turn = 0;

  constructor(ground: SessionGround, engine: Engine) {
    this.#ground = ground;
    this.#engine = engine;
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
    const { rules } = this.#engine;
    const options = {
      pageWords: rules.pageWords,
      shapes: rules.pageShapes,
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
      device: this.#engine.deviceName,
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
    const judged: Judged[] = [];
    await inSlices(all, this.#controller.signal, (found) => judged.push({ found, verdict: this.#verdictOn(found) }));
    // A later reading overtook this one.
    if (turn !== this.#turn || this.#controller.signal.aborted) return;
    if (this.#surface === null && !judged.some(({ verdict }) => verdict.tier !== "none")) return;
    this.surface.show(judged);
    this.#report();
  }

  #verdictOn({ card, listing }: FoundListing): Verdict {
    const key = JSON.stringify(listing);
    const known = this.#known.get(card);
    if (known?.key === key) return known.verdict;
    const verdict = this.#engine.judge(listing);
    this.#known.set(card, { key, verdict });
    return verdict;
  }

  #raise(): Surface {
    const { document, runtime, life, open } = this.#ground;
    const { signal } = this.#controller;
    const root = raiseRoot(document, { open, signal, onGivenUp: () => this.end() });
    return new Surface(document, root, this.#engine, {
      signal,
      goesOn: () => life.goesOn(),
      openWorkbench: () => void ask(runtime, { kind: "open-workbench", place: "bench" }),
      settle: (number, as) => {
        if (life.goesOn()) void ask(runtime, { kind: "settle", device: this.#engine.device.id, number, as });
      },
      toggled: () => this.#report(),
    });
  }

  #report(): void {
    const { runtime, life } = this.#ground;
    if (life.goesOn()) void ask(runtime, { kind: "report", state: this.state });
  }
}

/** A session for a pack; `null` without a device in hand. */
export function sessionFor(ground: SessionGround, pack: PagePack): Session | null {
  const engine = makeEngine(pack);
  return engine && new Session(ground, engine);
}
