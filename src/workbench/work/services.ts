/** Everything that runs in the worker, by area. Another area of work is another object here. */

import type { ColumnNames } from "../../formats/column-names.ts";
import type { RawRules } from "../../formats/rules.ts";
import type { CatalogStore } from "../../store/catalogs.ts";
import type { ListStore } from "../../store/lists.ts";
import type { Words } from "../../text/words.ts";
import { orderServices } from "../order/order-services.ts";
import { titleServices } from "../title/title-services.ts";
import { backupServices } from "./backup-services.ts";
import { CatalogKeeper } from "./catalog-keeper.ts";
import { catalogServices } from "./catalog-services.ts";
import { deviceServices } from "./device-services.ts";
import { Shelf } from "./shelf.ts";

/** What the services are built on. */
export interface WorkGround {
  readonly catalogs: CatalogStore;
  readonly rules: RawRules;
  readonly columnNames: readonly ColumnNames[];
  /** The lists of the order desk. */
  readonly lists: ListStore;
  /** The sentences of a language. */
  readonly words: (language: string) => Promise<Words>;
  /** Does the work unless another window holds the name; false when it does. */
  readonly alone: (name: string, work: () => Promise<void>) => Promise<boolean>;
}

/** All services on one ground. */
export function workServices(ground: WorkGround) {
  const shelf = new Shelf(ground.catalogs);
  const keeper = new CatalogKeeper(ground.catalogs);
  const platform = { ...ground, catalogs: () => shelf.whole() };
  return {
    ...deviceServices(shelf),
    ...catalogServices(ground, keeper),
    ...backupServices(ground.catalogs, keeper),
    ...orderServices(platform),
    ...titleServices(platform),
  };
}

/** The services as the page calls them. */
export type WorkServices = ReturnType<typeof workServices>;
