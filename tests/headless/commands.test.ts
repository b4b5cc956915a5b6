import { readdirSync, readFileSync } from "node:fs";
import { parse } from "csv-parse/sync";
import { describe, expect, it } from "vitest";
import { readBench } from "../../src/formats/bench.ts";
import { readCatalog } from "../../src/formats/catalog.ts";
import { formatNames } from "../../src/headless/schemas.ts";
import { BENCH, CATALOG, run, scratch } from "./run-command.ts";

const file = scratch();

describe("schema", () => {
  it("prints all four JSON Schemas, or one", async () => {
    const all = JSON.parse((await run(["schema"])).out) as Record<string, Record<string, unknown>>;
    expect(Object.keys(all)).toEqual([...formatNames]);
    for (const schema of Object.values(all)) {
      expect(schema["$schema"]).toBe("https://json-schema.org/draft/2020-12/schema");
      expect(schema["type"]).toBe("object");
    }
    expect(JSON.parse((await run(["schema", "bench"])).out)).toEqual(all["bench"]);
    expect(await run(["schema", "recipe"])).toMatchObject({ code: 2, out: "" });
  });
});

describe("catalog", () => {
  it("validate counts what good files hold and names every fault of bad ones", async () => {
    const bad = file("bad.catalog.json", '{ "format": "falsefit-catalog/1", "parts": [ { "id": "a", "type": "A" } ] }');
    const { code, lines, err } = await run(["catalog", "validate", CATALOG, bad]);
    expect(code).toBe(2);
    expect(lines).toMatchObject([{ file: CATALOG, families: 4, revisions: 8 }]);
    expect(err).toMatch(/bad\.catalog\.json:1: parts\[0\]\.type/);
    expect((await run(["catalog", "validate", CATALOG])).code).toBe(0);
    expect((await run(["catalog", "validate"])).code).toBe(2);
  });

  it("merge writes one good catalog and names what the files disagree on", async () => {
    const text = readFileSync(CATALOG, "utf8");
    const other = file("other.catalog.json", text.replace('"energy_Wh": 14.8', '"energy_Wh": 15.9'));
    const { code, out, err } = await run(["catalog", "merge", CATALOG, other]);
    expect(code).toBe(0);
    expect(readCatalog(out).ok).toBe(true);
    expect(err).toBe("pb-18: The catalogs disagree on energy_Wh; it is left out.\n");
  });

  it("convert makes a catalog that check can use at once", async () => {
    const list = file(
      "vendor.csv",
      Buffer.from(
        "Hersteller;Teilenummer;Bezeichnung;Modell;Revision;Platine\r\nPellworm;QP-7001;Akku;PX-9;früh;PXB-1\r\nPellworm;QP-7002;Akku;PX-9;spät;PXB-2\r\n",
        "latin1",
      ),
    );
    const { code, out } = await run(["catalog", "convert", list]);
    expect(code).toBe(0);
    const catalog = file("vendor.catalog.json", out);
    const bench = file(
      "shop.bench.json",
      '{ "format": "falsefit-bench/1", "devices": [ { "id": "a", "modelNumbers": ["PX-9"], "boardNumber": "PXB-2" } ] }',
    );
    const input = '{"title":"QP-7002 Akku"}\n{"title":"QP-7001 Akku"}\n';
    const { lines } = await run(["check", "--catalog", catalog, "--bench", bench, "--device", "a"], input);
    expect(lines.map((each) => each["verdict"])).toEqual(["fits", "other-revision"]);
  });

  it("convert names the rows that it cannot use", async () => {
    const { code, err } = await run(["catalog", "convert", "--type", "fan", "-"], "Part no,Model\n,XQ-1\nAB-12,XQ-1\n");
    expect(code).toBe(1);
    expect(err).toBe("<stdin>:2: There is no part number in this row; it is skipped.\n");
  });

  const observation = (battery: string | null, built: string, volts: number) =>
    `${JSON.stringify({ model: "XQ-1", board: volts > 10000 ? "B-2" : "B-1", built, battery: battery === null ? null : { name: battery, designVoltage_mV: volts } })}\n`;
  const observations = [
    ...Array.from({ length: 12 }, (_, i) => observation("AB-1000", `2019-0${(i % 9) + 1}`, 7_600)),
    ...Array.from({ length: 12 }, (_, i) => observation("AB-2000", `2021-0${(i % 9) + 1}`, 11_400)),
  ].join("");

  it("learn drafts a good catalog from devices seen", async () => {
    const { code, out } = await run(["catalog", "learn"], observations);
    expect(code).toBe(0);
    const read = readCatalog(out);
    expect(
      read.ok && read.value.families.map(({ modelNumbers, revisions }) => [modelNumbers, revisions.length]),
    ).toEqual([[["XQ-1"], 2]]);
  });

  it("learn predicts what is inside other devices, and says when that cannot be known", async () => {
    const asked = file("asked.ndjson", `${observation(null, "2019-05", 0)}{"model":"unheard of"}\n`);
    const { code, lines } = await run(["catalog", "learn", "--predict", asked], observations);
    expect(code).toBe(0);
    expect(lines).toMatchObject([
      { line: 1, model: "XQ-1", known: true, cells: { known: true, value: 2 } },
      { line: 2, known: false, cells: null },
    ]);
    const figures = await run(["catalog", "learn", "--hold-out", "1"], observations);
    expect(figures.lines[0]).toMatchObject({ models: 1 });
  });

  it("names bad observations and goes on", async () => {
    const { code, err } = await run(["catalog", "learn"], `{"board":"x"}\n${observations}`);
    expect(code).toBe(1);
    expect(err).toMatch(/^<stdin>:1: model: /);
  });
});

