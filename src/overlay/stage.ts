/**
 * The overlay comes in two scripts. The first, which the browser loads on every page of a site that is switched on,
 * only glances at the page. The second, which can read, judge and draw, is put in by the background when the page
 * turns out to hold listings, and makes itself known here: in our isolated world, which the page cannot see.
 */
import type { PagePack } from "../background/messages.ts";
import type { Session, SessionGround } from "./session.ts";

/** What the second script offers the first. */
export interface SecondStage {
  /** A session for a pack; `null` without a device in hand. */
  sessionFor(ground: SessionGround, pack: PagePack): Session | null;
}

const PLACE = Symbol.for("falsefit.second-stage");

/** The second script, once it is there. */
export function secondStage(): SecondStage | undefined {
  return (globalThis as { [PLACE]?: SecondStage })[PLACE];
}

/** Makes the second script known. */
export function offerSecondStage(stage: SecondStage): void {
  (globalThis as { [PLACE]?: SecondStage })[PLACE] = stage;
}
