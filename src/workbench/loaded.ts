/** Things that have to be fetched before they can be shown. */
import { useCallback, useEffect, useState } from "preact/hooks";

/** A thing that is being fetched, is there, or could not be had. An older value stays in sight while a newer comes. */
export interface Loaded<T> {
  readonly value: T | undefined;
  readonly error: Error | undefined;
  readonly loading: boolean;
  /** Fetches again. */
  readonly reload: () => void;
}

/**
 * Fetches something whenever what it depends on changes; what is no longer wanted is cancelled.
 *
 * @param load must keep to the signal; what it throws after a cancellation is ignored
 */
export function useLoaded<T>(load: (signal: AbortSignal) => Promise<T>, inputs: readonly unknown[]): Loaded<T> {
  const [state, setState] = useState<Omit<Loaded<T>, "reload">>({ value: undefined, error: undefined, loading: true });
  const [tries, setTries] = useState(0);
  // biome-ignore lint/correctness/useExhaustiveDependencies: the function is new at every drawing; the caller names what it depends on.
  useEffect(() => {
    const stop = new AbortController();
    setState((before) => ({ ...before, loading: true, error: undefined }));
    load(stop.signal)
      .then((value) => !stop.signal.aborted && setState({ value, error: undefined, loading: false }))
      .catch((error: unknown) => {
        if (stop.signal.aborted) return;
        const known = error instanceof Error ? error : new Error(String(error));
        setState((before) => ({ value: before.value, error: known, loading: false }));
      });
    return () => stop.abort();
  }, [...inputs, tries]);
  const reload = useCallback(() => setTries((count) => count + 1), []);
  return { ...state, reload };
}

/** True once something has been missing for a moment: what has just been saved is not yet read again. */
export function useLate(after_ms = 400): boolean {
  const [late, setLate] = useState(false);
  useEffect(() => {
    const timer = setTimeout(() => setLate(true), after_ms);
    return () => clearTimeout(timer);
  }, [after_ms]);
  return late;
}
