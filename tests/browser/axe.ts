/** Runs axe-core inside of a page, by way of the debugger, so that the page's policy does not matter. */
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import type { Page } from "playwright-core";

const source = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");

/** One line a violation: rule, how bad, and the first node. */
export async function violations(page: Page, within?: string): Promise<string[]> {
  await page.evaluate(source);
  return page.evaluate(async (selector) => {
    const { axe } = window as unknown as { axe: { run(context: unknown, options: unknown): Promise<AxeResults> } };
    const context = selector === undefined ? document : { include: [[selector]] };
    const results = await axe.run(context, { resultTypes: ["violations"] });
    return results.violations.map(({ id, impact, nodes }) => `${id} (${impact}): ${nodes[0]?.html.slice(0, 160)}`);
  }, within);
}

interface AxeResults {
  readonly violations: readonly { id: string; impact: string; nodes: readonly { html: string }[] }[];
}
