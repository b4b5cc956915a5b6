import { IDBFactory } from "fake-indexeddb";
import { describe, expect, it } from "vitest";
import { z } from "zod";
import { openDatabase } from "../../src/store/database.ts";
import { ListStore } from "../../src/store/lists.ts";
import { memoryStore } from "./memory.ts";

const head = z.object({ lines: z.number() });
const chunk = z.array(z.string());

describe("lists under check", () => {
  it("keep source, head and lines of each slot apart", async () => {
    const lists = new ListStore(openDatabase(new IDBFactory()));
    await lists.start("order", { name: "a.csv", content: new Blob(["a"]) }, { lines: 0 });
    await lists.start("stock", { name: "b.csv", content: new Blob(["bb"]) }, { lines: 0 });
    await lists.keep("order", { lines: 2 }, [{ chunk: 0, lines: ["x", "y"] }]);
    expect(await lists.head("order", head)).toEqual({ lines: 2 });
    expect(await lists.lines("order", 0, chunk)).toEqual(["x", "y"]);
    expect(await lists.head("stock", head)).toEqual({ lines: 0 });
    expect(await lists.lines("stock", 0, chunk)).toBeUndefined();
    const source = await lists.source("stock");
    expect([source?.name, await source?.content.text()]).toEqual(["b.csv", "bb"]);
  });

  it("lose everything of a slot when another list is taken or the slot is emptied", async () => {
    const lists = new ListStore(openDatabase(new IDBFactory()));
    await lists.start("order", { name: "a", content: new Blob(["a"]) }, { lines: 0 });
    await lists.keep("order", { lines: 600 }, [
      { chunk: 0, lines: ["x"] },
      { chunk: 2, lines: ["z"] },
    ]);
    await lists.start("order", { name: "b", content: new Blob(["b"]) }, { lines: 0 });
    expect(await lists.lines("order", 2, chunk)).toBeUndefined();
    await lists.drop("order");
    expect([await lists.source("order"), await lists.head("order", head)]).toEqual([undefined, undefined]);
  });

  it("take what no longer matches its schema for not there", async () => {
    const lists = new ListStore(openDatabase(new IDBFactory()));
    await lists.start("order", { name: "a", content: new Blob(["a"]) }, { lines: "many" });
    await lists.keep("order", { lines: "many" }, [{ chunk: 0, lines: [1] }]);
    expect(await lists.head("order", head)).toBeUndefined();
    expect(await lists.lines("order", 0, chunk)).toBeUndefined();
  });
});

describe("corrected layouts", () => {
  const layout = { heading: "a|b", columns: { number: 1 }, decimalMark: ",", currency: "EUR" } as const;

  it("are found again by the heading they belong to; the latest word counts", async () => {
    const { store } = memoryStore();
    expect(await store.layouts.find("a|b")).toBeUndefined();
    await store.layouts.keep(layout);
    await store.layouts.keep({ ...layout, heading: "c" });
    await store.layouts.keep({ ...layout, columns: { title: 0 } });
    expect(await store.layouts.find("a|b")).toEqual({ ...layout, columns: { title: 0 } });
    expect(await store.layouts.find("c")).toMatchObject({ columns: { number: 1 } });
  });

  it("are not kept without a heading, nor endless ones, and the oldest gives way", async () => {
    const { store } = memoryStore();
    await store.layouts.keep({ ...layout, heading: "" });
    await store.layouts.keep({ ...layout, heading: "x".repeat(5_000) });
    expect(await store.layouts.find("")).toBeUndefined();
    expect(await store.layouts.find("x".repeat(5_000))).toBeUndefined();
    for (let i = 0; i < 60; i++) await store.layouts.keep({ ...layout, heading: `h${i}` });
    expect(await store.layouts.find("h9")).toBeUndefined();
    expect(await store.layouts.find("h59")).toBeDefined();
  });
});
