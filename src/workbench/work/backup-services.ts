/** Writing everything into one file and reading it again, beside the page. */
import type { Bench } from "../../formats/bench.ts";
import { fault, type Outcome } from "../../formats/common.ts";
import type { CatalogStore } from "../../store/catalogs.ts";
import type { SerialPattern } from "../../store/serial-patterns.ts";
import type { Settings } from "../../store/settings.ts";
import { BACKUP_FORMAT, type Backup, MAX_BACKUP_CHARS, readBackup } from "../settings/backup-format.ts";
import { type CatalogInfo, catalogText, infoOf } from "./catalog-info.ts";
import type { CatalogKeeper } from "./catalog-keeper.ts";

/** What the page adds to a backup: the worker itself sees catalogs only. */
export interface BackupRequest {
  readonly savedAt: string;
  readonly bench: Bench;
  readonly settings: Settings;
  readonly sites: readonly string[];
  readonly serialPatterns: readonly SerialPattern[];
}

/** A catalog in a backup, in short. */
export interface FoundCatalog {
  readonly id: string;
  readonly info: CatalogInfo;
  /** True where a catalog with this id is here already. */
  readonly here: boolean;
}

/** A backup, read; its catalogs stay in the worker until they are restored. */
export interface FoundBackup extends Omit<Backup, "catalogs"> {
  readonly catalogs: readonly FoundCatalog[];
}

/** Longest file that is read: no character takes more than four bytes. */
const MOST_BYTES = 4 * MAX_BACKUP_CHARS;

/** Services about backups. */
export function backupServices(store: CatalogStore, keeper: CatalogKeeper) {
  let read: Backup | null = null;
  return {
    /** Everything as one file. A catalog whose text can no longer be read is left out and named. */
    async backUp({ bench, ...rest }: BackupRequest): Promise<{ content: Blob; leftOut: string[] }> {
      const head = JSON.stringify({ format: BACKUP_FORMAT, ...rest });
      const pieces: string[] = [head.slice(0, -1), ',"catalogs":['];
      const leftOut: string[] = [];
      let first = true;
      for (const { id, origin, active, title } of await store.list()) {
        const opened = await store.open(id);
        if (!opened.ok) {
          leftOut.push(title || id);
          continue;
        }
        pieces.push(`${first ? "" : ","}${JSON.stringify({ id, origin, active, catalog: opened.value })}`);
        first = false;
      }
      pieces.push('],"bench":', JSON.stringify(bench), "}\n");
      return { content: new Blob(pieces, { type: "application/json" }), leftOut };
    },
    /** Reads a backup or a bench file; nothing is changed. */
    async readBackup(content: Blob): Promise<Outcome<FoundBackup>> {
      if (content.size > MOST_BYTES)
        return fault("", `The file is ${content.size} bytes long; at most ${MOST_BYTES} are read.`);
      const outcome = readBackup(await content.text());
      if (!outcome.ok) return outcome;
      read = outcome.value;
      const here = new Set((await store.list()).map(({ id }) => id));
      const catalogs = read.catalogs.map(({ id, catalog }) => ({ id, info: infoOf(catalog), here: here.has(id) }));
      return { ok: true, value: { ...read, catalogs } };
    },
    /** Keeps some catalogs of the backup that was read last; those of the same id are replaced. */
    async restoreCatalogs(ids: readonly string[]): Promise<{ undo: number | null }> {
      const wanted = (read?.catalogs ?? []).filter(({ id }) => ids.includes(id));
      const added = wanted.map(({ id, origin, active, catalog }) => ({
        id,
        origin,
        active,
        text: catalogText(catalog),
      }));
      return { undo: added.length === 0 ? null : await keeper.addAll(added) };
    },
  };
}
