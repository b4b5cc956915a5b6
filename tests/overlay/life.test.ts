// @vitest-environment jsdom
import { afterEach, describe, expect, it, vi } from "vitest";
import { answerCommands, ask, commandOf, type Runtime } from "../../src/overlay/courier.ts";
import { beginLife } from "../../src/overlay/life.ts";
import { OVERLAY_TAG } from "../../src/overlay/tag.ts";

type Listener = Parameters<Runtime["onMessage"]["addListener"]>[0];

function fakeRuntime(answer: (message: unknown) => unknown = () => undefined) {
  const listeners = new Set<Listener>();
  const runtime = {
    id: "own",
    sendMessage: async (message: unknown) => answer(message),
    onMessage: {
      addListener: (listener: Listener) => void listeners.add(listener),
      removeListener: (listener: Listener) => void listeners.delete(listener),
    },
  };
  const tell = (message: unknown, from = "own") =>
    new Promise<unknown>((resolve) => {
      const taken = [...listeners].map((listener) => listener(message, { id: from }, resolve));
      if (!taken.includes(true)) resolve("nobody");
    });
  /** What happens to a page's copy when its extension is renewed or removed. */
  const vanish = () => Reflect.deleteProperty(runtime, "id");
  return { runtime: runtime as Runtime, listeners, tell, vanish };
}

const begun: { end(): void }[] = [];
const begin = (runtime: Runtime) => {
  const life = beginLife(runtime, document);
  if (life) begun.push(life);
  return life;
};
afterEach(() => {
  for (const life of begun.splice(0)) life.end();
});

describe("a life", () => {
  it("begins once a page", () => {
    const { runtime } = fakeRuntime();
    expect(begin(runtime)).toBeDefined();
    expect(begin(runtime)).toBeUndefined();
  });

  it("begins anew after its end", () => {
    const { runtime } = fakeRuntime();
    begin(runtime)?.end();
    expect(begin(runtime)).toBeDefined();
  });

  it("takes over from a copy whose extension is gone, and clears what that one left", () => {
    const old = fakeRuntime();
    const first = begin(old.runtime);
    document.documentElement.append(document.createElement(OVERLAY_TAG));
    old.vanish();
    const second = begin(fakeRuntime().runtime);
    expect(second).toBeDefined();
    expect(first?.signal.aborted).toBe(true);
    expect(second?.signal.aborted).toBe(false);
    expect(document.querySelector(OVERLAY_TAG)).toBeNull();
  });

  it("ends by itself when its extension is gone", () => {
    const { runtime, vanish } = fakeRuntime();
    const life = begin(runtime);
    expect(life?.goesOn()).toBe(true);
    vanish();
    expect(life?.goesOn()).toBe(false);
    expect(life?.signal.aborted).toBe(true);
  });

  it("leaves nothing that a page could see", () => {
    const before = Object.keys(globalThis);
    begin(fakeRuntime().runtime);
    expect(Object.keys(globalThis)).toEqual(before);
  });
});

describe("asking the background", () => {
  it("gives its answer", async () => {
    const { runtime } = fakeRuntime(() => ({ ok: true, data: null }));
    expect(await ask(runtime, { kind: "load-marks" })).toEqual({ ok: true, data: null });
  });

  it.each([
    ["no answer", () => undefined],
    ["an answer of another shape", () => ({ ok: true })],
    [
      "a vanished extension",
      () => {
        throw new Error("context invalidated");
      },
    ],
  ])("makes a failure of %s", async (_what, answer) => {
    const { runtime } = fakeRuntime(answer);
    expect(await ask(runtime, { kind: "load-marks" })).toMatchObject({ ok: false, failure: { code: "failed" } });
  });

  it("does not even try when the extension is gone", async () => {
    const { runtime, vanish } = fakeRuntime(() => ({ ok: true, data: null }));
    vanish();
    expect((await ask(runtime, { kind: "load-marks" })).ok).toBe(false);
  });
});

describe("commands", () => {
  it("are checked: anything else is none", () => {
    expect(commandOf({ kind: "move", to: "next" })).toEqual({ kind: "move", to: "next" });
    for (const message of [
      null,
      3,
      "state",
      {},
      { kind: "format-disk" },
      { kind: "move" },
      { kind: "check-text", text: 3 },
    ]) {
      expect(commandOf(message)).toBeUndefined();
    }
  });

  it("are heard from our own extension only, until the end", async () => {
    const { runtime, tell, listeners } = fakeRuntime();
    const life = new AbortController();
    answerCommands(runtime, life.signal, ({ kind }) => `did ${kind}`);
    expect(await tell({ kind: "refresh" })).toBe("did refresh");
    expect(await tell({ kind: "refresh" }, "another")).toBe("nobody");
    expect(await tell({ kind: "unknown" })).toBe("nobody");
    life.abort();
    expect(listeners.size).toBe(0);
  });

  it("that fail are answered all the same", async () => {
    const warn = vi.spyOn(console, "warn").mockImplementation(() => undefined);
    const { runtime, tell } = fakeRuntime();
    answerCommands(runtime, new AbortController().signal, () => Promise.reject(new Error("no")));
    expect(await tell({ kind: "refresh" })).toBeNull();
    expect(warn).toHaveBeenCalledTimes(1);
    warn.mockRestore();
  });
});
