import { describe, expect, it } from "vitest";
import type { Catalog } from "../../src/formats/catalog.ts";
import { CATALOGS_CHANGED } from "../../src/store/open.ts";
import { memoryStore } from "./memory.ts";

const text = (title: string) =>
  JSON.stringify({
    format: "falsefit-catalog/1",
    title,
    parts: [{ id: "p", type: "battery", numbers: ["PB-1840", "PB1840-R"] }],
  });

describe("catalogs", () => {
  it("are listed by what is said about them", async () => {
    const { store } = memoryStore();
    await store.catalogs.save("one", text("First"), { kind: "file", name: "first.catalog.json" });
    await store.catalogs.save("two", text("Second"), { kind: "example" });
    const notes = await store.catalogs.list();
    expect(notes.map(({ id, title, numbers, parts }) => ({ id, title, numbers, parts }))).toEqual([
      { id: "one", title: "First", numbers: 2, parts: 1 },
      { id: "two", title: "Second", numbers: 2, parts: 1 },
    ]);
    const opened = await store.catalogs.open("two");
    expect(opened.ok && opened.value.title).toBe("Second");
  });

  it("with faults are refused with every fault named, and nothing stored is lost", async () => {
    const { store } = memoryStore();
    await store.catalogs.save("one", text("Good"), { kind: "made" });
    const outcome = await store.catalogs.save("one", '{"format":"falsefit-catalog/1","parts":[{"id":3}]}', {
      kind: "made",
    });
    expect(outcome.ok ? [] : outcome.faults.map(({ field }) => field)).toEqual(["parts[0].id", "parts[0].type"]);
    expect(await store.catalogs.text("one")).toBe(text("Good"));
  });

  it("can be switched off, removed and put back", async () => {
    const { store } = memoryStore();
    await store.catalogs.save("one", text("First"), { kind: "made" });
    const before = await store.catalogs.stamp();
    await store.catalogs.setActive("one", false);
    expect(await store.catalogs.stamp()).toBe("");
    const removed = await store.catalogs.remove("one");
    expect(removed?.text).toBe(text("First"));
    expect(await store.catalogs.list()).toEqual([]);
    expect(await store.catalogs.remove("one")).toBeUndefined();
    await store.catalogs.save("one", removed?.text ?? "", { kind: "made" });
    expect(await store.catalogs.stamp()).not.toBe(before);
    expect((await store.catalogs.open("gone")).ok).toBe(false);
  });

  it("keep a device's slice exactly as long as nothing changes", async () => {
    const { store } = memoryStore();
    const slice: Catalog[] = [
      { format: "falsefit-catalog/1", families: [], parts: [], interchange: [], supersession: [] },
    ];
    await store.catalogs.keepSlice("a", "stamp", slice);
    expect(await store.catalogs.slice("a", "stamp")).toEqual(slice);
    expect(await store.catalogs.slice("a", "later")).toBeUndefined();
    expect(await store.catalogs.slice("b", "stamp")).toBeUndefined();
    await store.catalogs.keepSlice("a", "stamp", [{ ...slice[0], parts: "none" } as unknown as Catalog]);
    expect(await store.catalogs.slice("a", "stamp")).toBeUndefined();
  });

  it("tell other windows of every change", async () => {
    const { store, items } = memoryStore();
    const seen = new Set<unknown>();
    const look = () => seen.add(items.get(CATALOGS_CHANGED));
    await store.catalogs.save("one", text("First"), { kind: "made" });
    look();
    await store.catalogs.setActive("one", false);
    look();
    await store.catalogs.remove("one");
    look();
    expect(seen.size).toBe(3);
  });
});
