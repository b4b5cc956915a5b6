/**
 * Reading and writing the text field that a menu was opened on. Both functions run inside of the page (in our
 * isolated world) and are handed over as text, so neither may use anything outside of itself.
 */

/** The text of the field that has the focus, or `null` where none has; the field is remembered for writing back. */
export function readFocusedField(): string | null {
  const scope = globalThis as { falsefitField?: WeakRef<Element> };
  let field = document.activeElement;
  while (field?.shadowRoot?.activeElement) field = field.shadowRoot.activeElement;
  if (field === null) return null;
  scope.falsefitField = new WeakRef(field);
  if (field instanceof HTMLInputElement || field instanceof HTMLTextAreaElement) return field.value;
  return field instanceof HTMLElement && field.isContentEditable ? field.textContent : null;
}

/** Writes into the remembered field as if it had been typed; false when the field is gone. */
export function writeRememberedField(text: string): boolean {
  const scope = globalThis as { falsefitField?: WeakRef<Element> };
  const field = scope.falsefitField?.deref();
  if (!(field instanceof HTMLElement) || !field.isConnected) return false;
  if (field instanceof HTMLInputElement || field instanceof HTMLTextAreaElement) {
    const shape = field instanceof HTMLInputElement ? HTMLInputElement.prototype : HTMLTextAreaElement.prototype;
    // The page's framework may have put its own setter on the element; the original one makes it notice.
    Object.getOwnPropertyDescriptor(shape, "value")?.set?.call(field, text);
  } else if (field.isContentEditable) field.textContent = text;
  else return false;
  field.dispatchEvent(new InputEvent("input", { bubbles: true, inputType: "insertReplacementText", data: text }));
  field.dispatchEvent(new Event("change", { bubbles: true }));
  return true;
}
