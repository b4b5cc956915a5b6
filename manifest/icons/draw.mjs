// @ts-check
/** Draws sign.svg as the PNG files that browsers ask for: `node manifest/icons/draw.mjs`. */
import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { chromium } from "playwright-core";
import { findBrowser, sandboxFlags } from "../../src/headless/find-browser.mjs";

const SIZES_PX = [16, 32, 48, 128];
const here = (/** @type {string} */ name) => fileURLToPath(new URL(name, import.meta.url));

const found = findBrowser("chromium");
if (found === null) throw new Error("Drawing the icons needs a Chromium-family browser.");
const browser = await chromium.launch({ executablePath: found.path, args: sandboxFlags() });
const page = await browser.newPage();
const sign = readFileSync(here("sign.svg"), "utf8");
for (const size of SIZES_PX) {
  await page.setViewportSize({ width: size, height: size });
  await page.setContent(
    `<body style="margin:0">${sign.replace('width="32" height="32"', `width="${size}" height="${size}"`)}`,
  );
  await page.screenshot({ path: here(`sign-${size}.png`), omitBackground: true });
}
await browser.close();
