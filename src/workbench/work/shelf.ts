/** The catalogs that are consulted, opened once and kept in memory until one of them changes. */
import { buildIndex, type CatalogIndex, sliceFor } from "../../catalog/index.ts";
import type { Device } from "../../formats/bench.ts";
import type { Catalog } from "../../formats/catalog.ts";
import type { CatalogStore } from "../../store/catalogs.ts";

/** The active catalogs, and those that could not be read. */
export interface OpenCatalogs {
  readonly catalogs: readonly Catalog[];
  /** Titles of catalogs whose stored text can no longer be read. */
  readonly unreadable: readonly string[];
}

/** All active catalogs indexed; equal stamps mean equal catalogs. */
export interface CatalogsNow {
  readonly index: CatalogIndex;
  readonly stamp: string;
  /** Titles of catalogs that could not be read and were left out. */
  readonly unreadable: readonly string[];
}

/** Keeps the active catalogs open. */
export class Shelf {
  readonly #store: CatalogStore;
  #stamp: string | null = null;
  #opening: Promise<OpenCatalogs> | null = null;
  #whole: { readonly of: OpenCatalogs; readonly index: CatalogIndex } | null = null;

  constructor(store: CatalogStore) {
    this.#store = store;
  }

  /** The active catalogs as they are now. */
  async open(): Promise<OpenCatalogs> {
    const stamp = await this.#store.stamp();
    if (this.#opening === null || stamp !== this.#stamp) {
      this.#stamp = stamp;
      this.#opening = this.#read();
    }
    return this.#opening;
  }

  /** An index of what concerns these devices, and no more: catalogs may hold a million numbers. */
  async indexFor(devices: readonly Device[]): Promise<CatalogIndex> {
    const { catalogs } = await this.open();
    return buildIndex(sliceFor(catalogs, devices));
  }

  /** An index of everything, made once for as long as no catalog changes. */
  async whole(): Promise<CatalogsNow> {
    const opened = await this.open();
    if (this.#whole?.of !== opened) this.#whole = { of: opened, index: buildIndex(opened.catalogs) };
    return { index: this.#whole.index, stamp: this.#stamp ?? "", unreadable: opened.unreadable };
  }

  async #read(): Promise<OpenCatalogs> {
    const catalogs: Catalog[] = [];
    const unreadable: string[] = [];
    for (const note of await this.#store.list()) {
      if (!note.active) continue;
      const opened = await this.#store.open(note.id);
      if (opened.ok) catalogs.push(opened.value);
      else unreadable.push(note.title || note.id);
    }
    return { catalogs, unreadable };
  }
}
