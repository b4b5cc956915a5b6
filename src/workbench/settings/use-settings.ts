/** The settings, kept as they are; a change shows at once and is stored behind it. */
import { useEffect, useState } from "preact/hooks";
import type { Settings } from "../../store/settings.ts";
import { useLoaded } from "../loaded.ts";
import { useStoredTurn } from "../stored.ts";
import { useTools } from "../tools.tsx";

/** The settings and how to change them. */
export interface SettingsInUse {
  readonly settings: Settings;
  readonly change: (changes: Partial<Settings>) => Promise<void>;
}

/** The settings; `undefined` until they are read. */
export function useSettings(): SettingsInUse | undefined {
  const { store } = useTools();
  const turn = useStoredTurn("settings");
  const stored = useLoaded(() => store.settings.get(), [turn]).value;
  const [shown, setShown] = useState<Settings | undefined>();
  useEffect(() => setShown(stored), [stored]);
  if (shown === undefined) return undefined;
  return {
    settings: shown,
    async change(changes) {
      setShown({ ...shown, ...changes });
      try {
        await store.settings.change(changes);
      } catch (error) {
        setShown(stored);
        throw error;
      }
    },
  };
}
