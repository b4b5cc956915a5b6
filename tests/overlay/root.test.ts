// @vitest-environment jsdom
import { afterEach, describe, expect, it, vi } from "vitest";
import { printWords } from "../../src/overlay/print.ts";
import { raiseRoot } from "../../src/overlay/root.ts";
import { OVERLAY_TAG } from "../../src/overlay/tag.ts";

const lives: AbortController[] = [];
const life = () => {
  const controller = new AbortController();
  lives.push(controller);
  return controller;
};
afterEach(() => {
  for (const each of lives.splice(0)) each.abort();
});
const turn = () => new Promise((resolve) => setTimeout(resolve));
const find = () => document.querySelector(OVERLAY_TAG);

describe("the overlay's element", () => {
  it("stands after the body with a closed root, and goes with its signal", () => {
    const { signal, abort } = ((controller) => ({ signal: controller.signal, abort: () => controller.abort() }))(
      life(),
    );
    const root = raiseRoot(document, { open: false, signal, onGivenUp: () => undefined });
    expect(find()?.previousElementSibling).toBe(document.body);
    expect(root.host.shadowRoot).toBeNull();
    abort();
    expect(find()).toBeNull();
  });

  it("has an open root only for tests", () => {
    const root = raiseRoot(document, { open: true, signal: life().signal, onGivenUp: () => undefined });
    expect(root.host.shadowRoot).toBe(root.shadow);
  });

  it("comes back when the page takes it away, but does not fight", async () => {
    const givenUp = vi.fn();
    raiseRoot(document, { open: false, signal: life().signal, onGivenUp: givenUp });
    for (let i = 0; i < 10; i++) {
      find()?.remove();
      await turn();
      expect(find()).not.toBeNull();
    }
    expect(givenUp).not.toHaveBeenCalled();
    find()?.remove();
    await turn();
    expect(find()).toBeNull();
    expect(givenUp).toHaveBeenCalledTimes(1);
  });

  it("speaks its language in its direction", () => {
    const root = raiseRoot(document, { open: false, signal: life().signal, onGivenUp: () => undefined });
    root.dress({ language: "qps-plocm", direction: "rtl", scheme: "dark", contrast: "more" });
    for (const layer of [root.sheet, root.frame]) {
      expect([layer.lang, layer.dir, layer.dataset["scheme"], layer.dataset["contrast"]]).toEqual([
        "qps-plocm",
        "rtl",
        "dark",
        "more",
      ]);
    }
  });
});

describe("printing", () => {
  it("puts words behind the titles and takes them away again", () => {
    document.body.innerHTML = "<h3>PB-1840</h3>";
    const anchor = document.body.firstElementChild as Element;
    printWords(document, life().signal, () => [{ anchor, word: "Other revision" }]);
    window.dispatchEvent(new Event("beforeprint"));
    window.dispatchEvent(new Event("beforeprint"));
    expect(anchor.textContent).toBe("PB-1840 [Other revision]");
    window.dispatchEvent(new Event("afterprint"));
    expect(document.body.innerHTML).toBe("<h3>PB-1840</h3>");
  });

  it("leaves nothing behind when it ends in the middle", () => {
    document.body.innerHTML = "<h3>PB-1840</h3>";
    const anchor = document.body.firstElementChild as Element;
    const controller = life();
    printWords(document, controller.signal, () => [{ anchor, word: "Fits" }]);
    window.dispatchEvent(new Event("beforeprint"));
    controller.abort();
    expect(document.body.innerHTML).toBe("<h3>PB-1840</h3>");
  });
});
