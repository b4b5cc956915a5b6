import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { loadBench, loadCatalog, namesCatalog } from "../../src/headless/load.ts";
import { loadWords } from "../../src/headless/say.ts";

const words = await loadWords("en");
const folder = mkdtempSync(join(tmpdir(), "falsefit-load-"));
afterAll(() => rmSync(folder, { recursive: true }));

function file(name: string, contents: string | Uint8Array): string {
  const path = join(folder, name);
  writeFileSync(path, contents);
  return path;
}

const faultsOf = (loaded: object): readonly string[] => ("faults" in loaded ? (loaded.faults as string[]) : []);

describe("catalog and bench files", () => {
  it("name every fault by file, line and field", () => {
    const path = file(
      "bad.catalog.json",
      '{ "format": "falsefit-catalog/1",\n "parts": [\n  { "id": "a", "type": "Battery" },\n  { "id": 7, "type": "fan" } ],\n "colour": 1 }',
    );
    const faults = faultsOf(loadCatalog(path, words));
    expect(faults).toEqual([
      expect.stringMatching(/bad\.catalog\.json:3: parts\[0\]\.type: must be lower-case words/),
      expect.stringMatching(/bad\.catalog\.json:4: parts\[1\]\.id: .*expected string/),
      expect.stringMatching(/bad\.catalog\.json:\d+: .*colour/),
    ]);
  });

  it("name the line where JSON ends too early, and broken UTF-8", () => {
    expect(faultsOf(loadBench(file("cut.json", '{\n"format": "falsefit-bench/1",\n"devices": ['), words))[0]).toMatch(
      /cut\.json:3: Not valid JSON/,
    );
    const broken = Buffer.concat([Buffer.from('{\n"format": "'), Buffer.from([0xff, 0xfe, 0x41]), Buffer.from('"}')]);
    expect(faultsOf(loadBench(file("broken.json", broken), words))[0]).toMatch(/broken\.json:2: Not valid UTF-8/);
  });

  it("read UTF-16 that says so, and say what is wrong with a folder or nothing", () => {
    const utf16 = Buffer.from('\ufeff{ "format": "falsefit-bench/1" }', "utf16le");
    expect(loadBench(file("wide.json", utf16), words)).toHaveProperty("value.devices", []);
    mkdirSync(join(folder, "sub"));
    expect(faultsOf(loadBench(join(folder, "sub"), words))[0]).toMatch(/sub: This is a folder/);
    expect(faultsOf(loadBench(join(folder, "nothing"), words))[0]).toMatch(/nothing: There is no such file/);
  });
});

describe("further words after --catalog", () => {
  it("are catalogs by name or by what they start with", () => {
    expect(namesCatalog("missing.catalog.json")).toBe(true);
    expect(namesCatalog(file("plain.json", '{ "format": "falsefit-catalog/1" }'))).toBe(true);
    expect(namesCatalog(file("odd-name", '{ "format": "falsefit-catalog/1" }'))).toBe(true);
    expect(namesCatalog(file("broken.json", "{"))).toBe(true);
  });

  it("are listings otherwise", () => {
    expect(namesCatalog(file("listings.json", '{ "title": "a battery" }'))).toBe(false);
    expect(namesCatalog(file("listings.ndjson", '{ "title": "a battery" }'))).toBe(false);
    expect(namesCatalog("missing.ndjson")).toBe(false);
    expect(namesCatalog("/dev/fd/63")).toBe(false);
  });
});
