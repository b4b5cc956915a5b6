/** The bench as the whole workbench sees it: the devices, which one is in hand, how each stands. */
import { type ComponentChildren, createContext } from "preact";
import { useContext, useEffect, useRef, useState } from "preact/hooks";
import type { SavedDevice } from "../../store/devices.ts";
import { CATALOGS_CHANGED } from "../../store/open.ts";
import { useWords } from "../../ui/words-context.tsx";
import { type Tools, useTools } from "../tools.tsx";
import type { Standing } from "./standing.ts";

/** The bench. */
export interface BenchState {
  /** Oldest first; `undefined` until they are read. */
  readonly devices: readonly SavedDevice[] | undefined;
  readonly error: Error | undefined;
  /** Id of the device in hand. */
  readonly inHand: string | null;
  /** By id of the device; what is not worked out yet is missing. */
  readonly standings: ReadonlyMap<string, Standing>;
  /** Grows whenever a catalog changes. */
  readonly catalogsSeen: number;
  readonly reload: () => void;
}

const EMPTY: BenchState = {
  devices: undefined,
  error: undefined,
  inHand: null,
  standings: new Map(),
  catalogsSeen: 0,
  reload: () => undefined,
};
const BenchContext = createContext<BenchState>(EMPTY);

/** How many devices are put to the catalogs at once. */
const STANDINGS_AT_ONCE = 100;

/** Reads the bench and keeps it as it is, whichever window changes it. */
export function BenchProvider({ children }: { children: ComponentChildren }) {
  const tools = useTools();
  const [read, setRead] = useState<Pick<BenchState, "devices" | "error" | "inHand">>(EMPTY);
  const [turn, setTurn] = useState({ bench: 0, catalogs: 0 });
  useEffect(() => tools.onChange((keys) => setTurn((before) => nextTurn(before, keys))), [tools]);
  // biome-ignore lint/correctness/useExhaustiveDependencies: a turn is another reading of the same store.
  useEffect(() => {
    let wanted = true;
    readBench(tools)
      .then((bench) => wanted && setRead({ ...bench, error: undefined }))
      .catch((error: Error) => wanted && setRead((before) => ({ ...before, error })));
    return () => {
      wanted = false;
    };
  }, [tools, turn.bench]);
  const standings = useStandings(read.devices, turn.catalogs);
  const reload = () => setTurn((before) => ({ ...before, bench: before.bench + 1 }));
  return (
    <BenchContext.Provider value={{ ...read, standings, catalogsSeen: turn.catalogs, reload }}>
      {children}
    </BenchContext.Provider>
  );
}

/** The bench. */
export function useBench(): BenchState {
  return useContext(BenchContext);
}

function nextTurn(before: { bench: number; catalogs: number }, keys: readonly string[]) {
  const bench = keys.some((key) => key.startsWith("device/") || key === "in-hand");
  const catalogs = keys.includes(CATALOGS_CHANGED);
  if (!bench && !catalogs) return before;
  return { bench: before.bench + (bench ? 1 : 0), catalogs: before.catalogs + (catalogs ? 1 : 0) };
}

async function readBench({ store }: Tools): Promise<Pick<BenchState, "devices" | "inHand">> {
  const devices = await store.devices.list();
  return { devices, inHand: (await store.devices.inHand())?.device.id ?? null };
}

/** Works out how each device stands, a hundred at a time; a device that has not changed is not asked about again. */
function useStandings(devices: readonly SavedDevice[] | undefined, catalogs: number): ReadonlyMap<string, Standing> {
  const { work } = useTools();
  const { language } = useWords();
  const [standings, setStandings] = useState<ReadonlyMap<string, Standing>>(new Map());
  const asked = useRef({ ground: "", changedAt: new Map<string, string>() });
  useEffect(() => {
    if (devices === undefined) return undefined;
    const stop = new AbortController();
    const ground = `${catalogs} ${language}`;
    if (asked.current.ground !== ground) asked.current = { ground, changedAt: new Map() };
    const { changedAt } = asked.current;
    const due = devices.filter(({ device, changedAt: at }) => changedAt.get(device.id) !== at);
    (async () => {
      for (let from = 0; from < due.length; from += STANDINGS_AT_ONCE) {
        const some = due.slice(from, from + STANDINGS_AT_ONCE);
        const asking = { devices: some.map(({ device }) => device), language };
        const found = await work.standings(asking, { signal: stop.signal });
        for (const { device, changedAt: at } of some) changedAt.set(device.id, at);
        setStandings((before) => new Map([...before, ...found.map((each) => [each.id, each] as const)]));
      }
    })().catch((error: unknown) => {
      if (!stop.signal.aborted) console.error("Falsefit:", error);
    });
    return () => stop.abort();
  }, [devices, catalogs, work, language]);
  return standings;
}
