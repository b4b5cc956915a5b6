/** A dialog that holds the page until it is answered; Escape closes it and focus goes back to where it was. */
import type { ComponentChildren } from "preact";
import { useEffect, useId, useRef } from "preact/hooks";

interface DialogProps {
  title: string;
  children: ComponentChildren;
  /** The buttons, the safest first. */
  actions: ComponentChildren;
  onClose: () => void;
}

/** The browser's own modal dialog: it traps focus, dims the page and answers Escape by itself. */
export function Dialog({ title, children, actions, onClose }: DialogProps) {
  const id = useId();
  const dialog = useRef<HTMLDialogElement>(null);
  useEffect(() => {
    const before = document.activeElement;
    const element = dialog.current;
    if (element && !element.open) element.showModal();
    return () => {
      element?.close();
      if (before instanceof HTMLElement) before.focus();
    };
  }, []);
  return (
    <dialog
      ref={dialog}
      class="ff-dialog"
      aria-labelledby={id}
      onCancel={(event) => {
        event.preventDefault();
        onClose();
      }}
    >
      <h2 id={id}>{title}</h2>
      <div class="ff-dialog-body">{children}</div>
      <div class="ff-actions">{actions}</div>
    </dialog>
  );
}
