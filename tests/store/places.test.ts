import { describe, expect, it } from "vitest";
import type { PageShape } from "../../src/formats/page-shape.ts";
import { DEFAULT_SETTINGS } from "../../src/store/settings.ts";
import { shapeCovers } from "../../src/store/shapes.ts";
import { matchPattern, siteOf } from "../../src/store/sites.ts";
import { memoryStore } from "./memory.ts";

const shape = (host: string, id: string): PageShape => ({
  format: "falsefit-page-shape/1",
  id,
  host,
  record: ".card",
  title: "h3",
  origin: "taught",
});

describe("settings", () => {
  it("have defaults, change one at a time and survive damage", async () => {
    const { store, items } = memoryStore();
    expect(await store.settings.get()).toEqual(DEFAULT_SETTINGS);
    expect(await store.settings.change({ marks: "signs" })).toEqual({ ...DEFAULT_SETTINGS, marks: "signs" });
    await store.settings.change({ language: "pl" });
    expect(await store.settings.get()).toEqual({ ...DEFAULT_SETTINGS, marks: "signs", language: "pl" });
    items.set("settings", "broken");
    expect(await store.settings.get()).toEqual(DEFAULT_SETTINGS);
    expect(await store.records.setAside()).toHaveLength(1);
  });
});

describe("sites", () => {
  it("are switched on and off by scheme and host", async () => {
    const { store } = memoryStore();
    const site = siteOf("https://shop.example:8443/search?q=1") ?? "";
    expect(site).toBe("https://shop.example");
    expect(matchPattern(site)).toBe("https://shop.example/*");
    await store.sites.add(site);
    await store.sites.add("http://127.0.0.1");
    expect(await store.sites.list()).toEqual(["http://127.0.0.1", "https://shop.example"]);
    expect(await store.sites.has(site)).toBe(true);
    await store.sites.remove(site);
    expect(await store.sites.has(site)).toBe(false);
  });

  it.each(["about:blank", "file:///tmp/a.html", "not an address", undefined])("%s is none", (address) => {
    expect(siteOf(address)).toBeUndefined();
  });
});

describe("taught page shapes", () => {
  it("are kept by host and id", async () => {
    const { store } = memoryStore();
    await store.shapes.save(shape("shop.example", "a"), shape("shop.example", "b"), shape("other.example", "a"));
    await store.shapes.save({ ...shape("shop.example", "a"), title: "h2" });
    expect((await store.shapes.list()).map(({ host, id, title }) => `${host} ${id} ${title}`)).toEqual([
      "other.example a h3",
      "shop.example a h2",
      "shop.example b h3",
    ]);
    await store.shapes.remove({ host: "shop.example", id: "a" });
    expect(await store.shapes.list()).toHaveLength(2);
  });

  it("cover their host, and sub-domains only when they say so", () => {
    expect(shapeCovers({ host: "shop.example" }, "shop.example")).toBe(true);
    expect(shapeCovers({ host: "shop.example" }, "m.shop.example")).toBe(false);
    expect(shapeCovers({ host: "*.shop.example" }, "m.shop.example")).toBe(true);
    expect(shapeCovers({ host: "*.shop.example" }, "shop.example")).toBe(true);
    expect(shapeCovers({ host: "*.shop.example" }, "evilshop.example")).toBe(false);
  });
});
