// @ts-check
/**
 * `npm test`: set-up, compiler, linter, rule files, unit tests, checks from outside, real browsers.
 *
 * Prints one closing line `N passed, N failed, N skipped`. Browser tests that find no browser are skipped by the
 * test runner itself and so stand in that count. Every step runs even when an earlier one failed.
 *
 *   npm test                 everything
 *   npm test -- --quick      compiler, linter, unit tests (for changes to data only)
 */
import { spawnSync } from "node:child_process";
import { existsSync, mkdtempSync, readFileSync, rmSync, statSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";

const ROOT = fileURLToPath(new URL("..", import.meta.url));
const quick = process.argv.includes("--quick");
const count = { passed: 0, failed: 0, skipped: 0 };

/**
 * @param {string} command
 * @param {string[]} args
 */
function run(command, args) {
  const { FORCE_COLOR: _, ...env } = process.env;
  return spawnSync(command, args, { cwd: ROOT, stdio: "inherit", env: { ...env, NO_COLOR: "1" } });
}

/**
 * A step that passes or fails as a whole.
 *
 * @param {string} name
 * @param {string} command
 * @param {string[]} args
 */
function step(name, command, args) {
  console.log(`\n== ${name}`);
  const ok = run(command, args).status === 0;
  count[ok ? "passed" : "failed"]++;
  if (!ok) console.log(`   ${name}: failed`);
  return ok;
}

/** @param {string} project */
function vitest(project) {
  console.log(`\n== tests: ${project}`);
  const folder = mkdtempSync(join(tmpdir(), "falsefit-test-"));
  const report = join(folder, "report.json");
  run("npx", [
    "vitest",
    "run",
    "--project",
    project,
    "--reporter=default",
    "--reporter=json",
    `--outputFile.json=${report}`,
  ]);
  if (existsSync(report)) {
    const result = JSON.parse(readFileSync(report, "utf8"));
    count.passed += result.numPassedTests;
    count.skipped += result.numPendingTests + (result.numTodoTests ?? 0);
    // A file that cannot be loaded has no tests of its own; it counts as one failure.
    const broken = result.testResults.filter(
      (/** @type {any} */ file) => file.status === "failed" && file.assertionResults.length === 0,
    );
    count.failed += result.numFailedTests + broken.length;
    if (result.numTotalTests === 0) {
      count.failed++;
      console.log(`   no test was found in "${project}"`);
    }
  } else {
    count.failed++;
    console.log(`   the test runner wrote no report for "${project}"`);
  }
  rmSync(folder, { recursive: true });
}

const lock = join(ROOT, "package-lock.json");
const installed = join(ROOT, "node_modules/.package-lock.json");
if (!existsSync(installed) || statSync(installed).mtimeMs < statSync(lock).mtimeMs) {
  console.log("== packages (npm ci)");
  if (run("npm", ["ci", "--no-audit", "--no-fund"]).status !== 0) {
    console.log("The packages could not be installed; check the network and run `npm ci`.");
    console.log("0 passed, 1 failed, 0 skipped");
    process.exit(1);
  }
}

step("types", "npm", ["run", "--silent", "types"]);
step("format, lint, unused code", "npm", ["run", "--silent", "lint"]);
step("build", process.execPath, ["manifest/pack.mjs", "--test"]);
vitest("unit");
if (!quick) {
  vitest("external");
  vitest("browser");
}

console.log(`\n${count.passed} passed, ${count.failed} failed, ${count.skipped} skipped`);
process.exit(count.failed > 0 ? 1 : 0);
