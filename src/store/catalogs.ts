/**
 * The catalogs. Each is kept as the text it came as and checked again whenever it is opened; what is said about
 * it lies apart, so that listing a hundred catalogs opens none. Catalogs can be large, and a page needs only what
 * concerns one device: that slice is kept too, stamped with what it was made from.
 */
import * as z from "zod";
import { type Catalog, checkCatalog, readCatalog } from "../formats/catalog.ts";
import { fault, identifier, type Outcome, shortText } from "../formats/common.ts";
import type { Clock } from "./area.ts";
import type { Database } from "./database.ts";

const noteSchema = z.object({
  id: identifier,
  title: shortText,
  /** Where it came from. */
  origin: z.discriminatedUnion("kind", [
    z.object({ kind: z.literal("file"), name: shortText.optional() }),
    z.object({ kind: z.literal("address"), address: shortText, hash: z.string().max(200) }),
    z.object({ kind: z.literal("example") }),
    z.object({ kind: z.literal("made") }),
  ]),
  addedAt: z.string().max(40),
  changedAt: z.string().max(40),
  /** A catalog that is switched off is kept but not consulted. */
  active: z.boolean(),
  families: z.number().int(),
  parts: z.number().int(),
  numbers: z.number().int(),
  /** Length of the text in UTF-16 code units. */
  chars: z.number().int(),
});

/** Where a catalog came from; backups carry it too. */
export const originSchema = noteSchema.shape.origin;
/** What is said about a catalog without opening it. */
export type CatalogNote = z.infer<typeof noteSchema>;
/** Where a catalog came from. */
export type CatalogOrigin = CatalogNote["origin"];

/** The catalogs and the slices made from them. */
export class CatalogStore {
  readonly #database: Database;
  readonly #now: Clock;
  readonly #changed: () => Promise<void>;

  /** @param changed tells the other windows, which the database cannot */
  constructor(database: Database, now: Clock, changed: () => Promise<void>) {
    this.#database = database;
    this.#now = now;
    this.#changed = changed;
  }

  /** What is said about each catalog, oldest first. */
  async list(): Promise<CatalogNote[]> {
    const notes: CatalogNote[] = [];
    for (const [, raw] of await this.#database.all("catalog-notes")) {
      const note = noteSchema.safeParse(raw);
      if (note.success) notes.push(note.data);
    }
    return notes.sort((a, b) => (a.addedAt === b.addedAt ? (a.id < b.id ? -1 : 1) : a.addedAt < b.addedAt ? -1 : 1));
  }

  /** Opens a catalog; the outcome lists the faults when its stored text can no longer be read. */
  async open(id: string): Promise<Outcome<Catalog>> {
    const text = await this.text(id);
    return text === undefined ? fault("", "There is no catalog with this id.") : readCatalog(text);
  }

  /** A catalog's text as it was stored, readable or not. */
  async text(id: string): Promise<string | undefined> {
    const text = await this.#database.get("catalogs", id);
    return typeof text === "string" ? text : undefined;
  }

  /** Checks a catalog's text and keeps it; nothing is stored when it has faults. Same id: replaced. */
  async save(id: string, text: string, origin: CatalogOrigin): Promise<Outcome<CatalogNote>> {
    const read = readCatalog(text);
    if (!read.ok) return read;
    const now = this.#now().toISOString();
    const before = (await this.list()).find((each) => each.id === id);
    const note: CatalogNote = {
      id,
      title: read.value.title ?? "",
      origin,
      addedAt: before?.addedAt ?? now,
      changedAt: now,
      active: before?.active ?? true,
      families: read.value.families.length,
      parts: read.value.parts.length,
      numbers: read.value.parts.reduce((sum, part) => sum + part.numbers.length, 0),
      chars: text.length,
    };
    await this.#database.putTogether([
      { box: "catalogs", key: id, value: text },
      { box: "catalog-notes", key: id, value: note },
    ]);
    await this.#changed();
    return { ok: true, value: note };
  }

  /** Switches a catalog on or off without losing it. */
  async setActive(id: string, active: boolean): Promise<void> {
    const note = (await this.list()).find((each) => each.id === id);
    if (note === undefined) return;
    const changedAt = this.#now().toISOString();
    await this.#database.put("catalog-notes", id, { ...note, active, changedAt });
    await this.#changed();
  }

  /** Removes a catalog and gives its text back, for undo. */
  async remove(id: string): Promise<{ note: CatalogNote; text: string } | undefined> {
    const note = (await this.list()).find((each) => each.id === id);
    const text = await this.text(id);
    await this.#database.remove("catalogs", id);
    await this.#database.remove("catalog-notes", id);
    await this.#changed();
    return note === undefined || text === undefined ? undefined : { note, text };
  }

  /** Changes whenever any active catalog does. */
  async stamp(): Promise<string> {
    const active = (await this.list()).filter((note) => note.active);
    return active.map(({ id, changedAt }) => `${id}@${changedAt}`).join(" ");
  }

  /** The kept slice of a device, if it was made from exactly this. */
  async slice(deviceId: string, stamp: string): Promise<Catalog[] | undefined> {
    const kept = sliceSchema.safeParse(await this.#database.get("slices", deviceId));
    if (!kept.success || kept.data.stamp !== stamp) return undefined;
    const catalogs: Catalog[] = [];
    for (const raw of kept.data.catalogs) {
      const checked = checkCatalog(raw);
      if (!checked.ok) return undefined;
      catalogs.push(checked.value);
    }
    return catalogs;
  }

  /** Keeps a device's slice. */
  async keepSlice(deviceId: string, stamp: string, catalogs: readonly Catalog[]): Promise<void> {
    await this.#database.put("slices", deviceId, { stamp, catalogs });
  }
}

const sliceSchema = z.object({ stamp: z.string(), catalogs: z.array(z.unknown()) });
