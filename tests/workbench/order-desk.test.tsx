// @vitest-environment jsdom
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import type { Standing } from "../../src/desks/order-check.ts";
import type { Words } from "../../src/text/words.ts";
import type { ListState } from "../../src/workbench/order/order-calls.ts";
import { OrderDesk } from "../../src/workbench/order/order-desk.tsx";
import { readPlace } from "../../src/workbench/route.ts";
import type { Tools } from "../../src/workbench/tools.tsx";
import { type DeskPage, everyWords, openPage, usePlatformBlobs } from "./desk-page.tsx";
import { demoCatalog, demoDevices, type MemoryTools, memoryTools } from "./tools.ts";

const ORDER = [
  "Job;Part number;Description;Qty;Unit price EUR",
  "demo-lark-late;PB-2240;Battery;1;36,00",
  "demo-lark-late;PB-1840;Battery;2;12,10",
  "demo-lark-late;;Battery for PL-20;1;9,00",
  ";;Garden chair;1;5,00",
].join("\n");

let page: DeskPage | undefined;
beforeEach(usePlatformBlobs);
afterEach(() => {
  page?.close();
  vi.unstubAllGlobals();
});

async function benchTools(changes: Partial<Tools> = {}): Promise<MemoryTools> {
  const memory = memoryTools(changes);
  await memory.tools.store.catalogs.save("demo", demoCatalog, { kind: "example" });
  await memory.tools.store.devices.save(...demoDevices);
  return memory;
}

function openDesk(tools: Tools, hash = "#order", words?: Words): DeskPage {
  page = openPage(tools, words);
  page.show(<OrderDesk place={readPlace(hash)} />);
  return page;
}

async function checkPasted(desk: DeskPage, list: string): Promise<void> {
  await desk.sees("Paste the list here");
  desk.fill(/Paste the list/, list);
  desk.press("Read this list");
  await desk.sees("is read");
  desk.press("Check this list");
  await desk.sees("Save as CSV");
}

describe("the intake", () => {
  it("says for how many jobs a list is checked, and that none is there", async () => {
    const empty = memoryTools();
    const desk = openDesk(empty.tools);
    await desk.sees("There is no device on the bench yet");
    desk.close();
    const full = await benchTools();
    await openDesk(full.tools).sees("Checked for the 4 devices on the bench.");
  });

  it("goes straight on with what is pasted into the empty field", async () => {
    const { tools } = await benchTools();
    const desk = openDesk(tools);
    await desk.sees("Paste the list here");
    const paste = Object.assign(new Event("paste", { bubbles: true, cancelable: true }), {
      clipboardData: { getData: () => ORDER },
    });
    desk.field(/Paste the list/).dispatchEvent(paste);
    expect(paste.defaultPrevented).toBe(true);
    await desk.sees("is read");
    expect(desk.field("Part number").value).toBe("number");
    expect(desk.field("Unit price EUR").value).toBe("unitPrice");
  });
});

describe("the preview", () => {
  it("asks for the one column that it cannot do without", async () => {
    const { tools } = await benchTools();
    const desk = openDesk(tools);
    await desk.sees("Paste the list here");
    desk.fill(/Paste the list/, "1\n2\n");
    desk.press("Read this list");
    await desk.sees("Say which column holds the part number");
    expect(desk.button("Check this list").disabled).toBe(true);
    desk.fill("Column 1", "number");
    expect(desk.button("Check this list").disabled).toBe(false);
  });

  it("reads a column as one thing only", async () => {
    const { tools } = await benchTools();
    const desk = openDesk(tools);
    await desk.sees("Paste the list here");
    desk.fill(/Paste the list/, ORDER);
    desk.press("Read this list");
    await desk.sees("is read");
    desk.fill("Qty", "number");
    expect(desk.field("Qty").value).toBe("number");
    expect(desk.field("Part number").value).toBe("");
  });
});

describe("the results", () => {
  it("say what is wrong, what it costs and what would be right", async () => {
    const { tools } = await benchTools();
    const desk = openDesk(tools);
    await checkPasted(desk, ORDER);
    await desk.sees("1 of 4 lines is wrong for its job. At stake: €24.20.");
    await desk.sees("Right would be PB-2240");
    await desk.sees("In this list: row 2.");
    await desk.sees("Lithium packs");
    await desk.sees("can burn");
  });

  it("open a line in words, with its caution, and name one that is not there", async () => {
    const { tools } = await benchTools();
    const desk = openDesk(tools);
    await checkPasted(desk, ORDER);
    desk.show(<OrderDesk place={readPlace("#order/order/1")} />);
    await desk.sees("WARNING");
    await desk.sees("supply and ground");
    desk.show(<OrderDesk place={readPlace("#order/order/999")} />);
    await desk.sees("There is no such line.");
  });

  it("are written out and printed", async () => {
    const { tools, files } = await benchTools();
    const desk = openDesk(tools);
    await checkPasted(desk, ORDER);
    desk.press("Save as CSV");
    await vi.waitFor(() => expect([...files.keys()]).toEqual(["Pasted list.falsefit.csv"]));
    desk.show(<OrderDesk place={readPlace("#order/order/:sheet")} />);
    await desk.sees("Order check: Pasted list");
    await desk.sees("Lines that are wrong");
    const print = vi.fn();
    vi.stubGlobal("print", print);
    desk.press("Print");
    expect(print).toHaveBeenCalledOnce();
  });

  it("of a stock list name the revisions that each part fits, and what the jobs lack", async () => {
    const { tools } = await benchTools();
    const desk = openDesk(tools, "#order/stock");
    await checkPasted(desk, "Part number,Description\nPB-2240,Battery\nPB-1840,Battery\nZZ-1,Thing\n");
    await desk.sees("1 of 3 parts in stock serves a job on the bench.");
    await desk.sees("For Lark 20 handheld, early board");
    await desk.sees("for another revision");
    await desk.sees("No catalog knows the number.");
    await desk.sees("Depends on the revision; pin it first.");
  });
});

