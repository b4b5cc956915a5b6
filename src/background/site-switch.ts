/**
 * Sites that are switched on: a content script registered for each, which the browser then runs by itself. The list
 * in the store is what the person wants; the browser's permissions are what is allowed; a script is registered where
 * both agree.
 */
import type { Scripting } from "webextension-polyfill";
import type { SiteStore } from "../store/sites.ts";
import { matchPattern } from "../store/sites.ts";

/** The overlay's two scripts in the built folder: the first glances, the second reads, judges and draws. */
const OVERLAY_FILE = "overlay.js";
const MARKS_FILE = "marks.js";

/** What of the browser is needed. */
export interface SiteBrowser {
  readonly scripting: Pick<
    Scripting.Static,
    "registerContentScripts" | "getRegisteredContentScripts" | "unregisterContentScripts" | "executeScript"
  >;
  /** True when the extension may act on a match pattern. */
  mayActOn(pattern: string): Promise<boolean>;
}

const ID_PREFIX = "site ";

/** One after the other: two at once would register the same script twice. */
let reconciling: Promise<void> = Promise.resolve();

/** Registers scripts for wanted and allowed sites and unregisters all others of ours. */
export function reconcileSites(sites: SiteStore, browser: SiteBrowser): Promise<void> {
  const work = () => reconcile(sites, browser);
  reconciling = reconciling.then(work, work);
  return reconciling;
}

async function reconcile(sites: SiteStore, browser: SiteBrowser): Promise<void> {
  const wanted = new Set<string>();
  for (const site of await sites.list()) {
    if (await browser.mayActOn(matchPattern(site))) wanted.add(site);
  }
  const registered = (await browser.scripting.getRegisteredContentScripts())
    .map(({ id }) => id)
    .filter((id) => id.startsWith(ID_PREFIX));
  const stale = registered.filter((id) => !wanted.has(id.slice(ID_PREFIX.length)));
  const missing = [...wanted].filter((site) => !registered.includes(ID_PREFIX + site));
  if (stale.length > 0) await browser.scripting.unregisterContentScripts({ ids: stale });
  if (missing.length > 0) await browser.scripting.registerContentScripts(missing.map(registration));
}

function registration(site: string): Scripting.RegisteredContentScript {
  return {
    id: ID_PREFIX + site,
    matches: [matchPattern(site)],
    js: [OVERLAY_FILE],
    runAt: "document_idle",
    allFrames: false,
    persistAcrossSessions: true,
  };
}

/** Puts the overlay into a tab's page now; a page that already has it ignores the second copy. */
export async function injectOverlay(tab: number, browser: SiteBrowser): Promise<void> {
  await browser.scripting.executeScript({ target: { tabId: tab }, files: [OVERLAY_FILE] });
}

/** Puts the overlay's second script into a tab's page. */
export async function injectMarks(tab: number, browser: SiteBrowser): Promise<void> {
  await browser.scripting.executeScript({ target: { tabId: tab }, files: [MARKS_FILE] });
}
