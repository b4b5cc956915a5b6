import rules from "falsefit:rules";
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, describe, expect, it } from "vitest";
import { readBench } from "../../src/formats/bench.ts";
import { type Catalog, readCatalog } from "../../src/formats/catalog.ts";
import { packFiles, type ReadCatalogs } from "../../src/headless/catalogs.ts";
import { makeLineJudge } from "../../src/headless/judge-lines.ts";
import { loadWords } from "../../src/headless/say.ts";

const words = await loadWords("en");
const folder = mkdtempSync(join(tmpdir(), "falsefit-catalogs-"));
afterAll(() => rmSync(folder, { recursive: true }));

const LISTINGS = fileURLToPath(new URL("../../fixtures/listings/", import.meta.url));
/** One listing in so many is judged. */
const EACH = 8;
const named = (ending: string): string[] =>
  readdirSync(LISTINGS)
    .filter((name) => name.endsWith(ending))
    .map((name) => join(LISTINGS, name));

function file(name: string, contents: string | Uint8Array): string {
  const path = join(folder, name);
  writeFileSync(path, contents);
  return path;
}

describe("catalog files packed", () => {
  it("judge labelled listings of every family as catalogs kept whole do", () => {
    const files = named(".catalog.json");
    const packed = packFiles(files, 0);
    if (packed === null) throw new Error("not packed");
    const catalogs = files.map((path): Catalog => {
      const read = readCatalog(readFileSync(path, "utf8"));
      if (!read.ok) throw new Error(path);
      return read.value;
    });
    for (const path of named(".bench.json")) {
      const bench = readBench(readFileSync(path, "utf8"));
      const devices = bench.ok ? bench.value.devices.slice(0, 2) : [];
      const [labelled] = ["open", "sealed"]
        .map((half) => path.replace(".bench.json", `.${half}.ndjson`))
        .filter(existsSync);
      if (labelled === undefined) throw new Error(`no listings beside ${path}`);
      const text = readFileSync(labelled, "utf8");
      const some = text.split("\n").filter((_, i) => i % EACH === 0);
      const lines = new TextEncoder().encode(some.join("\n"));
      const judge = (read: ReadCatalogs) =>
        makeLineJudge({ catalogs: read, devices, everyListing: true }, rules, words)(lines, 1);
      const judged = judge({ kind: "packed", packed });
      expect(judged.judged).toBeGreaterThan(10);
      expect(judged).toEqual(judge({ kind: "plain", catalogs }));
    }
  }, 60_000);

  it("lie in memory that threads share", () => {
    const packed = packFiles(named("heron.catalog.json"), 0);
    const arrays = [packed?.texts[0], packed?.numbers, packed?.parts.spans, packed?.listing, packed?.partIds.slots];
    for (const array of arrays) expect(array?.buffer).toBeInstanceOf(SharedArrayBuffer);
  });

  it("are left to be read whole where they are small, no catalogs, not UTF-8 or not there", () => {
    const good = file("good.catalog.json", '{ "format": "falsefit-catalog/1" }');
    expect(packFiles([good], 0)).not.toBeNull();
    expect(packFiles([good], 1_000)).toBeNull();
    expect(packFiles([good, file("bad.catalog.json", '{ "format": "falsefit-catalog/9" }')], 0)).toBeNull();
    expect(packFiles([file("broken.catalog.json", Uint8Array.of(0x7b, 0xff, 0x7d))], 0)).toBeNull();
    expect(packFiles([join(folder, "missing.catalog.json")], 0)).toBeNull();
    expect(packFiles([folder], 0)).toBeNull();
  });
});
