// @vitest-environment jsdom
import { render } from "preact";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { choose, field, goTo, hand, offers, openWorkbench, press, said, settled, turn, type } from "./page.tsx";
import { demoCatalog, demoDevices, type MemoryTools, memoryTools } from "./tools.ts";

let made: MemoryTools;
beforeEach(async () => {
  made = memoryTools();
  await made.tools.work.catalogAdd({ id: "demo", text: demoCatalog, origin: { kind: "example" } });
});
afterEach(() => {
  for (const root of document.body.children) render(null, root);
});

const devices = async () => (await made.tools.store.devices.list()).map(({ device }) => device);

describe("an empty bench", () => {
  it("says what it is for, and leads to a first device in hand", async () => {
    await openWorkbench(made.tools);
    expect(said()).toContain("No device on the bench yet");
    await press("Add a device");
    await press("Save");
    expect(field("Model number").getAttribute("aria-invalid")).toBe("true");
    await type("Model number", "pl 20");
    expect(said()).toContain("In your catalogs: Pellworm Lark 20 handheld.");
    expect(said()).toContain("Where to look: number in white print beside the card slot.");
    await type("Board number", "PW-4410-5");
    await press("Save");
    const [saved] = await devices();
    expect(saved).toMatchObject({ modelNumbers: ["pl 20"], boardNumber: "PW-4410-5" });
    expect((await made.tools.store.devices.inHand())?.device.id).toBe(saved?.id);
    expect(document.querySelector("h2")?.textContent).toBe("Pinned: late board");
    await press("Undo");
    expect(await devices()).toEqual([]);
  });

  it("says so when the example cannot be had", async () => {
    await openWorkbench(made.tools);
    await press("Put the example on the bench");
    expect(made.asked).toEqual([{ kind: "add-example" }]);
    expect(said()).toContain("The example could not be put on the bench.");
  });
});

