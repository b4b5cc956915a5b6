// @vitest-environment jsdom

import rules from "falsefit:rules";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { buildIndex, type CatalogIndex } from "../../src/catalog/index.ts";
import { resolveRevisions } from "../../src/catalog/resolve.ts";
import { type Device, readBench } from "../../src/formats/bench.ts";
import { readCatalog } from "../../src/formats/catalog.ts";
import { toDom } from "../../src/ui/drawn.ts";
import { type Explanation, explain } from "../../src/ui/explanation.ts";
import { explanationBody } from "../../src/ui/explanation-view.ts";
import { deviceName } from "../../src/ui/naming.ts";
import { judge, prepareDevice } from "../../src/verdict/index.ts";
import { wordsOf } from "./words.ts";

const example = (file: string) => readFileSync(join(import.meta.dirname, "../../rules/catalogs", file), "utf8");

describe("an explanation", () => {
  let index: CatalogIndex;
  let devices: readonly Device[];
  beforeAll(() => {
    const catalog = readCatalog(example("demo.catalog.json"));
    const bench = readBench(example("demo.bench.json"));
    if (!catalog.ok || !bench.ok) throw new Error("The example cannot be read.");
    index = buildIndex([catalog.value]);
    devices = bench.value.devices;
  });

  function explained(id: string, title: string, language = "en", more: object = {}): Explanation {
    const device = devices.find((each) => each.id === id);
    if (device === undefined) throw new Error(id);
    const listing = { title, ...more };
    const verdict = judge(listing, prepareDevice(device, index, rules));
    return explain(listing, verdict, {
      device,
      index,
      resolved: resolveRevisions(device, index),
      words: wordsOf(language),
    });
  }

  it("of a wrong part: the harm with its caution, both connectors, the words it rests on, what to look for", () => {
    const it = explained("demo-lark-late", "Battery PB-1840 for PL-20");
    expect([it.tier, it.word]).toEqual(["stop", "Other revision"]);
    expect(it.headline).toBe("It is for another revision than My Lark 20 (example).");
    expect(it.title.filter(({ marked }) => marked).map(({ text }) => text)).toContain("PB-1840");
    expect(it.hazards[0]?.signalText).toBe("WARNING");
    expect(new Set(it.hazards.flatMap(({ cautions }) => cautions)).size).toBe(
      it.hazards.flatMap(({ cautions }) => cautions).length,
    );
    expect([it.pins?.offered.name, it.pins?.yours.name]).toEqual(["PB-1840", "PB-2240"]);
    expect(it.checks[0]).toMatch(/^Look for PB-2240/);
  });

  it("of a right part: no harm, no connectors, the number to look for", () => {
    const it = explained("demo-lark-late", "Lark 20 battery PB-2240");
    expect([it.tier, it.hazards, it.pins]).toEqual(["go", [], null]);
    expect(it.reasons.length).toBeGreaterThan(0);
    expect(it.checks[0]).toMatch(/^Look for PB-2240/);
  });

  it("for a device whose revision is open: first how to find it out, once where one look tells several", () => {
    const it = explained("demo-sedge", "Display panel for QS13");
    expect(it.tier).toBe("check");
    expect(it.checks[0]).toBe("Find out first which revision you have: they take different parts.");
    expect(it.checks[1]).toMatch(/^How to tell .+ and .+: /);
    expect(it.pins).toBeNull();
  });

  it("quotes other fields that a reason rests on", () => {
    const it = explained("demo-lark-late", "Battery for PL-20", "en", { specifics: { MPN: "PB-1840" } });
    expect(it.quotes).toEqual([{ field: "MPN", pieces: [{ text: "PB-1840", marked: true }] }]);
  });

  it.each(["en", "de", "fr", "es", "it", "pl"])("is whole in %s, also as drawn", (language) => {
    for (const [id, title] of [
      ["demo-lark-late", "Battery PB-1840 for PL-20"],
      ["demo-lark-late", "Battery PB-1840 fits board PW-4410-5"],
      ["demo-lark-late", "Battery for PL-20"],
      ["demo-lark-late", "Battery QW-7711 for PL-20"],
      ["demo-marlow-six", "MV300 battery pack 7 cells"],
      ["demo-sedge", "Display 40 pin for QS13"],
      ["demo-w7", "Control board HW-700"],
    ] as const) {
      const text =
        toDom(document, explanationBody(explained(id, title, language), wordsOf(language))).textContent ?? "";
      expect(text.match(/\[[a-z]+_[a-z_]+\]|\{[A-Za-z]+\}/g), `${language}: ${title}`).toBeNull();
    }
  });

  it("puts harm first where the part is wrong, and what is open first where it is only open", () => {
    const order = (of: Explanation) =>
      [...toDom(document, explanationBody(of, wordsOf("en"))).children].map(({ className }) => className);
    expect(order(explained("demo-lark-late", "Battery PB-1840 for PL-20"))[0]).toBe("ff-hazard");
    const open = order(explained("demo-sedge", "Display QD133-40F for QS13"));
    expect(open[0]).toBe("ff-quoted");
    expect(open.at(-1)).toBe("ff-hazard");
  });

  it("calls a device by its name, else its model, else says that it has none", () => {
    const words = wordsOf("en");
    expect(deviceName({ name: "Mine", modelNumbers: ["PL-20"] }, words)).toBe("Mine");
    expect(deviceName({ modelNumbers: ["PL-20"] }, words)).toBe("PL-20");
    expect(deviceName({ name: "", modelNumbers: [] }, words)).toBe("unnamed device");
  });
});
