/** The whole store, wired. Entry points call it once with the browser's own storage and clock. */
import type { Clock, KeyValueArea } from "./area.ts";
import { CatalogStore } from "./catalogs.ts";
import { type Database, openDatabase } from "./database.ts";
import { DeviceStore } from "./devices.ts";
import { LayoutStore } from "./layouts.ts";
import { Records } from "./records.ts";
import { SerialPatternStore } from "./serial-patterns.ts";
import { SettingsStore } from "./settings.ts";
import { ShapeStore } from "./shapes.ts";
import { SiteStore } from "./sites.ts";

/** Key that is written whenever a catalog changes, so that every window hears of it. */
export const CATALOGS_CHANGED = "catalogs-changed";

/** Everything that is kept. */
export interface Store {
  readonly devices: DeviceStore;
  readonly catalogs: CatalogStore;
  readonly settings: SettingsStore;
  readonly sites: SiteStore;
  readonly shapes: ShapeStore;
  readonly layouts: LayoutStore;
  readonly serialPatterns: SerialPatternStore;
  /** Raw records: what was kept aside as unreadable. */
  readonly records: Records;
}

/** What the store is built on. */
export interface Platform {
  readonly area: KeyValueArea;
  readonly database: Database;
  readonly now: Clock;
}

/** Opens the store on a platform; nothing is read until it is asked for. */
export function openStore({ area, database, now }: Platform): Store {
  const records = new Records(area, now);
  const catalogsChanged = () => area.set({ [CATALOGS_CHANGED]: now().toISOString() });
  return {
    records,
    devices: new DeviceStore(records, database, now),
    catalogs: new CatalogStore(database, now, catalogsChanged),
    settings: new SettingsStore(records),
    sites: new SiteStore(records),
    shapes: new ShapeStore(records),
    layouts: new LayoutStore(records),
    serialPatterns: new SerialPatternStore(records),
  };
}

/** Opens the store of a real browser. */
export function openBrowserStore(area: KeyValueArea): Store {
  return openStore({ area, database: openDatabase(indexedDB), now: () => new Date() });
}
