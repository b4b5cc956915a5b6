/** What the popup knows and does: a thin layer over store, background and the tab in front. */
import browser from "webextension-polyfill";
import { askBackground, tellPage } from "../background/ask.ts";
import type { PageState } from "../background/messages.ts";
import type { Device } from "../formats/bench.ts";
import type { Store } from "../store/open.ts";
import { matchPattern, siteOf } from "../store/sites.ts";

/** The tab that the popup speaks about. */
export interface TabInFront {
  readonly id: number;
  /** Scheme and host, where the page can be marked at all. */
  readonly site: string | undefined;
}

/** Everything that the popup shows. */
export interface PopupModel {
  readonly devices: readonly Device[];
  readonly inHand: string | null;
  /** Ids of devices last in hand, latest first. */
  readonly recent: readonly string[];
  readonly tab: TabInFront | null;
  readonly siteOn: boolean;
  readonly page: PageState | undefined;
  /** How many stored values had to be kept aside. */
  readonly setAside: number;
}

/**
 * The tab in front, or the one that the address names (`popup.html?tab=7`): that is how the popup can stand in a tab
 * of its own.
 */
export async function tabInFront(search: string): Promise<TabInFront | null> {
  const named = new URLSearchParams(search).get("tab");
  const tab =
    named === null
      ? (await browser.tabs.query({ active: true, currentWindow: true }))[0]
      : await browser.tabs.get(Number(named));
  return tab?.id === undefined ? null : { id: tab.id, site: siteOf(tab.url) };
}

/** Reads everything anew. */
export async function readModel(store: Store, tab: TabInFront | null): Promise<PopupModel> {
  const [saved, inHand, recent, siteOn, page] = await Promise.all([
    store.devices.list(),
    store.devices.inHand(),
    store.devices.recent(),
    isOn(store, tab),
    tab === null ? undefined : tellPage(tab.id, { kind: "state" }),
  ]);
  // Only now: reading the devices is what sets damaged ones aside.
  const aside = await store.records.setAside();
  return {
    devices: saved.map(({ device }) => device).filter((device) => !device.archived),
    inHand: inHand?.device.id ?? null,
    recent,
    tab,
    siteOn,
    page,
    setAside: aside.length,
  };
}

async function isOn(store: Store, tab: TabInFront | null): Promise<boolean> {
  if (tab?.site === undefined) return false;
  const allowed = await browser.permissions.contains({ origins: [matchPattern(tab.site)] });
  return allowed && (await store.sites.has(tab.site));
}

/**
 * Switches the tab's site on. The browser asks the person at this moment, so this must be called straight from a
 * click. The background is told first which site is meant: some browsers close the popup over the question.
 *
 * @returns false when the person said no
 */
export async function switchSiteOn({ id, site }: TabInFront & { site: string }): Promise<boolean> {
  const granted = browser.permissions.request({ origins: [matchPattern(site)] });
  void askBackground({ kind: "site-wanted", site, tab: id });
  if (!(await granted)) return false;
  return (await askBackground({ kind: "switch-site", site, on: true, tab: id })).ok;
}

/** Switches the tab's site off and gives its permission back. */
export async function switchSiteOff({ id, site }: TabInFront & { site: string }): Promise<boolean> {
  return (await askBackground({ kind: "switch-site", site, on: false, tab: id })).ok;
}

/** Hears when the overlay of a tab tells how its page stands; gives the way to stop hearing. */
export function onPageReport(tab: number, hear: (state: PageState) => void): () => void {
  const listener = (message: unknown, sender: { tab?: { id?: number } }): undefined => {
    const report = message as { kind?: string; state?: PageState };
    if (report.kind === "report" && report.state && sender.tab?.id === tab) hear(report.state);
  };
  browser.runtime.onMessage.addListener(listener);
  return () => browser.runtime.onMessage.removeListener(listener);
}

/** Hears when anything stored changes. */
export function onStoreChange(hear: () => void): () => void {
  browser.storage.onChanged.addListener(hear);
  return () => browser.storage.onChanged.removeListener(hear);
}
