/** Speaking to the pages in the browser's tabs: telling their overlays, counting on the toolbar button. */
import browser from "webextension-polyfill";
import { dark } from "../ui/theme.ts";
import type { PageCommand, WorkbenchPlace } from "./messages.ts";

/** Tells one tab's overlay; `undefined` where there is none. */
export async function tell(tab: number, command: PageCommand): Promise<unknown> {
  try {
    return await browser.tabs.sendMessage(tab, command, { frameId: 0 });
  } catch {
    // A tab without our overlay has nobody who listens; that is most of them.
    return undefined;
  }
}

/** Tells every tab's overlay. */
export async function tellAll(command: PageCommand): Promise<void> {
  const tabs = await browser.tabs.query({});
  await Promise.all(tabs.map((tab) => tab.id !== undefined && tell(tab.id, command)));
}

/** Counts on the toolbar button, for one tab, how many listings to keep off; none shows nothing. */
export async function showStops(tab: number, stops: number): Promise<void> {
  await browser.action.setBadgeBackgroundColor({ color: dark.stopFace, tabId: tab });
  await browser.action.setBadgeTextColor?.({ color: dark.stopInk, tabId: tab });
  await browser.action.setBadgeText({ text: stops > 0 ? String(stops) : "", tabId: tab });
}

/** Opens the workbench at a place. */
export async function openWorkbench(place: WorkbenchPlace): Promise<void> {
  await browser.tabs.create({ url: browser.runtime.getURL(`workbench.html#${place}`) });
}
