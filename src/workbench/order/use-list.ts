/** What the order desk's page knows of the worker's lists. */
import { useCallback, useEffect, useRef, useState } from "preact/hooks";
import type { SavedDevice } from "../../store/devices.ts";
import type { ListSlot } from "../../store/lists.ts";
import { useWords } from "../../ui/words-context.tsx";
import { useBench } from "../bench/bench-state.tsx";
import { useTools } from "../tools.tsx";
import type { ListState, ShownLine } from "./order-calls.ts";

/** Keeps the worker's picture of the bench as it is. */
export function useTellBench(): void {
  const { work } = useTools();
  const { devices, catalogsSeen } = useBench();
  const { language } = useWords();
  useEffect(() => {
    if (devices === undefined) return;
    const stamp = benchStamp(devices);
    const news = { language, devices: devices.map(({ device }) => device), stamp, turn: catalogsSeen };
    work.listBench(news).catch((error: unknown) => console.error("Falsefit:", error));
  }, [work, devices, catalogsSeen, language]);
}

/** Changes whenever a device is added, changed or removed. */
function benchStamp(devices: readonly SavedDevice[]): string {
  const latest = devices.map(({ changedAt }) => changedAt).sort();
  return `${devices.length} ${latest.at(-1) ?? ""}`;
}

/** A list as it stands; `undefined` until the worker has answered, `null` where there is none. */
export interface ListWatch {
  readonly state: ListState | null | undefined;
  readonly error: Error | undefined;
  readonly retry: () => void;
}

/** Follows a list for as long as the page shows it. */
export function useList(slot: ListSlot): ListWatch {
  const { work } = useTools();
  const [watch, setWatch] = useState<Omit<ListWatch, "retry">>({ state: undefined, error: undefined });
  const [tries, setTries] = useState(0);
  // biome-ignore lint/correctness/useExhaustiveDependencies: another try is asked for by counting.
  useEffect(() => {
    const stop = new AbortController();
    const follow = async (): Promise<void> => {
      for (let seen = 0; !stop.signal.aborted; ) {
        const news = await work.listNews({ slot, seen }, { signal: stop.signal });
        seen = news.seen;
        setWatch({ state: news.state, error: undefined });
      }
    };
    follow().catch((error: unknown) => {
      if (stop.signal.aborted) return;
      setWatch({ state: undefined, error: error instanceof Error ? error : new Error(String(error)) });
    });
    return () => stop.abort();
  }, [work, slot, tries]);
  const retry = useCallback(() => setTries((count) => count + 1), []);
  return { ...watch, retry };
}

/** Lines that are held in the page. */
const LINES_AT_HAND = 2_000;

/** Gives the line at a place, `undefined` while it is being fetched, `null` where there is none. */
export type LineAt = (place: number) => ShownLine | null | undefined;

/**
 * Fetches lines as they come into sight; what is asked for in one drawing is fetched together.
 *
 * @param version another one makes all lines be fetched anew
 */
export function useLines(slot: ListSlot, version: string): LineAt {
  const { work } = useTools();
  const [, redraw] = useState(0);
  const cache = useRef({ version, lines: new Map<number, ShownLine | null>() });
  const wanted = useRef(new Set<number>());
  if (cache.current.version !== version) cache.current = { version, lines: new Map() };
  const fetchWanted = () => {
    const places = [...wanted.current];
    const into = cache.current.lines;
    wanted.current = new Set();
    work
      .listLines({ slot, places })
      .then((lines) => {
        if (into.size > LINES_AT_HAND) into.clear();
        for (const [i, place] of places.entries()) into.set(place, lines[i] ?? null);
        redraw((count) => count + 1);
      })
      .catch((error: unknown) => console.error("Falsefit:", error));
  };
  return (place) => {
    const found = cache.current.lines.get(place);
    if (found !== undefined || wanted.current.has(place)) return found;
    if (wanted.current.size === 0) queueMicrotask(fetchWanted);
    wanted.current.add(place);
    return undefined;
  };
}
