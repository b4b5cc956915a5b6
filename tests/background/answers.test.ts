import { describe, expect, it, vi } from "vitest";
import { answer, type Sender, type Surroundings } from "../../src/background/answers.ts";
import type { PagePack, Request } from "../../src/background/messages.ts";
import type { Device } from "../../src/formats/bench.ts";
import type { RawRules } from "../../src/formats/rules.ts";
import type { Verdict } from "../../src/formats/verdict.ts";
import { makeWords } from "../../src/text/words.ts";
import type { Explanation } from "../../src/ui/explanation.ts";
import { memoryStore } from "../store/memory.ts";

const rules: RawRules = {
  partTypes: [],
  numberFormats: [],
  wording: [],
  pageWords: [],
  pageShapes: [
    { format: "falsefit-page-shape/1", id: "s", host: "shop.example", record: "li", title: "a", origin: "shipped" },
    { format: "falsefit-page-shape/1", id: "o", host: "other.example", record: "li", title: "a", origin: "shipped" },
  ],
};
const device: Device = { id: "mine", name: "Mine", modelNumbers: ["PL-20"], fitted: [], accept: [], refuse: [] };
const page: Sender = { own: false, tab: 7, address: "https://shop.example/search?q=1" };
const popup: Sender = { own: true, tab: undefined, address: "extension://x/popup.html" };

function surroundings() {
  const { store, items } = memoryStore();
  const done: string[] = [];
  const note =
    (name: string) =>
    async (...values: unknown[]) => {
      done.push(`${name} ${values.join(" ")}`.trim());
    };
  const around: Surroundings = {
    store,
    rules,
    messages: async () => ({ language: "en", messages: { reason_a: "A", popup_b: "B", strip_c: "C" } }),
    words: async () => makeWords("en", {}),
    readFile: async () => "{}",
    loadMarks: note("marks"),
    showStops: note("stops"),
    openWorkbench: note("workbench"),
    rememberWanted: (site, tab) => void done.push(`wanted ${site} ${tab}`),
    switchSite: note("switch"),
    markOnce: note("once"),
    takeText: async () => null,
    writeField: async () => false,
  };
  return { around, done, store, items };
}

