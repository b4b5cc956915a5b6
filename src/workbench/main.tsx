/** Starts the workbench: store, worker and words, then the page, drawn anew whenever the settings change. */
import { render } from "preact";
import browser from "webextension-polyfill";
import { askBackground } from "../background/ask.ts";
import { CATALOGS_CHANGED, openBrowserStore } from "../store/open.ts";
import { chooseLanguage, loadWords } from "../ui/load-words.ts";
import { dressPage } from "../ui/page-style.ts";
import { Workbench } from "./shell.tsx";
import { workbenchCss } from "./style.ts";
import type { Tools } from "./tools.tsx";
import { connect } from "./work/link.ts";
import type { WorkServices } from "./work/services.ts";

const store = openBrowserStore(browser.storage.local);

const tools: Tools = {
  store,
  work: connect<WorkServices>(startWorker()),
  ask: askBackground,
  permissions: {
    has: (pattern) => browser.permissions.contains({ origins: [pattern] }),
    ask: (pattern) => browser.permissions.request({ origins: [pattern] }),
    drop: async (pattern) => {
      await browser.permissions.remove({ origins: [pattern] });
    },
  },
  fetch: (address, options) => fetch(address, options),
  download,
  onChange(listener) {
    const hear = (changes: object, area: string) => {
      if (area === "local") listener(Object.keys(changes));
    };
    browser.storage.onChanged.addListener(hear);
    return () => browser.storage.onChanged.removeListener(hear);
  },
  newId: () => crypto.randomUUID(),
  now: () => new Date(),
};

/** The worker tells of changed catalogs; this page passes it on to all other windows. */
function startWorker(): Worker {
  const worker = new Worker("worker.js", { type: "module" });
  worker.addEventListener("message", ({ data }: MessageEvent<object>) => {
    if ("catalogsChanged" in data) void browser.storage.local.set({ [CATALOGS_CHANGED]: new Date().toISOString() });
  });
  return worker;
}

function download(fileName: string, content: string | Blob): void {
  const blob = typeof content === "string" ? new Blob([content], { type: "application/json" }) : content;
  const link = document.createElement("a");
  link.href = URL.createObjectURL(blob);
  link.download = fileName;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
}

async function draw(root: HTMLElement): Promise<void> {
  const settings = await store.settings.get();
  const language = chooseLanguage(settings.language, [browser.i18n.getUILanguage(), ...navigator.languages]);
  const words = await loadWords(language, browser.runtime.getURL);
  dressPage(document, { ...settings, language: words.language, direction: words.direction }, workbenchCss);
  render(<Workbench tools={tools} words={words} />, root);
}

const root = document.getElementById("root");
if (root !== null) {
  tools.onChange((keys) => {
    if (keys.includes("settings")) void draw(root);
  });
  await draw(root);
}
