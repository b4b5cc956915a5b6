/** The worker beside the workbench page: catalogs, devices, long lists, judging. It only wires. */
import columnNames from "falsefit:column-names";
import rules from "falsefit:rules";
import { CatalogStore } from "../store/catalogs.ts";
import { openDatabase } from "../store/database.ts";
import { ListStore } from "../store/lists.ts";
import { loadWords } from "../ui/load-words.ts";
import { type Port, serve } from "./work/link.ts";
import { workServices } from "./work/services.ts";

/** A worker's own scope is a port to the page; the compiler takes it for a window. */
const port = globalThis as unknown as Port;

const database = openDatabase(indexedDB);
serve(
  port,
  workServices({
    catalogs: new CatalogStore(
      database,
      () => new Date(),
      async () => port.postMessage({ catalogsChanged: true }),
    ),
    lists: new ListStore(database),
    rules,
    columnNames,
    words: (language) => loadWords(language, (path) => new URL(path, globalThis.location.href).href),
    alone: async (name, work) => {
      let done = false;
      await navigator.locks.request(name, { ifAvailable: true }, async (lock) => {
        if (lock === null) return;
        await work();
        done = true;
      });
      return done;
    },
  }),
);
