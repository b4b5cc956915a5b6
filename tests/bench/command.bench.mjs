// @ts-check
/**
 * The command on a long feed: lines a second and peak memory without threads, with one and with two, beside a bare
 * read-parse-write of the same file in one process.
 *
 *   node tests/bench/command.bench.mjs              1,000,000 listings
 *   LISTINGS=50000 node tests/bench/command.bench.mjs
 */
import { spawn } from "node:child_process";
import { createReadStream, createWriteStream, mkdtempSync, readFileSync, rmSync, statSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { createInterface } from "node:readline";
import { fileURLToPath } from "node:url";

const ROOT = fileURLToPath(new URL("../..", import.meta.url));
const HERE = fileURLToPath(import.meta.url);
const LISTINGS = Number(process.env["LISTINGS"] ?? 1_000_000);
const POLL_MS = 50;
/** One listing in this many concerns the device. */
const ONE_IN = 8;
/** Ticks of the kernel's clock in a second (Linux). */
const TICKS = 100;
/** Largest piece that is written at once, in characters. */
const PIECE_CHARS = 256 * 1024;

if (process.argv[2] === "--bare") await bareFilter(process.argv[3] ?? "");
else await compare();

async function compare() {
  const folder = mkdtempSync(join(tmpdir(), "falsefit-bench-"));
  try {
    const feed = join(folder, "feed.ndjson");
    const tenth = join(folder, "tenth.ndjson");
    await writeFeed(feed, LISTINGS);
    await writeFeed(tenth, Math.ceil(LISTINGS / 10));
    console.log(
      `${LISTINGS} listings, ${(statSync(feed).size / 1e6).toFixed(0)} MB, one in ${ONE_IN} concerns the device`,
    );
    await run([join(ROOT, "src/headless/launch.mjs"), "--version"]);
    const bare = await measured("bare read, parse, write", [HERE, "--bare", feed], LISTINGS);
    await measured("check, no thread", checkWords(0, feed), LISTINGS);
    const one = await measured("check, one thread", checkWords(1, feed), LISTINGS);
    const two = await measured("check, two threads", checkWords(2, feed), LISTINGS);
    const short = await measured("check, two threads, a tenth", checkWords(2, tenth), Math.ceil(LISTINGS / 10));
    console.log(`two threads beside one:        ${(one.seconds / two.seconds).toFixed(2)} times as fast`);
    console.log(`two threads beside bare:       ${(two.seconds / bare.seconds).toFixed(1)} times as long`);
    console.log(`peak memory, whole to a tenth: ${(two.peakMB / short.peakMB).toFixed(2)}`);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/**
 * @param {number} workers
 * @param {string} feed
 */
function checkWords(workers, feed) {
  const catalog = join(ROOT, "rules/catalogs/demo.catalog.json");
  const bench = join(ROOT, "rules/catalogs/demo.bench.json");
  const launcher = join(ROOT, "src/headless/launch.mjs");
  return [
    launcher,
    "check",
    "--catalog",
    catalog,
    "--bench",
    bench,
    "--device",
    "demo-lark-late",
    "--workers",
    String(workers),
    feed,
  ];
}

/**
 * Listings as a feed of one shop has them: one in eight names the device's family, the others are other goods.
 *
 * @param {string} path
 * @param {number} count
 */
async function writeFeed(path, count) {
  const stream = createWriteStream(path);
  const concerned = [
    "PB-2240 battery for Lark 20, board PW-4410-5, 3.8 V 17.1 Wh",
    "PB-1840 battery for Lark 20 handheld, early board, not for PW-4410-5",
    "Battery for Pellworm PL-20 PL-20E, new, fast shipping",
  ];
  const others = [
    "Garden hose connector set, brass, 1/2 inch, pack of 4",
    "Display panel 13.3 inch 1920 x 1080 30 pin, QD-1330, matte, tested",
    "Replacement fan for stick vacuum, OF-FAN-3, used, working, 2019",
    "USB charger 45 W with cable, 20 V 2.25 A, black",
    "Wooden chair, solid oak, height 45 cm, very good condition",
  ];
  const description =
    "Tested in our workshop. Ships within one working day from the EU. Please compare the number on your old part " +
    "before you order; returns are accepted within 30 days. ";
  /** @param {number} i */
  const titleOf = (i) => (i % ONE_IN === 0 ? concerned[(i / ONE_IN) % concerned.length] : others[i % others.length]);
  let piece = "";
  for (let i = 0; i < count; i++) {
    const listing = {
      id: `L${i}`,
      title: `${titleOf(i)} (${i % 997})`,
      price: { amount: `${(i % 90) + 5}.${String(i % 100).padStart(2, "0")}`, currency: "EUR" },
      specifics: { Brand: "unbranded", Condition: i % 3 === 0 ? "used" : "new" },
      description: description + i,
    };
    piece += `${JSON.stringify(listing)}\n`;
    if (piece.length < PIECE_CHARS) continue;
    if (!stream.write(piece)) await new Promise((resolve) => stream.once("drain", () => resolve(undefined)));
    piece = "";
  }
  await new Promise((resolve) => stream.end(piece, () => resolve(undefined)));
}

/**
 * What any filter of lines must do at least: read, parse, write.
 *
 * @param {string} path
 */
async function bareFilter(path) {
  let piece = "";
  const write = async () => {
    const done = piece;
    piece = "";
    if (!process.stdout.write(done))
      await new Promise((resolve) => process.stdout.once("drain", () => resolve(undefined)));
  };
  for await (const line of createInterface({ input: createReadStream(path), crlfDelay: Number.POSITIVE_INFINITY })) {
    const { id, title, price } = JSON.parse(line);
    piece += `${JSON.stringify({ id, title, price })}\n`;
    if (piece.length >= PIECE_CHARS) await write();
  }
  await write();
}

/**
 * @param {string} name
 * @param {string[]} words
 * @param {number} count
 */
async function measured(name, words, count) {
  const { seconds, peakMB, busy, main } = await run(words);
  const rate = Math.round(count / seconds);
  const whole = `${seconds.toFixed(1).padStart(7)} s ${String(rate).padStart(8)} lines/s ${peakMB.toFixed(0).padStart(5)} MB`;
  const figures = `${whole}   processor ${busy.toFixed(1)} s, of it the first thread ${main.toFixed(1)} s`;
  console.log(`${name.padEnd(30)} ${figures}`);
  return { seconds, peakMB };
}

/**
 * Runs Node with some words; seconds from start to end, the largest resident size on the way, and the processor time of
 * all threads and of the first one: what only the first one does cannot be shared.
 *
 * @param {string[]} words
 * @returns {Promise<{ seconds: number, peakMB: number, busy: number, main: number }>}
 */
function run(words) {
  const started = performance.now();
  const child = spawn(process.execPath, words, { stdio: ["ignore", "ignore", "inherit"] });
  let peakKB = 0;
  let busy = 0;
  let main = 0;
  const poll = setInterval(() => {
    const { pid = 0 } = child;
    peakKB = Math.max(peakKB, peakOf(pid));
    busy = Math.max(busy, busyOf(`/proc/${pid}/stat`));
    main = Math.max(main, busyOf(`/proc/${pid}/task/${pid}/stat`));
  }, POLL_MS);
  return new Promise((resolve, reject) => {
    child.on("error", reject);
    child.on("close", (code) => {
      clearInterval(poll);
      if (code !== 0) reject(new Error(`${words.join(" ")}: exit code ${code}`));
      else resolve({ seconds: (performance.now() - started) / 1000, peakMB: peakKB / 1024, busy, main });
    });
  });
}

/**
 * The largest resident size of a process so far, in kB (Linux); 0 once it is gone.
 *
 * @param {number} pid
 */
function peakOf(pid) {
  return Number(/VmHWM:\s+(\d+)/.exec(readIfThere(`/proc/${pid}/status`))?.[1] ?? 0);
}

/**
 * Processor time of a process or a thread so far, its own and the kernel's for it, in seconds (Linux); 0 once it is gone.
 *
 * @param {string} path of its `stat`: fields 14 and 15, counted behind the name in brackets
 */
function busyOf(path) {
  const text = readIfThere(path);
  const fields = text.slice(text.lastIndexOf(")") + 2).split(" ");
  return (Number(fields[11] ?? 0) + Number(fields[12] ?? 0)) / TICKS;
}

/** @param {string} path */
function readIfThere(path) {
  try {
    return readFileSync(path, "utf8");
  } catch (error) {
    const { code } = /** @type {NodeJS.ErrnoException} */ (error);
    if (code === "ENOENT" || code === "ESRCH") return "";
    throw error;
  }
}
