/**
 * The background: wakes for a message, a menu, a key or a change, answers, and sleeps again. It keeps nothing in
 * memory that it could not do without: every listener stands at the top level, everything lasting is in the store.
 */
import rules from "falsefit:rules";
import browser from "webextension-polyfill";
import { CATALOGS_CHANGED, openBrowserStore } from "../store/open.ts";
import { matchPattern } from "../store/sites.ts";
import { makeWords } from "../text/words.ts";
import { chooseLanguage, loadMessages } from "../ui/load-words.ts";
import { deviceName } from "../ui/naming.ts";
import { answer, type Sender, type Surroundings } from "./answers.ts";
import { addExample } from "./example.ts";
import { handFieldToWorkbench, handToPopup, takeText, writeField } from "./hand-over.ts";
import { isMenuId, type MenuId, menuEntries } from "./menus.ts";
import type { PageCommand } from "./messages.ts";
import { openWorkbench, showStops, tell, tellAll } from "./pages.ts";
import { injectMarks, injectOverlay, reconcileSites, type SiteBrowser } from "./site-switch.ts";

const store = openBrowserStore(browser.storage.local);
const siteBrowser: SiteBrowser = {
  scripting: browser.scripting,
  mayActOn: (pattern) => browser.permissions.contains({ origins: [pattern] }),
};
/** Sites whose permission is being asked for, with the tab to mark; lost with the worker, which then asks again. */
const wanted = new Map<string, number>();

const messages = async () => {
  const { language } = await store.settings.get();
  return loadMessages(chooseLanguage(language, preferredLanguages()), browser.runtime.getURL);
};
const words = async () => {
  const loaded = await messages();
  return makeWords(loaded.language, loaded.messages);
};

const around: Surroundings = {
  store,
  rules,
  messages,
  words,
  readFile: async (path) => (await fetch(browser.runtime.getURL(path))).text(),
  loadMarks: (tab) => injectMarks(tab, siteBrowser),
  showStops,
  openWorkbench,
  rememberWanted: (site, tab) => void wanted.set(site, tab),
  switchSite,
  markOnce: startIn,
  takeText,
  writeField,
};

// Only our own parts are heard here: messages from other extensions and from pages have events of their own.
browser.runtime.onMessage.addListener((message, sender, respond): true => {
  answer(message, senderOf(sender), around).then(respond);
  return true;
});
inTurn(keepPagesOut);
browser.runtime.onInstalled.addListener(() => inTurn(setUp));
browser.runtime.onStartup.addListener(() => inTurn(() => reconcileSites(store.sites, siteBrowser)));
browser.permissions.onAdded.addListener(({ origins }) => inTurn(() => finishWanted(origins ?? [])));
browser.permissions.onRemoved.addListener(() => inTurn(forgetForbidden));
browser.commands.onCommand.addListener((name) => inTurn(() => onCommand(name)));
browser.contextMenus.onClicked.addListener((info, tab) => {
  const { menuItemId, selectionText = "", frameId = 0 } = info;
  if (isMenuId(menuItemId)) inTurn(() => onMenu(menuItemId, selectionText, tab?.id, frameId));
});
// Addresses are told only for tabs of sites that were switched on.
browser.tabs.onUpdated.addListener((tab, { url }) => {
  if (url !== undefined) inTurn(async () => void (await tell(tab, { kind: "look-again" })));
});
browser.storage.onChanged.addListener((changes, area) => {
  if (area === "local") inTurn(() => onChanged(Object.keys(changes)));
});

/** Runs something that nobody waits for; what goes wrong stands in the console. */
function inTurn(work: () => Promise<void>): void {
  work().catch((error: unknown) => console.error("Falsefit:", error));
}

function senderOf(sender: { url?: string; tab?: { id?: number } }): Sender {
  return {
    own: sender.url?.startsWith(browser.runtime.getURL("")) ?? false,
    tab: sender.tab?.id,
    address: sender.url,
  };
}

function preferredLanguages(): string[] {
  return [browser.i18n.getUILanguage(), ...navigator.languages];
}

async function setUp(): Promise<void> {
  if (__FALSEFIT_TEST__) {
    await store.sites.add("http://127.0.0.1");
    await store.sites.add("http://localhost");
  }
  if (__FALSEFIT_DEMO__) await addExample(store, around.readFile);
  await reconcileSites(store.sites, siteBrowser);
  await renewMenus();
  await reviveTabs();
}

