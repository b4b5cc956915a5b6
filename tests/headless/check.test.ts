import { spawn } from "node:child_process";
import { once } from "node:events";
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { verdictLineSchema } from "../../src/formats/verdict.ts";
import { BENCH, CATALOG, COMMAND, finished, firstOutput, LAUNCHER, run, scratch, start } from "./run-command.ts";

const file = scratch();
const against = ["check", "--catalog", CATALOG, "--bench", BENCH];
const late = [...against, "--device", "demo-lark-late"];
const line = (listing: object): string => `${JSON.stringify(listing)}\n`;

const listings = [
  { id: "right", title: "Pellworm PB-2240 battery for Lark 20", price: { amount: "36.00", currency: "USD" } },
  { title: "Pellworm PB-1840 battery for Lark 20" },
  { id: 3, title: "Garden chair, green" },
  { title: "Battery for PL-20", related: true },
];

describe("check with a device", () => {
  it("gives exactly one line a listing, in order, with id or line number, and echoes the price", async () => {
    const { code, lines, err } = await run(late, listings.map(line).join("\n"));
    expect(err).toBe("");
    expect(code).toBe(0);
    expect(lines.map((each) => each["id"] ?? each["line"])).toEqual(["right", 3, 3, 7]);
    expect(lines.map((each) => each["verdict"])).toEqual(["fits", "other-revision", "unrelated", "ambiguous"]);
    expect(lines.map((each) => each["device"])).toEqual(Array(4).fill("demo-lark-late"));
    expect(lines[0]?.["price"]).toEqual({ amount: "36.00", currency: "USD" });
    for (const each of lines) expect(verdictLineSchema.safeParse(each).success).toBe(true);
  });

  it("never says fits of what it did not read to the end", async () => {
    const title = "Pellworm PB-2240 battery for Lark 20";
    const filler = "A fine battery, well packed. ";
    const many = Object.fromEntries(Array.from({ length: 300 }, (_, i) => [`Note ${i}`, "fine"]));
    const long = [
      { title, description: `${filler.repeat(800)} Part number PB-1840.` },
      { title, description: `${filler.repeat(800)}` },
      { title: `${title} ${filler.repeat(800)} not for PL-20`, description: "x" },
      { title, specifics: { ...many, MPN: "PB-1840" } },
      { title, description: `${"3.8 V. ".repeat(250)} 11.1 V` },
      { title, description: `${"in 2021, ".repeat(150)} only for 2019` },
      { title, description: `${"mAh4500x ".repeat(600)} nrPB-1840` },
      { title, description: filler.repeat(100), specifics: Object.fromEntries(Object.entries(many).slice(0, 100)) },
    ];
    const { lines } = await run(late, long.map(line).join(""));
    expect(lines.map((each) => each["verdict"] === "fits")).toEqual([...Array(7).fill(false), true]);
    const codes = lines.map((each) => (each["reasons"] as { code: string }[]).map(({ code }) => code));
    expect(codes[1]).toContain("not-all-read");
  });

  it("takes null for absent and gives an id back as it was given", async () => {
    const input = [
      { id: 41, title: "Pellworm PB-2240 battery for Lark 20", price: null, specifics: { MPN: null, Cells: 1 } },
      { id: "41", title: "Pellworm PB-1840 battery for Lark 20", description: null },
      { id: null, title: "Battery for PL-20", condition: null },
    ];
    const { code, lines } = await run(late, input.map(line).join(""));
    expect(code).toBe(0);
    expect(lines.map((each) => [each["id"], each["verdict"]])).toEqual([
      [41, "fits"],
      ["41", "other-revision"],
      [undefined, "ambiguous"],
    ]);
  });

  it("names the known devices where it is asked for one that is not there", async () => {
    const { code, out, err } = await run([...against, "--device", "nope"]);
    expect([code, out]).toEqual([2, ""]);
    expect(err).toMatch(/demo\.bench\.json: .*"nope".*demo-lark-late/);
  });

  it("speaks the language asked for, verdicts stay the same", async () => {
    const english = await run(late, listings.map(line).join(""));
    const polish = await run([...late, "--lang", "pl"], listings.map(line).join(""));
    expect(polish.lines.map((each) => each["verdict"])).toEqual(english.lines.map((each) => each["verdict"]));
    expect(polish.out).not.toBe(english.out);
    const unknown = await run([...late, "--lang", "xx"]);
    expect([unknown.code, unknown.out]).toEqual([2, ""]);
    expect(unknown.err).toContain("en, de, fr, es, it, and pl");
  });
});

