// @ts-check
/**
 * `npm run bench [-- NAME…]`: runs each `*.bench.mjs` of this folder, one after the other. Benchmarks print figures
 * (ratios within one run wherever possible) and never pass or fail.
 */
import { spawnSync } from "node:child_process";
import { readdirSync } from "node:fs";
import { fileURLToPath } from "node:url";

const HERE = fileURLToPath(new URL(".", import.meta.url));
const wanted = process.argv.slice(2);
const benches = readdirSync(HERE)
  .filter((file) => file.endsWith(".bench.mjs"))
  .filter((file) => wanted.length === 0 || wanted.includes(file.replace(".bench.mjs", "")))
  .sort();

if (benches.length === 0) {
  console.error(`No such benchmark; there are: ${readdirSync(HERE).filter((file) => file.endsWith(".bench.mjs"))}`);
  process.exit(2);
}
for (const bench of benches) {
  console.log(`\n== ${bench.replace(".bench.mjs", "")}`);
  const { status } = spawnSync(process.execPath, ["--expose-gc", bench], { cwd: HERE, stdio: "inherit" });
  if (status !== 0) process.exitCode = 1;
}
