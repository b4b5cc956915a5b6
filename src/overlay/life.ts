/**
 * One life of the overlay in a page: it begins once, hands its signal to everything that lasts, and ends when the
 * extension behind it is gone, when it is switched off, or when a newer copy of the script takes over.
 */
import { isAlive, type Runtime } from "./courier.ts";
import { OVERLAY_TAG } from "./tag.ts";

const MARK = Symbol.for("falsefit.life");

/** How the running copy is known to a copy that is loaded after it (same isolated world only; pages see nothing). */
interface RunningLife {
  readonly isAlive: () => boolean;
  readonly end: () => void;
}

/** A life that has begun. */
export interface Life {
  readonly signal: AbortSignal;
  /** Ends everything; safe to call twice. */
  end(): void;
  /** Ends the life if the extension is gone; true when it goes on. Called before anything is drawn or sent. */
  goesOn(): boolean;
}

/**
 * Begins a life, or gives `undefined` when a copy already runs in this page. A copy whose extension is gone
 * (after an update) is ended first and what it left behind is taken away.
 */
export function beginLife(runtime: Runtime, document: Document): Life | undefined {
  const scope = globalThis as { [MARK]?: RunningLife };
  const running = scope[MARK];
  if (running?.isAlive()) return undefined;
  running?.end();
  for (const stale of document.querySelectorAll(OVERLAY_TAG)) stale.remove();
  const controller = new AbortController();
  const end = () => {
    controller.abort();
    delete scope[MARK];
  };
  scope[MARK] = { isAlive: () => !controller.signal.aborted && isAlive(runtime), end };
  return {
    signal: controller.signal,
    end,
    goesOn() {
      if (!controller.signal.aborted && !isAlive(runtime)) end();
      return !controller.signal.aborted;
    },
  };
}
