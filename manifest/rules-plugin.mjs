// @ts-check
/**
 * Gathers the rule files into modules for esbuild and for vitest: adding a language or a part type is adding a
 * file, never editing code. `falsefit:rules` is what the matcher and the page reader need; `falsefit:column-names`
 * is for reading orders and stock lists, and stays out of the content script.
 */
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";

const RULES = fileURLToPath(new URL("../rules/", import.meta.url));
const FOLDERS = {
  partTypes: "part-types",
  numberFormats: "number-formats",
  wording: "wording",
  pageShapes: "page-shapes",
  pageWords: "page-words",
};

/** Every rule file as one plain object, files sorted by name. */
export function gatherRules() {
  return Object.fromEntries(Object.entries(FOLDERS).map(([name, folder]) => [name, readFolder(folder)]));
}

/** The modules by name. @type {Record<string, () => unknown>} */
const MODULES = {
  "falsefit:rules": gatherRules,
  "falsefit:column-names": () => readFolder("column-names"),
};

/** @param {string} folder */
function readFolder(folder) {
  return readdirSync(join(RULES, folder))
    .filter((file) => file.endsWith(".json"))
    .sort()
    .map((file) => {
      const path = join(RULES, folder, file);
      try {
        return JSON.parse(readFileSync(path, "utf8"));
      } catch (error) {
        throw new Error(`rules/${folder}/${file}: ${error instanceof Error ? error.message : error}`);
      }
    });
}

/** The esbuild side. @returns {import("esbuild").Plugin} */
export function rulesForEsbuild() {
  return {
    name: "falsefit-rules",
    setup(build) {
      build.onResolve({ filter: /^falsefit:/ }, ({ path }) => ({ path, namespace: "falsefit" }));
      build.onLoad({ filter: /.*/, namespace: "falsefit" }, ({ path }) => ({
        contents: JSON.stringify(MODULES[path]?.()),
        loader: "json",
      }));
    },
  };
}

/** The vitest side. @returns {import("vite").Plugin} */
export function rulesForVitest() {
  return {
    name: "falsefit-rules",
    resolveId: (id) => (id in MODULES ? `\0${id}` : undefined),
    load: (id) => {
      const gather = id.startsWith("\0") ? MODULES[id.slice(1)] : undefined;
      return gather ? `export default ${JSON.stringify(gather())}` : undefined;
    },
  };
}
