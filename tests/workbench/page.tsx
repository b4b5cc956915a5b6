/** The whole workbench in jsdom, and how a person would use it: by names, not by classes. */
import { render } from "preact";
import { act } from "preact/test-utils";
import { Workbench } from "../../src/workbench/shell.tsx";
import type { Tools } from "../../src/workbench/tools.tsx";
import { wordsOf } from "../ui/words.ts";

/** Shows the workbench at an address. */
export async function openWorkbench(tools: Tools, hash = "#bench"): Promise<void> {
  location.hash = hash;
  const root = document.createElement("div");
  document.body.replaceChildren(root);
  render(<Workbench tools={tools} words={wordsOf("en")} />, root);
  await settled();
}

/** Goes to another address. */
export async function goTo(hash: string): Promise<void> {
  location.hash = hash;
  dispatchEvent(new HashChangeEvent("hashchange"));
  await settled();
}

/** Waits until the page has come to rest: nothing is being fetched and nothing has moved for a while. */
export async function settled(): Promise<void> {
  let before = "";
  for (let quiet = 0, turns = 0; quiet < 8 && turns < 2_000; turns++) {
    await act(() => new Promise<void>((resolve) => setTimeout(resolve, 2)));
    const now = document.body.innerHTML;
    quiet =
      now === before && document.querySelector(".ff-loading, progress, [aria-busy=true]") === null ? quiet + 1 : 0;
    before = now;
  }
}

/** Everything that is said on the page. */
export function said(): string {
  return document.body.textContent ?? "";
}

function named(selector: string, name: string): HTMLElement {
  const wanted = (element: Element) => nameOf(element) === name;
  const found = [...document.querySelectorAll<HTMLElement>(selector)].find(wanted);
  if (found === undefined) throw new Error(`No ${selector} named "${name}" on the page: ${said().slice(0, 2_000)}`);
  return found;
}

function nameOf(element: Element): string {
  const label = element.getAttribute("aria-label");
  if (label !== null) return label;
  const heard = element.cloneNode(true) as Element;
  for (const silent of heard.querySelectorAll('[aria-hidden="true"]')) silent.remove();
  return (heard.textContent ?? "").trim();
}

/** Is there a button or link of this name? */
export function offers(name: string): boolean {
  return [...document.querySelectorAll("button, a, summary")].some((element) => nameOf(element) === name);
}

/** Presses the button or follows the link of this name. */
export async function press(name: string): Promise<void> {
  const element = named("button, a, summary", name);
  const href = element.getAttribute("href");
  if (href?.startsWith("#")) await goTo(href);
  else element.click();
  await settled();
}

/** The control with this label. */
export function field(label: string): HTMLInputElement {
  const found = [...document.querySelectorAll("label")].find((each) => (each.textContent ?? "").trim() === label);
  const control = found && document.getElementById(found.htmlFor);
  if (!control) throw new Error(`No field "${label}" on the page: ${said().slice(0, 2_000)}`);
  return control as HTMLInputElement;
}

/** Types into the field with this label. */
export async function type(label: string, text: string): Promise<void> {
  const control = field(label);
  control.value = text;
  control.dispatchEvent(new Event("input", { bubbles: true }));
  await settled();
}

/** Chooses in the list with this label. */
export async function choose(label: string, value: string): Promise<void> {
  const control = field(label);
  control.value = value;
  control.dispatchEvent(new Event("change", { bubbles: true }));
  await settled();
}

/** Switches the box with this label. */
export async function turn(label: string): Promise<void> {
  field(label).click();
  await settled();
}

/** Hands a file to the first place for files. */
export async function hand(name: string, text: string): Promise<void> {
  const input = document.querySelector<HTMLInputElement>('input[type="file"]');
  if (input === null) throw new Error("No place for files on the page.");
  const file = Object.assign(new File([text], name), { text: async () => text });
  Object.defineProperty(input, "files", { value: [file], configurable: true });
  input.dispatchEvent(new Event("change", { bubbles: true }));
  await settled();
}
