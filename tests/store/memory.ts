/** A store on an in-memory area and an in-memory database, with a clock that ticks one second a question. */
import { IDBFactory } from "fake-indexeddb";
import type { KeyValueArea } from "../../src/store/area.ts";
import { openDatabase } from "../../src/store/database.ts";
import { openStore, type Store } from "../../src/store/open.ts";

export interface MemoryStore {
  readonly store: Store;
  /** What lies in the key-value area, to look at or to damage. */
  readonly items: Map<string, unknown>;
}

export function memoryStore(): MemoryStore {
  const items = new Map<string, unknown>();
  let time = Date.UTC(2026, 10, 25, 9, 0, 0);
  const now = () => {
    time += 1000;
    return new Date(time);
  };
  return { items, store: openStore({ area: memoryArea(items), database: openDatabase(new IDBFactory()), now }) };
}

export function memoryArea(items: Map<string, unknown>): KeyValueArea {
  const copy = (value: unknown) => structuredClone(value);
  return {
    async get(keys) {
      const wanted = keys ?? [...items.keys()];
      return Object.fromEntries(wanted.filter((key) => items.has(key)).map((key) => [key, copy(items.get(key))]));
    },
    async set(values) {
      for (const [key, value] of Object.entries(values)) items.set(key, copy(value));
    },
    async remove(keys) {
      for (const key of keys) items.delete(key);
    },
  };
}
