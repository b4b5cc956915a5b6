/**
 * The file that holds everything: the bench, the catalogs as they came, settings, and which sites were switched on.
 * `{ "format": "falsefit-backup/1", … }`; what is inside has the formats of its own.
 */
import * as z from "zod";
import { BENCH_FORMAT, type Bench, checkBench } from "../../formats/bench.ts";
import { type Catalog, checkCatalog } from "../../formats/catalog.ts";
import {
  checkAgainst,
  checkFormat,
  type Fault,
  identifier,
  MAX_FAULTS,
  type Outcome,
  readJson,
} from "../../formats/common.ts";
import { type CatalogOrigin, originSchema } from "../../store/catalogs.ts";
import { type SerialPattern, serialPatternsSchema } from "../../store/serial-patterns.ts";
import { type Settings, settingsSchema } from "../../store/settings.ts";

/** The value of `format` in a backup. */
export const BACKUP_FORMAT = "falsefit-backup/1";
/** Longest backup that is read, in UTF-16 code units: several large catalogs. */
export const MAX_BACKUP_CHARS = 256 * 1024 * 1024;

const shell = z.strictObject({
  format: z.literal(BACKUP_FORMAT),
  savedAt: z.string().max(40),
  bench: z.unknown(),
  catalogs: z
    .array(z.strictObject({ id: identifier, origin: originSchema, active: z.boolean(), catalog: z.unknown() }))
    .max(1_000),
  settings: settingsSchema,
  sites: z.array(z.string().max(300)).max(1_000),
  serialPatterns: serialPatternsSchema.default([]),
});

/** A catalog of a backup. */
export interface SavedCatalog {
  readonly id: string;
  readonly origin: CatalogOrigin;
  readonly active: boolean;
  readonly catalog: Catalog;
}

/** A backup, read. */
export interface Backup {
  readonly savedAt: string;
  readonly bench: Bench;
  readonly catalogs: readonly SavedCatalog[];
  readonly settings: Settings;
  /** Sites that were switched on; the browser has to be asked for each of them anew. */
  readonly sites: readonly string[];
  /** Where in serial numbers the build date stands, by model. */
  readonly serialPatterns: readonly SerialPattern[];
}

/** Reads a backup, or a bench file as a backup of nothing else; every fault is named by its field. */
export function readBackup(text: string): Outcome<Backup> {
  const json = readJson(text, MAX_BACKUP_CHARS);
  if (!json.ok) return json;
  if (formatOf(json.value) === BENCH_FORMAT) {
    const bench = checkBench(json.value);
    return bench.ok ? { ok: true, value: { ...NOTHING, bench: bench.value } } : bench;
  }
  const format = checkFormat(json.value, "falsefit-backup", 1);
  if (!format.ok) return format;
  const outer = checkAgainst(shell, format.value);
  if (!outer.ok) return outer;
  const { savedAt, settings, sites, serialPatterns } = outer.value;
  const bench = checkBench(outer.value.bench);
  const faults: Fault[] = bench.ok ? [] : under("bench", bench.faults);
  const catalogs = outer.value.catalogs.flatMap(({ catalog, ...saved }, i) => {
    const checked = checkCatalog(catalog);
    if (checked.ok) return [{ ...saved, catalog: checked.value }];
    faults.push(...under(`catalogs[${i}].catalog`, checked.faults));
    return [];
  });
  if (!bench.ok || faults.length > 0) return { ok: false, faults: faults.slice(0, MAX_FAULTS) };
  return { ok: true, value: { savedAt, bench: bench.value, catalogs, settings, sites, serialPatterns } };
}

const NOTHING = { savedAt: "", catalogs: [], settings: settingsSchema.parse({}), sites: [], serialPatterns: [] };

function formatOf(value: unknown): unknown {
  return typeof value === "object" && value !== null && "format" in value ? value.format : undefined;
}

function under(field: string, faults: readonly Fault[]): Fault[] {
  return faults.map((fault) => ({ ...fault, field: fault.field === "" ? field : `${field}.${fault.field}` }));
}