describe("title", () => {
  it("reads bare titles and listings, one line each", async () => {
    const input = 'PB-1840 battery for PL-20\n\n{"id":"x","title":"Battery for PL-20"}\n';
    const { code, lines } = await run(["title", "--catalog", CATALOG], input);
    expect(code).toBe(0);
    expect(lines).toMatchObject([
      { line: 1, part: "pb-18", summary: { "told-yes": 1, "told-no": 1 } },
      { id: "x", part: null, summary: { "left-guessing": 2 } },
    ]);
    expect(lines[1]?.["faults"]).toMatchObject([{ code: "model-only" }]);
  });

  it("composes, within the limit asked for, in the language asked for", async () => {
    const ask = ["title", "--catalog", CATALOG, "--part", "pb-18", "--compose"];
    const english = (await run(ask)).lines[0] as { titles: { text: string; length: number }[] };
    expect(english.titles[0]?.text).toMatch(/^PB-1840 .*battery for PL-20/);
    expect(english.titles.every(({ length }) => length <= 80)).toBe(true);
    const german = (await run([...ask, "--lang", "de"])).lines[0] as { titles: { text: string }[] };
    expect(german.titles[0]?.text).toContain("nicht für PW-4410-5");
    const narrow = (await run([...ask, "--limit", "8"])).lines[0];
    expect(narrow).toMatchObject({
      titles: [],
      problem: "limit",
      shortest: { text: expect.stringContaining("PB-1840") },
    });
  });

  it("reads a list of listings", async () => {
    const list = "Titel;Teilenummer\nAkku für PL-20;\nAkku;PB-1840\n";
    const { code, lines } = await run(["title", "--catalog", CATALOG, "--csv"], Buffer.from(list, "latin1"));
    expect(code).toBe(0);
    expect(lines).toMatchObject([
      { id: "2", title: "Akku für PL-20", part: null },
      { id: "3", part: "pb-18" },
    ]);
  });

  it("says what it does not know", async () => {
    expect((await run(["title", "--catalog", CATALOG, "--part", "nope"])).err).toContain('no part "nope"');
    expect((await run(["title", "--catalog", CATALOG, "--limit", "x"], "a\n")).code).toBe(2);
    const broken = await run(["title", "--catalog", CATALOG], '{"title":1}\nPB-1840 battery\n');
    expect(broken.code).toBe(1);
    expect(broken.lines).toMatchObject([{ line: 2 }]);
  });
});