/** Pages that were open when the extension was renewed get the new copy; it clears away what the old one left. */
async function reviveTabs(): Promise<void> {
  for (const site of await store.sites.list()) {
    for (const { id, discarded } of await browser.tabs.query({ url: matchPattern(site) })) {
      if (id !== undefined && !discarded) await injectOverlay(id, siteBrowser).catch(logged);
    }
  }
}

function logged(error: unknown): void {
  console.warn("Falsefit:", error);
}

/** Content scripts may not read the storage where the browser can be told so: pages get their pack and no more. */
async function keepPagesOut(): Promise<void> {
  const area = browser.storage.local as { setAccessLevel?: (level: { accessLevel: string }) => Promise<void> };
  await area.setAccessLevel?.({ accessLevel: "TRUSTED_CONTEXTS" });
}

/** One renewal after the other: two at once would make the same entries twice. */
let renewing: Promise<void> = Promise.resolve();

function renewMenus(): Promise<void> {
  renewing = renewing.then(makeMenus, makeMenus);
  return renewing;
}

async function makeMenus(): Promise<void> {
  const said = await words();
  const inHand = await store.devices.inHand();
  await browser.contextMenus.removeAll();
  for (const entry of menuEntries(said, inHand ? deviceName(inHand.device, said) : null)) {
    browser.contextMenus.create(entry);
  }
}

async function onChanged(keys: readonly string[]): Promise<void> {
  const names = new Set(keys.map((key) => key.split("/", 1)[0]));
  if (["in-hand", "device", "settings"].some((name) => names.has(name))) await renewMenus();
  if (["in-hand", "device", "settings", "shape", CATALOGS_CHANGED].some((name) => names.has(name))) {
    await tellAll({ kind: "refresh" });
  }
}

async function switchSite(site: string, on: boolean, tab: number | null): Promise<void> {
  wanted.delete(site);
  if (on) await store.sites.add(site);
  else await store.sites.remove(site);
  await reconcileSites(store.sites, siteBrowser);
  if (on && tab !== null) await startIn(tab);
  if (!on) {
    await stopOn(site);
    if (!__FALSEFIT_TEST__) await browser.permissions.remove({ origins: [matchPattern(site)] });
  }
}

async function startIn(tab: number): Promise<void> {
  await injectOverlay(tab, siteBrowser);
  await tell(tab, { kind: "start" });
}

/** Ends the overlays of a site; addresses are only readable where the site's permission is still there. */
async function stopOn(site: string): Promise<void> {
  for (const tab of await browser.tabs.query({ url: matchPattern(site) })) {
    if (tab.id === undefined) continue;
    await tell(tab.id, { kind: "stop" });
    await showStops(tab.id, 0);
  }
}

/** The permission came, whether the popup that asked is still open or not. */
async function finishWanted(patterns: readonly string[]): Promise<void> {
  for (const [site, tab] of [...wanted]) {
    if (patterns.includes(matchPattern(site))) await switchSite(site, true, tab);
  }
}

/** A permission was taken back in the browser's own settings. */
async function forgetForbidden(): Promise<void> {
  for (const site of await store.sites.list()) {
    if (!(await siteBrowser.mayActOn(matchPattern(site)))) await store.sites.remove(site);
  }
  await reconcileSites(store.sites, siteBrowser);
}

async function onCommand(name: string): Promise<void> {
  const commands: Record<string, PageCommand> = {
    "next-mark": { kind: "move", to: "next" },
    "previous-mark": { kind: "move", to: "previous" },
    "toggle-marks": { kind: "toggle-marks" },
  };
  const command = commands[name];
  const [tab] = await browser.tabs.query({ active: true, currentWindow: true });
  if (command !== undefined && tab?.id !== undefined) await tell(tab.id, command);
}

async function onMenu(entry: MenuId, selected: string, tab: number | undefined, frame: number): Promise<void> {
  if (entry === "check-pasted") await handToPopup("");
  else if (entry === "check-selection") await checkSelection(selected, tab);
  else if (tab !== undefined) await handFieldToWorkbench(tab, frame);
}

/** In the page where that is possible; in the popup where it is not, or where there is no device to judge for. */
async function checkSelection(text: string, tab: number | undefined): Promise<void> {
  const inHand = await store.devices.inHand();
  try {
    if (tab === undefined || inHand === undefined) throw new Error("The page cannot show it.");
    await injectOverlay(tab, siteBrowser);
    await browser.tabs.sendMessage(tab, { kind: "check-text", text } satisfies PageCommand, { frameId: 0 });
  } catch {
    await handToPopup(text);
  }
}
