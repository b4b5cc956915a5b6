/** The desks of the workbench, in the order in which they are offered. A new desk is a row here and a folder. */
import type { ComponentType } from "preact";
import { BenchDesk } from "./bench/bench-desk.tsx";
import { CatalogsDesk } from "./catalogs/catalogs-desk.tsx";
import { OrderDesk } from "./order/order-desk.tsx";
import type { Place } from "./route.ts";
import { SettingsDesk } from "./settings/settings-desk.tsx";
import { TitleDesk } from "./title/title-desk.tsx";

/** One desk. */
export interface Desk {
  /** Its name in addresses: `#bench`. */
  readonly id: string;
  /** Key of its name in words. */
  readonly label: string;
  /** What stands there; it is given where in the desk a person is. */
  readonly Component: ComponentType<{ place: Place }>;
}

/** All desks; the first one is where a person starts. */
export const desks: readonly Desk[] = [
  { id: "bench", label: "workbench_desk_bench", Component: BenchDesk },
  { id: "catalogs", label: "workbench_desk_catalogs", Component: CatalogsDesk },
  { id: "title", label: "workbench_desk_title", Component: TitleDesk },
  { id: "order", label: "workbench_desk_order", Component: OrderDesk },
  { id: "settings", label: "workbench_desk_settings", Component: SettingsDesk },
];
