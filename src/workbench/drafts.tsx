/** Keeps what is being typed while a person looks elsewhere; it is gone once it is saved or given up. */
import { type ComponentChildren, createContext } from "preact";
import { useContext, useRef, useState } from "preact/hooks";

const DraftsContext = createContext<Map<string, unknown>>(new Map());

/** Holds the drafts of the whole workbench. */
export function DraftsProvider({ children }: { children: ComponentChildren }) {
  const drafts = useRef(new Map<string, unknown>());
  return <DraftsContext.Provider value={drafts.current}>{children}</DraftsContext.Provider>;
}

/** Something that is being typed. */
export interface Draft<T> {
  readonly value: T;
  /** True when there is something that is neither saved nor given up. */
  readonly changed: boolean;
  readonly set: (value: T) => void;
  /** Forgets it: after saving, or when the person gives it up. */
  readonly forget: () => void;
}

/**
 * A draft under a name that is unique in the workbench.
 *
 * @param start what the form starts with when nothing was typed before
 */
export function useDraft<T>(name: string, start: T): Draft<T> {
  const drafts = useContext(DraftsContext);
  const [, redraw] = useState(0);
  const changed = drafts.has(name);
  return {
    value: changed ? (drafts.get(name) as T) : start,
    changed,
    set(value) {
      drafts.set(name, value);
      redraw((count) => count + 1);
    },
    forget() {
      drafts.delete(name);
    },
  };
}
