/** Keeps the catalog that is being looked at open, and what catalogs were before their latest changes. */
import { type Catalog, checkCatalog } from "../../formats/catalog.ts";
import { fault, type Outcome } from "../../formats/common.ts";
import type { CatalogNote, CatalogOrigin, CatalogStore } from "../../store/catalogs.ts";
import { type CatalogChange, changedCatalog } from "../catalogs/change.ts";
import { catalogText } from "./catalog-info.ts";

/** A text to be kept as a catalog. */
export interface AddedCatalog {
  readonly id: string;
  readonly text: string;
  readonly origin: CatalogOrigin;
  /** False keeps it without consulting it; as before where left out. */
  readonly active?: boolean;
}

/** A catalog that was kept, and how to take that back. */
export interface KeptCatalog {
  readonly note: CatalogNote;
  readonly undo: number;
}

/** How a catalog was before a change; without one it was not there. */
interface Before {
  readonly id: string;
  readonly kept: { readonly text: string; readonly note: CatalogNote } | null;
}

/** How many changes can be taken back. */
const UNDO_KEPT = 4;

/** Every change goes through it, so that it can be taken back. */
export class CatalogKeeper {
  readonly #store: CatalogStore;
  #opened: { readonly id: string; readonly changedAt: string; readonly outcome: Outcome<Catalog> } | null = null;
  readonly #before = new Map<number, readonly Before[]>();
  #turn = 0;

  constructor(store: CatalogStore) {
    this.#store = store;
  }

  async open(id: string): Promise<Outcome<Catalog>> {
    const changedAt = (await this.#note(id))?.changedAt ?? "";
    if (this.#opened?.id !== id || this.#opened.changedAt !== changedAt) {
      this.#opened = { id, changedAt, outcome: await this.#store.open(id) };
    }
    return this.#opened.outcome;
  }

  async add({ id, text, origin, active }: AddedCatalog): Promise<Outcome<KeptCatalog>> {
    const before = await this.#snapshot(id);
    const saved = await this.#store.save(id, text, origin);
    if (!saved.ok) return saved;
    if (active !== undefined && active !== saved.value.active) await this.#store.setActive(id, active);
    return {
      ok: true,
      value: { note: { ...saved.value, active: active ?? saved.value.active }, undo: this.#remember([before]) },
    };
  }

  /** Keeps several at once; all of them are taken back together. Texts that cannot be read are skipped. */
  async addAll(all: readonly AddedCatalog[]): Promise<number> {
    const before: Before[] = [];
    for (const added of all) {
      const snapshot = await this.#snapshot(added.id);
      const kept = await this.add(added);
      if (kept.ok) before.push(snapshot);
    }
    return this.#remember(before);
  }

  async remove(id: string): Promise<{ note: CatalogNote; undo: number } | null> {
    const before = await this.#snapshot(id);
    await this.#store.remove(id);
    return before.kept === null ? null : { note: before.kept.note, undo: this.#remember([before]) };
  }

  async change(id: string, change: CatalogChange): Promise<Outcome<{ undo: number }>> {
    const opened = await this.open(id);
    if (!opened.ok) return opened;
    const note = await this.#note(id);
    if (note === undefined) return fault("", "There is no catalog with this id.");
    const checked = checkCatalog(changedCatalog(opened.value, change));
    if (!checked.ok) return checked;
    const before = await this.#snapshot(id);
    const saved = await this.#store.save(id, catalogText(checked.value), note.origin);
    return saved.ok ? { ok: true, value: { undo: this.#remember([before]) } } : saved;
  }

  async undo(turn: number): Promise<void> {
    const before = this.#before.get(turn);
    if (before === undefined) return;
    this.#before.delete(turn);
    for (const each of before) await this.#putBack(each);
  }

  async #putBack({ id, kept }: Before): Promise<void> {
    if (kept === null) {
      await this.#store.remove(id);
      return;
    }
    await this.#store.save(id, kept.text, kept.note.origin);
    if ((await this.#note(id))?.active !== kept.note.active) await this.#store.setActive(id, kept.note.active);
  }

  async #note(id: string): Promise<CatalogNote | undefined> {
    return (await this.#store.list()).find((note) => note.id === id);
  }

  async #snapshot(id: string): Promise<Before> {
    const [note, text] = [await this.#note(id), await this.#store.text(id)];
    return { id, kept: note === undefined || text === undefined ? null : { text, note } };
  }

  #remember(before: readonly Before[]): number {
    const turn = ++this.#turn;
    this.#before.set(turn, before);
    this.#before.delete(turn - UNDO_KEPT);
    return turn;
  }
}
