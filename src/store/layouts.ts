/**
 * Column layouts that a person has corrected, by the heading they belong to: the next list of the same shape is
 * read the same way without asking. One record; the oldest layout gives way when there are too many.
 */
import * as z from "zod";
import type { RecordKind, Records } from "./records.ts";

/** Most layouts that are remembered. */
const MAX_LAYOUTS = 50;
/** Longest heading that is remembered, in UTF-16 code units. */
const MAX_HEADING_CHARS = 4_000;

const layoutSchema = z.object({
  /** The heading row as one text. */
  heading: z.string().min(1).max(MAX_HEADING_CHARS),
  /** Zero-based column of each thing that is read. */
  columns: z.record(z.string().max(60), z.number().int().min(0).max(10_000)),
  decimalMark: z.enum([",", "."]),
  currency: z.string().max(3).nullable(),
});

/** How the columns under one heading are read. */
export type Layout = z.infer<typeof layoutSchema>;

const KEY = "layouts";
const layoutsKind: RecordKind<Layout[]> = {
  version: 1,
  schema: z.array(layoutSchema).max(MAX_LAYOUTS),
  migrations: {},
};

/** The remembered layouts. */
export class LayoutStore {
  readonly #records: Records;

  constructor(records: Records) {
    this.#records = records;
  }

  /** The layout of a heading, where a person has laid one down. */
  async find(heading: string): Promise<Layout | undefined> {
    return heading === "" ? undefined : (await this.#all()).find((layout) => layout.heading === heading);
  }

  /** Remembers a layout; a list without a heading, or with an endless one, is not remembered. */
  async keep(layout: Layout): Promise<void> {
    if (layout.heading === "" || layout.heading.length > MAX_HEADING_CHARS) return;
    const others = (await this.#all()).filter(({ heading }) => heading !== layout.heading);
    await this.#records.write([{ key: KEY, value: [layout, ...others].slice(0, MAX_LAYOUTS) }], layoutsKind);
  }

  async #all(): Promise<readonly Layout[]> {
    return (await this.#records.read(KEY, layoutsKind))?.value ?? [];
  }
}