describe("check without a device", () => {
  it("gives a line for each device that a listing concerns, or one unrelated line", async () => {
    const { code, lines } = await run(against, listings.map(line).join(""));
    expect(code).toBe(0);
    expect(lines.map((each) => [each["id"] ?? each["line"], each["device"], each["verdict"]])).toEqual([
      ["right", "demo-lark-late", "fits"],
      [2, "demo-lark-late", "other-revision"],
      [3, null, "unrelated"],
      [4, "demo-lark-late", "ambiguous"],
    ]);
    for (const each of lines) expect(verdictLineSchema.safeParse(each).success).toBe(true);
  });

  it("works without any catalog: the fitted numbers are what is known", async () => {
    const { code, lines } = await run(
      ["check", "--bench", BENCH, "--device", "demo-lark-late"],
      line(listings[0] ?? {}),
    );
    expect(code).toBe(0);
    expect(lines[0]?.["verdict"]).toBe("fits");
  });

  it("judges nothing against an empty bench, and passes over devices put away", async () => {
    const empty = file("empty.bench.json", '{ "format": "falsefit-bench/1" }');
    const { lines } = await run(["check", "--bench", empty], line({ title: "a" }));
    expect(lines).toMatchObject([{ line: 1, device: null, verdict: "unrelated" }]);
    const away = file(
      "away.bench.json",
      '{ "format": "falsefit-bench/1", "devices": [ { "id": "a", "modelNumbers": ["PL-20"], "archived": true } ] }',
    );
    const unasked = await run(["check", "--catalog", CATALOG, "--bench", away], line({ title: "PB-1840 for PL-20" }));
    expect(unasked.lines).toMatchObject([{ device: null }]);
    const asked = await run(
      ["check", "--catalog", CATALOG, "--bench", away, "--device", "a"],
      line({ title: "PB-1840 for PL-20" }),
    );
    expect(asked.lines).toMatchObject([{ device: "a", verdict: "ambiguous" }]);
  });
});

describe("catalogs on the command line", () => {
  const second = () =>
    file(
      "second.catalog.json",
      '{ "format": "falsefit-catalog/1", "interchange": [ { "numbers": ["PB-2240", "ZZ-90431"] } ] }',
    );

  it("may be several after one option or one after each", async () => {
    const listing = line({ title: "ZZ-90431 battery for Lark 20" });
    const input = file("listing.ndjson", listing);
    const ways = [
      ["check", "--catalog", CATALOG, second(), "--bench", BENCH, "--device", "demo-lark-late", input],
      ["check", "--catalog", CATALOG, "--catalog", second(), "--bench", BENCH, "--device", "demo-lark-late", input],
      ["check", "--bench", BENCH, "--device", "demo-lark-late", "--catalog", CATALOG, second(), input],
      ["check", input, "--bench", BENCH, "--device", "demo-lark-late", "--catalog", CATALOG, second()],
    ];
    for (const way of ways) {
      const { lines, err } = await run(way);
      expect(err).toBe("");
      expect(lines).toMatchObject([{ line: 1, verdict: "fits" }]);
    }
  });

  it("that are bad stop everything before the first line, with file, line and field of every fault", async () => {
    const bad = file("bad.catalog.json", '{ "format": "falsefit-catalog/1",\n "parts": [ { "id": 1, "type": "B" } ] }');
    const bench = file("bad.bench.json", '{ "format": "falsefit-bench/2" }');
    const { code, out, err } = await run(["check", "--catalog", bad, "--bench", bench], line({ title: "a" }));
    expect([code, out]).toEqual([2, ""]);
    expect(err.split("\n").filter(Boolean)).toEqual([
      expect.stringMatching(/bad\.catalog\.json:2: parts\[0\]\.id: .*expected string/),
      expect.stringMatching(/bad\.catalog\.json:2: parts\[0\]\.type: must be/),
      expect.stringMatching(/bad\.bench\.json:1: format: Version "2" is not known.*falsefit-bench\/1/),
    ]);
  });
});

