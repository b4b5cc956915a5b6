/** Changing a catalog: at once, with every fault named, and to be taken back. */
import { useState } from "preact/hooks";
import type { Fault } from "../../formats/common.ts";
import { useUndo } from "../../ui/undo.tsx";
import { useTools } from "../tools.tsx";
import type { CatalogChange } from "./change.ts";

/** How to change a catalog. */
export interface Changer {
  /** Why the latest change was refused; none when it was made. */
  readonly faults: readonly Fault[];
  /** True when the change was made; `message` says what it was, for undo. */
  readonly change: (change: CatalogChange, message: string) => Promise<boolean>;
}

/** Changes the catalog with this id. */
export function useChange(id: string): Changer {
  const { work } = useTools();
  const offerUndo = useUndo();
  const [faults, setFaults] = useState<readonly Fault[]>([]);
  return {
    faults,
    async change(asked, message) {
      const outcome = await work.catalogChange({ id, change: asked });
      setFaults(outcome.ok ? [] : outcome.faults);
      if (!outcome.ok) return false;
      const { undo } = outcome.value;
      offerUndo(message, async () => {
        await work.catalogUndo(undo);
      });
      return true;
    },
  };
}
