/** What a person has set: language, contrast, how marks look. One record; what is missing has its default. */
import * as z from "zod";
import type { RecordKind, Records } from "./records.ts";

/** The schema of the settings; what is missing has its default. */
export const settingsSchema = z.object({
  /** `auto` follows the browser; else a folder name of `_locales`. */
  language: z.string().max(35).default("auto"),
  /** Light, dark or as the system (in a page: as the page) has it. */
  scheme: z.enum(["system", "light", "dark"]).default("system"),
  /** `more` draws stronger lines and no soft greys. */
  contrast: z.enum(["system", "more"]).default("system"),
  /** Marks stand on switched-on sites at once; if not, they wait until somebody shows them. */
  showMarks: z.boolean().default(true),
  /** Marks with their word, or the sign alone. */
  marks: z.enum(["words", "signs"]).default("words"),
  /** Which tiers are dimmed on listing pages until told otherwise. */
  dim: z.enum(["nothing", "stop", "all-but-go"]).default("nothing"),
});

/** What a person has set. */
export type Settings = z.infer<typeof settingsSchema>;

/** What holds before anybody has set anything. */
export const DEFAULT_SETTINGS: Settings = settingsSchema.parse({});

const KEY = "settings";
const settingsKind: RecordKind<Settings> = { version: 1, schema: settingsSchema, migrations: {} };

/** The settings record. */
export class SettingsStore {
  readonly #records: Records;

  constructor(records: Records) {
    this.#records = records;
  }

  async get(): Promise<Settings> {
    return (await this.#records.read(KEY, settingsKind))?.value ?? DEFAULT_SETTINGS;
  }

  /** Changes some settings and gives all of them. */
  async change(changes: Partial<Settings>): Promise<Settings> {
    const value = { ...(await this.get()), ...changes };
    await this.#records.write([{ key: KEY, value }], settingsKind);
    return value;
  }
}
