import { describe, expect, it } from "vitest";
import * as z from "zod";
import { openRecord, type RecordKind, Records } from "../../src/store/records.ts";
import { memoryArea } from "./memory.ts";

const kind: RecordKind<{ name: string; size_mm: number }> = {
  version: 3,
  schema: z.object({ name: z.string(), size_mm: z.number() }),
  migrations: {
    1: (old) => ({ name: String((old as { title: unknown }).title), size: 4 }),
    2: (old) => {
      const { name, size } = old as { name: string; size: number };
      return { name, size_mm: size * 10 };
    },
  },
};
const now = () => new Date("2026-11-25T09:00:00Z");

function recordsWith(content: Record<string, unknown>): { records: Records; items: Map<string, unknown> } {
  const items = new Map(Object.entries(content));
  return { records: new Records(memoryArea(items), now), items };
}

describe("records", () => {
  it("come back as they were written", async () => {
    const { records } = recordsWith({});
    await records.write([{ key: "thing/a", value: { name: "a", size_mm: 3 } }], kind);
    expect(await records.read("thing/a", kind)).toEqual({
      key: "thing/a",
      at: "2026-11-25T09:00:00.000Z",
      value: { name: "a", size_mm: 3 },
    });
    expect(await records.read("thing/b", kind)).toBeUndefined();
  });

  it("are brought up to date one version at a time", () => {
    expect(openRecord({ v: 1, at: "x", value: { title: "old" } }, kind)).toEqual({
      ok: true,
      at: "x",
      value: { name: "old", size_mm: 40 },
    });
    expect(openRecord({ v: 2, at: "x", value: { name: "newer", size: 2 } }, kind)).toMatchObject({
      value: { name: "newer", size_mm: 20 },
    });
  });

  it("are refused before writing when they could not be read again", async () => {
    const { records, items } = recordsWith({});
    const wrong = { key: "thing/a", value: { name: "a" } as unknown as { name: string; size_mm: number } };
    await expect(records.write([wrong], kind)).rejects.toThrow(/size_mm/);
    expect(items.size).toBe(0);
  });

  it.each([
    ["not ours", 17],
    ["of a later version", { v: 4, at: "x", value: { name: "a", size_mm: 1 } }],
    ["of a version without a way up", { v: 0, at: "x", value: {} }],
    ["of the wrong shape", { v: 3, at: "x", value: { name: 3, size_mm: "wide" } }],
    ["that a migration cannot take", { v: 2, at: "x", value: null }],
  ])("%s are kept aside whole and reported, never used, never lost", async (_what, raw) => {
    const { records, items } = recordsWith({
      "thing/bad": raw,
      "thing/good": { v: 3, at: "x", value: { name: "g", size_mm: 1 } },
    });
    expect((await records.list("thing/", kind)).map(({ key }) => key)).toEqual(["thing/good"]);
    expect(items.has("thing/bad")).toBe(false);
    const [aside, ...more] = await records.setAside();
    expect(more).toEqual([]);
    expect(aside).toMatchObject({ key: "thing/bad", raw });
    expect(aside?.faults[0]?.message).toBeTruthy();
    await records.discardAside(aside?.id ?? "");
    expect(await records.setAside()).toEqual([]);
  });

  it("list what was kept aside even when that entry is damaged itself", async () => {
    const { records } = recordsWith({ "aside/broken": "half" });
    expect(await records.setAside()).toEqual([{ id: "aside/broken", key: "broken", at: "", faults: [], raw: "half" }]);
  });

  it("discard nothing but what was kept aside", async () => {
    const { records, items } = recordsWith({ settings: 1 });
    await records.discardAside("settings");
    expect(items.has("settings")).toBe(true);
  });
});
