import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { readDump } from "../../src/readout/dump.ts";
import type { ReadoutFact } from "../../src/readout/facts.ts";
import { dayNumber } from "../../src/text/dates.ts";
import { buildTable, notebook, withEntryPoint32, withEntryPoint64, withHead } from "./smbios-table.ts";

const today = dayNumber(2026, 11, 25);
const fixture = (name: string): Uint8Array =>
  readFileSync(fileURLToPath(new URL(`../../fixtures/dumps/${name}`, import.meta.url)));

/** Facts in short: `field value confidence`; rough build-date hints are left out. */
function short(facts: readonly ReadoutFact[]): string[] {
  return facts.flatMap((fact) => {
    if (fact.field === "buildDate") return fact.confidence === "rough" ? [] : [`buildDate ${fact.confidence}`];
    if (fact.field !== "fitted") return [`${fact.field} ${fact.value} ${fact.confidence}`];
    const quantities = Object.entries(fact.quantities).map(([name, value]) => `${name}=${value}`);
    return [[fact.type, ...fact.numbers, ...quantities, fact.confidence].join(" ")];
  });
}

const PANEL = "display-panel FP156-A2 width_px=1920 height_px=1080 refresh_Hz=60 diagonal_in=15.55 certain";
const MONITOR = "display-panel width_px=1920 height_px=1080 refresh_Hz=60 diagonal_in=26.97 rough";
const BATTERY = "battery QB-1140 nominalVoltage_V=11.4 energy_Wh=45.6 certain";
const MEMORY =
  "memory-module QR-8G4 capacity_GB=8 transferRate_MTs=2667 supplyVoltage_V=1.2 generation=DDR4 formFactor=SODIMM certain";

