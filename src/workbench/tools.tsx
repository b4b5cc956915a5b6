/** What the desks work with. The entry point makes it of the browser, tests make it of maps. */
import { type ComponentChildren, createContext } from "preact";
import { useContext } from "preact/hooks";
import type { Reply, Request } from "../background/messages.ts";
import type { Store } from "../store/open.ts";
import type { Remote } from "./work/link.ts";
import type { WorkServices } from "./work/services.ts";

/** Permissions for addresses of other sites, as match patterns. */
export interface Permissions {
  has(pattern: string): Promise<boolean>;
  /** Must be called straight from a click: the browser asks the person. */
  ask(pattern: string): Promise<boolean>;
  /** Gives one back. */
  drop(pattern: string): Promise<void>;
}

/** What the desks work with. */
export interface Tools {
  /** Devices, settings, sites, shapes. Catalogs go through {@link work}. */
  readonly store: Store;
  /** Everything that may take long, beside the page. */
  readonly work: Remote<WorkServices>;
  /** Asks the background. */
  readonly ask: <K extends Request["kind"]>(request: Extract<Request, { kind: K }>) => Promise<Reply<K>>;
  readonly permissions: Permissions;
  /** Fetches an address; never called but for one that the person typed. */
  readonly fetch: typeof fetch;
  /** Hands something to the person as a file. */
  readonly download: (fileName: string, content: string | Blob) => void;
  /** Calls back with the keys of stored things that changed, in this window or another; returns how to stop. */
  readonly onChange: (listener: (keys: readonly string[]) => void) => () => void;
  /** A new id that is on no device and no catalog. */
  readonly newId: () => string;
  readonly now: () => Date;
}

const ToolsContext = createContext<Tools | null>(null);

/** Hands the tools down. */
export function ToolsProvider({ tools, children }: { tools: Tools; children: ComponentChildren }) {
  return <ToolsContext.Provider value={tools}>{children}</ToolsContext.Provider>;
}

/**
 * The tools.
 *
 * @throws Error outside of a {@link ToolsProvider}
 */
export function useTools(): Tools {
  const tools = useContext(ToolsContext);
  if (tools === null) throw new Error("No tools here.");
  return tools;
}

/** Today's date by the person's clock, such as `2026-11-25`. */
export function dateToday(now: Date): string {
  const two = (value: number) => String(value).padStart(2, "0");
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}
