/**
 * The browser's key-value storage as the store uses it. `browser.storage.local` fits it; tests hand in a map.
 */
export interface KeyValueArea {
  /** The values of these keys; `null` gives everything. Keys that are not there are left out. */
  get(keys: string[] | null): Promise<Record<string, unknown>>;
  /** Writes each key whole: a reader sees the old value or the new one, never a mixture. */
  set(items: Record<string, unknown>): Promise<void>;
  remove(keys: string[]): Promise<void>;
}

/** Tells the time; entry points hand in the real clock. */
export type Clock = () => Date;
