/** The workbench's tools in memory: a store that tells of its changes, services without a worker, no browser. */
import columnNames from "falsefit:column-names";
import rules from "falsefit:rules";
import { readFileSync } from "node:fs";
import { IDBFactory } from "fake-indexeddb";
import { type Device, readBench } from "../../src/formats/bench.ts";
import type { KeyValueArea } from "../../src/store/area.ts";
import { openDatabase } from "../../src/store/database.ts";
import { ListStore } from "../../src/store/lists.ts";
import { openStore } from "../../src/store/open.ts";
import type { Tools } from "../../src/workbench/tools.tsx";
import { nearby } from "../../src/workbench/work/link.ts";
import { workServices } from "../../src/workbench/work/services.ts";
import { memoryArea } from "../store/memory.ts";
import { wordsOf } from "../ui/words.ts";
import { memoryLocks } from "./order-ground.ts";

/** The text of the demonstration's catalog. */
export const demoCatalog = readFileSync("rules/catalogs/demo.catalog.json", "utf8");

const bench = readBench(readFileSync("rules/catalogs/demo.bench.json", "utf8"));
if (!bench.ok) throw new Error("The demonstration's bench is bad.");
/** The devices of the demonstration. */
export const demoDevices: readonly Device[] = bench.value.devices;

export interface MemoryTools {
  readonly tools: Tools;
  readonly items: Map<string, unknown>;
  /** Files that were handed over, by name. */
  readonly files: Map<string, string | Blob>;
  /** Requests that were put to the background. */
  readonly asked: unknown[];
}

/** Fresh tools; `changes` replaces some of them. */
export function memoryTools(changes: Partial<Tools> = {}): MemoryTools {
  const items = new Map<string, unknown>();
  const files = new Map<string, string | Blob>();
  const asked: unknown[] = [];
  const listeners = new Set<(keys: readonly string[]) => void>();
  let time = Date.UTC(2026, 10, 25, 9, 0, 0);
  const now = () => {
    time += 1000;
    return new Date(time);
  };
  const database = openDatabase(new IDBFactory());
  const store = openStore({ area: tellingArea(memoryArea(items), listeners), database, now });
  let ids = 0;
  const services = workServices({
    catalogs: store.catalogs,
    lists: new ListStore(database),
    rules,
    columnNames,
    words: async (language) => wordsOf(language),
    alone: memoryLocks(),
  });
  const tools: Tools = {
    store,
    work: nearby(services),
    ask: async (request) => {
      asked.push(request);
      return { ok: false, failure: { code: "failed", detail: "no background here" } };
    },
    permissions: { has: async () => true, ask: async () => true, drop: async () => undefined },
    fetch: async () => new Response("", { status: 404 }),
    download: (name, content) => files.set(name, content),
    onChange(listener) {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    newId: () => `new-${++ids}`,
    now,
    ...changes,
  };
  return { tools, items, files, asked };
}

/** An area that tells which keys were written, as the browser's own does. */
function tellingArea(area: KeyValueArea, listeners: ReadonlySet<(keys: readonly string[]) => void>): KeyValueArea {
  const tell = (keys: readonly string[]) => {
    for (const listener of listeners) listener(keys);
  };
  return {
    get: (keys) => area.get(keys),
    async set(values) {
      await area.set(values);
      tell(Object.keys(values));
    },
    async remove(keys) {
      await area.remove(keys);
      tell(keys);
    },
  };
}
