/**
 * What is known for the device in hand: the slice of all catalogs that concerns it. A slice is worked out once and
 * kept; only when a catalog or the device changes are the catalogs opened again.
 */
import { sliceFor } from "../catalog/index.ts";
import type { Device } from "../formats/bench.ts";
import type { Catalog } from "../formats/catalog.ts";
import type { SavedDevice } from "../store/devices.ts";
import type { Store } from "../store/open.ts";

/** What the catalogs say about one device. */
export interface DeviceKnowledge {
  readonly device: Device;
  readonly catalogs: readonly Catalog[];
  /** Titles of catalogs whose stored text can no longer be read. */
  readonly unreadable: readonly string[];
}

/** Tells one state of a device and the catalogs from every other. */
export async function knowledgeStamp(store: Store, { device, changedAt }: SavedDevice): Promise<string> {
  return `${device.id}@${changedAt} ${await store.catalogs.stamp()}`;
}

/** The slice for a device, from the store where it is still current. */
export async function knowledgeFor(store: Store, saved: SavedDevice): Promise<DeviceKnowledge> {
  const { device } = saved;
  const stamp = await knowledgeStamp(store, saved);
  const kept = await store.catalogs.slice(device.id, stamp);
  if (kept !== undefined) return { device, catalogs: kept, unreadable: [] };
  const { catalogs, unreadable } = await openCatalogs(store);
  const slice = sliceFor(catalogs, [device]);
  // A slice without the unreadable catalogs is not kept, so that the fault is reported until it is mended.
  if (unreadable.length === 0) await store.catalogs.keepSlice(device.id, stamp, slice);
  return { device, catalogs: slice, unreadable };
}

async function openCatalogs(store: Store): Promise<{ catalogs: Catalog[]; unreadable: string[] }> {
  const catalogs: Catalog[] = [];
  const unreadable: string[] = [];
  for (const note of await store.catalogs.list()) {
    if (!note.active) continue;
    const opened = await store.catalogs.open(note.id);
    if (opened.ok) catalogs.push(opened.value);
    else unreadable.push(note.title || note.id);
  }
  return { catalogs, unreadable };
}
