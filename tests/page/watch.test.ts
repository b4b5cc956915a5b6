import rules from "falsefit:rules";
import { JSDOM } from "jsdom";
import { describe, expect, test } from "vitest";
import { MAX_FRUITLESS, PATIENCE_MS, type PageDelta, SETTLE_MS, watchPage } from "../../src/page/watch.ts";

/** A page with hands on its clock. */
class Stage {
  readonly document: Document;
  readonly reports: PageDelta[] = [];
  readonly control = new AbortController();
  now = 0;
  #tasks: { at: number; task: () => void }[] = [];

  constructor(body: string) {
    this.document = new JSDOM(`<html lang="en"><body>${body}</body></html>`, {
      url: "https://shop.example/",
    }).window.document;
  }

  watch(isOwn: (node: Node) => boolean = () => false): void {
    const options = {
      pageWords: rules.pageWords,
      now: () => this.now,
      later: (task: () => void, delayMs: number) => {
        const entry = { at: this.now + delayMs, task };
        this.#tasks.push(entry);
        return () => {
          this.#tasks = this.#tasks.filter((other) => other !== entry);
        };
      },
      isOwn,
    };
    watchPage(this.document, options, this.control.signal, (delta) => this.reports.push(delta));
  }

  get waiting(): number {
    return this.#tasks.length;
  }

  /** Lets observers speak, then time pass. */
  async pass(ms: number): Promise<void> {
    await Promise.resolve();
    const until = this.now + ms;
    for (;;) {
      const due = this.#tasks.filter((entry) => entry.at <= until).sort((a, b) => a.at - b.at)[0];
      if (due === undefined) break;
      this.#tasks = this.#tasks.filter((entry) => entry !== due);
      this.now = Math.max(this.now, due.at);
      due.task();
      await Promise.resolve();
    }
    this.now = until;
  }

  find(selector: string): Element {
    const element = this.document.querySelector(selector);
    if (element === null) throw new Error(`nothing at ${selector}`);
    return element;
  }

  add(html: string, to = "#list"): void {
    this.find(to).insertAdjacentHTML("beforeend", html);
  }

  get last(): PageDelta {
    const delta = this.reports.at(-1);
    if (delta === undefined) throw new Error("nothing was reported");
    return delta;
  }
}

const card = (n: number, price = `$${n}.00`) =>
  `<li class="card"><a href="/p/${n}"><img src="i.jpg" alt=""><h3>Battery pack PB-${1000 + n}</h3></a><span class="price">${price}</span></li>`;
const list = (...numbers: number[]) =>
  `<h1>Packs</h1><ul id="list">${numbers.map((n) => card(n)).join("")}</ul><p id="tick">0</p>`;
const titles = (entries: readonly { listing: { title: string } }[]) => entries.map((entry) => entry.listing.title);