describe("requests", () => {
  it.each([
    null,
    "pack",
    {},
    { kind: "format-disk" },
    { kind: "pack", extra: 1 },
    { kind: "switch-site", site: "javascript:", on: true, tab: 1 },
  ])("that are none are refused: %j", async (message) => {
    const { around } = surroundings();
    expect(await answer(message, popup, around)).toMatchObject({ ok: false, failure: { code: "not-understood" } });
  });

  const ofOwnPages: Request[] = [
    { kind: "judge-text", text: "x" },
    { kind: "site-wanted", site: "https://shop.example", tab: 1 },
    { kind: "switch-site", site: "https://shop.example", on: true, tab: 1 },
    { kind: "mark-once", tab: 1 },
    { kind: "add-example" },
    { kind: "drop-example" },
    { kind: "take-text" },
    { kind: "write-back", tab: 1, frame: 0, text: "x" },
  ];
  it.each(ofOwnPages)("a page may not make: $kind", async (request) => {
    const { around, done } = surroundings();
    expect(await answer(request, page, around)).toMatchObject({ ok: false, failure: { code: "not-allowed" } });
    expect(done).toEqual([]);
  });

  it("that fail come back as a failure, and the failure is said in the console", async () => {
    const error = vi.spyOn(console, "error").mockImplementation(() => undefined);
    const { around } = surroundings();
    const broken = { ...around, openWorkbench: () => Promise.reject(new Error("no window")) };
    const reply = await answer({ kind: "open-workbench", place: "bench" }, page, broken);
    expect(reply).toEqual({ ok: false, failure: { code: "failed", detail: "no window" } });
    expect(error).toHaveBeenCalledTimes(1);
    error.mockRestore();
  });

  it("for the second script are answered for the tab that asks", async () => {
    const { around, done } = surroundings();
    expect(await answer({ kind: "load-marks" }, page, around)).toEqual({ ok: true, data: null });
    expect(done).toEqual(["marks 7"]);
    expect((await answer({ kind: "load-marks" }, { ...page, tab: undefined }, around)).ok).toBe(false);
  });

  it("report how many listings to keep off", async () => {
    const { around, done } = surroundings();
    const state = {
      phase: "marking",
      device: "Mine",
      tone: "stop",
      tiers: { stop: 3, go: 1 },
      sentence: "…",
      hidden: false,
    } as const;
    await answer({ kind: "report", state }, page, around);
    await answer({ kind: "report", state: { ...state, hidden: true } }, page, around);
    expect(done).toEqual(["stops 7 3", "stops 7 0"]);
  });

  it("settle a number, from a page for the device in hand only", async () => {
    const { around, store } = surroundings();
    await store.devices.save(device, { ...device, id: "other" });
    await store.devices.takeInHand("mine");
    const settle = (id: string) => ({ kind: "settle", device: id, number: "QK-77A", as: "accept" });
    expect((await answer(settle("mine"), page, around)).ok).toBe(true);
    expect((await store.devices.get("mine"))?.device.accept[0]?.number).toBe("QK-77A");
    expect(await answer(settle("other"), page, around)).toMatchObject({ failure: { code: "not-allowed" } });
    expect(await answer(settle("nobody"), popup, around)).toMatchObject({ failure: { code: "no-device" } });
  });

  it("keep a shape that a page taught, for its own host only and always as taught", async () => {
    const { around, store } = surroundings();
    const shape = { ...rules.pageShapes[0], id: "mine" };
    expect((await answer({ kind: "keep-shape", shape }, page, around)).ok).toBe(true);
    expect((await store.shapes.list()).map(({ id, origin }) => `${id} ${origin}`)).toEqual(["mine taught"]);
    const foreign = { kind: "keep-shape", shape: { ...shape, host: "other.example" } };
    expect(await answer(foreign, page, around)).toMatchObject({ failure: { code: "not-allowed" } });
  });

  it("for a title without a device in hand say so", async () => {
    const { around } = surroundings();
    expect(await answer({ kind: "judge-text", text: "PB-1840" }, popup, around)).toMatchObject({
      failure: { code: "no-device" },
    });
  });
});

describe("a page's pack", () => {
  const packOf = async (around: Surroundings): Promise<PagePack> => {
    const reply = await answer({ kind: "pack" }, page, around);
    if (!reply.ok) throw new Error(reply.failure.detail);
    return reply.data as PagePack;
  };

  it("holds the device in hand, the shapes of its host and the sentences it says, and nothing else", async () => {
    const { around, store } = surroundings();
    await store.devices.save(device, { ...device, id: "secret", name: "Another device" });
    await store.devices.takeInHand("mine");
    await store.sites.add("https://shop.example");
    const pack = await packOf(around);
    expect(pack.on).toBe(true);
    expect(pack.device).toEqual({ id: "mine", name: "Mine", revisionNames: {} });
    expect(pack.pageShapes.map(({ id }) => id)).toEqual(["s"]);
    expect(pack.messages).toEqual({ strip_c: "C" });
    expect(JSON.stringify(pack)).not.toContain("Another device");
    expect(JSON.stringify(pack)).not.toContain("PL-20");
  });

  it("says when the site is not switched on, and when no device is in hand", async () => {
    const { around } = surroundings();
    expect(await packOf(around)).toMatchObject({ on: false, device: null });
  });
});

