import { describe, expect, it } from "vitest";
import { memoryStore } from "./memory.ts";

describe("patterns of serial numbers", () => {
  it("are found by any spelling of a model's number, the latest in the place of an older one", async () => {
    const { store } = memoryStore();
    await store.serialPatterns.keep(["PL-20", "PL-20E"], "??YYWW*");
    expect(await store.serialPatterns.find(["pl 20e"])).toBe("??YYWW*");
    expect(await store.serialPatterns.find(["MV300", "PL20"])).toBe("??YYWW*");
    expect(await store.serialPatterns.find(["MV300"])).toBeUndefined();
    await store.serialPatterns.keep(["PL-20"], "YYMM*");
    expect([await store.serialPatterns.find(["PL-20"]), await store.serialPatterns.find(["PL-20E"])]).toEqual([
      "YYMM*",
      "??YYWW*",
    ]);
  });

  it("are not kept without a model or a pattern, and give way when there are too many", async () => {
    const { store } = memoryStore();
    await store.serialPatterns.keep([], "YYWW");
    await store.serialPatterns.keep(["--"], "YYWW");
    await store.serialPatterns.keep(["PL-20"], "");
    expect(await store.serialPatterns.all()).toEqual([]);
    await store.serialPatterns.replace(Array.from({ length: 500 }, (_, i) => ({ model: `M${i}`, pattern: "YYWW" })));
    await store.serialPatterns.keep(["PL-20"], "YWW*");
    const all = await store.serialPatterns.all();
    expect([all.length, all[0]?.model, all.at(-1)?.model]).toEqual([500, "PL20", "M498"]);
  });

  it("of a backup are added where the model has none here", async () => {
    const { store } = memoryStore();
    await store.serialPatterns.keep(["PL-20"], "YYMM*");
    await store.serialPatterns.add([
      { model: "PL20", pattern: "?YYWW" },
      { model: "MV300", pattern: "YWW" },
    ]);
    expect(await store.serialPatterns.all()).toEqual([
      { model: "PL20", pattern: "YYMM*" },
      { model: "MV300", pattern: "YWW" },
    ]);
  });

  it("that cannot be read are kept aside", async () => {
    const { store, items } = memoryStore();
    items.set("serial-patterns", { v: 1, at: "", value: [{ model: "PL20" }] });
    expect(await store.serialPatterns.find(["PL-20"])).toBeUndefined();
    expect((await store.records.setAside()).map(({ key }) => key)).toEqual(["serial-patterns"]);
  });
});
