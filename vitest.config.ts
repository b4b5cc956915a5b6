import { defineConfig } from "vitest/config";
import { rulesForVitest } from "./manifest/rules-plugin.mjs";

/** Three groups: pure and jsdom tests, checks from outside, and real browsers (which run one at a time). */
export default defineConfig({
  plugins: [rulesForVitest()],
  oxc: { jsx: { runtime: "automatic", importSource: "preact" } },
  test: {
    // As many workers as cores: the runner would leave one of two idle.
    maxWorkers: "100%",
    projects: [
      {
        extends: true,
        test: {
          name: "unit",
          include: ["tests/**/*.test.{ts,tsx}"],
          setupFiles: ["tests/setup.ts"],
          exclude: ["tests/external/**", "tests/browser/**"],
          testTimeout: 60_000,
        },
      },
      {
        extends: true,
        test: {
          name: "external",
          include: ["tests/external/**/*.test.ts"],
          setupFiles: ["tests/setup.ts"],
          testTimeout: 120_000,
        },
      },
      {
        extends: true,
        test: {
          name: "browser",
          include: ["tests/browser/**/*.test.ts"],
          testTimeout: 120_000,
          hookTimeout: 120_000,
          expect: { poll: { timeout: 10_000 } },
          fileParallelism: false,
        },
      },
    ],
  },
});
