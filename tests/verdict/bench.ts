/** The devices and catalogs of the verdict tests: the demonstration catalog, and devices pinned in every way. */
import rules from "falsefit:rules";
import { readFileSync } from "node:fs";
import { buildIndex, type CatalogIndex } from "../../src/catalog/index.ts";
import { checkBench, type Device } from "../../src/formats/bench.ts";
import { type Catalog, readCatalog } from "../../src/formats/catalog.ts";
import { type Listing, listingSchema } from "../../src/formats/listing.ts";
import type { RawRules } from "../../src/formats/rules.ts";
import type { Verdict } from "../../src/formats/verdict.ts";
import { judge, type PreparedDevice, prepareDevice } from "../../src/verdict/index.ts";

export { rules };

/** The catalog that the build ships for its demonstration. */
export const demoCatalog: Catalog = loadCatalog(new URL("../../rules/catalogs/demo.catalog.json", import.meta.url));

function loadCatalog(url: URL): Catalog {
  const read = readCatalog(readFileSync(url, "utf8"));
  if (!read.ok) throw new Error(`${url.pathname}: ${JSON.stringify(read.faults)}`);
  return read.value;
}

/** A catalog from its parts, defaults filled in. */
export function makeCatalog(value: object): Catalog {
  const read = readCatalog(JSON.stringify({ format: "falsefit-catalog/1", ...value }));
  if (!read.ok) throw new Error(JSON.stringify(read.faults));
  return read.value;
}

/** A device from its fields, defaults filled in. */
export function makeDevice(fields: object): Device {
  const read = checkBench({ format: "falsefit-bench/1", devices: [{ id: "d", ...fields }] });
  if (!read.ok) throw new Error(JSON.stringify(read.faults));
  const [device] = read.value.devices;
  if (device === undefined) throw new Error("no device");
  return device;
}

export function prepare(
  fields: object,
  catalogs: readonly Catalog[] | CatalogIndex = [demoCatalog],
  withRules: RawRules = rules,
): PreparedDevice {
  const index = "families" in catalogs ? catalogs : buildIndex(catalogs);
  return prepareDevice(makeDevice(fields), index, withRules);
}

/** A listing from its fields, or from a title. */
export function makeListing(fields: string | object): Listing {
  return listingSchema.parse(typeof fields === "string" ? { title: fields } : fields);
}

export function judged(listing: string | object, device: PreparedDevice): Verdict {
  return judge(makeListing(listing), device);
}

const index = buildIndex([demoCatalog]);

/** Devices of the Lark 20 family, by how they are pinned. */
export const larks = {
  early: prepare({ modelNumbers: ["PL-20"], boardNumber: "PW-4410-2" }, index),
  late: prepare({ modelNumbers: ["PL-20"], boardNumber: "PW-4410-5", buildDate: "2021-W20" }, index),
  /** Nothing but the model is known. */
  open: prepare({ modelNumbers: ["PL-20"] }, index),
  /** Built inside the changeover. */
  changeover: prepare({ modelNumbers: ["PL-20"], buildDate: "2021-W08" }, index),
  /** The later number is fitted. */
  later: prepare(
    {
      modelNumbers: ["PL-20"],
      boardNumber: "PW-4410-5",
      fitted: [{ type: "battery", numbers: ["PB-2240A"], source: "label" }],
    },
    index,
  ),
  settled: prepare(
    {
      modelNumbers: ["PL-20"],
      boardNumber: "PW-4410-2",
      accept: [{ number: "ZZ-9001" }],
      refuse: [{ number: "QK-77A" }],
    },
    index,
  ),
  /** Board and fitted part contradict each other. */
  mixed: prepare(
    {
      modelNumbers: ["PL-20"],
      boardNumber: "PW-4410-2",
      fitted: [{ type: "battery", numbers: ["PB-2240"], source: "label" }],
    },
    index,
  ),
  /** No catalog at all. */
  bare: prepare(
    {
      modelNumbers: ["PL-20"],
      fitted: [{ type: "battery", numbers: ["PB-1840"], quantities: { nominalVoltage_V: 3.7 }, source: "label" }],
      accept: [{ number: "ZZ-9001" }],
      refuse: [{ number: "QK-77A" }],
    },
    [],
  ),
} as const;

/** All devices of the verdict tests: the handhelds, two vacuums, two notebooks and a washing machine. */
export const shelf = {
  ...larks,
  six: prepare({ modelNumbers: ["MV300"], boardNumber: "OF-3106" }, index),
  seven: prepare({ modelNumbers: ["MV300"], boardNumber: "OF-3107" }, index),
  sedgea: prepare({ modelNumbers: ["QS13"], boardNumber: "QM7-100A" }, index),
  sedgeb: prepare({ modelNumbers: ["QS13"], boardNumber: "QM7-100B" }, index),
  w7: prepare({ modelNumbers: ["HW-700"], buildDate: "2019-W10" }, index),
} as const;

