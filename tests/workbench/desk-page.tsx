/** A desk in a page of jsdom: the workbench's providers around it, and ways to wait for what it shows. */
import { Blob as NodeBlob } from "node:buffer";
import { type ComponentChild, render } from "preact";
import { act } from "preact/test-utils";
import { vi } from "vitest";
import { makeWords, type Words } from "../../src/text/words.ts";
import { UndoProvider } from "../../src/ui/undo.tsx";
import { WordsProvider } from "../../src/ui/words-context.tsx";
import { BenchProvider } from "../../src/workbench/bench/bench-state.tsx";
import { DraftsProvider } from "../../src/workbench/drafts.tsx";
import { type Tools, ToolsProvider } from "../../src/workbench/tools.tsx";
import { pseudoMessages, wordsOf } from "../ui/words.ts";

/** The six languages, and one that runs from right to left. */
export const everyWords: readonly (readonly [string, Words])[] = [
  ...["en", "de", "fr", "es", "it", "pl"].map((language) => [language, wordsOf(language)] as const),
  ["right to left", { ...makeWords("en", pseudoMessages()), direction: "rtl" }],
];

/** jsdom's own blobs can be neither read nor stored; the platform's can. */
export function usePlatformBlobs(): void {
  vi.stubGlobal("Blob", NodeBlob);
}

export interface DeskPage {
  readonly root: HTMLElement;
  show(child: ComponentChild): void;
  /** Waits until the text stands there. */
  sees(text: string | RegExp): Promise<void>;
  button(name: string | RegExp): HTMLButtonElement;
  field(label: string | RegExp): HTMLInputElement & HTMLSelectElement & HTMLTextAreaElement;
  press(name: string | RegExp): void;
  fill(label: string | RegExp, value: string): void;
  close(): void;
}

/** Opens an empty page with these tools. */
export function openPage(tools: Tools, words: Words = wordsOf("en")): DeskPage {
  const root = document.createElement("div");
  document.body.replaceChildren(root);
  const matches = (text: string, wanted: string | RegExp) =>
    typeof wanted === "string" ? text.includes(wanted) : wanted.test(text);
  const text = () => root.textContent ?? "";
  const button: DeskPage["button"] = (name) => {
    const found = [...root.querySelectorAll("button")].find((each) => matches(each.textContent ?? "", name));
    if (found === undefined) throw new Error(`No button ${name} in: ${text()}`);
    return found;
  };
  const field: DeskPage["field"] = (label) => {
    const found = [...root.querySelectorAll("label")].find((each) => matches(each.textContent ?? "", label));
    const control = found === undefined ? null : (found.control ?? root.querySelector(`#${found.htmlFor}`));
    if (control === null) throw new Error(`No field ${label} in: ${text()}`);
    return control as ReturnType<DeskPage["field"]>;
  };
  return {
    root,
    button,
    field,
    show(child) {
      act(() =>
        render(
          <WordsProvider words={words}>
            <ToolsProvider tools={tools}>
              <UndoProvider>
                <DraftsProvider>
                  <BenchProvider>{child}</BenchProvider>
                </DraftsProvider>
              </UndoProvider>
            </ToolsProvider>
          </WordsProvider>,
          root,
        ),
      );
    },
    async sees(wanted) {
      await vi.waitFor(
        () => {
          if (!matches(text(), wanted)) throw new Error(`${wanted} is not in: ${text()}`);
        },
        { timeout: 15_000, interval: 10 },
      );
    },
    press(name) {
      act(() => button(name).click());
    },
    fill(label, value) {
      const control = field(label);
      control.value = value;
      const event = new Event(control.tagName === "SELECT" ? "change" : "input", { bubbles: true });
      act(() => void control.dispatchEvent(event));
    },
    close() {
      act(() => render(null, root));
    },
  };
}
