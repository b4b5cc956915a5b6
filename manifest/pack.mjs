// @ts-check
/**
 * Builds everything into dist/: the extension for each browser family, the command, and the JSON Schemas.
 *
 *   node manifest/pack.mjs            dist/chromium, dist/firefox, dist/command, dist/schemas
 *   node manifest/pack.mjs --test     also dist/chromium-test and dist/firefox-test: loopback pages are switched
 *                                     on from the start and shadow roots are open, for the demo and the tests
 */
import { cpSync, existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import * as esbuild from "esbuild";
import { buildCommand } from "./build-command.mjs";
import { rulesForEsbuild } from "./rules-plugin.mjs";

const ROOT = fileURLToPath(new URL("..", import.meta.url));
const HERE = join(ROOT, "manifest");

/** @typedef {"chromium" | "firefox"} Family */

/**
 * Entry points by their place in the built folder. The content scripts are classic scripts (the second one is put
 * into pages that hold listings); the pages and the worker are modules, built together so that they share code.
 */
const CONTENT = { overlay: "src/overlay/main.ts", marks: "src/overlay/marks-main.ts" };
const PAGES = {
  background: "src/background/main.ts",
  popup: "src/popup/main.tsx",
  workbench: "src/workbench/main.tsx",
  worker: "src/workbench/worker.ts",
};
const DOCUMENTS = ["src/popup/popup.html", "src/workbench/workbench.html"];

/**
 * Builds one folder that a browser can load.
 *
 * @param {Family} family
 * @param {{ test?: boolean, demo?: boolean }} [options] a demo build is a test build with the example in hand
 * @returns {Promise<string>} the folder
 */
export async function buildExtension(family, { demo = false, test = demo } = {}) {
  const out = join(ROOT, "dist", demo ? `${family}-demo` : test ? `${family}-test` : family);
  rmSync(out, { recursive: true, force: true });
  mkdirSync(out, { recursive: true });

  /** @type {import("esbuild").BuildOptions} */
  const shared = {
    absWorkingDir: ROOT,
    outdir: out,
    bundle: true,
    minify: true,
    sourcemap: false,
    legalComments: "none",
    target: family === "chromium" ? "chrome120" : "firefox128",
    jsx: "automatic",
    jsxImportSource: "preact",
    define: {
      "process.env.NODE_ENV": '"production"',
      __FALSEFIT_TEST__: String(test),
      __FALSEFIT_DEMO__: String(demo),
    },
    plugins: [rulesForEsbuild()],
    logLevel: "warning",
  };
  await esbuild.build({ ...shared, entryPoints: CONTENT, format: "iife" });
  const { metafile } = await esbuild.build({
    ...shared,
    metafile: true,
    entryPoints: PAGES,
    format: "esm",
    splitting: true,
    chunkNames: "shared/[name]-[hash]",
  });

  for (const document of DOCUMENTS) writeDocument(document, out, metafile);
  cpSync(join(HERE, "_locales"), join(out, "_locales"), { recursive: true });
  if (test) writePseudoLocale(join(out, "_locales"));
  cpSync(join(HERE, "icons"), join(out, "icons"), { recursive: true });
  mkdirSync(join(out, "catalogs"));
  for (const file of readdirSync(join(ROOT, "rules/catalogs"))) {
    cpSync(join(ROOT, "rules/catalogs", file), join(out, "catalogs", file));
  }
  const overlays = [`${family}.json`, ...(test ? ["test.json"] : [])];
  const manifest = overlays.reduce((base, name) => merged(base, readJson(name)), readJson("base.json"));
  manifest.version = JSON.parse(readFileSync(join(ROOT, "package.json"), "utf8")).version;
  writeFileSync(join(out, "manifest.json"), `${JSON.stringify(manifest, null, 2)}\n`);
  return out;
}

/**
 * A page of ours, with the parts that its script shares with others asked for at once: found one by one, each costs the
 * popup's opening a round of loading.
 *
 * @param {string} document
 * @param {string} out
 * @param {import("esbuild").Metafile} metafile
 */
function writeDocument(document, out, metafile) {
  const name = document.split("/").at(-1) ?? "";
  const script = Object.entries(metafile.outputs).find(([path]) => path.endsWith(`/${name.replace(".html", ".js")}`));
  const shared = (script?.[1].imports ?? []).filter(({ kind }) => kind === "import-statement");
  const links = shared.map(({ path }) => `<link rel="modulepreload" href="shared/${path.split("/").at(-1)}">`);
  const html = readFileSync(join(ROOT, document), "utf8");
  if (!html.includes("</head>")) throw new Error(`${document} has no </head> to put links before.`);
  writeFileSync(join(out, name), html.replace("</head>", `${links.join("")}</head>`));
}

/**
 * A language for tests, written from right to left: English with every vowel marked and every sentence in brackets, so
 * that text which does not come from the message files stands out.
 *
 * @param {string} locales
 */
function writePseudoLocale(locales) {
  const english = JSON.parse(readFileSync(join(locales, "en/messages.json"), "utf8"));
  const marked = (/** @type {string} */ text) =>
    text.replace(/\{[A-Za-z]+\}|[aeiou]/g, (piece) => (piece.length > 1 ? piece : `${piece}\u0301`.normalize("NFC")));
  const pseudo = Object.fromEntries(
    Object.entries(english).map(([key, { message }]) => [key, { message: `\u200f[${marked(message)}]` }]),
  );
  mkdirSync(join(locales, "qps_plocm"));
  writeFileSync(join(locales, "qps_plocm/messages.json"), JSON.stringify(pseudo));
}

/**
 * An overlay's values laid over a base: objects are merged, `null` deletes, everything else replaces.
 *
 * @param {any} base
 * @param {any} over
 */
export function merged(base, over) {
  if (!isPlainObject(base) || !isPlainObject(over)) return over;
  const result = { ...base };
  for (const [key, value] of Object.entries(over)) {
    if (value === null) delete result[key];
    else result[key] = key in result ? merged(result[key], value) : value;
  }
  return result;
}

/** Writes the JSON Schemas of the four formats, generated from the code's own schemas. */
export async function buildSchemas() {
  const out = join(ROOT, "dist/schemas");
  rmSync(out, { recursive: true, force: true });
  mkdirSync(out, { recursive: true });
  const built = await esbuild.build({
    absWorkingDir: ROOT,
    stdin: { contents: 'export { formatSchemas } from "./src/headless/schemas.ts";', resolveDir: ROOT, loader: "ts" },
    bundle: true,
    platform: "node",
    format: "esm",
    write: false,
  });
  const code = Buffer.from(built.outputFiles[0]?.contents ?? []).toString("base64");
  const { formatSchemas } = await import(`data:text/javascript;base64,${code}`);
  for (const [name, schema] of Object.entries(formatSchemas())) {
    writeFileSync(join(out, `${name}.schema.json`), `${JSON.stringify(schema, null, 2)}\n`);
  }
}

/** @param {string} name */
function readJson(name) {
  return JSON.parse(readFileSync(join(HERE, name), "utf8"));
}

/** @param {unknown} value */
function isPlainObject(value) {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

if (process.argv[1] && existsSync(process.argv[1]) && fileURLToPath(import.meta.url) === process.argv[1]) {
  const test = process.argv.includes("--test");
  const folders = [];
  for (const family of /** @type {Family[]} */ (["chromium", "firefox"])) {
    folders.push(await buildExtension(family));
    if (test) folders.push(await buildExtension(family, { test: true }));
  }
  await buildCommand();
  await buildSchemas();
  for (const folder of folders) console.log(folder.replace(`${dirname(dirname(folder))}/`, ""));
}
