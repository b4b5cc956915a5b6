import { describe, expect, it } from "vitest";
import type { Device } from "../../src/formats/bench.ts";
import { memoryStore } from "./memory.ts";

const device = (id: string, more: Partial<Device> = {}): Device => ({
  id,
  modelNumbers: ["PL-20"],
  fitted: [],
  accept: [],
  refuse: [],
  ...more,
});
const PICTURE = "data:image/png;base64,AAAA";

describe("saved devices", () => {
  it("keep the order in which they were added, also within one batch, and across changes", async () => {
    const { store } = memoryStore();
    await store.devices.save(device("c"), device("a"), device("b"));
    await store.devices.save(device("a", { name: "changed" }));
    const list = await store.devices.list();
    expect(list.map((each) => each.device.id)).toEqual(["c", "a", "b"]);
    expect(list[1]?.device.name).toBe("changed");
    expect(Date.parse(list[1]?.changedAt ?? "")).toBeGreaterThan(Date.parse(list[1]?.addedAt ?? ""));
  });

  it("are one record each, so that two windows do not undo each other's work", async () => {
    const { store, items } = memoryStore();
    await Promise.all([store.devices.save(device("a")), store.devices.save(device("b"))]);
    expect([...items.keys()].sort()).toEqual(["device/a", "device/b"]);
  });

  it("hold their picture apart and give it back on removal, for undo", async () => {
    const { store, items } = memoryStore();
    await store.devices.save(device("a", { picture: PICTURE }));
    expect(JSON.stringify([...items])).not.toContain("base64");
    await store.devices.save(device("a", { name: "renamed" }));
    expect(await store.devices.picture("a")).toBe(PICTURE);
    const removed = await store.devices.remove("a", "unknown");
    expect(removed).toEqual([device("a", { name: "renamed", picture: PICTURE })]);
    expect(await store.devices.picture("a")).toBeUndefined();
    await store.devices.save(...removed);
    expect(await store.devices.picture("a")).toBe(PICTURE);
  });

  it("are taken in hand; the last five are remembered; removing the one in hand goes back to the one before", async () => {
    const { store } = memoryStore();
    expect(await store.devices.inHand()).toBeUndefined();
    await store.devices.save(...["a", "b", "c", "d", "e", "f"].map((id) => device(id)));
    for (const id of ["a", "b", "c", "d", "e", "f", "b"]) await store.devices.takeInHand(id);
    expect(await store.devices.recent()).toEqual(["b", "f", "e", "d", "c"]);
    await store.devices.remove("b");
    expect((await store.devices.inHand())?.device.id).toBe("f");
    await store.devices.takeInHand(null);
    expect(await store.devices.inHand()).toBeUndefined();
  });

  it("settle a number by hand: the later word wins", async () => {
    const { store } = memoryStore();
    await store.devices.save(device("a"));
    await store.devices.settle("a", "QK-77A", "accept");
    await store.devices.settle("a", "QK-77A", "refuse");
    const refused = (await store.devices.get("a"))?.device;
    expect(refused?.accept).toEqual([]);
    expect(refused?.refuse).toEqual([{ number: "QK-77A", date: "2026-11-25" }]);
    await store.devices.settle("a", "QK-77A", "forget");
    expect((await store.devices.get("a"))?.device.refuse).toEqual([]);
    expect(await store.devices.settle("nobody", "QK-77A", "accept")).toBeUndefined();
  });

  it("refuse what is no device and keep a damaged one aside", async () => {
    const { store, items } = memoryStore();
    await expect(store.devices.save(device("a", { modelNumbers: [""] }))).rejects.toThrow(/modelNumbers/);
    items.set("device/bad", { v: 1, at: "x", value: { addedAt: "x", device: { id: "bad", fitted: "none" } } });
    await store.devices.save(device("good"));
    expect((await store.devices.list()).map((each) => each.device.id)).toEqual(["good"]);
    expect((await store.records.setAside()).map(({ key }) => key)).toEqual(["device/bad"]);
  });

  it("list a thousand", async () => {
    const { store } = memoryStore();
    await store.devices.save(...Array.from({ length: 1000 }, (_, i) => device(`d${i}`)));
    expect(await store.devices.list()).toHaveLength(1000);
  });
});
