/**
 * The content script. It marks listings on sites that are switched on, and otherwise waits to be asked.
 *
 *   life      begins once a page, ends with the extension       courier   the only way to the background
 *   glance    a page without anything like a price costs no more
 *   stage     the second script, which reads, judges and draws: see marks-main.ts
 */
import type { PageCommand, PagePack, PageState, Request } from "../background/messages.ts";
import { languageOf } from "../page/language.ts";
import { answerCommands, ask, browserRuntime, type Runtime } from "./courier.ts";
import { onceListingsAppear } from "./glance.ts";
import { beginLife, type Life } from "./life.ts";
import { whenQuiet } from "./quiet.ts";
import type { Session } from "./session.ts";
import { type SecondStage, secondStage } from "./stage.ts";

/** How a page stands that is not marked. */
const IDLE: PageState = { phase: "idle", device: null, tone: "none", tiers: {}, sentence: "", hidden: false };

/** How often a text is tried to be shown. */
const TEXT_ATTEMPTS = 3;

/** Runs sessions on one page, one at a time. */
class Overlay {
  readonly #runtime: Runtime;
  readonly #life: Life;
  #session: Session | null = null;
  /** Asked for by hand: this page is marked though its site is not switched on. */
  #asked = false;
  /** Why nothing is marked though it should be. */
  #phase: PageState["phase"] = "idle";
  /** Which of several overlapping beginnings is the latest. */
  #turn = 0;
  /** Ends the look for listings that goes on. */
  #look = new AbortController();

  constructor(runtime: Runtime, life: Life) {
    this.#runtime = runtime;
    this.#life = life;
  }

  /** Does what a command says; the answer is the page's state where one was asked for. */
  async answer(command: PageCommand): Promise<PageState | null> {
    if (!this.#life.goesOn()) return null;
    switch (command.kind) {
      case "state":
        return this.#state();
      case "start":
        this.#asked = true;
        await this.begin();
        return this.#state();
      case "stop":
        this.#asked = false;
        this.#end();
        return null;
      case "refresh":
        if (this.#session !== null || this.#phase === "no-device") await this.begin();
        return null;
      case "look-again":
        if (this.#session === null) this.lookForListings();
        else if (this.#session.state.phase === "watching") await this.begin();
        return null;
      case "check-text":
        await this.#showText(command.text);
        return null;
      case "move":
        this.#session?.move(command.to);
        return null;
      case "toggle-marks":
        this.#session?.toggle();
        return null;
      case "teach":
        // A page that seemed to hold no listing may be the very one to be taught.
        if (this.#session === null) await this.begin();
        this.#session?.teach();
        return null;
    }
  }

  /** Marks the page as soon as it may hold listings; looking anew ends an earlier look. */
  lookForListings(): void {
    this.#look.abort();
    this.#look = new AbortController();
    const signal = AbortSignal.any([this.#look.signal, this.#life.signal]);
    onceListingsAppear(document, signal, () => {
      if (this.#session === null) void this.begin();
    });
  }

  /** Marks the page, if its site is on or it was asked to. */
  async begin(): Promise<void> {
    const turn = ++this.#turn;
    const opened = await this.#open(this.#asked);
    if (turn !== this.#turn || !this.#life.goesOn()) return;
    this.#end();
    if (opened === "no-device") this.#phase = opened;
    else this.#session = opened;
    this.#session?.watch();
  }

  async #showText(text: string): Promise<void> {
    // A change of device or settings may end the session meanwhile: the next one has what is current.
    for (let attempt = 0; attempt < TEXT_ATTEMPTS && this.#life.goesOn(); attempt++) {
      const opened = this.#session ?? (await this.#open(true));
      if (opened === null || opened === "no-device") return;
      this.#session = opened;
      if (await opened.surface.showText(text)) return;
      if (this.#session === opened) this.#end();
    }
  }

  /**
   * A session that does not watch yet; `null` where nothing is to be marked.
   *
   * @param asked also where the site is not switched on
   */
  async #open(asked: boolean): Promise<Session | "no-device" | null> {
    const reply = await ask(this.#runtime, packRequest(document));
    if (!reply.ok) {
      console.warn(`Falsefit: nothing is marked (${reply.failure.code}: ${reply.failure.detail}).`);
      return null;
    }
    const pack: PagePack = reply.data;
    if (!(pack.on || asked)) return null;
    if (pack.device === null) return "no-device";
    const stage = await this.#stage();
    const ground = { document, runtime: this.#runtime, life: this.#life, open: __FALSEFIT_TEST__ };
    return stage?.sessionFor(ground, pack) ?? null;
  }

  /** The second script; put in by the background when it is first needed. */
  async #stage(): Promise<SecondStage | undefined> {
    if (secondStage() === undefined) await ask(this.#runtime, { kind: "load-marks" });
    return secondStage();
  }

  #end(): void {
    this.#session?.end();
    this.#session = null;
    this.#phase = "idle";
  }

  #state(): PageState {
    return this.#session?.state ?? { ...IDLE, phase: this.#phase };
  }
}

/** What a page asks for; saying its language spares it the words of all others. */
function packRequest(page: Document): Extract<Request, { kind: "pack" }> {
  const language = languageOf(page);
  return language === undefined ? { kind: "pack" } : { kind: "pack", language: language.slice(0, 40) };
}

const runtime = browserRuntime();
const life = runtime && beginLife(runtime, document);
if (runtime !== undefined && life !== undefined) {
  const overlay = new Overlay(runtime, life);
  answerCommands(runtime, life.signal, (command) => overlay.answer(command));
  whenQuiet(document, life.signal, () => overlay.lookForListings());
}
