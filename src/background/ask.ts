/** How our own pages (popup, workbench) ask the background and tell a page's overlay. */
import browser from "webextension-polyfill";
import type { CommandAnswers, PageCommand, Reply, Request } from "./messages.ts";

/** Asks the background; every way it can go wrong comes back as a failure. */
export async function askBackground<K extends Request["kind"]>(
  request: Extract<Request, { kind: K }>,
): Promise<Reply<K>> {
  try {
    return (await browser.runtime.sendMessage(request)) as Reply<K>;
  } catch (error) {
    return { ok: false, failure: { code: "failed", detail: error instanceof Error ? error.message : String(error) } };
  }
}

/** Tells the overlay of a tab; `undefined` where the tab has none. */
export async function tellPage<K extends PageCommand["kind"]>(
  tab: number,
  command: Extract<PageCommand, { kind: K }>,
): Promise<CommandAnswers[K] | undefined> {
  try {
    return (await browser.tabs.sendMessage(tab, command, { frameId: 0 })) as CommandAnswers[K];
  } catch {
    // Most tabs have no overlay and nobody who listens.
    return undefined;
  }
}
