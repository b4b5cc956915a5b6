/** Waits until typing pauses. */
import { useEffect, useState } from "preact/hooks";

/** How long typing must pause before what was typed is read, in milliseconds. */
const PAUSE_MS = 150;

/** The value as it was when it last stood still. */
export function useSettled<T>(value: T): T {
  const [settled, setSettled] = useState(value);
  useEffect(() => {
    const timer = setTimeout(() => setSettled(value), PAUSE_MS);
    return () => clearTimeout(timer);
  }, [value]);
  return settled;
}
