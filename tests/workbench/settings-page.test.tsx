// @vitest-environment jsdom
import { render } from "preact";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { Tools } from "../../src/workbench/tools.tsx";
import { choose, goTo, offers, openWorkbench, press, said, settled, turn } from "./page.tsx";
import { demoCatalog, demoDevices, type MemoryTools, memoryTools } from "./tools.ts";

let made: MemoryTools;
beforeEach(() => {
  made = memoryTools();
});
afterEach(() => {
  for (const root of document.body.children) render(null, root);
});

describe("settings", () => {
  it("take effect at once", async () => {
    await openWorkbench(made.tools, "#settings");
    await choose("Language", "pl");
    await turn("Stronger contrast");
    await turn("Show marks at once");
    const pick = async (label: string) => {
      [...document.querySelectorAll("label")]
        .find((each) => each.textContent?.startsWith(label))
        ?.querySelector("input")
        ?.click();
      await settled();
    };
    await pick("Dark");
    await pick("The sign alone");
    await pick("All but those that fit");
    expect(await made.tools.store.settings.get()).toEqual({
      language: "pl",
      contrast: "more",
      scheme: "dark",
      showMarks: false,
      marks: "signs",
      dim: "all-but-go",
    });
  });

  it("list the cautions and what leaves the browser", async () => {
    await openWorkbench(made.tools, "#settings");
    for (const text of [
      "Lithium packs",
      "Mains voltage can kill",
      "Backlight supplies",
      "Capacitors can hold",
      "Nothing. The only thing ever fetched",
    ]) {
      expect(said()).toContain(text);
    }
  });

  it("switch sites off through the background, and ask for the permission when that is taken back", async () => {
    const asked: unknown[] = [];
    const wanted: string[] = [];
    const ask: Tools["ask"] = async (request) => {
      const { kind, on, site } = request as { kind: string; on: boolean; site: string };
      asked.push(kind);
      await (on ? made.tools.store.sites.add(site) : made.tools.store.sites.remove(site));
      return { ok: true, data: null as never };
    };
    const permissions = {
      has: async () => true,
      drop: async () => undefined,
      ask: async (pattern: string) => {
        wanted.push(pattern);
        return true;
      },
    };
    made = memoryTools({ ask, permissions });
    await made.tools.store.sites.add("https://shop.example");
    await openWorkbench(made.tools, "#settings");
    await press("Switch off: https://shop.example");
    expect(await made.tools.store.sites.list()).toEqual([]);
    await press("Undo");
    expect(wanted).toEqual(["https://shop.example/*"]);
    expect(asked).toEqual(["switch-site", "switch-site"]);
    expect(await made.tools.store.sites.list()).toEqual(["https://shop.example"]);
  });

  it("say when a site cannot be switched", async () => {
    await made.tools.store.sites.add("https://shop.example");
    await openWorkbench(made.tools, "#settings");
    await press("Switch off: https://shop.example");
    expect(said()).toContain("https://shop.example could not be switched just now.");
  });

  it("forget a taught page, and take that back", async () => {
    await made.tools.store.shapes.save({
      format: "falsefit-page-shape/1",
      id: "grid",
      host: "shop.example",
      record: ".item",
      title: "h2",
      origin: "taught",
    });
    await openWorkbench(made.tools, "#settings");
    await press("Forget: shop.example");
    expect(await made.tools.store.shapes.list()).toEqual([]);
    await press("Undo");
    expect(await made.tools.store.shapes.list()).toHaveLength(1);
  });

  it("show what was kept aside, hand it over, and throw it away only after asking", async () => {
    made.items.set("device/broken", { v: 1, at: "x", value: { addedAt: "x", device: { id: 3 } } });
    await openWorkbench(made.tools, "#settings");
    expect(said()).toContain("Kept aside");
    expect(said()).toContain("device/broken");
    await press("Download: device/broken");
    expect(String(made.files.get("falsefit-unreadable.json"))).toContain('"raw"');
    HTMLDialogElement.prototype.showModal ??= function (this: HTMLDialogElement) {
      this.open = true;
    };
    HTMLDialogElement.prototype.close ??= function (this: HTMLDialogElement) {
      this.open = false;
    };
    await press("Throw away: device/broken");
    expect(said()).toContain("Throw it away for good?");
    await press("Cancel");
    expect(await made.tools.store.records.setAside()).toHaveLength(1);
    await press("Throw away: device/broken");
    await press("Throw away");
    expect(await made.tools.store.records.setAside()).toEqual([]);
  });
});

describe("everything in one file", () => {
  it("is handed over and restored piece by piece, and taken back", async () => {
    await made.tools.work.catalogAdd({ id: "demo", text: demoCatalog, origin: { kind: "example" } });
    await made.tools.store.devices.save(...demoDevices);
    await made.tools.store.settings.change({ scheme: "dark" });
    await openWorkbench(made.tools, "#settings");
    await press("Back up everything");
    const content = made.files.get("falsefit-2026-11-25.backup.json");
    expect(content).toBeInstanceOf(Blob);

    const fresh = memoryTools();
    await openWorkbench(fresh.tools, "#settings/:restore");
    const input = document.querySelector<HTMLInputElement>('input[type="file"]');
    Object.defineProperty(input, "files", {
      value: [Object.assign(content as Blob, { name: "all.json" })],
      configurable: true,
    });
    input?.dispatchEvent(new Event("change", { bubbles: true }));
    await settled();
    expect(said()).toContain("4 devices would be added.");
    expect(said()).toContain("Demonstration catalog (invented makers and numbers)would be added");
    expect(await fresh.tools.store.devices.list()).toEqual([]);
    await press("Restore");
    expect(await fresh.tools.store.devices.list()).toHaveLength(4);
    expect(await fresh.tools.store.catalogs.list()).toHaveLength(1);
    expect((await fresh.tools.store.settings.get()).scheme).toBe("dark");
    await press("Undo");
    expect(await fresh.tools.store.devices.list()).toEqual([]);
    expect(await fresh.tools.store.catalogs.list()).toEqual([]);
    expect((await fresh.tools.store.settings.get()).scheme).toBe("system");
  });

  it("is refused with every fault when it is none, and changes nothing", async () => {
    await made.tools.store.devices.save(...demoDevices);
    await openWorkbench(made.tools, "#settings/:restore");
    const input = document.querySelector<HTMLInputElement>('input[type="file"]');
    const file = Object.assign(new Blob(['{"format":"falsefit-backup/9"}']), {
      name: "old.json",
      text: async () => '{"format":"falsefit-backup/9"}',
    });
    Object.defineProperty(input, "files", { value: [file], configurable: true });
    input?.dispatchEvent(new Event("change", { bubbles: true }));
    await settled();
    expect(said()).toContain("old.json cannot be used. Nothing was changed.");
    expect(await made.tools.store.devices.list()).toHaveLength(4);
    await goTo("#settings");
    expect(offers("Throw the example away")).toBe(true);
  });
});
