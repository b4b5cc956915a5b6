/**
 * Where in the serial numbers of a model the build date stands, as a person has typed it once: the next device of the
 * model is offered the same pattern. One record; the pattern that was used least lately gives way when there are too many.
 */
import * as z from "zod";
import { canonicalNumber } from "../text/part-number.ts";
import type { RecordKind, Records } from "./records.ts";

/** Most patterns that are remembered. */
const MAX_PATTERNS = 500;

const serialPatternSchema = z.object({
  /** Model number, canonical. */
  model: z.string().min(1).max(200),
  /** A mask as `src/readout/serial-mask.ts` reads it, such as `??YYWW*`. */
  pattern: z.string().min(1).max(80),
});

/** The schema of all of them, in a backup too. */
export const serialPatternsSchema = z.array(serialPatternSchema).max(MAX_PATTERNS);
/** A model's pattern. */
export type SerialPattern = z.infer<typeof serialPatternSchema>;

const KEY = "serial-patterns";
const kind: RecordKind<SerialPattern[]> = { version: 1, schema: serialPatternsSchema, migrations: {} };

/** The remembered patterns. */
export class SerialPatternStore {
  readonly #records: Records;

  constructor(records: Records) {
    this.#records = records;
  }

  /** The pattern of the first of some models, as printed, that has one. */
  async find(models: readonly string[]): Promise<string | undefined> {
    const all = await this.all();
    for (const model of models.map(canonicalNumber)) {
      const known = all.find((each) => each.model === model);
      if (known !== undefined) return known.pattern;
    }
    return undefined;
  }

  /** Remembers a pattern for models, in the place of what they had. */
  async keep(models: readonly string[], pattern: string): Promise<void> {
    const own = new Set(models.map(canonicalNumber).filter((model) => model !== ""));
    if (own.size === 0 || pattern === "") return;
    const others = (await this.all()).filter(({ model }) => !own.has(model));
    await this.replace([...[...own].map((model) => ({ model, pattern })), ...others]);
  }

  /** Adds patterns of models that have none. */
  async add(patterns: readonly SerialPattern[]): Promise<void> {
    const all = await this.all();
    const known = new Set(all.map(({ model }) => model));
    await this.replace([...all, ...patterns.filter(({ model }) => !known.has(model))]);
  }

  /** All of them, the latest first. */
  async all(): Promise<readonly SerialPattern[]> {
    return (await this.#records.read(KEY, kind))?.value ?? [];
  }

  /** Puts others in the place of all of them. */
  async replace(patterns: readonly SerialPattern[]): Promise<void> {
    await this.#records.write([{ key: KEY, value: patterns.slice(0, MAX_PATTERNS) }], kind);
  }
}