describe("dumps of invented machines", () => {
  it.each<[string, string[], string[], string[]]>([
    [
      "smbios-decoded.txt",
      ["smbios-text"],
      ["modelNumber Sedge 13 certain", "boardNumber QM7-100B certain", "boardVersion 1.2 certain", MEMORY, BATTERY],
      ["readout_firmware_date"],
    ],
    ["power-supply-uevent.txt", ["power-supply"], ["battery PB-2240 nominalVoltage_V=3.8 energy_Wh=17.1 certain"], []],
    ["power-daemon.txt", ["power-supply"], ["battery QB-1140 energy_Wh=45.6 certain"], []],
    [
      "device-tree-grep.txt",
      ["power-supply", "system-listing"],
      [
        "boardNumber PW-4410-5 certain",
        "modelNumber Lark 20 certain",
        "modelNumber PL-20E rough",
        "battery PB-2240 nominalVoltage_V=3.8 capacity_Ah=4.5 certain",
      ],
      ["readout_firmware_date"],
    ],
    [
      "battery-report.html",
      ["battery-report", "system-listing"],
      [
        "modelNumber Quillon Sedge 13 certain",
        "battery QB-1140 energy_Wh=45.6 certain",
        "battery QB-0760 energy_Wh=30.4 certain",
      ],
      [],
    ],
    [
      "battery-report.xml",
      ["battery-report", "system-listing"],
      ["modelNumber Sedge 13 certain", "battery QB-1140 energy_Wh=45.6 certain"],
      ["readout_firmware_date"],
    ],
    [
      "query-tool-utf16.txt",
      ["power-supply", "system-listing"],
      ["boardNumber QM7-100B likely", "boardVersion 1.2 certain", "battery QB-1140 nominalVoltage_V=11.4 certain"],
      [],
    ],
    [
      "hardware-tree.txt",
      ["power-supply", "system-listing"],
      [
        "modelNumber Sedge 13 certain",
        "boardNumber QM7-100B certain",
        "boardVersion 1.2 certain",
        "battery QB-1140 energy_Wh=45.6 certain",
        "memory-module QR-8G4 capacity_GB=8 generation=DDR4 formFactor=SODIMM certain",
      ],
      ["readout_firmware_date"],
    ],
    [
      "system-profile.txt",
      ["power-supply", "system-listing"],
      ["modelNumber Sedge13,2 certain", "modelNumber Sedge rough"],
      ["readout_placeholder"],
    ],
    ["display.bin", ["edid"], [PANEL], []],
    ["display-xxd.txt", ["edid"], [PANEL], []],
    ["display-hexdump.txt", ["edid"], [PANEL], []],
    ["display-words.txt", ["edid"], [PANEL], []],
    ["display-registry.txt", ["edid"], [PANEL], []],
    ["displays-verbose.txt", ["edid"], [PANEL, MONITOR], []],
    ["displays-base64.txt", ["edid"], [MONITOR, PANEL], []],
  ])("%s", (name, kinds, facts, messages) => {
    const read = readDump(fixture(name), { today });
    expect(read.kinds).toEqual(kinds);
    expect(short(read.facts)).toEqual(facts);
    expect(read.messages.map(({ key }) => key)).toEqual(messages);
  });

  it.each<[string, string, string[]]>([
    [
      "one line for the board",
      "Machine:   Type: Laptop System: Quillon\n           Mobo: Quillon model: QM7-100B v: 1.2 serial: x\nCPU: 4\n",
      ["boardNumber QM7-100B certain"],
    ],
    [
      "one line for the battery",
      "Battery 0: Full, 100%\nBattery 0: design capacity 4000 mAh, last full capacity 3600 mAh = 90%\n",
      ["battery capacity_Ah=4 likely"],
    ],
    [
      "values with the unit in brackets",
      "/sys/class/power_supply/BAT0/model_name   = QB-1140\n/sys/class/power_supply/BAT0/energy_full_design = 45600 [mWh]\n",
      ["battery QB-1140 energy_Wh=45.6 certain"],
    ],
    [
      "columns",
      "Product    Version  \r\r\nQM7-100B   1.2      \r\r\n\r\r\n",
      ["boardNumber QM7-100B likely", "boardVersion 1.2 certain"],
    ],
    [
      "a report with tabs",
      "[System Summary]\r\n\r\nItem\tValue\r\nSystem Model\tSedge 13\r\nBaseBoard Product\tQM7-100B\r\n",
      ["modelNumber Sedge 13 certain", "boardNumber QM7-100B certain"],
    ],
    [
      "JSON",
      JSON.stringify({
        overview: [{ machine_model: "Sedge13,2" }],
        battery: { model: "QB-1140", design_voltage: "11.4 V" },
      }),
      ["battery QB-1140 nominalVoltage_V=11.4 certain", "modelNumber Sedge13,2 certain"],
    ],
  ])("%s", (_, text, expected) => {
    expect(short(readDump(text, { today }).facts)).toEqual(expected);
  });

  it("says the same whether a text comes as bytes or pasted", () => {
    const text = fixture("smbios-decoded.txt").toString();
    expect(readDump(text, { today })).toEqual(readDump(fixture("smbios-decoded.txt"), { today }));
    expect(readDump(text.replaceAll("\n", "\r\n"), { today })).toEqual(readDump(text, { today }));
  });
});

