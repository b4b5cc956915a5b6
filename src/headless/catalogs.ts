/** The catalogs of a command line, kept as is best for their size: as objects, or packed in memory that threads share. */
import { isUtf8 } from "node:buffer";
import { closeSync, openSync, readSync, statSync } from "node:fs";
import { buildIndex, type CatalogIndex, indexOver } from "../catalog/index.ts";
import { packCatalogs } from "../catalog/pack.ts";
import type { PackedCatalogs } from "../catalog/packed.ts";
import { packedKnowledge } from "../catalog/packed-knowledge.ts";
import type { Catalog } from "../formats/catalog.ts";
import { MAX_FILE_CHARS } from "../formats/common.ts";
import type { Words } from "../text/words.ts";
import type { Arguments } from "./arguments.ts";
import { loadCatalog } from "./load.ts";

/** Catalogs of this size together are packed, in bytes. */
const PACKED_BYTES = 4 * 1024 * 1024;

/** Catalogs that were read; can be sent to a thread. */
export type ReadCatalogs =
  | { readonly kind: "plain"; readonly catalogs: readonly Catalog[] }
  | { readonly kind: "packed"; readonly packed: PackedCatalogs };

/** The catalogs that a command line names; faults are added to `faults`. */
export function readCatalogs(given: Arguments, words: Words, faults: string[]): ReadCatalogs {
  const files = given.values("catalog");
  const packed = packFiles(files, PACKED_BYTES);
  if (packed !== null) return { kind: "packed", packed };
  const catalogs = files.flatMap((file) => {
    const loaded = loadCatalog(file, words);
    if ("value" in loaded) return [loaded.value];
    faults.push(...loaded.faults);
    return [];
  });
  return { kind: "plain", catalogs };
}

/** The index of catalogs that were read. */
export function indexOf(read: ReadCatalogs): CatalogIndex {
  return read.kind === "plain" ? buildIndex(read.catalogs) : indexOver(packedKnowledge(read.packed, decode));
}

/**
 * Packs catalog files; `null` where they are small, or where one cannot be packed: reading it whole says why.
 *
 * @param least smallest size of all files together, in bytes
 */
export function packFiles(files: readonly string[], least: number): PackedCatalogs | null {
  const sizes = files.map(sizeOf);
  const whole = sizes.reduce((sum, size) => sum + size, 0);
  if (whole < least || sizes.some((size) => size < 0 || size > MAX_FILE_CHARS)) return null;
  const texts: Uint8Array[] = [];
  for (const [i, file] of files.entries()) {
    const text = sharedBytes(file, sizes[i] ?? 0);
    if (text === null || !isUtf8(text)) return null;
    texts.push(text);
  }
  return packCatalogs(texts, { decode, allocate: (bytes) => new SharedArrayBuffer(bytes) });
}

/** Size of a regular file in bytes; -1 for anything else. */
function sizeOf(file: string): number {
  const stats = statSync(file, { throwIfNoEntry: false });
  return stats?.isFile() === true ? stats.size : -1;
}

/** A file in memory that threads share; `null` where it cannot be read or changes meanwhile. */
function sharedBytes(file: string, size: number): Uint8Array | null {
  const bytes = new Uint8Array(new SharedArrayBuffer(size));
  try {
    const descriptor = openSync(file, "r");
    try {
      let at = 0;
      for (let taken = -1; taken !== 0 && at < size; at += taken)
        taken = readSync(descriptor, bytes, at, size - at, null);
      return at === size ? bytes : null;
    } finally {
      closeSync(descriptor);
    }
  } catch {
    // Whoever reads the file whole says why it cannot be read.
    return null;
  }
}

function decode(bytes: Uint8Array): string {
  return Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength).toString("utf8");
}
