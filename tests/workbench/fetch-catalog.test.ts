import { createHash } from "node:crypto";
import { describe, expect, it, vi } from "vitest";
import { fetchCatalog } from "../../src/workbench/catalogs/fetch-catalog.ts";

const signal = new AbortController().signal;
const fetched = (response: Response | (() => Promise<Response>), onProgress = vi.fn()) =>
  fetchCatalog("https://catalogs.example/a.json", {
    fetch: async () => (typeof response === "function" ? response() : response),
    signal,
    onProgress,
  });

describe("fetching a catalog", () => {
  it("asks without cookies, referrer, cache and redirects, and gives the text with its SHA-256", async () => {
    const fetch = vi.fn(async () => new Response('{"a":"é"}'));
    const onProgress = vi.fn();
    const got = await fetchCatalog("https://catalogs.example/a.json", { fetch, signal, onProgress });
    expect(got).toEqual({
      kind: "text",
      text: '{"a":"é"}',
      hash: createHash("sha256").update('{"a":"é"}').digest("hex"),
    });
    expect(fetch).toHaveBeenCalledWith(
      "https://catalogs.example/a.json",
      expect.objectContaining({
        credentials: "omit",
        redirect: "error",
        referrerPolicy: "no-referrer",
        cache: "no-store",
      }),
    );
    expect(onProgress).toHaveBeenCalledWith(10, 0);
  });

  it("says what the site answered, or that it could not be reached", async () => {
    expect(await fetched(new Response("", { status: 403 }))).toEqual({ kind: "answered", status: 403 });
    const unreachable = await fetched(async () => {
      throw new TypeError("Failed to fetch");
    });
    expect(unreachable).toEqual({ kind: "unreachable", detail: "Failed to fetch" });
  });

  it("stops at the bound, announced or not", async () => {
    const announced = new Response("{}", { headers: { "content-length": String(65 * 1024 * 1024) } });
    expect(await fetched(announced)).toEqual({ kind: "too-large" });
    let sent = 0;
    const endless = new ReadableStream<Uint8Array>({
      pull(controller) {
        sent++;
        controller.enqueue(new Uint8Array(4 * 1024 * 1024));
      },
    });
    expect(await fetched(new Response(endless))).toEqual({ kind: "too-large" });
    expect(sent).toBeLessThan(20);
  });

  it("takes UTF-8 text only", async () => {
    expect(await fetched(new Response(new Uint8Array([0xff, 0xfe, 0x00])))).toEqual({ kind: "not-text" });
  });

  it("ends at once when it is cancelled", async () => {
    const stop = new AbortController();
    const going = fetchCatalog("https://catalogs.example/a.json", {
      fetch: async () => {
        stop.abort(new Error("enough"));
        throw new DOMException("aborted", "AbortError");
      },
      signal: stop.signal,
      onProgress: vi.fn(),
    });
    await expect(going).rejects.toThrow("enough");
  });
});