describe("a page's listings", () => {
  const catalog = {
    format: "falsefit-catalog/1",
    title: "Good",
    families: [
      {
        id: "f",
        modelNumbers: ["PL-20"],
        revisions: [
          { id: "early", name: "early board", boardNumbers: ["PW-4410-2"], parts: ["pb-18"] },
          { id: "late", boardNumbers: ["PW-4410-5"], parts: ["pb-22"] },
        ],
      },
    ],
    parts: [
      { id: "pb-18", type: "battery", numbers: ["PB-1840"] },
      { id: "pb-22", type: "battery", numbers: ["PB-2240"] },
    ],
  };
  const late: Device = { ...device, boardNumber: "PW-4410-5" };

  async function benchWithCatalog() {
    const made = surroundings();
    await made.store.devices.save(late);
    await made.store.devices.takeInHand("mine");
    await made.store.catalogs.save("good", JSON.stringify(catalog), { kind: "made" });
    return made;
  }
  const titles = (...all: unknown[]) => ({ kind: "judge-listings", device: "mine", listings: all });
  const verdictsOf = async (around: Surroundings, ...all: unknown[]) => {
    const reply = await answer(titles(...all), page, around);
    if (!reply.ok) throw new Error(reply.failure.detail);
    return (reply.data as (Verdict | null)[]).map((verdict) => verdict?.verdict ?? null);
  };

  it("are judged in their order, and one that is no listing does not stop the others", async () => {
    const error = vi.spyOn(console, "error").mockImplementation(() => undefined);
    const { around } = await benchWithCatalog();
    const said = await verdictsOf(around, { title: "Battery PB-2240" }, { title: 7 }, { title: "Battery PB-1840" });
    expect(said).toEqual(["fits", null, "other-revision"]);
    expect(error).toHaveBeenCalledTimes(1);
    error.mockRestore();
  });

  it("are judged for the device in hand only", async () => {
    const { around } = await benchWithCatalog();
    const foreign = { ...titles({ title: "Battery PB-2240" }), device: "other" };
    expect(await answer(foreign, page, around)).toMatchObject({ failure: { code: "no-device" } });
  });

  it("are explained with the reasons and the words that they rest on", async () => {
    const { around } = await benchWithCatalog();
    const reply = await answer(
      { kind: "explain-listing", device: "mine", listing: { title: "Battery PB-1840" } },
      page,
      around,
    );
    expect(reply).toMatchObject({ ok: true, data: { verdict: "other-revision", tier: "stop", device: "Mine" } });
    const { title } = (reply as unknown as { data: Explanation }).data;
    expect(title.filter(({ marked }) => marked).map(({ text }) => text)).toContain("PB-1840");
  });

  it("open the catalogs once for a device, and again only when something changed", async () => {
    const { around, store } = await benchWithCatalog();
    const open = vi.spyOn(store.catalogs, "open");
    expect(await verdictsOf(around, { title: "Battery PB-2240" })).toEqual(["fits"]);
    expect(await verdictsOf(around, { title: "Battery PB-2240" })).toEqual(["fits"]);
    expect(open).toHaveBeenCalledTimes(1);
    await store.devices.save({ ...late, boardNumber: "PW-4410-2" });
    expect(await verdictsOf(around, { title: "Battery PB-2240" })).toEqual(["other-revision"]);
    expect(open).toHaveBeenCalledTimes(2);
  });

  it("are judged without a catalog whose stored text is damaged, which is said in the console", async () => {
    const warn = vi.spyOn(console, "warn").mockImplementation(() => undefined);
    const { around, store } = await benchWithCatalog();
    await store.catalogs.save("bad", JSON.stringify({ ...catalog, title: "Bad" }), { kind: "made" });
    const open = store.catalogs.open.bind(store.catalogs);
    store.catalogs.open = async (id) => (id === "bad" ? { ok: false, faults: [] } : open(id));
    expect(await verdictsOf(around, { title: "Battery PB-2240" })).toEqual(["fits"]);
    expect(warn.mock.calls.flat().join(" ")).toContain("Bad");
    warn.mockRestore();
  });
});

describe("the example", () => {
  it("comes from the built folder, is taken in hand, and can be thrown away without touching what is one's own", async () => {
    const { around, store } = surroundings();
    const { readFile } = await import("node:fs/promises");
    const { join } = await import("node:path");
    const fromRules = (path: string) => readFile(join(import.meta.dirname, "../../rules", path), "utf8");
    await store.devices.save(device);
    const reply = await answer({ kind: "add-example" }, popup, { ...around, readFile: fromRules });
    expect(reply.ok).toBe(true);
    const inHand = (await store.devices.inHand())?.device.id ?? "";
    expect(reply).toMatchObject({ data: { device: inHand } });
    expect(await store.catalogs.list()).toHaveLength(1);
    await answer({ kind: "drop-example" }, popup, around);
    expect((await store.devices.list()).map(({ device: { id } }) => id)).toEqual(["mine"]);
    expect(await store.catalogs.list()).toEqual([]);
  });
});