describe("raw tables", () => {
  const table = buildTable(notebook);
  const expected = [
    "modelNumber Sedge 13 certain",
    "modelNumber QS13-44 rough",
    "boardNumber QM7-100B certain",
    "boardVersion 1.2 certain",
    MEMORY,
    BATTERY,
  ];
  const hex = (bytes: Uint8Array): string => Buffer.from(bytes).toString("hex");

  it.each<[string, Uint8Array | string]>([
    ["bare", table],
    ["behind a 32-bit entry point", withEntryPoint32(table, 7)],
    ["behind a 64-bit entry point", withEntryPoint64(table)],
    ["behind a head", withHead(table)],
    ["as hex", hex(table)],
    ["as hex in lines", hex(withEntryPoint32(table, 7)).replace(/(.{32})/g, "$1\n")],
    ["as base64", Buffer.from(withHead(table)).toString("base64")],
    [
      "as base64 in lines",
      Buffer.from(withEntryPoint64(table))
        .toString("base64")
        .replace(/(.{76})/g, "$1\r\n"),
    ],
  ])("%s", (_, dump) => {
    const read = readDump(dump, { today });
    expect(read.kinds).toContain("smbios-binary");
    expect(short(read.facts)).toEqual(expected);
    expect(read.messages.map(({ key }) => key)).toEqual(["readout_firmware_date"]);
  });

  it("an entry point alone, a cut table, a wrong count: said", () => {
    const keys = (dump: Uint8Array): string[] => readDump(dump).messages.map(({ key }) => key);
    expect(keys(withEntryPoint32(table, 7).subarray(0, 32))).toContain("readout_smbios_entry_only");
    expect(keys(withEntryPoint32(table, 7).subarray(0, 300))).toContain("readout_smbios_cut");
    expect(keys(withEntryPoint32(table, 9))).toContain("readout_smbios_count");
  });

  it("a board that repeats the model's name is only a rough fact", () => {
    const board = { type: 2, body: [1, 2, 0, 0, 0, 9, 0, 3, 0, 10, 0], strings: ["Quillon", "SEDGE-13"] };
    const read = readDump(buildTable([...notebook.slice(0, 2), board]), { today });
    expect(short(read.facts)).toContain("boardNumber SEDGE-13 rough");
  });
});

describe("what is left out", () => {
  it.each([
    "Default string",
    "To be filled by O.E.M.",
    "To Be Filled By O.E.M",
    "Not Specified",
    "System Product Name",
    "N/A",
    "None",
    "0",
    "00000000",
    "FFFFFFFF",
    "XXXXXXX",
    "123456789",
    "Type2 - Board Product Name1",
    "........",
    "Not Available",
    "Undefined",
    "O.E.M.",
    "Base Board Product Name",
  ])("the placeholder %s", (value) => {
    const text = `Base Board Information\n\tManufacturer: Q\n\tProduct Name: ${value}\n\tVersion: ${value}\n\n`;
    expect(readDump(text, { today }).facts).toEqual([]);
  });

  it("values that cannot be, dates that cannot be", () => {
    const battery = (volts: number, made: string): string =>
      `Portable Battery\n\tName: QB-1140\n\tDesign Voltage: ${volts} mV\n\tSBDS Manufacture Date: ${made}\n\n`;
    const read = readDump(battery(19, "2031-01-01"), { today });
    expect(short(read.facts)).toEqual(["battery QB-1140 certain"]);
    expect(read.messages.map(({ key }) => key).sort()).toEqual(["readout_date_dropped", "readout_implausible"]);
    const old = readDump(battery(11400, "2010-01-01"), { today, launched: dayNumber(2018, 1, 1) });
    expect(old.facts.some(({ field }) => field === "buildDate")).toBe(false);
    expect(old.messages.map(({ key }) => key)).toEqual(["readout_date_dropped"]);
  });

  it("anything that is no dump, and what is too large", () => {
    for (const text of ["", "   ", "Hello, is this still for sale?", "Product: Sedge 13\nPrice: 5 EUR\n"]) {
      expect(readDump(text)).toMatchObject({ facts: [], messages: [{ key: "readout_nothing" }] });
    }
    expect(readDump("x".repeat(8 * 1024 * 1024 + 1)).messages[0]?.key).toBe("readout_too_large");
  });

  it("a fact of the last line, which may be cut off, is rough", () => {
    const text =
      "/sys/class/dmi/id/board_vendor:Q\n/sys/class/dmi/id/board_version:1.2\n/sys/class/dmi/id/board_name:QM7-100";
    expect(short(readDump(text).facts)).toContain("boardNumber QM7-100 rough");
    expect(short(readDump(`${text}\n`).facts)).toContain("boardNumber QM7-100 certain");
  });

  it("a firmware date is no build date and says so", () => {
    const read = readDump("/sys/class/dmi/id/bios_date:07/28/2020\n", { today });
    expect(read.facts).toMatchObject([
      { field: "buildDate", confidence: "rough", note: { key: "readout_note_firmware" }, interval: { to: null } },
    ]);
    expect(read.messages).toMatchObject([{ key: "readout_firmware_date" }]);
  });
});
