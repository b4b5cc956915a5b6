// @vitest-environment jsdom

import { describe, expect, it, vi } from "vitest";
import type { Scripting } from "webextension-polyfill";
import { readFocusedField, writeRememberedField } from "../../src/background/field.ts";
import { isMenuId, menuEntries } from "../../src/background/menus.ts";
import { reconcileSites, type SiteBrowser } from "../../src/background/site-switch.ts";
import { memoryStore } from "../store/memory.ts";
import { wordsOf } from "../ui/words.ts";

describe("sites", () => {
  function fakeBrowser(allowed: string[], registered: string[]) {
    const ids = new Set(registered);
    const scripting = {
      getRegisteredContentScripts: async () => [...ids].map((id) => ({ id }) as Scripting.RegisteredContentScript),
      registerContentScripts: async (scripts: Scripting.RegisteredContentScript[]) => {
        for (const { id } of scripts) {
          if (ids.has(id)) throw new Error(`Duplicate script ID "${id}"`);
          ids.add(id);
        }
      },
      unregisterContentScripts: async (filter?: { ids?: string[] }) => {
        for (const id of filter?.ids ?? []) ids.delete(id);
      },
      executeScript: vi.fn(),
    };
    const browser = { scripting, mayActOn: async (pattern: string) => allowed.includes(pattern) };
    return { browser: browser as unknown as SiteBrowser, ids };
  }

  it("are registered where they are both wanted and allowed; others' scripts are left alone", async () => {
    const { store } = memoryStore();
    await store.sites.add("https://a.example");
    await store.sites.add("https://b.example");
    const { browser, ids } = fakeBrowser(
      ["https://a.example/*", "https://c.example/*"],
      ["site https://c.example", "another"],
    );
    await reconcileSites(store.sites, browser);
    expect([...ids].sort()).toEqual(["another", "site https://a.example"]);
    await reconcileSites(store.sites, browser);
    expect([...ids].sort()).toEqual(["another", "site https://a.example"]);
  });

  it("are registered once, even when two windows switch them on at the same time", async () => {
    const { store } = memoryStore();
    const { browser, ids } = fakeBrowser(["https://a.example/*"], []);
    await store.sites.add("https://a.example");
    await Promise.all([reconcileSites(store.sites, browser), reconcileSites(store.sites, browser)]);
    expect([...ids]).toEqual(["site https://a.example"]);
  });
});

describe("menus", () => {
  it("name the device in hand, and take no part of a name for a sign of their own", () => {
    const entries = menuEntries(wordsOf("en"), "100%s & more");
    expect(entries.map(({ id, contexts }) => [id, contexts])).toEqual([
      ["check-selection", ["selection"]],
      ["read-title", ["editable"]],
      ["check-pasted", ["action"]],
    ]);
    expect(entries[0]?.title).toBe("Check this against 100% s && more");
    expect(menuEntries(wordsOf("de"), null)[0]?.title).toBe("Diesen Text prüfen");
    expect(entries.every(({ id }) => isMenuId(id ?? ""))).toBe(true);
    expect(isMenuId("other")).toBe(false);
  });
});

describe("a text field", () => {
  it.each(["input", "textarea"])("%s is read and written as if typed", (tag) => {
    document.body.innerHTML = `<${tag}></${tag}>`;
    const field = document.body.firstElementChild as HTMLInputElement;
    field.value = "PB-1840 battery";
    field.focus();
    const heard: string[] = [];
    for (const type of ["input", "change"]) field.addEventListener(type, () => heard.push(type));
    expect(readFocusedField()).toBe("PB-1840 battery");
    field.blur();
    expect(writeRememberedField("battery PB-1840 for early board")).toBe(true);
    expect(field.value).toBe("battery PB-1840 for early board");
    expect(heard).toEqual(["input", "change"]);
  });

  it("that is gone is not written, and something that is no field is not read", () => {
    document.body.innerHTML = "<button>x</button><input>";
    (document.body.lastElementChild as HTMLInputElement).focus();
    readFocusedField();
    document.body.lastElementChild?.remove();
    expect(writeRememberedField("x")).toBe(false);
    (document.body.firstElementChild as HTMLButtonElement).focus();
    expect(readFocusedField()).toBeNull();
    expect(writeRememberedField("x")).toBe(false);
  });
});