/**
 * A family of three revisions in two catalogs: one battery takes the place of another, one of two others, one motor is
 * shared, and the second catalog knows a charger in fewer places.
 */
export const scrubberCatalogs: readonly Catalog[] = [
  makeCatalog({
    families: [
      {
        id: "gannet-5",
        maker: "Corvane",
        name: "Gannet 5 floor scrubber",
        modelNumbers: ["CG-5", "CG-5L"],
        revisions: [
          { id: "a", name: "first series", boardNumbers: ["CVB-100"], years: [2018, 2019], parts: ["b18", "m1", "k1"] },
          {
            id: "b",
            name: "second series",
            boardNumbers: ["CVB-200"],
            years: [2020, 2021],
            parts: ["b21", "m1", "k2"],
          },
          { id: "c", name: "third series", boardNumbers: ["CVB-300"], years: [2021, 2022], parts: ["b25", "m2", "k2"] },
        ],
      },
      {
        id: "tern-2",
        maker: "Corvane",
        name: "Tern 2 sweeper",
        modelNumbers: ["CT-2"],
        revisions: [{ id: "t", parts: ["x"] }],
      },
    ],
    parts: [
      { id: "b18", type: "battery", numbers: ["CB-5018"], quantities: { nominalVoltage_V: 18, seriesCells: 5 } },
      { id: "b21", type: "battery", numbers: ["CB-5021"], quantities: { nominalVoltage_V: 21.6, seriesCells: 6 } },
      { id: "b25", type: "battery", numbers: ["CB-5025"], quantities: { nominalVoltage_V: 25.2, seriesCells: 7 } },
      { id: "m1", type: "motor", numbers: ["CM-770"], quantities: { supplyVoltage_V: 18 } },
      { id: "m2", type: "motor", numbers: ["CM-780"], quantities: { supplyVoltage_V: 24 } },
      { id: "k1", type: "charger", numbers: ["CC-21"], quantities: { outputVoltage_V: 21 } },
      { id: "k2", type: "charger", numbers: ["CC-29"], quantities: { outputVoltage_V: 29.4 } },
      { id: "x", type: "battery", numbers: ["CT-B12"], quantities: { nominalVoltage_V: 10.8 } },
    ],
    interchange: [{ numbers: ["CB-5018", "VQ-318"] }],
    supersession: [
      { old: "CB-5021", new: "CB-5022" },
      { old: "CM-770", new: "CM-79X" },
      { old: "CM-780", new: "CM-79X" },
    ],
  }),
  makeCatalog({
    families: [
      {
        id: "gannet",
        maker: "Corvane",
        modelNumbers: ["CG-5"],
        revisions: [
          { id: "a", boardNumbers: ["CVB-100"], parts: ["b18"] },
          { id: "b", boardNumbers: ["CVB-200"], parts: ["b21"] },
          { id: "c", boardNumbers: ["CVB-300"], parts: ["k2"] },
        ],
      },
    ],
    parts: [
      { id: "b18", type: "battery", numbers: ["CB-5018"], quantities: { nominalVoltage_V: 18 } },
      { id: "b21", type: "battery", numbers: ["CB-5021"], quantities: { nominalVoltage_V: 21.6 } },
      { id: "k2", type: "charger", numbers: ["CC-29"] },
    ],
  }),
];

const scrubberIndex = buildIndex(scrubberCatalogs);

/** Scrubbers, by which of the three revisions their evidence leaves. */
const scrubbers = {
  scrubA: prepare({ modelNumbers: ["CG-5"], boardNumber: "CVB-100" }, scrubberIndex),
  scrubB: prepare({ modelNumbers: ["CG-5"], boardNumber: "CVB-200" }, scrubberIndex),
  scrubC: prepare({ modelNumbers: ["CG-5L"], boardNumber: "CVB-300" }, scrubberIndex),
  scrubBC: prepare({ modelNumbers: ["CG-5"], buildDate: "2021" }, scrubberIndex),
  scrubOpen: prepare({ modelNumbers: ["CG-5"] }, scrubberIndex),
  scrubSettled: prepare(
    {
      modelNumbers: ["CG-5"],
      boardNumber: "CVB-200",
      accept: [{ number: "NN-404" }],
      refuse: [{ number: "CB-5022" }],
      fitted: [{ type: "motor", numbers: ["CM-79X"], source: "label" }],
    },
    scrubberIndex,
  ),
} as const;

/** All devices together. */
export const everyDevice = { ...shelf, ...scrubbers } as const;