describe("bad listing lines", () => {
  it("are named with line and field, all others are judged, and the exit code says so", async () => {
    const input = [
      '{"title": 5}',
      '{"title":"PB-2240 battery"}',
      "",
      "nonsense",
      '["a"]',
      '{"title":"x","price":{"amount":3,"currency":"eur"}}',
    ];
    const { code, lines, err } = await run(late, input.join("\r\n"));
    expect(code).toBe(1);
    expect(lines.map((each) => each["line"])).toEqual([2]);
    expect(err.split("\n").filter(Boolean)).toEqual([
      expect.stringMatching(/^<stdin>:1: title: .*expected string/),
      expect.stringMatching(/^<stdin>:4: Not valid JSON/),
      expect.stringMatching(/^<stdin>:5: Expected one JSON object/),
      expect.stringMatching(/^<stdin>:6: price\.amount: /),
      expect.stringMatching(/^<stdin>:6: price\.currency: .*ISO 4217/),
    ]);
  });

  it("broken UTF-8 costs its own line only", async () => {
    const input = Buffer.concat([
      Buffer.from(line({ title: "PB-2240 battery ż" })),
      Buffer.from('{"title":"'),
      Buffer.from([0xc3, 0x28]),
      Buffer.from('"}\n'),
      Buffer.from(line({ title: "PB-2240 battery" })),
    ]);
    const { code, lines, err } = await run(late, input);
    expect(code).toBe(1);
    expect(lines.map((each) => each["line"])).toEqual([1, 3]);
    expect(err).toMatch(/^<stdin>:2: Not valid UTF-8/);
  });

  it("UTF-16 that says so is read, and a byte order mark does not matter", async () => {
    const text = `\ufeff${line({ title: "PB-2240 battery" })}`;
    for (const input of [Buffer.from(text, "utf16le"), Buffer.from(text, "utf16le").swap16(), Buffer.from(text)]) {
      expect((await run(late, input)).lines).toMatchObject([{ line: 1, verdict: "fits" }]);
    }
  });

  it("hostile keys and half surrogates harm nothing", async () => {
    const input = [
      '{"title":"PB-2240 battery","__proto__":{"x":1}}',
      '{"title":"PB-2240 \\ud800 battery"}',
      `{"title":"a","deep":${"[".repeat(100)}${"]".repeat(100)}}`,
      '{"title":"PB-2240 battery"}',
    ].join("\n");
    const { code, lines } = await run(late, input);
    expect(code).toBe(1);
    expect(lines.at(-1)).toMatchObject({ line: 4, verdict: "fits" });
  });
});

describe("long inputs", () => {
  const many = Array.from({ length: 12_000 }, (_, i) =>
    line({
      ...(i % 3 === 0 ? { id: `n${i}` } : {}),
      title: `${i % 2 === 0 ? "PB-1840" : "PB-2240"} battery, lot ${i}`,
      description: "x".repeat(150),
    }),
  ).join("");

  it("are judged in threads with the same lines in the same order as without", async () => {
    const input = file("many.ndjson", many);
    const [inline, one, two] = await Promise.all(
      [0, 1, 2].map((workers) => run([...late, "--workers", String(workers), input])),
    );
    expect(inline?.code).toBe(0);
    expect(inline?.lines).toHaveLength(12_000);
    expect(one?.out).toBe(inline?.out);
    expect(two?.out).toBe(inline?.out);
  });

  it("may be split anywhere between lines: the same lines come out", async () => {
    const lines = many
      .split("\n")
      .slice(0, 900)
      .map((each) => `${each}\n`);
    const whole = await run(late, lines.join(""));
    for (const cuts of [[450], [1, 899], [300, 301, 600]]) {
      let from = 0;
      let joined = "";
      for (const to of [...cuts, lines.length]) {
        const piece = await run([...late, "--first-line", String(from + 1)], lines.slice(from, to).join(""));
        joined += piece.out;
        from = to;
      }
      expect(joined).toBe(whole.out);
    }
  });

  it("bad lines keep their numbers in threads too", async () => {
    const { code, err, lines } = await run([...late, "--workers", "2"], `${many}{"title":1}\n${many}`);
    expect(code).toBe(1);
    expect(err).toMatch(/^<stdin>:12001: title/);
    expect(lines).toHaveLength(24_000);
  });

  it("with a line of 200 MB: it is named and passed over, memory stays flat", async () => {
    const child = start(late, { env: { NODE_OPTIONS: "--max-old-space-size=160" } as unknown as NodeJS.ProcessEnv });
    const ended = finished(child);
    const megabyte = Buffer.alloc(1024 * 1024, "x");
    const write = async (chunk: Buffer | string): Promise<void> => {
      if (child.stdin && !child.stdin.write(chunk)) await once(child.stdin, "drain");
    };
    await write(line({ title: "PB-2240 battery" }));
    for (let i = 0; i < 200; i++) await write(megabyte);
    await write(`\n${line({ title: "PB-2240 battery" })}`);
    child.stdin?.end();
    const { code, lines, err } = await ended;
    expect(code).toBe(1);
    expect(lines.map((each) => each["line"])).toEqual([1, 3]);
    expect(err).toMatch(/^<stdin>:2: The line is longer than 16 MiB/);
  });
});