const counts: Readonly<Record<Standing, number>> = { right: 1, ask: 1, wrong: 1, "other-job": 0, "no-job": 0 };
const state: ListState = {
  name: "a.csv",
  phase: "done",
  stale: false,
  done: 1,
  counts,
  lines: 3,
  shape: { columns: { number: 0 }, skip: 1, heading: "number", language: "en", decimalMark: ".", currency: null },
  reading: { encoding: "utf-8", delimiter: "," },
  faults: [],
  faultsBeyond: 0,
  cautions: [],
  unreadable: [],
  failure: "",
};

/** A worker that holds one list in a state. */
async function showState(changes: Partial<ListState>): Promise<{ desk: DeskPage; calls: string[] }> {
  const { tools } = await benchTools();
  const calls: string[] = [];
  const note = (name: string) => async () => {
    calls.push(name);
    return null;
  };
  const work: Tools["work"] = {
    ...tools.work,
    listNews: ({ seen }) =>
      seen === 0 ? Promise.resolve({ seen: 1, state: { ...state, ...changes } }) : new Promise(() => undefined),
    listGoOn: note("go on"),
    listAgain: note("again"),
    listCancel: note("cancel"),
  };
  return { desk: openDesk({ ...tools, work }), calls };
}

describe("a list that is not simply done", () => {
  it("runs, says how far it is, and can be cancelled", async () => {
    const { desk, calls } = await showState({ phase: "running", done: 0.25, lines: 1_234 });
    await desk.sees("Checking “a.csv”: 1,234 lines so far");
    expect(desk.root.querySelector("progress")?.value).toBe(0.25);
    desk.press("Cancel");
    expect(calls).toEqual(["cancel"]);
  });

  it("was cancelled and goes on when told", async () => {
    const { desk, calls } = await showState({ phase: "cancelled" });
    await desk.sees("Stopped after 3 lines.");
    desk.press("Go on");
    expect(calls).toEqual(["go on"]);
  });

  it("found no room, says what is kept, and tries again when told", async () => {
    const { desk, calls } = await showState({ phase: "failed", failure: "storage" });
    await desk.sees("There is no room left");
    await desk.sees("3 lines were judged before that and are kept.");
    desk.press("Try again");
    expect(calls).toEqual(["go on"]);
  });

  it("was judged by what is no longer known", async () => {
    const { desk, calls } = await showState({ stale: true });
    await desk.sees("What stands here may no longer hold.");
    desk.press("Check again");
    expect(calls).toEqual(["again"]);
  });

  it("is being checked in another window", async () => {
    const { desk } = await showState({ phase: "elsewhere" });
    await desk.sees("This list is being checked in another window.");
  });

  it("has rows that are not written as they should be", async () => {
    const { desk } = await showState({ faults: [{ row: 7, kind: "unclosed-quote" }], faultsBeyond: 2 });
    await desk.sees("3 rows are not written as a list should be");
    await desk.sees("Row 7 A quotation mark is opened and never closed.");
  });

  it("was judged without a catalog that can no longer be read", async () => {
    const { desk } = await showState({ unreadable: ["Torn catalog"] });
    await desk.sees("These catalogs could not be read and were left out: Torn catalog.");
  });

  it("cannot be asked about: the fault is shown, and asking again is offered", async () => {
    const { tools } = await benchTools();
    const work: Tools["work"] = { ...tools.work, listNews: () => Promise.reject(new Error("the worker is gone")) };
    const desk = openDesk({ ...tools, work });
    await desk.sees("the worker is gone");
    expect(desk.button("Try again")).toBeDefined();
  });
});

describe("every sentence of the desk", () => {
  it.each(everyWords)("is there: %s", async (_name, words) => {
    const { tools } = await benchTools();
    await tools.work.listBench({ language: "en", devices: demoDevices, stamp: "x", turn: 0 });
    const content = new Blob([ORDER]);
    const { encoding, delimiter, shape } = await tools.work.listLook({ content });
    const desk = openDesk(tools, "#order", words);
    await desk.sees(words.say("order_desk_choose_file"));
    const texts = [desk.root.textContent ?? ""];
    for (const slot of ["order", "stock"] as const) {
      await tools.work.listStart({ slot, source: { name: "a", content }, reading: { encoding, delimiter }, shape });
      desk.show(<OrderDesk place={readPlace(`#order/${slot}/1`)} />);
      await desk.sees(words.say("order_desk_export"));
      await desk.sees("PB-1840");
      await vi.waitFor(() => expect(desk.root.querySelector(".ff-explained")).not.toBeNull(), { timeout: 15_000 });
      texts.push(desk.root.textContent ?? "");
    }
    for (const text of texts) expect(text).not.toMatch(/\[[a-z]+_[a-z_]+\]/);
  });
});
