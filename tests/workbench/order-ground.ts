/** The order desk's services on a database in memory, with the demonstration's catalog and bench. */
import columnNames from "falsefit:column-names";
import rules from "falsefit:rules";
import { readFileSync } from "node:fs";
import { IDBFactory } from "fake-indexeddb";
import { buildIndex } from "../../src/catalog/index.ts";
import { type Device, readBench } from "../../src/formats/bench.ts";
import { readCatalog } from "../../src/formats/catalog.ts";
import { type Database, openDatabase } from "../../src/store/database.ts";
import { type ListSlot, ListStore } from "../../src/store/lists.ts";
import type { ListState, OrderServices } from "../../src/workbench/order/order-calls.ts";
import { type OrderPlatform, orderServices } from "../../src/workbench/order/order-services.ts";
import { nearby, type Remote } from "../../src/workbench/work/link.ts";
import { wordsOf } from "../ui/words.ts";

const catalog = readCatalog(readFileSync("rules/catalogs/demo.catalog.json", "utf8"));
const bench = readBench(readFileSync("rules/catalogs/demo.bench.json", "utf8"));
if (!catalog.ok || !bench.ok) throw new Error("The demonstration's files are bad.");

const demoDevices: readonly Device[] = bench.value.devices;
const demoIndex = buildIndex([catalog.value]);

export type Desk = Remote<OrderServices>;

/** One name is held by one at a time, as the browser's locks do. */
export function memoryLocks(): OrderPlatform["alone"] {
  const held = new Set<string>();
  return async (name, work) => {
    if (held.has(name)) return false;
    held.add(name);
    try {
      await work();
    } finally {
      held.delete(name);
    }
    return true;
  };
}

/** A worker that has just been started on a database; another one on the same database is a reload. */
export function startWorker(
  database: Database = openDatabase(new IDBFactory()),
  changes: Partial<OrderPlatform> = {},
): { desk: Desk; database: Database } {
  const services = orderServices({
    lists: new ListStore(database),
    rules,
    columnNames,
    catalogs: async () => ({ index: demoIndex, stamp: "demo", unreadable: [] }),
    words: async (language) => wordsOf(language),
    alone: memoryLocks(),
    ...changes,
  });
  return { desk: nearby(services), database };
}

/** Tells the bench; devices other than the demonstration's may be given. */
export async function tellBench(desk: Desk, devices: readonly Device[] = demoDevices, stamp = "1"): Promise<void> {
  await desk.listBench({ language: "en", devices, stamp, turn: 0 });
}

/** Hands a list over, reads it as it tells itself, and starts its check. */
export async function startList(desk: Desk, slot: ListSlot, content: Blob, name = "order.csv"): Promise<void> {
  const { encoding, delimiter, shape } = await desk.listLook({ content });
  await desk.listStart({ slot, source: { name, content }, reading: { encoding, delimiter }, shape });
}

/** Follows a slot until its state is one that is waited for. */
export async function untilState(
  desk: Desk,
  slot: ListSlot,
  wanted: (state: ListState) => boolean = ({ phase }) => phase !== "running",
): Promise<ListState> {
  for (let seen = 0; ; ) {
    const news = await desk.listNews({ slot, seen });
    if (news.state !== null && wanted(news.state)) return news.state;
    seen = news.seen;
  }
}

const PARTS = ["PB-1840", "PB-2240", "OF-B216", "OF-B257", "QD-4031", "HC-0611-B", "ZZ-9999"];

/** A list of so many lines, repeating a handful of parts, the first ones for a job. */
export function longList(lines: number): Blob {
  const rows = Array.from({ length: lines }, (_, i) => {
    const part = PARTS[i % PARTS.length] ?? "";
    return `${i % 3 === 0 ? "demo-lark-late" : ""};${part};Battery pack ${part} for PL-20;1;${10 + (i % 90)},50`;
  });
  return new Blob([`Job;Part number;Description;Qty;Unit price EUR\r\n${rows.join("\r\n")}\r\n`]);
}
