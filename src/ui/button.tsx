/** Buttons and links that look like them. */
import type { ComponentChildren, Ref } from "preact";
import { Sign } from "./drawing.tsx";

/** `strong` is the one thing to do next, `quiet` a side way, `danger` takes something away. */
export type ButtonKind = "plain" | "strong" | "quiet" | "danger";

interface ButtonProps {
  children: ComponentChildren;
  kind?: ButtonKind;
  /** Runs on click; a submit button may leave it out. */
  onPress?: () => void;
  type?: "button" | "submit";
  disabled?: boolean;
  /** While true the button keeps its place and says that it is at work. */
  busy?: boolean;
  /** Names the button where its content does not (an icon, a repeated "Delete"). */
  label?: string;
  /** For a button that switches something: is it on? */
  pressed?: boolean;
  /** For a button that unfolds something: is it unfolded? */
  expanded?: boolean;
  title?: string;
  buttonRef?: Ref<HTMLButtonElement>;
}

/** A button of at least 24 × 24 px. A busy button stays focusable, so that focus is not lost. */
export function Button({ children, kind = "plain", onPress, type = "button", ...rest }: ButtonProps) {
  const { disabled = false, busy = false, label, pressed, expanded, title, buttonRef } = rest;
  return (
    <button
      {...(buttonRef ? { ref: buttonRef } : {})}
      type={type}
      class={`ff-button ff-${kind}`}
      disabled={disabled}
      aria-disabled={busy || undefined}
      aria-busy={busy || undefined}
      aria-label={label}
      aria-pressed={pressed}
      aria-expanded={expanded}
      title={title}
      onClick={(event) => {
        if (busy) event.preventDefault();
        else onPress?.();
      }}
    >
      {busy && <Sign pose="apart" />}
      {children}
    </button>
  );
}
