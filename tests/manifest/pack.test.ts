import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { merged } from "../../manifest/pack.mjs";

const DIST = fileURLToPath(new URL("../../dist", import.meta.url));
const manifestOf = (folder: string) => JSON.parse(readFileSync(join(DIST, folder, "manifest.json"), "utf8"));

describe("laying an overlay over the base manifest", () => {
  it("merges objects, replaces the rest and deletes what is null", () => {
    expect(merged({ a: { b: 1, c: 2 }, d: [1, 2], e: 3 }, { a: { b: null, x: 9 }, d: [3], e: null })).toEqual({
      a: { c: 2, x: 9 },
      d: [3],
    });
  });
});

describe.skipIf(!existsSync(join(DIST, "chromium/manifest.json")))("the built folders", () => {
  it.each(["chromium", "firefox"])("ask for no site at install and run no code from elsewhere (%s)", (family) => {
    const manifest = manifestOf(family);
    expect(manifest.manifest_version).toBe(3);
    expect(manifest.host_permissions ?? []).toEqual([]);
    expect(manifest.content_scripts ?? []).toEqual([]);
    expect(manifest.permissions).toEqual(expect.arrayContaining(["activeTab", "scripting", "storage"]));
    expect(manifest.externally_connectable).toBeUndefined();
    const policy = JSON.stringify(manifest.content_security_policy ?? {});
    expect(policy).not.toMatch(/unsafe-eval|unsafe-inline|https?:/);
    const code = readFileSync(join(DIST, family, "overlay.js"), "utf8");
    expect(code).not.toMatch(/\beval\(|new Function\(|\bfetch\(|XMLHttpRequest|sendBeacon|WebSocket\(/);
  });

  it.each(["chromium", "firefox"])("every file that the manifest names is there (%s)", (family) => {
    const manifest = manifestOf(family);
    const named = [
      manifest.action?.default_popup,
      manifest.options_ui?.page,
      manifest.background?.service_worker,
      ...(manifest.background?.scripts ?? []),
      ...Object.values(manifest.icons ?? {}),
    ].filter((file): file is string => typeof file === "string");
    expect(named.length).toBeGreaterThan(3);
    expect(named.filter((file) => !existsSync(join(DIST, family, file)))).toEqual([]);
  });

  it("the content script stays within its budget of 60 kB", () => {
    expect(readFileSync(join(DIST, "chromium/overlay.js")).length).toBeLessThanOrEqual(60_000);
  });

  it("publishes a JSON Schema for each format", () => {
    for (const name of ["catalog", "bench", "listing", "verdict"]) {
      const schema = JSON.parse(readFileSync(join(DIST, `schemas/${name}.schema.json`), "utf8"));
      expect(schema.$schema).toContain("json-schema.org");
      expect(Object.keys(schema.properties ?? {}).length).toBeGreaterThan(1);
    }
  });
});
