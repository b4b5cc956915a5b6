// @ts-check
/**
 * Finds an installed browser: a Chromium-family one or Firefox. Plain JavaScript, so that the demo, the tests and
 * the command share it without a build.
 */
import { accessSync, constants } from "node:fs";
import { delimiter, join } from "node:path";

/** @typedef {{ family: "chromium" | "firefox", path: string }} FoundBrowser */

/** Names looked up on the PATH, and the places where installers put browsers that are not on it. */
const NAMES = {
  chromium: [
    "chromium",
    "chromium-browser",
    "google-chrome",
    "google-chrome-stable",
    "microsoft-edge",
    "brave-browser",
  ],
  firefox: ["firefox", "firefox-esr"],
};
const PLACES = {
  chromium: [
    "/usr/bin/chromium",
    "/snap/bin/chromium",
    "/Applications/Chromium.app/Contents/MacOS/Chromium",
    "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
    "C:\\Program Files\\Chromium\\Application\\chrome.exe",
    "C:\\Program Files\\Google\\Chrome\\Application\\chrome.exe",
    "C:\\Program Files (x86)\\Microsoft\\Edge\\Application\\msedge.exe",
  ],
  firefox: [
    "/usr/bin/firefox-esr",
    "/usr/bin/firefox",
    "/Applications/Firefox.app/Contents/MacOS/firefox",
    "C:\\Program Files\\Mozilla Firefox\\firefox.exe",
  ],
};

/** Flags that keep Chromium from asking the network for anything of its own. */
export const QUIET_CHROMIUM = [
  "--no-first-run",
  "--disable-background-networking",
  "--disable-component-update",
  "--disable-sync",
  "--disable-quic",
];

/**
 * The first installed browser of a family, or null.
 *
 * @param {"chromium" | "firefox"} family
 * @returns {FoundBrowser | null}
 */
export function findBrowser(family) {
  const onPath = (process.env["PATH"] ?? "").split(delimiter).filter(Boolean);
  const named = NAMES[family].flatMap((name) => onPath.map((folder) => join(folder, name)));
  const path = [...named, ...PLACES[family]].find(isExecutable);
  return path === undefined ? null : { family, path };
}

/**
 * The browser at a path that a person named; the family is told by the file's name.
 *
 * @param {string} path
 * @returns {FoundBrowser}
 */
export function browserAt(path) {
  if (!isExecutable(path))
    throw new Error(`${path} is not a program that can be started; give the browser's full path.`);
  return { family: /firefox/i.test(path) ? "firefox" : "chromium", path };
}

/** Chromium refuses its sandbox when started by root; only then is it left out. */
export function sandboxFlags() {
  return process.getuid?.() === 0 ? ["--no-sandbox"] : [];
}

/** @param {string} path */
function isExecutable(path) {
  try {
    accessSync(path, constants.X_OK);
    return true;
  } catch {
    return false;
  }
}
