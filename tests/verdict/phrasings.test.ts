/**
 * Some thousand invented listings for the demonstration devices, by what makes them hard; six languages each.
 * `phrasings/*.txt`: `@verdict|device` opens a group (the handheld with the late board where no device is named), then a
 * line a listing: its title, and after `|` its other fields.
 */
import { readdirSync, readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { buildIndex } from "../../src/catalog/index.ts";
import { readBench } from "../../src/formats/bench.ts";
import { type PreparedDevice, prepareDevice } from "../../src/verdict/index.ts";
import { demoCatalog, judged, rules } from "./bench.ts";

const FOLDER = new URL("phrasings/", import.meta.url);
const HANDHELD = "demo-lark-late";

const devices = prepareDevices();

function prepareDevices(): Map<string, PreparedDevice> {
  const bench = readBench(readFileSync(new URL("../../rules/catalogs/demo.bench.json", import.meta.url), "utf8"));
  if (!bench.ok) throw new Error(JSON.stringify(bench.faults));
  const index = buildIndex([demoCatalog]);
  return new Map(bench.value.devices.map((device) => [device.id, prepareDevice(device, index, rules)]));
}

/** Every group of a file: what its listings must be judged, for which device. */
function* groupsOf(file: string): Generator<{ verdict: string; device: string; lines: string[] }> {
  for (const group of readFileSync(new URL(file, FOLDER), "utf8").split(/^@/m).slice(1)) {
    const [head = "", ...lines] = group.split("\n").filter((line) => line !== "");
    const [verdict = "", device = HANDHELD] = head.split("|");
    yield { verdict, device, lines };
  }
}

function listingOf(line: string): object {
  const [title = "", ...rest] = line.split("|");
  return { title, ...(rest.length > 0 ? (JSON.parse(rest.join("|")) as object) : {}) };
}

describe.each(readdirSync(FOLDER))("%s", (file) => {
  for (const { verdict, device, lines } of groupsOf(file)) {
    it(`${verdict} for ${device}: ${lines.length} listings`, () => {
      const prepared = devices.get(device);
      if (prepared === undefined) throw new Error(`no device ${device}`);
      const said = lines.map((line) => `${judged(listingOf(line), prepared).verdict}: ${line}`);
      expect(said).toEqual(lines.map((line) => `${verdict}: ${line}`));
    });
  }
});
