import { describe, expect, it } from "vitest";
import type { SavedDevice } from "../../src/store/devices.ts";
import { countByFilter, findDevices } from "../../src/workbench/bench/search.ts";
import type { Standing, StandingWord } from "../../src/workbench/bench/standing.ts";

function saved(id: string, changes: Partial<SavedDevice["device"]>): SavedDevice {
  return {
    device: { id, modelNumbers: [], fitted: [], accept: [], refuse: [], ...changes },
    addedAt: id,
    changedAt: id,
  };
}
const standing = (id: string, word: StandingWord): [string, Standing] => [
  id,
  { id, word, family: null, maker: null, possible: [], by: null, partTypes: [], next: null },
];

const bench = [
  saved("a", { name: "Küchen-Lark", modelNumbers: ["PL-20"], boardNumber: "PW-4410-5", job: "J-10" }),
  saved("b", {
    name: "Hall vacuum",
    modelNumbers: ["MV300"],
    job: "J-9",
    fitted: [{ type: "battery", numbers: ["OF-B216"], source: "label" }],
  }),
  saved("c", { modelNumbers: ["QS13"], note: "waits for a hinge", archived: true }),
];
const standings = new Map([standing("a", "pinned"), standing("b", "open")]);
const find = (text: string, filter: "all" | "archived" | "open" = "all") =>
  findDevices(bench, standings, { text, filter, order: "newest" }).map(({ device }) => device.id);

describe("finding a device", () => {
  it("goes by any word of its name, job or note, accents and case aside", () => {
    expect(find("kuchen")).toEqual(["a"]);
    expect(find("LARK j-10")).toEqual(["a"]);
    expect(find("hinge", "archived")).toEqual(["c"]);
    expect(find("hinge")).toEqual([]);
  });

  it("goes by any of its numbers in any spelling", () => {
    expect(find("pw44105")).toEqual(["a"]);
    expect(find("of b216")).toEqual(["b"]);
    expect(find("OFB-216")).toEqual(["b"]);
  });

  it("keeps to the filter and counts for each", () => {
    expect(find("", "open")).toEqual(["b"]);
    expect(countByFilter(bench, standings)).toEqual({
      all: 2,
      open: 1,
      contradicted: 0,
      unknown: 0,
      pinned: 1,
      archived: 1,
    });
  });

  it("orders by newest, by name, and by job as people count", () => {
    const ordered = (order: "newest" | "name" | "job") =>
      findDevices(bench, standings, { text: "", filter: "all", order }).map(({ device }) => device.id);
    expect(ordered("newest")).toEqual(["b", "a"]);
    expect(ordered("name")).toEqual(["b", "a"]);
    expect(ordered("job")).toEqual(["b", "a"]);
  });

  it("takes no longer for a long question", () => {
    expect(find("x ".repeat(100_000))).toEqual([]);
  });
});
