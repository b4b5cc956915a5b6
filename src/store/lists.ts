/**
 * The order list and the stock list that are being checked: the list itself as it came, how far its check has got
 * (`head`), and the judged lines in chunks. Head and lines are written together, so that after a reload, or when
 * the disk is full, what lies here always belongs together. What the head and the lines hold is the desk's affair;
 * its schemas are handed in, and what fails them is as good as not there.
 */
import * as z from "zod";
import type { Box, Database } from "./database.ts";

/** Which of the two lists. */
export type ListSlot = "order" | "stock";

/** A list as it came. */
export interface ListSource {
  readonly name: string;
  readonly content: Blob;
}

const LINES: Readonly<Record<ListSlot, Box>> = { order: "order-lines", stock: "stock-lines" };
const sourceSchema = z.object({
  name: z.string().max(2_000),
  content: z.custom<Blob>((value) => value instanceof Blob),
});

/** The lists being checked. */
export class ListStore {
  readonly #database: Database;

  constructor(database: Database) {
    this.#database = database;
  }

  /** Takes a new list; whatever lay in the slot is gone. */
  async start(slot: ListSlot, source: ListSource, head: unknown): Promise<void> {
    await this.drop(slot);
    await this.#database.putTogether([
      { box: "lists", key: `${slot}/source`, value: source },
      { box: "lists", key: `${slot}/head`, value: head },
    ]);
  }

  /** The list as it came. */
  async source(slot: ListSlot): Promise<ListSource | undefined> {
    return sourceSchema.safeParse(await this.#database.get("lists", `${slot}/source`)).data;
  }

  /** How far the check has got. */
  async head<T>(slot: ListSlot, schema: z.ZodType<T>): Promise<T | undefined> {
    return schema.safeParse(await this.#database.get("lists", `${slot}/head`)).data;
  }

  /** Keeps how far the check has got together with the chunks of lines judged since. */
  async keep(slot: ListSlot, head: unknown, chunks: readonly { chunk: number; lines: unknown }[]): Promise<void> {
    await this.#database.putTogether([
      { box: "lists", key: `${slot}/head`, value: head },
      ...chunks.map(({ chunk, lines }) => ({ box: LINES[slot], key: chunkKey(chunk), value: lines })),
    ]);
  }

  /** One chunk of judged lines. */
  async lines<T>(slot: ListSlot, chunk: number, schema: z.ZodType<T>): Promise<T | undefined> {
    return schema.safeParse(await this.#database.get(LINES[slot], chunkKey(chunk))).data;
  }

  /** Empties a slot. */
  async drop(slot: ListSlot): Promise<void> {
    await this.#database.remove("lists", `${slot}/source`);
    await this.#database.remove("lists", `${slot}/head`);
    await this.#database.clear(LINES[slot]);
  }
}

function chunkKey(chunk: number): string {
  return String(chunk).padStart(8, "0");
}
