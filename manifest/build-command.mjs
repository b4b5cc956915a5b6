// @ts-check
/**
 * Bundles the command `falsefit` into dist/command/: `falsefit.mjs` (the package's bin), `worker.mjs` (what each
 * thread runs), `page-reader.js` (the page reader as one script, for `read --in chromium`) and shared chunks.
 *
 * Files are written beside their place and renamed into it, chunks before entries, so that a command started
 * meanwhile finds either the old or the new build, whole.
 */
import { createHash } from "node:crypto";
import { mkdirSync, readdirSync, readFileSync, renameSync, rmSync, statSync, writeFileSync } from "node:fs";
import { dirname, join, relative } from "node:path";
import { fileURLToPath } from "node:url";

const ROOT = fileURLToPath(new URL("..", import.meta.url));
const OUT = join(ROOT, "dist/command");
const STAMP = join(OUT, "sources.txt");
/** A chunk that no entry names any more is kept this long, for commands that are still running. */
const KEPT_CHUNK_MS = 60 * 60 * 1000;

/** What the bundle depends on. */
const SOURCES = ["src", "rules", "manifest", "package.json", "package-lock.json"];

/**
 * A fingerprint of everything the bundle is made from: paths, sizes and times of change.
 *
 * @returns {string}
 */
export function commandSources() {
  const hash = createHash("sha256").update(process.version);
  for (const source of SOURCES) {
    for (const file of filesUnder(join(ROOT, source))) {
      const { size, mtimeMs } = statSync(file);
      hash.update(`${relative(ROOT, file)} ${size} ${mtimeMs}\n`);
    }
  }
  return hash.digest("hex");
}

/**
 * True when dist/command/ was built from exactly these sources.
 *
 * @param {string} sources what {@link commandSources} gave
 */
export function commandIsBuilt(sources) {
  try {
    return readFileSync(STAMP, "utf8") === sources;
  } catch (error) {
    if (/** @type {NodeJS.ErrnoException} */ (error).code === "ENOENT") return false;
    throw error;
  }
}

/** Bundles the command. @returns {Promise<string>} the folder */
export async function buildCommand() {
  const sources = commandSources();
  const esbuild = await import("esbuild");
  const { rulesForEsbuild } = await import("./rules-plugin.mjs");
  /** @type {import("esbuild").BuildOptions & { write: false }} */
  const shared = {
    absWorkingDir: ROOT,
    outdir: OUT,
    bundle: true,
    write: false,
    legalComments: "none",
    plugins: [rulesForEsbuild()],
    logLevel: "warning",
  };
  const reader = await esbuild.build({
    ...shared,
    entryPoints: { "page-reader": "src/headless/page-entry.ts" },
    format: "iife",
    globalName: "falsefitReader",
    target: "chrome120",
    minify: true,
  });
  const command = await esbuild.build({
    ...shared,
    entryPoints: { falsefit: "src/headless/main.ts", worker: "src/headless/worker.ts" },
    format: "esm",
    platform: "node",
    target: "node20",
    splitting: true,
    minifySyntax: true,
    minifyWhitespace: true,
    chunkNames: "shared/[name]-[hash]",
    outExtension: { ".js": ".mjs" },
    external: ["jsdom", "playwright-core", "papaparse"],
  });
  const files = [...reader.outputFiles, ...command.outputFiles].sort(
    (a, b) => Number(isEntry(a.path)) - Number(isEntry(b.path)),
  );
  for (const { path, contents } of files) replaceFile(path, contents);
  removeOldChunks(new Set(files.map(({ path }) => path)));
  replaceFile(STAMP, sources);
  return OUT;
}

/** @param {string} path */
function isEntry(path) {
  return dirname(path) === OUT;
}

/**
 * @param {string} path
 * @param {string | Uint8Array} contents
 */
function replaceFile(path, contents) {
  mkdirSync(dirname(path), { recursive: true });
  const beside = `${path}.${process.pid}.new`;
  writeFileSync(beside, contents, { mode: path.endsWith(".mjs") ? 0o755 : 0o644 });
  renameSync(beside, path);
}

/** @param {Set<string>} current */
function removeOldChunks(current) {
  for (const file of filesUnder(join(OUT, "shared"))) {
    if (!current.has(file) && Date.now() - statSync(file).mtimeMs > KEPT_CHUNK_MS) rmSync(file, { force: true });
  }
}

/**
 * Every file under a path (or the path itself), sorted.
 *
 * @param {string} path
 * @returns {string[]}
 */
function filesUnder(path) {
  if (!statSync(path).isDirectory()) return [path];
  return readdirSync(path, { withFileTypes: true })
    .sort((a, b) => (a.name < b.name ? -1 : 1))
    .flatMap((entry) => {
      const each = join(path, entry.name);
      return entry.isDirectory() ? filesUnder(each) : [each];
    });
}
