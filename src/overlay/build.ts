/** Makes elements in a few words; text is always text. */
import { type Drawn, toDom } from "../ui/drawn.ts";

type Child = Node | string | null;

/** An element of a class with attributes and children; `null` children are left out. */
export function element<K extends keyof HTMLElementTagNameMap>(
  document: Document,
  tag: K,
  className: string,
  attributes: Readonly<Record<string, string>> = {},
  ...children: readonly Child[]
): HTMLElementTagNameMap[K] {
  const made = document.createElement(tag);
  if (className !== "") made.className = className;
  for (const [name, value] of Object.entries(attributes)) made.setAttribute(name, value);
  made.append(...children.filter((child) => child !== null));
  return made;
}

/** A button that does one thing. */
export function action(
  document: Document,
  label: string | Node,
  onPress: () => void,
  options: { className?: string; name?: string; pressed?: boolean } = {},
): HTMLButtonElement {
  const { className = "", name, pressed } = options;
  const attributes: Record<string, string> = { type: "button" };
  if (name !== undefined) attributes["aria-label"] = name;
  if (pressed !== undefined) attributes["aria-pressed"] = String(pressed);
  const button = element(document, "button", `act ${className}`.trim(), attributes, label);
  button.addEventListener("click", onPress);
  return button;
}

/** A tree as an element of the page's document. */
export function picture(document: Document, tree: Drawn): Element {
  return toDom(document, tree);
}
