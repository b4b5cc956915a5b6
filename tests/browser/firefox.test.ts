import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { openFirefox } from "../../fixtures/browser.mjs";
import { openMarketplace } from "../../fixtures/marketplace/server.mjs";
import { buildExtension } from "../../manifest/pack.mjs";
import { findBrowser } from "../../src/headless/find-browser.mjs";

const browser = findBrowser("firefox");

describe.skipIf(browser === null)("the same extension in Firefox", () => {
  let market: Awaited<ReturnType<typeof openMarketplace>>;
  let firefox: Awaited<ReturnType<typeof openFirefox>>;

  beforeAll(async () => {
    if (browser === null) return;
    market = await openMarketplace();
    const folder = await buildExtension("firefox", { demo: true });
    firefox = await openFirefox({ browser, folder, headless: true });
  });
  afterAll(async () => {
    await firefox?.opened.close();
    await market?.close();
  });

  it("marks the listings of the demonstration page and states the price trap", async () => {
    const { page } = firefox;
    const address = `${market.origin}/search?q=PL-20+battery`;
    await expect
      .poll(
        async () => {
          await page.goto(address);
          return page.waitForSelector("falsefit-overlay", { timeout: 2_000 }).then(
            () => true,
            () => false,
          );
        },
        { timeout: 20_000 },
      )
      .toBe(true);
    await page.waitForFunction(() =>
      document.querySelector("falsefit-overlay")?.shadowRoot?.textContent?.includes("is for the early board"),
    );
    const marks = await page.evaluate(() =>
      [...(document.querySelector("falsefit-overlay")?.shadowRoot?.querySelectorAll(".mark") ?? [])].map(
        (mark) => mark.textContent,
      ),
    );
    // Sixteen offers, two of them no part for the device: a door seal and a whole device.
    expect(marks).toHaveLength(14);
  });
});
