// @vitest-environment jsdom
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { mayHoldListings, onceListingsAppear } from "../../src/overlay/glance.ts";

const page = (html: string) => new DOMParser().parseFromString(`<!doctype html><body>${html}`, "text/html");

describe("a glance", () => {
  it.each([
    "<p>$36.00</p>",
    "<p>36,00 €</p>",
    "<p>1 234,50 zł</p>",
    "<p>CHF 1'234.50</p>",
    "<p>1200 kr</p>",
    "<p>￥ 1,200</p>",
    "<p>EUR 20</p>",
    '<div itemscope itemtype="https://schema.org/Product"></div>',
    '<script type="application/ld+json">{"@type":"Product"}</script>',
  ])("sees that %s may be a listing", (html) => {
    expect(mayHoldListings(page(html))).toBe(true);
  });

  it.each([
    "<p>There is no such shop.</p>",
    "<p>Version 3 of 5 came out in 2021.</p>",
    `<p>${"A long text about 36.00 things, and more of it. ".repeat(4)}</p>`,
    '<script type="application/ld+json">{"@type":"Article"}</script>',
  ])("passes over %s", (html) => {
    expect(mayHoldListings(page(html))).toBe(false);
  });

  it("looks at a bounded number of texts", () => {
    const many = page(`${"<i>word</i>".repeat(5_000)}<b>$36.00</b>`);
    expect(mayHoldListings(many)).toBe(false);
  });
});

describe("waiting for listings", () => {
  beforeEach(() => {
    vi.useFakeTimers();
    document.body.replaceChildren();
  });
  afterEach(() => vi.useRealTimers());

  const change = async (html: string) => {
    const element = document.createElement("div");
    element.innerHTML = html;
    document.body.append(element);
    await vi.advanceTimersByTimeAsync(600);
  };

  it("begins at once where there are some", () => {
    document.body.innerHTML = "<p>$1.00</p>";
    const work = vi.fn();
    onceListingsAppear(document, new AbortController().signal, work);
    expect(work).toHaveBeenCalledTimes(1);
  });

  it("begins once when they come later", async () => {
    const work = vi.fn();
    onceListingsAppear(document, new AbortController().signal, work);
    await change("nothing yet");
    expect(work).not.toHaveBeenCalled();
    await change("<p>$1.00</p>");
    await change("<p>$2.00</p>");
    expect(work).toHaveBeenCalledTimes(1);
  });

  it("gives up after a few glances in vain and leaves nothing running", async () => {
    const work = vi.fn();
    onceListingsAppear(document, new AbortController().signal, work);
    for (let i = 0; i < 9; i++) await change("still nothing");
    expect(vi.getTimerCount()).toBe(0);
    await change("<p>$1.00</p>");
    expect(work).not.toHaveBeenCalled();
    expect(vi.getTimerCount()).toBe(0);
  });

  it("ends with its signal", async () => {
    const work = vi.fn();
    const life = new AbortController();
    onceListingsAppear(document, life.signal, work);
    life.abort();
    await change("<p>$1.00</p>");
    expect(work).not.toHaveBeenCalled();
  });
});
