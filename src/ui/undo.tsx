/** Every deletion happens at once and can be taken back: a toast offers it until it fades. */
import { type ComponentChildren, createContext } from "preact";
import { useCallback, useContext, useEffect, useState } from "preact/hooks";
import { Button } from "./button.tsx";
import { useWords } from "./words-context.tsx";

/**
 * Says what was done and how to take it back. A later offer replaces an earlier one; one without a message only
 * withdraws it, where it can no longer be kept.
 */
export type OfferUndo = (message: string, undo: () => void | Promise<void>) => void;

const UndoContext = createContext<OfferUndo>(() => undefined);

/** How long an offer stands, in milliseconds. It stands still while it has focus or the pointer is on it. */
export const UNDO_STAYS_MS = 12_000;

/** The place that toasts appear in; wrap a page with it once. */
export function UndoProvider({ children }: { children: ComponentChildren }) {
  const words = useWords();
  const [offer, setOffer] = useState<{ message: string; undo: () => void | Promise<void> } | null>(null);
  const [held, setHeld] = useState(false);
  useEffect(() => {
    if (offer === null || held) return undefined;
    const timer = setTimeout(() => setOffer(null), UNDO_STAYS_MS);
    return () => clearTimeout(timer);
  }, [offer, held]);
  const offerUndo = useCallback<OfferUndo>((message, undo) => setOffer(message === "" ? null : { message, undo }), []);
  const takeBack = async () => {
    const taken = offer;
    setOffer(null);
    await taken?.undo();
  };
  return (
    <UndoContext.Provider value={offerUndo}>
      {children}
      <div class="ff-toasts" role="status">
        {offer && (
          // biome-ignore lint/a11y/noStaticElementInteractions: the handlers only hold the timer; the buttons inside act.
          <div
            class="ff-toast"
            onMouseEnter={() => setHeld(true)}
            onMouseLeave={() => setHeld(false)}
            onFocusCapture={() => setHeld(true)}
            onBlurCapture={() => setHeld(false)}
          >
            <span>{offer.message}</span>
            <Button kind="strong" onPress={takeBack}>
              {words.say("ui_undo")}
            </Button>
            <Button kind="quiet" onPress={() => setOffer(null)}>
              {words.say("ui_dismiss")}
            </Button>
          </div>
        )}
      </div>
    </UndoContext.Provider>
  );
}

/** Gives a part of the page the way to offer an undo. */
export function useUndo(): OfferUndo {
  return useContext(UndoContext);
}
