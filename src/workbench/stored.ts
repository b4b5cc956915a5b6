/** Noticing that something stored has changed, in this window or another. */
import { useEffect, useState } from "preact/hooks";
import { useTools } from "./tools.tsx";

/** A count that grows whenever a stored thing changes whose key begins with one of these. */
export function useStoredTurn(...beginnings: readonly string[]): number {
  const { onChange } = useTools();
  const [turn, setTurn] = useState(0);
  const wanted = beginnings.join("\n");
  useEffect(
    () =>
      onChange((keys) => {
        if (keys.some((key) => wanted.split("\n").some((start) => key.startsWith(start))))
          setTurn((count) => count + 1);
      }),
    [onChange, wanted],
  );
  return turn;
}
