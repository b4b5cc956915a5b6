/** Starts the popup: language, store and tab are read side by side, then it is drawn once. */
import { render } from "preact";
import browser from "webextension-polyfill";
import { openBrowserStore } from "../store/open.ts";
import { chooseLanguage, loadWords } from "../ui/load-words.ts";
import { dressPage } from "../ui/page-style.ts";
import { UndoProvider } from "../ui/undo.tsx";
import { WordsProvider } from "../ui/words-context.tsx";
import { App } from "./app.tsx";
import { readModel, tabInFront } from "./model.ts";
import { popupCss } from "./style.ts";

async function start(root: HTMLElement): Promise<void> {
  const store = openBrowserStore(browser.storage.local);
  const modelRead = tabInFront(location.search).then((tab) => readModel(store, tab));
  const settings = await store.settings.get();
  const language = chooseLanguage(settings.language, [browser.i18n.getUILanguage(), ...navigator.languages]);
  const words = await loadWords(language, browser.runtime.getURL);
  dressPage(document, { ...settings, language: words.language, direction: words.direction }, popupCss);
  const model = await modelRead;
  render(
    <WordsProvider words={words}>
      <UndoProvider>
        <App store={store} start={model} />
      </UndoProvider>
    </WordsProvider>,
    root,
  );
  performance.mark("falsefit-interactive");
}

const root = document.getElementById("app");
if (root !== null) await start(root);