describe("streams", () => {
  it("a line is answered while the input is still open", async () => {
    const child = start(late);
    const ended = finished(child);
    child.stdin?.write(line({ title: "PB-2240 battery" }));
    expect(JSON.parse(await firstOutput(child))).toMatchObject({ line: 1, verdict: "fits" });
    child.stdin?.end(line({ title: "PB-1840 battery" }));
    expect((await ended).lines).toHaveLength(2);
  });

  it("a reader that goes away ends it without a word", async () => {
    const input = file(
      "pipe.ndjson",
      Array.from({ length: 20_000 }, () => line({ title: "PB-2240 battery" })).join(""),
    );
    const words = [process.execPath, LAUNCHER, ...late, input].map((word) => `'${word}'`).join(" ");
    const shell = spawn("bash", ["-c", `set -o pipefail; ${words} | head -n 1 >/dev/null`], {
      stdio: ["ignore", "ignore", "pipe"],
    });
    const { code, err } = await finished(shell);
    expect(err).toBe("");
    expect(code).toBe(141);
  });

  it("a full disk is said, and whole lines are kept", async () => {
    const input = file("full.ndjson", Array.from({ length: 3_000 }, () => line({ title: "PB-2240 battery" })).join(""));
    const output = file("full.out", "");
    // A file size limit of 64 KiB stands for the full disk: the kernel takes part of a write, then none.
    await run(["--version"]); // builds, so that the limit is met by the output and nothing else
    const words = [process.execPath, COMMAND, ...late, input].map((word) => `'${word}'`).join(" ");
    const limited = spawn("bash", ["-c", `trap '' XFSZ; ulimit -f 64; ${words} > '${output}'; exit $?`]);
    const { code, err } = await finished(limited);
    expect(code).toBe(3);
    expect(err).toMatch(/could not be written: no space is left there/);
    expect(err).toMatch(/Everything up to input line \d+ was written/);
    const kept = readFileSync(output, "utf8");
    expect(kept.length).toBeGreaterThan(1_000);
    expect(kept.endsWith("}\n")).toBe(true);
    for (const each of kept.split("\n").slice(0, -1)) JSON.parse(each);
  });

  it("an interruption keeps every line judged so far and says how far it came", async () => {
    const child = start(late);
    const ended = finished(child);
    child.stdin?.write(Array.from({ length: 500 }, () => line({ title: "PB-2240 battery" })).join(""));
    await firstOutput(child);
    child.stdin?.write('{"title":"half a li');
    await new Promise((resolve) => setTimeout(resolve, 100));
    child.kill("SIGINT");
    const { code, out, err, lines } = await ended;
    expect(code).toBe(130);
    expect(lines).toHaveLength(500);
    expect(out.endsWith("}\n")).toBe(true);
    expect(err).toMatch(/Interrupted\. 500 listings were judged; .*line 500/);
  });
});