describe("a bench with devices", () => {
  beforeEach(async () => {
    await made.tools.store.devices.save(...demoDevices);
    await made.tools.store.devices.takeInHand("demo-lark-late");
  });

  it("lists each with how it stands, unpinned in plain sight, and sums up", async () => {
    await openWorkbench(made.tools);
    const rows = [...document.querySelectorAll(".wb-links a")].map((row) => row.textContent);
    expect(rows).toEqual([
      "Washing machine (example)HW-700Pinned: second control",
      "Sedge, board not seen (example)QS13Unpinned: board A or board B",
      "Hall vacuum (example)MV300Pinned: six-cell handle",
      "My Lark 20 (example)In handPL-20Pinned: late board",
    ]);
    expect(said()).toContain("1 device is unpinned: more than one revision is possible.");
    expect(said()).toContain("The cheapest looksSedge, board not seen (example)");
    await press("1 device is unpinned: more than one revision is possible.");
    expect(document.querySelectorAll(".wb-links a")).toHaveLength(1);
  });

  it("is one stop of the Tab key and moves by arrow keys", async () => {
    await openWorkbench(made.tools);
    const stops = () => [...document.querySelectorAll<HTMLElement>(".wb-links a")].map(({ tabIndex }) => tabIndex);
    expect(stops()).toEqual([0, -1, -1, -1]);
    const first = document.querySelector<HTMLElement>(".wb-links a");
    first?.focus();
    first?.dispatchEvent(new KeyboardEvent("keydown", { key: "End", bubbles: true, cancelable: true }));
    await settled();
    expect(stops()).toEqual([-1, -1, -1, 0]);
    expect(document.activeElement?.textContent).toContain("My Lark 20");
  });

  it("finds by number in any spelling, and offers a way back from nothing", async () => {
    await openWorkbench(made.tools);
    await type("Search", "ofb216");
    expect(document.querySelectorAll(".wb-links a")).toHaveLength(1);
    await type("Search", "no such thing");
    expect(said()).toContain("No device answers this search.");
    await press("Show all");
    expect(document.querySelectorAll(".wb-links a")).toHaveLength(4);
  });

  it("shows a device with evidence, dates, questions, facts and parts", async () => {
    await openWorkbench(made.tools, "#bench/demo-sedge");
    expect(said()).toContain("Unpinned: board A or board B");
    expect(said()).toContain("Both were made from Nov 2018 to Feb 2019: there the date does not decide.");
    expect(said()).toContain("The cheapest next look");
    expect(said()).toContain("Board numberstill open");
    expect(said()).toContain("QD133-40Fonly for board A");
    await press("QM7-100Bboard B");
    expect(document.querySelector("h2")?.textContent).toBe("Pinned: board B");
    await press("Undo");
    expect(document.querySelector("h2")?.textContent).toBe("Unpinned: board A or board B");
  });

  it("duplicates, archives, fetches back and deletes, each to be taken back", async () => {
    await openWorkbench(made.tools, "#bench/demo-w7");
    await press("Duplicate");
    expect((await devices()).map(({ name }) => name)).toContain("Washing machine (example), copy");
    await press("Archive");
    expect(said()).toContain("archived");
    await press("Back to the bench");
    await goTo("#bench/demo-lark-late");
    await press("Delete");
    expect((await devices()).map(({ id }) => id)).not.toContain("demo-lark-late");
    expect(await made.tools.store.devices.inHand()).toBeUndefined();
    await press("Undo");
    expect((await devices()).map(({ id }) => id)).toContain("demo-lark-late");
    expect((await made.tools.store.devices.inHand())?.device.id).toBe("demo-lark-late");
  });

  it("settles a number by hand and forgets it again", async () => {
    await openWorkbench(made.tools, "#bench/demo-w7");
    await press("It fits");
    expect(said()).toContain("Type a number first.");
    await type("Part number", "HC-9");
    await press("It does not fit");
    expect((await devices()).find(({ id }) => id === "demo-w7")?.refuse[0]?.number).toBe("HC-9");
    await press("Forget: HC-9");
    expect((await devices()).find(({ id }) => id === "demo-w7")?.refuse).toEqual([]);
    await press("Undo");
    expect((await devices()).find(({ id }) => id === "demo-w7")?.refuse).toHaveLength(1);
  });

  it("asks which reading of a date is meant, and keeps what was typed while one looks elsewhere", async () => {
    await openWorkbench(made.tools, "#bench/demo-sedge/:edit");
    await type("Build date", "2114");
    await press("Save");
    expect(said()).toContain("Choose which reading is right.");
    await goTo("#bench");
    await goTo("#bench/demo-sedge/:edit");
    expect(field("Build date").value).toBe("2114");
    expect(said()).toContain("This holds changes that are not saved yet.");
    const week = [...document.querySelectorAll("label")].find((each) => each.textContent?.includes("as year and week"));
    week?.querySelector("input")?.click();
    await settled();
    await press("Save");
    const saved = (await devices()).find(({ id }) => id === "demo-sedge");
    expect(saved?.buildDate).toBe("2021-W14");
    expect(saved?.facts?.[0]).toMatchObject({ source: "date code", confidence: "likely" });
    expect(said()).toContain("date code · likely");
  });

  it("keeps where the date stands in a model's serial numbers, and offers it for the next device of the model", async () => {
    const label = "Where the date stands in it";
    await openWorkbench(made.tools, "#bench/demo-sedge/:edit");
    const origin = [...document.querySelectorAll("select")].find((each) => each.value === "made")?.id ?? "";
    const heading = document.querySelector(`label[for="${origin}"]`)?.textContent?.trim() ?? "";
    await choose(heading, "serial");
    expect(field(label).value).toBe("");
    await type("Serial number", "SN2114XYZ");
    await type(label, "??YYWW*");
    await press("Save");
    const saved = (await devices()).find(({ id }) => id === "demo-sedge");
    expect(saved?.buildDate).toBe("2021-W14");
    expect(await made.tools.store.serialPatterns.find(saved?.modelNumbers ?? [])).toBe("??YYWW*");

    await goTo("#bench");
    await press("Add a device");
    await type("Model number", saved?.modelNumbers[0]?.toLowerCase() ?? "");
    await choose(heading, "serial");
    expect(field(label).value).toBe("??YYWW*");
    expect(said()).toContain("You used this pattern for this model before.");
    await type(label, "");
    expect(field(label).value).toBe("");
    await choose(heading, "made");
  });

  it("edits fitted parts with their values, and takes a removed one back", async () => {
    await openWorkbench(made.tools, "#bench/demo-w7/:edit");
    await press("Add a part");
    await choose("Kind of part", "control-board");
    await type("Numbers on the part", "HC-70642");
    await press("Remove: Part 1: control board");
    expect(offers("Remove: Part 1: control board")).toBe(false);
    await press("Undo");
    await type("supply voltage, V", "230");
    await press("Save");
    expect((await devices()).find(({ id }) => id === "demo-w7")?.fitted).toEqual([
      { type: "control-board", numbers: ["HC-70642"], quantities: { supplyVoltage_V: 230 }, source: "label" },
    ]);
  });

  it("reads what the machine prints, shows what each fact would do, and takes over what is chosen", async () => {
    await openWorkbench(made.tools, "#bench/demo-sedge");
    const dump =
      "# dmidecode 3.4\n\nHandle 0x0002, DMI type 2, 15 bytes\nBase Board Information\n\tManufacturer: Quillon\n\tProduct Name: QM7-100B\n\tVersion: A1\n";
    await type("Or paste the text", dump);
    await press("Read it");
    expect(said()).toContain("Board number: QM7-100B");
    expect(said()).toContain("fills an empty field");
    await press("Take over 2 facts");
    expect((await devices()).find(({ id }) => id === "demo-sedge")?.boardNumber).toBe("QM7-100B");
    expect(document.querySelector("h2")?.textContent).toBe("Pinned: board B");
    await type("Or paste the text", "nothing of that kind");
    await press("Read it");
    expect(said()).toContain("It tells 0 facts");
  });

  it("backs up into a file and restores it with a preview; a bad file changes nothing", async () => {
    await openWorkbench(made.tools);
    await press("Back up the bench");
    const text = String(made.files.get("falsefit-2026-11-25.bench.json"));
    const bench = JSON.parse(text);
    expect(bench.devices).toHaveLength(4);

    await goTo("#bench/:restore");
    await hand("broken.json", text.replace('"demo-w7"', "7"));
    expect(said()).toContain("broken.json cannot be used. Nothing was changed.");
    expect(said()).toContain("devices[3].id");

    bench.devices[0].name = "Renamed";
    bench.devices.push({ id: "fresh", modelNumbers: ["F-1"] });
    await hand("bench.json", JSON.stringify(bench));
    expect(said()).toContain("1 device would be added.");
    expect(said()).toContain("1 device is on the bench already, but differs.");
    expect(said()).toContain("differs in What you call it");
    await choose("For all of these", "file");
    await press("Restore 2 devices");
    expect((await devices()).map(({ name }) => name)).toContain("Renamed");
    expect(await devices()).toHaveLength(5);
    await press("Undo");
    expect((await devices()).map(({ name }) => name)).not.toContain("Renamed");
    expect(await devices()).toHaveLength(4);
  });

  it("says that a device is gone, and what could not be read", async () => {
    await openWorkbench(made.tools, "#bench/nobody");
    expect(said()).toContain("This device is no longer on the bench");
    const failing = memoryTools();
    failing.tools.store.devices.list = async () => {
      throw new Error("the disk is full");
    };
    await openWorkbench(failing.tools);
    expect(said()).toContain("The saved devices could not be read.");
    expect(said()).toContain("the disk is full");
    expect(offers("Try again")).toBe(true);
  });

  it("follows changes of another window", async () => {
    await openWorkbench(made.tools, "#bench/demo-w7");
    const [first] = demoDevices;
    if (first) await made.tools.store.devices.save({ ...first, id: "demo-w7", name: "From elsewhere" });
    await settled();
    expect(document.querySelector("h1#device-heading")?.textContent).toBe("From elsewhere");
  });
});

describe("a desk that breaks", () => {
  it("says so and leaves the others alone", async () => {
    await made.tools.store.devices.save(...demoDevices);
    const { work } = made.tools;
    const broken = { ...made.tools, work: { ...work, study: () => Promise.reject(new Error("no worker")) } };
    await openWorkbench(broken, "#bench/demo-w7");
    expect(said()).toContain("The catalogs could not be asked just now.");
    expect(said()).toContain("What is known");
    await turn("Search").catch(() => undefined);
    await goTo("#settings");
    expect(said()).toContain("Language and look");
  });
});
