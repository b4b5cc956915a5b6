/**
 * The large things: a small promise face over IndexedDB with a handful of boxes. `catalogs` holds each catalog's
 * text, `catalog-notes` what is said about it (so that a list needs no catalog opened), `slices` what each device
 * needs of them all, `pictures` the devices' pictures; `lists` the order and the stock list being checked, with
 * how far each is, `order-lines` and `stock-lines` their judged lines.
 */

/** The boxes of the database. */
export type Box = "catalogs" | "catalog-notes" | "slices" | "pictures" | "lists" | "order-lines" | "stock-lines";

const BOXES: readonly Box[] = [
  "catalogs",
  "catalog-notes",
  "slices",
  "pictures",
  "lists",
  "order-lines",
  "stock-lines",
];
const NAME = "falsefit";
const VERSION = 2;

/** Values by key in boxes. */
export interface Database {
  get(box: Box, key: string): Promise<unknown>;
  /** Every key and value of a box, sorted by key. */
  all(box: Box): Promise<[string, unknown][]>;
  put(box: Box, key: string, value: unknown): Promise<void>;
  /** Writes to several boxes at once: all of it or nothing. */
  putTogether(entries: readonly { box: Box; key: string; value: unknown }[]): Promise<void>;
  remove(box: Box, key: string): Promise<void>;
  /** Empties a box. */
  clear(box: Box): Promise<void>;
}

/** Opens the database on first use; a failure to open is given to whoever asked, and tried again next time. */
export function openDatabase(factory: IDBFactory): Database {
  let opening: Promise<IDBDatabase> | undefined;
  const connect = (): Promise<IDBDatabase> => {
    opening ??= open(factory, () => {
      opening = undefined;
    }).catch((error: unknown) => {
      opening = undefined;
      throw error;
    });
    return opening;
  };
  const run = async <T>(
    boxes: Box[],
    mode: IDBTransactionMode,
    work: (use: IDBTransaction) => IDBRequest<T> | null,
  ) => {
    const database = await connect();
    return new Promise<T | undefined>((resolve, reject) => {
      const transaction = database.transaction(boxes, mode);
      const request = work(transaction);
      transaction.oncomplete = () => resolve(request?.result);
      transaction.onerror = () => reject(transaction.error ?? new Error("The database refused."));
      transaction.onabort = () => reject(transaction.error ?? new Error("The database gave up."));
    });
  };
  return {
    get: (box, key) => run([box], "readonly", (use) => use.objectStore(box).get(key)),
    async all(box) {
      const keys = (await run([box], "readonly", (use) => use.objectStore(box).getAllKeys())) ?? [];
      const pairs: [string, unknown][] = [];
      for (const key of keys) pairs.push([String(key), await this.get(box, String(key))]);
      return pairs;
    },
    async put(box, key, value) {
      await run([box], "readwrite", (use) => use.objectStore(box).put(value, key));
    },
    async putTogether(entries) {
      const boxes = [...new Set(entries.map(({ box }) => box))];
      await run(boxes, "readwrite", (use) => {
        for (const { box, key, value } of entries) use.objectStore(box).put(value, key);
        return null;
      });
    },
    async remove(box, key) {
      await run([box], "readwrite", (use) => use.objectStore(box).delete(key));
    },
    async clear(box) {
      await run([box], "readwrite", (use) => use.objectStore(box).clear());
    },
  };
}

function open(factory: IDBFactory, onLost: () => void): Promise<IDBDatabase> {
  return new Promise((resolve, reject) => {
    const request = factory.open(NAME, VERSION);
    request.onupgradeneeded = () => {
      for (const box of BOXES) {
        if (!request.result.objectStoreNames.contains(box)) request.result.createObjectStore(box);
      }
    };
    request.onerror = () => reject(request.error ?? new Error("The database could not be opened."));
    request.onblocked = () => reject(new Error("Another window holds an older version of the database open."));
    request.onsuccess = () => {
      const database = request.result;
      database.onversionchange = () => database.close();
      database.onclose = onLost;
      resolve(database);
    };
  });
}