describe("order", () => {
  const list =
    "Auftrag;Teilenummer;Bezeichnung;Menge;Einzelpreis (EUR)\r\ndemo-lark-late;PB-2240;Akku;1;36,00\r\ndemo-lark-late;PB-1840;Akku;2;1.012,10\r\n;=1+1;Akku für PL-20;1;9,00\r\n";
  const against = ["order", "--catalog", CATALOG, "--bench", BENCH];

  it("judges each line for its job, decimal commas and all", async () => {
    const { code, lines, err } = await run(against, list);
    expect([code, err]).toEqual([0, ""]);
    expect(lines).toMatchObject([
      { row: 2, standing: "right", total: "36.00", currency: "EUR" },
      { row: 3, standing: "wrong", effect: "burns", total: "2024.20", right: { dependsOnRevision: false } },
      { row: 4, standing: "ask" },
    ]);
  });

  it.each([
    ["UTF-16", Buffer.from(`\ufeff${list}`, "utf16le")],
    ["windows-1252", Buffer.from(list, "latin1")],
    ["UTF-8", Buffer.from(list)],
  ])("reads %s", async (_name, bytes) => {
    const { lines } = await run(against, bytes);
    expect(lines[2]?.["title"]).toBe("Akku für PL-20");
  });

  it("writes a list that no spreadsheet runs, in the separator of the input", async () => {
    const { out } = await run([...against, "--to", "csv", "--lang", "de"], list);
    const rows = parse(out, { delimiter: ";" }) as string[][];
    expect(rows).toHaveLength(4);
    expect(rows[0]?.slice(0, 3)).toEqual(["Zeile", "Nummer", "Bezeichnung"]);
    expect(rows[3]?.[1]).toBe("'=1+1");
  });

  it("sums up what is at stake and what would be right", async () => {
    const { out } = await run([...against, "--to", "summary"], list);
    const summary = JSON.parse(out) as { sums: object[]; wrong: object[] };
    expect(summary.sums[0]).toMatchObject({ standing: "wrong", effect: "burns", currency: "EUR", total: "2024.20" });
    expect(summary.wrong).toMatchObject([{ row: 3, number: "PB-1840", elsewhere: [2] }]);
  });

  it("comes to the same in threads, line by line and in the summary", async () => {
    const rows = Array.from(
      { length: 4_000 },
      (_, i) => `${i % 3 === 0 ? "demo-lark-late" : ""};${i % 2 === 0 ? "PB-1840" : "PB-2240"};Akku;1;${i}`,
    );
    const long = file("long.csv", `Auftrag;Teilenummer;Bezeichnung;Menge;Preis (EUR)\n${rows.join("\n")}\n`);
    for (const form of ["ndjson", "summary"]) {
      const [none, two] = await Promise.all(
        ["0", "2"].map((workers) => run([...against, "--to", form, "--workers", workers, long])),
      );
      expect(two).toMatchObject({ code: 0, err: "" });
      expect(two?.out).toBe(none?.out);
    }
  });

  it("takes columns, separator and encoding as they are laid down", async () => {
    const odd = "x/demo-lark-late/Batterie/PB-2240\ny/demo-lark-late/Batterie/PB-1840\n";
    const laid = [...against, "--delimiter", "/", "--columns", "job=2,title=3,number=4", "--encoding", "windows-1252"];
    const { lines } = await run(laid, odd);
    expect(lines.map((each) => each["standing"])).toEqual(["right", "wrong"]);
    for (const wrong of [
      ["--columns", "colour=1"],
      ["--columns", "title=Foo"],
      ["--delimiter", "ab"],
      ["--encoding", "klingon"],
      ["--to", "stone"],
    ]) {
      expect(await run([...against, ...wrong], list)).toMatchObject({ code: 2, out: "" });
    }
  });

  it("names broken rows, judges the rest", async () => {
    const { code, lines, err } = await run(
      against,
      'Part number,Title,Job\nPB-2240,"Battery,demo-lark-late\nPB-2240,Battery,demo-lark-late\n',
    );
    expect(code).toBe(1);
    expect(lines.at(-1)).toMatchObject({ row: 3, standing: "right" });
    expect(err).toMatch(/^<stdin>:2: A quotation mark is opened and never closed/);
  });

  it("says when no column can be used", async () => {
    const { code, err } = await run(against, "1;2\n3;4\n");
    expect(code).toBe(2);
    expect(err).toContain("--columns");
  });
});

describe("readout", () => {
  const dumps = readdirSync("fixtures/dumps")
    .filter((name) => name !== "README.md")
    .map((name) => `fixtures/dumps/${name}`);

  it("writes a fact a line, with where it was read", async () => {
    const { lines } = await run(["readout", ...dumps]);
    expect(lines.length).toBeGreaterThan(5);
    for (const each of lines) {
      expect(each).toMatchObject({ field: expect.any(String), value: expect.any(String), source: expect.any(String) });
    }
  });

  it("fills in a device and writes the whole bench", async () => {
    const { out } = await run(["readout", "--bench", BENCH, "--device", "demo-sedge", ...dumps]);
    const read = readBench(out);
    expect(read.ok && read.value.devices.map(({ id }) => id)).toEqual([
      "demo-lark-late",
      "demo-marlow-six",
      "demo-sedge",
      "demo-w7",
    ]);
    expect(read.ok && (read.value.devices[2]?.facts?.length ?? 0)).toBeGreaterThan(0);
  });

  it("says what it cannot read", async () => {
    const { code, out, err } = await run(["readout"], "nothing of the kind");
    expect([code, out]).toEqual([1, ""]);
    expect(err).toMatch(/^<stdin>: /);
    expect((await run(["readout", "--bench", BENCH])).code).toBe(2);
    expect((await run(["readout", "--bench", BENCH, "--device", "nope"])).err).toContain("demo-sedge");
  });
});