describe("a page that moves", () => {
  test("the start is one report with everything", async () => {
    const stage = new Stage(list(1, 2, 3));
    stage.watch();
    await stage.pass(1_000);
    expect(stage.reports).toHaveLength(1);
    expect(titles(stage.last.added)).toEqual(["Battery pack PB-1001", "Battery pack PB-1002", "Battery pack PB-1003"]);
  });

  test("infinite scroll: only what came is reported, even a single card", async () => {
    const stage = new Stage(list(1, 2, 3));
    stage.watch();
    await stage.pass(1_000);
    stage.add(card(4));
    await stage.pass(1_000);
    expect(titles(stage.last.added)).toEqual(["Battery pack PB-1004"]);
    stage.add(card(5) + card(6));
    await stage.pass(1_000);
    expect(titles(stage.last.added)).toEqual(["Battery pack PB-1005", "Battery pack PB-1006"]);
    expect(stage.last.all).toHaveLength(6);
    expect(titles(stage.last.all)[5]).toBe("Battery pack PB-1006");
  });

  test("a filter that re-renders: gone cards are reported, kept addresses are not new", async () => {
    const stage = new Stage(list(1, 2, 3, 4));
    stage.watch();
    await stage.pass(1_000);
    stage.find("#list").innerHTML = card(2) + card(4, "$44.00") + card(9);
    await stage.pass(1_000);
    expect(titles(stage.last.added)).toEqual(["Battery pack PB-1009"]);
    expect(titles(stage.last.removed)).toEqual(["Battery pack PB-1001", "Battery pack PB-1003"]);
    expect(stage.last.changed.map(({ after }) => after.listing.price?.amount)).toEqual(["2.00", "44.00"]);
  });

  test("a recycled node that shows another listing is a removal and an addition", async () => {
    const stage = new Stage(list(1, 2, 3));
    stage.watch();
    await stage.pass(1_000);
    stage.find(".card:nth-child(2) a").setAttribute("href", "/p/7");
    (stage.find(".card:nth-child(2) h3").firstChild as Text).data = "Battery pack PB-1007";
    await stage.pass(1_000);
    expect(titles(stage.last.removed)).toEqual(["Battery pack PB-1002"]);
    expect(titles(stage.last.added)).toEqual(["Battery pack PB-1007"]);
  });

  test("a price that changes in place is a change", async () => {
    const stage = new Stage(list(1, 2, 3));
    stage.watch();
    await stage.pass(1_000);
    stage.find(".card:nth-child(3) .price").textContent = "$2.50";
    await stage.pass(1_000);
    expect(stage.last.changed.map(({ after }) => after.listing.price?.amount)).toEqual(["2.50"]);
    expect(stage.last.added).toEqual([]);
  });

  test("cards that a filter hides are gone, and back when shown again", async () => {
    const stage = new Stage(list(1, 2, 3));
    stage.watch();
    await stage.pass(1_000);
    stage.find(".card:nth-child(2)").setAttribute("style", "display:none");
    await stage.pass(1_000);
    expect(titles(stage.last.removed)).toEqual(["Battery pack PB-1002"]);
    stage.find(".card:nth-child(2)").removeAttribute("style");
    await stage.pass(1_000);
    expect(titles(stage.last.added)).toEqual(["Battery pack PB-1002"]);
  });

  test("client-side navigation reads the whole page again", async () => {
    const stage = new Stage(list(1, 2, 3));
    stage.watch();
    await stage.pass(1_000);
    stage.document.defaultView?.history.pushState({}, "", "/p/5");
    stage.document.body.innerHTML =
      '<main><h1>Charger C-5</h1><p class="price">$9.00</p><button>Add to cart</button></main>';
    await stage.pass(1_000);
    expect(stage.last.all.map((entry) => [entry.kind, entry.listing.title])).toEqual([["detail", "Charger C-5"]]);
    expect(stage.last.removed).toHaveLength(3);
  });

  test("a page that is filled after load is read when it comes", async () => {
    const stage = new Stage('<div id="app"></div>');
    stage.watch();
    await stage.pass(500);
    expect(stage.reports).toEqual([]);
    stage.add(list(1, 2), "#app");
    await stage.pass(1_000);
    expect(titles(stage.last.added)).toHaveLength(2);
  });
});

describe("leaving the page alone", () => {
  test("the caller's own nodes are no change, nor is what the page does to them", async () => {
    const stage = new Stage(list(1, 2, 3));
    const own = new WeakSet<Node>();
    stage.watch((node) => own.has(node));
    await stage.pass(1_000);
    const mark = stage.document.createElement("span");
    own.add(mark);
    stage.find(".card h3").append(mark);
    await stage.pass(1_000);
    stage.find(".card h3").removeChild(mark);
    await stage.pass(1_000);
    expect(stage.reports).toHaveLength(1);
    expect(stage.waiting).toBe(0);
  });

  test("a ticker is looked at a few times and then left alone", async () => {
    const stage = new Stage(list(1, 2, 3));
    stage.watch();
    await stage.pass(1_000);
    let woken = 0;
    for (let turn = 0; turn < 30; turn++) {
      stage.find("#tick").textContent = `viewed ${turn} times`;
      await Promise.resolve();
      woken += stage.waiting > 0 ? 1 : 0;
      await stage.pass(SETTLE_MS * 2);
    }
    expect(stage.reports).toHaveLength(1);
    expect(woken).toBeLessThan(12);
  });

  test("a page that keeps bringing nothing ends the watch", async () => {
    const stage = new Stage('<div id="list"></div>');
    stage.watch();
    for (let turn = 0; turn < MAX_FRUITLESS + 2; turn++) {
      stage.add(`<p>Story ${turn}</p>`);
      await stage.pass(2_000);
    }
    stage.add(list(1, 2, 3));
    await stage.pass(2_000);
    expect(stage.reports).toEqual([]);
    expect(stage.waiting).toBe(0);
  });

  test("a still page without listings has nothing running after a while", async () => {
    const stage = new Stage("<p>Nothing here.</p>");
    stage.watch();
    await stage.pass(PATIENCE_MS + 1);
    expect(stage.waiting).toBe(0);
    stage.add(list(1, 2), "body");
    await stage.pass(2_000);
    expect(stage.reports).toEqual([]);
  });

  test("an aborted signal ends it at once, before and in the middle of a reading", async () => {
    const before = new Stage(list(1, 2));
    before.control.abort();
    before.watch();
    await before.pass(1_000);
    expect(before.reports).toEqual([]);

    const during = new Stage(list(1, 2));
    during.watch();
    await during.pass(1_000);
    during.add(card(3));
    await Promise.resolve();
    during.control.abort();
    await during.pass(1_000);
    expect(during.reports).toHaveLength(1);
    expect(during.waiting).toBe(0);
  });
});
