/** The settings, kept as they are. */
import type { Settings } from "../../store/settings.ts";
import { useLoaded } from "../loaded.ts";
import { useStoredTurn } from "../stored.ts";
import { useTools } from "../tools.tsx";

/** The settings; `undefined` until they are read. */
export function useSettings(): Settings | undefined {
  const { store } = useTools();
  const turn = useStoredTurn("settings");
  return useLoaded(() => store.settings.get(), [turn]).value;
}
