import { readFileSync } from "node:fs";
import { join } from "node:path";
import { build } from "esbuild";
import { beforeAll, describe, expect, it } from "vitest";
import { OVERLAY_SENTENCES } from "../../src/background/pack.ts";

const ROOT = join(import.meta.dirname, "../..");

/** A content script as the packer builds it: its minified text and the modules in it. */
async function bundle(entry: string): Promise<{ text: string; modules: string[] }> {
  const built = await build({
    absWorkingDir: ROOT,
    entryPoints: [entry],
    bundle: true,
    minify: true,
    format: "iife",
    target: "chrome120",
    legalComments: "none",
    define: { __FALSEFIT_TEST__: "false" },
    write: false,
    metafile: true,
  });
  return { text: built.outputFiles[0]?.text ?? "", modules: Object.keys(built.metafile.inputs) };
}

describe("the content scripts", () => {
  let first: Awaited<ReturnType<typeof bundle>>;
  let second: Awaited<ReturnType<typeof bundle>>;
  beforeAll(async () => {
    [first, second] = await Promise.all([bundle("src/overlay/main.ts"), bundle("src/overlay/marks-main.ts")]);
  });

  it("the one that every switched-on page loads stays far below 60 kB", () => {
    expect(first.text.length).toBeLessThanOrEqual(12_000);
  });

  it("the one that pages with listings load besides does not grow unseen", () => {
    expect(second.text.length).toBeLessThanOrEqual(170_000);
  });

  it("carry no schema library, no framework, no rules and no polyfill", () => {
    for (const { modules } of [first, second]) {
      expect(modules.filter((name) => name.startsWith("node_modules/") || name.startsWith("rules/"))).toEqual([]);
    }
  });

  it("evaluate nothing, fetch nothing, parse no markup", () => {
    for (const { text } of [first, second]) {
      expect(text).not.toMatch(
        /\beval\(|new Function\(|\bfetch\(|XMLHttpRequest|sendBeacon|WebSocket\(|innerHTML|document\.write/,
      );
    }
  });

  it("get every sentence that they can say", () => {
    const spoken = second.modules
      .map((file) => readFileSync(join(ROOT, file), "utf8"))
      .flatMap((text) => [...text.matchAll(/words\.say\(\s*["`]([a-z][a-z_]*)/g)].map((match) => match[1] ?? ""));
    expect(spoken.length).toBeGreaterThan(30);
    expect([...new Set(spoken)].filter((key) => !OVERLAY_SENTENCES.test(key))).toEqual([]);
  });
});
