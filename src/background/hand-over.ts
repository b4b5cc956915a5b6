/**
 * Texts that a menu takes from a page and hands to the popup or the workbench, and the way back into the field they
 * came from. A text waits in the session's storage until it is asked for, once.
 */
import browser from "webextension-polyfill";
import * as z from "zod";
import { readFocusedField, writeRememberedField } from "./field.ts";
import type { HandedText } from "./messages.ts";
import { openWorkbench } from "./pages.ts";

const HANDED = "handed-text";
const place = z.number().int().min(0);
const handedSchema = z.object({ text: z.string(), field: z.object({ tab: place, frame: place }).nullable() });

/** Hands a text to the popup and opens it. */
export async function handToPopup(text: string): Promise<void> {
  await hand({ text, field: null });
  try {
    await browser.action.openPopup();
  } catch {
    // Not every browser opens its popup for a menu; a small tab does the same.
    await browser.tabs.create({ url: browser.runtime.getURL("popup.html") });
  }
}

/** Reads the text field that the menu was opened on and hands its text to the workbench's title check. */
export async function handFieldToWorkbench(tab: number, frame: number): Promise<void> {
  const target = { tabId: tab, frameIds: [frame] };
  const [read] = await browser.scripting.executeScript({ target, func: readFocusedField });
  if (typeof read?.result !== "string") return;
  await hand({ text: read.result, field: { tab, frame } });
  await openWorkbench("title-check");
}

/** The text that waits, handed out once. */
export async function takeText(): Promise<HandedText | null> {
  const waiting = handedSchema.safeParse((await browser.storage.session.get(HANDED))[HANDED]);
  await browser.storage.session.remove(HANDED);
  return waiting.success ? waiting.data : null;
}

/** Writes a text into the field that was read; false when the field is gone. */
export async function writeField(tab: number, frame: number, text: string): Promise<boolean> {
  const target = { tabId: tab, frameIds: [frame] };
  const [written] = await browser.scripting.executeScript({ target, func: writeRememberedField, args: [text] });
  return written?.result === true;
}

async function hand(text: HandedText): Promise<void> {
  await browser.storage.session.set({ [HANDED]: text });
}
