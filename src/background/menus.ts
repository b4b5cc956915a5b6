/** The menus: on selected text, on text fields, on the toolbar button. */
import type { Menus } from "webextension-polyfill";
import type { Words } from "../text/words.ts";

/** Our menu entries. */
const menuIds = ["check-selection", "read-title", "check-pasted"] as const;
/** One of our menu entries. */
export type MenuId = (typeof menuIds)[number];

/** The entries in the person's language; the device in hand is named where there is one. */
export function menuEntries(words: Words, device: string | null): Menus.CreateCreatePropertiesType[] {
  const check = device === null ? words.say("menu_check_selection") : words.say("menu_check_against", { device });
  // A single "%s" would be replaced by the selected text, and "&" marks a shortcut letter.
  const plain = (title: string) => title.replaceAll("%s", "% s").replaceAll("&", "&&");
  return [
    { id: "check-selection", title: plain(check), contexts: ["selection"] },
    { id: "read-title", title: plain(words.say("menu_read_title")), contexts: ["editable"] },
    { id: "check-pasted", title: plain(words.say("menu_check_pasted")), contexts: ["action"] },
  ];
}

/** True for the id of one of our entries. */
export function isMenuId(id: string | number): id is MenuId {
  return menuIds.some((known) => known === id);
}
