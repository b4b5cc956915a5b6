// @ts-check
/**
 * What `npm run falsefit` starts in a checkout: installs packages if there are none, bundles the command when its
 * sources are newer than the bundle, then becomes the command (same process: same streams, signals, exit code).
 *
 * Needs nothing but Node. Everything it has to say goes to standard error; standard output belongs to the command.
 */
import { spawnSync } from "node:child_process";
import { existsSync, mkdirSync, readFileSync, rmSync, statSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { buildCommand, commandIsBuilt, commandSources } from "../../manifest/build-command.mjs";

const ROOT = fileURLToPath(new URL("../..", import.meta.url));
const COMMAND = join(ROOT, "dist/command/falsefit.mjs");
const LOCK = join(ROOT, "dist/command.lock");
/** A lock older than this was left by a run that was killed. */
const LOCK_LIFE_MS = 10 * 60 * 1000;
const LOCK_POLL_MS = 100;

if (!isReady()) {
  await underLock(async () => {
    if (!hasPackages()) installPackages();
    if (!isReady()) await buildCommand();
  });
}
// npm changes into the checkout; file names are meant from where the person stands.
const stands = process.env["INIT_CWD"];
if (process.env["npm_lifecycle_event"] === "falsefit" && stands && existsSync(stands)) process.chdir(stands);
process.argv[1] = COMMAND;
await import(pathToFileURL(COMMAND).href);

function isReady() {
  return hasPackages() && existsSync(COMMAND) && commandIsBuilt(commandSources());
}

function hasPackages() {
  return existsSync(join(ROOT, "node_modules/.package-lock.json"));
}

function installPackages() {
  console.error("falsefit: installing packages (npm ci), once");
  const { status } = spawnSync("npm", ["ci", "--no-audit", "--no-fund"], { cwd: ROOT, stdio: ["ignore", 2, 2] });
  if (status !== 0) {
    console.error("falsefit: the packages could not be installed; check the network and run npm ci");
    process.exit(2);
  }
}

/**
 * Runs a task while no other launch runs one.
 *
 * @param {() => Promise<void>} task
 */
async function underLock(task) {
  while (!takeLock()) await new Promise((resolve) => setTimeout(resolve, LOCK_POLL_MS));
  try {
    await task();
  } catch (error) {
    console.error(`falsefit: the command could not be built: ${error instanceof Error ? error.message : error}`);
    process.exitCode = 2;
  } finally {
    rmSync(LOCK, { force: true });
  }
  if (process.exitCode === 2) process.exit();
}

/** Takes the lock file, or a dead launch's; false when a living one holds it. */
function takeLock() {
  mkdirSync(dirname(LOCK), { recursive: true });
  try {
    writeFileSync(LOCK, String(process.pid), { flag: "wx" });
    return true;
  } catch (error) {
    if (/** @type {NodeJS.ErrnoException} */ (error).code !== "EEXIST") throw error;
  }
  if (holderIsGone()) rmSync(LOCK, { force: true });
  return false;
}

function holderIsGone() {
  try {
    if (Date.now() - statSync(LOCK).mtimeMs > LOCK_LIFE_MS) return true;
    const holder = Number(readFileSync(LOCK, "utf8"));
    if (!Number.isInteger(holder) || holder <= 0) return false;
    process.kill(holder, 0);
    return false;
  } catch (error) {
    // ESRCH: no such process. ENOENT: the lock was given back meanwhile.
    return /** @type {NodeJS.ErrnoException} */ (error).code === "ESRCH";
  }
}
