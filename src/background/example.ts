/** The example: invented devices with their catalog, so that a newcomer sees marks before typing anything. */
import { readBench } from "../formats/bench.ts";
import type { Store } from "../store/open.ts";

const BENCH_FILE = "catalogs/demo.bench.json";
const CATALOG_FILE = "catalogs/demo.catalog.json";
const CATALOG_ID = "example";
/** Devices of the example bear this before their id. */
const EXAMPLE_PREFIX = "demo-";

/**
 * Puts the example on the bench and takes its first device in hand.
 *
 * @param read text of a file of the extension
 * @returns the id of the device in hand
 * @throws Error when the built folder lacks the example
 */
export async function addExample(store: Store, read: (path: string) => Promise<string>): Promise<string> {
  const bench = readBench(await read(BENCH_FILE));
  const [first] = bench.ok ? bench.value.devices : [];
  if (!bench.ok || first === undefined) throw new Error("The example bench of this build cannot be read.");
  const saved = await store.catalogs.save(CATALOG_ID, await read(CATALOG_FILE), { kind: "example" });
  if (!saved.ok) throw new Error(`The example catalog of this build has faults: ${saved.faults[0]?.message}`);
  await store.devices.save(...bench.value.devices);
  await store.devices.takeInHand(first.id);
  return first.id;
}

/** Throws the example away; what a person added stays. */
export async function dropExample(store: Store): Promise<void> {
  const devices = await store.devices.list();
  const ids = devices.map(({ device }) => device.id).filter((id) => id.startsWith(EXAMPLE_PREFIX));
  await store.devices.remove(...ids);
  await store.catalogs.remove(CATALOG_ID);
}
