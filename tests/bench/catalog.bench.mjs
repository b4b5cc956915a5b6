// @ts-check
/**
 * A catalog of 1,000,000 numbers: what its tables take and how soon they are opened, and what the command takes with it:
 * processor time and peak memory without threads and with two.
 *
 *   NUMBERS=100000 npm run bench -- catalog
 */
import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { bigCatalog, partNumber } from "./big-catalog.mjs";
import { load } from "./load.mjs";

const NUMBERS = Number(process.env["NUMBERS"] ?? 1_000_000);
const LINES = 20_000;
const COMMAND = fileURLToPath(new URL("../../src/headless/launch.mjs", import.meta.url));
const print = (/** @type {string} */ name, /** @type {string} */ figure) => console.log(`${name.padEnd(44)} ${figure}`);

const folder = mkdtempSync(join(tmpdir(), "falsefit-bench-"));
try {
  const file = (/** @type {string} */ name) => join(folder, name);
  writeFileSync(file("big.catalog.json"), JSON.stringify(bigCatalog(NUMBERS)));
  writeFileSync(
    file("one.bench.json"),
    JSON.stringify({
      format: "falsefit-bench/1",
      devices: [{ id: "d", name: "d", modelNumbers: ["MD-7"], boardNumber: "BD-7-0" }],
    }),
  );
  const titles = Array.from(
    { length: LINES },
    (_, i) => `Part ${partNumber((i * 7919) % NUMBERS)} for MD-${i % 5_000}, new`,
  );
  writeFileSync(file("feed.ndjson"), titles.map((title, i) => `${JSON.stringify({ id: `L${i}`, title })}\n`).join(""));
  await tables(file("big.catalog.json"));
  spawnSync(process.execPath, [COMMAND, "--version"]);
  for (const workers of [0, 1, 2]) command(workers, file);
} finally {
  rmSync(folder, { recursive: true, force: true });
}

/** @param {string} file */
async function tables(file) {
  const { packFiles, indexOf } = await load('export { packFiles, indexOf } from "./src/headless/catalogs.ts";');
  const before = process.cpuUsage();
  const packed = packFiles([file], 0);
  print("packed", `${(process.cpuUsage(before).user / 1000).toFixed(0)} ms of processor time`);
  const { texts, ...rest } = packed;
  print("text of the catalog", `${(bytesIn(texts) / 1e6).toFixed(1)} MB`);
  print("tables beside it", `${(bytesIn(rest) / 1e6).toFixed(1)} MB`);
  const start = performance.now();
  const index = indexOf({ kind: "packed", packed });
  index.resolveNumber(partNumber(4_711));
  print("opened, with a first answer", `${(performance.now() - start).toFixed(1)} ms`);
}

/**
 * @param {unknown} value
 * @returns {number}
 */
function bytesIn(value) {
  if (ArrayBuffer.isView(value)) return value.byteLength;
  if (typeof value !== "object" || value === null) return 0;
  return Object.values(value).reduce((sum, each) => sum + bytesIn(each), 0);
}

/**
 * @param {number} workers
 * @param {(name: string) => string} file
 */
function command(workers, file) {
  const words = ["check", "--catalog", file("big.catalog.json"), "--bench", file("one.bench.json"), "--device", "d"];
  const script = `process.on("exit", () => {
    const { userCPUTime, maxRSS } = process.resourceUsage();
    process.stderr.write(JSON.stringify([userCPUTime / 1e6, maxRSS / 1024]));
  });`;
  const { stderr } = spawnSync(
    process.execPath,
    [
      "--import",
      `data:text/javascript,${encodeURIComponent(script)}`,
      fileURLToPath(new URL("../../dist/command/falsefit.mjs", import.meta.url)),
      ...words,
      "--workers",
      String(workers),
      file("feed.ndjson"),
    ],
    { stdio: ["ignore", "ignore", "pipe"], encoding: "utf8" },
  );
  const [seconds = Number.NaN, megabytes = Number.NaN] = JSON.parse(stderr);
  print(
    `check, ${LINES} lines, ${workers} threads`,
    `${seconds.toFixed(1)} s of processor time, ${megabytes.toFixed(0)} MB at most`,
  );
}
