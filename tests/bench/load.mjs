// @ts-check
/** Bundles a TypeScript module of the project and imports it, for benchmarks that run in plain Node. */
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { build } from "esbuild";
import { rulesForEsbuild } from "../../manifest/rules-plugin.mjs";

const ROOT = fileURLToPath(new URL("../..", import.meta.url));

/**
 * @param {string} contents source of an entry module with imports such as `./src/text/fold.ts`, seen from the root
 * @returns {Promise<any>} the module's exports
 */
export async function load(contents) {
  const folder = mkdtempSync(join(tmpdir(), "falsefit-bench-"));
  const outfile = join(folder, "module.mjs");
  try {
    await build({
      absWorkingDir: ROOT,
      stdin: { contents, resolveDir: ROOT, loader: "ts" },
      bundle: true,
      platform: "node",
      format: "esm",
      target: "node20",
      outfile,
      plugins: [rulesForEsbuild()],
      logLevel: "warning",
    });
    return await import(pathToFileURL(outfile).href);
  } finally {
    rmSync(folder, { recursive: true });
  }
}
