/**
 * Designations of cells, modules, cards and plugs against the worked examples of their standards.
 *
 * The paid documents themselves were not at hand. Each block says how its examples are known: `seen` (a quotation of the
 * document), `secondary` (another published page), `by the grammar` (derived from the quoted clause), `from memory`.
 */
import rules from "falsefit:rules";
import { describe, expect, it } from "vitest";
import {
  decodeCardSize,
  decodeLithiumCell,
  decodeModuleLabel,
  decodePlug,
  decodePrimaryCell,
  keyFits,
  plugForVoltage,
  prepareDesignationRules,
  readDesignations,
} from "../../src/text/designations.ts";

const { lithium, primary, memory, card, plug } = prepareDesignationRules(rules.numberFormats);
if (!lithium || !primary || !memory || !card || !plug) throw new Error("a rule file is missing");

describe("IEC 61960-3, clause 5.1: N1 A1 A2 A3 N2/N3/N4-N5", () => {
  it.each([
    // seen: quoted examples of the clause
    ["ICR18/65", "1S1P round 18x65"],
    ["ICR18650", "1S1P round 18x65"],
    ["INR19/65", "1S1P round 19x65"],
    ["ICP103450", "1S1P prismatic 10x34x50"],
    ["ICP083448", "1S1P prismatic 8x34x48"],
    ["ICP08/34/150", "1S1P prismatic 8x34x150"],
    ["ICPt73448", "1S1P prismatic 0.7x34x48"],
    // by the grammar of the same clause
    ["2INP5/60/80-2", "2S2P prismatic 5x60x80"],
    ["3ICR19/65", "3S1P round 19x65"],
    ["4ICP4/61/95", "4S1P prismatic 4x61x95"],
  ])("%s is %s", (text, expected) => {
    const cell = decodeLithiumCell(text, lithium);
    expect(cell && `${cell.series}S${cell.parallel}P ${cell.shape} ${cell.size_mm.join("x")}`).toBe(expected);
  });

  it.each([
    // by the grammar: no such shape, no zero cells, no height, one string is never written
    "ICX18650",
    "0ICR18650",
    "ICR18/",
    "2ICP5/60/80-1",
    "ZCR18650",
    "IZR18650",
    "ICR1865",
    "",
  ])("%j is no designation", (text) => {
    expect(decodeLithiumCell(text, lithium)).toBeNull();
  });

  it("gives the volts of the cells in series (nominal volts of one cell: from memory)", () => {
    expect(decodeLithiumCell("3INR19/65", lithium)?.nominalVoltage_V).toBe(10.8);
    expect(decodeLithiumCell("4IFR26/65", lithium)?.nominalVoltage_V).toBe(12.8);
  });
});

describe("IEC 60086: letters, volts and sizes", () => {
  it.each([
    // secondary: sizes and volts read in public encyclopedias
    ["CR2032", 3, "20x3.2"],
    ["CR2025", 3, "20x2.5"],
    ["CR1220", 3, "12.5x2"],
    ["SR516", 1.55, "5.8x1.6"],
    ["BR2032", 3, "20x3.2"],
    // from memory
    ["CR2016", 3, "20x1.6"],
    ["CR2450", 3, "24.5x5"],
    ["CR1632", 3, "16x3.2"],
    ["LR44", 1.5, "11.6x5.4"],
    ["SR44", 1.55, "11.6x5.4"],
    ["LR6", 1.5, "14.5x50.5"],
    ["LR03", 1.5, "10.5x44.5"],
    ["6LR61", 9, ""],
  ])("%s has %d V and measures %s", (text, volts, size) => {
    const cell = decodePrimaryCell(text, primary);
    expect([cell?.nominalVoltage_V, cell?.size_mm?.join("x") ?? ""]).toEqual([volts, size]);
  });

  it("knows rechargeable cells of the same size apart (ML: secondary; LIR: from memory)", () => {
    const cells = ["CR2032", "ML2032", "LIR2032"].map((text) => decodePrimaryCell(text, primary));
    expect(new Set(cells.map((cell) => cell?.size))).toEqual(new Set(["R2032"]));
    expect(cells.map((cell) => cell?.rechargeable)).toEqual([false, true, true]);
  });

  it.each(["R2032", "XR2032", "CR", "1LR61", "CR20320", ""])("%j is no designation", (text) => {
    expect(decodePrimaryCell(text, primary)).toBeNull();
  });
});

describe("JEDEC module labels: megabytes a second are eight times the data rate", () => {
  it.each([
    // secondary: PC3-12800 and the bandwidth rows; labels themselves from memory
    ["PC3-8500", "DDR3 1066"],
    ["PC3-10600", "DDR3 1333"],
    ["PC3-10666", "DDR3 1333"],
    ["PC3-12800", "DDR3 1600"],
    ["PC3-14900", "DDR3 1866"],
    ["PC4-17000", "DDR4 2133"],
    ["PC4-19200", "DDR4 2400"],
    ["PC4-21300", "DDR4 2666"],
    ["PC4-21333", "DDR4 2666"],
    ["PC4-23400", "DDR4 2933"],
    ["PC4-23466", "DDR4 2933"],
    ["PC4-25600", "DDR4 3200"],
    ["PC5-38400", "DDR5 4800"],
    ["PC5-44800", "DDR5 5600"],
    ["PC5-51200", "DDR5 6400"],
    // seen: one number, three meanings
    ["PC3200", "DDR 400"],
    ["PC2-3200", "DDR2 400"],
    ["PC4-3200", "DDR4 3200"],
    ["PC2-6400", "DDR2 800"],
    ["PC3-6400", "DDR3 800"],
    // seen: makers' labels give the data rate itself with PC4
    ["PC4-2400T", "DDR4 2400"],
    ["PC4-2666", "DDR4 2666"],
    ["DDR4-3200", "DDR4 3200"],
    ["DDR3L-1600", "DDR3 1600"],
  ])("%s is %s", (text, expected) => {
    const label = decodeModuleLabel(text, memory);
    expect(label && `${label.generation} ${label.transferRates_MTs.join("|")}`).toBe(expected);
  });

  it("gives volts (secondary), lower ones with L", () => {
    const volts = (text: string) => decodeModuleLabel(text, memory)?.supplyVoltage_V;
    expect(["PC3200", "PC2-6400", "PC3-12800", "PC3L-12800", "PC4-25600", "PC5-38400"].map(volts)).toEqual([
      2.5, 1.8, 1.5, 1.35, 1.2, 1.1,
    ]);
  });

  it("gives the contacts of small-outline modules (secondary; the letter S from memory)", () => {
    expect(decodeModuleLabel("PC3L-12800S", memory)).toMatchObject({ formFactor: "SODIMM", positions: 204 });
    expect(decodeModuleLabel("PC2-6400U", memory)).toMatchObject({ formFactor: "DIMM", positions: 240 });
  });

  it("finds equal contact counts in generations that do not go together (secondary)", () => {
    const pins = (name: string) => memory.generations.find((each) => each.name === name)?.pins;
    expect(pins("DDR")?.sodimm).toBe(pins("DDR2")?.sodimm);
    expect(pins("DDR2")?.dimm).toBe(pins("DDR3")?.dimm);
    expect(pins("DDR4")?.dimm).toBe(pins("DDR5")?.dimm);
  });

  it.each(["PC3-12345", "PC4L-25600", "PC6-9000", "PC3-", "PC-100", "DDR4-123", ""])("%j is no label", (text) => {
    expect(decodeModuleLabel(text, memory)).toBeNull();
  });
});

describe("PCI-SIG M.2 type names (sizes and keys seen)", () => {
  it.each([
    ["2280", "22x80 -"],
    ["22110", "22x110 -"],
    ["2230", "22x30 -"],
    ["3042", "30x42 -"],
    ["1216", "12x16 -"],
    ["2280-S3-M", "22x80 M"],
    ["2242-D5-B-M", "22x42 B+M"],
  ])("%s is %s", (text, expected) => {
    const size = decodeCardSize(text, card);
    expect(size && `${size.width_mm}x${size.length_mm} ${size.key ?? "-"}`).toBe(expected);
  });

  it("goes into sockets of its keys only", () => {
    expect([keyFits("B+M", "B"), keyFits("B+M", "M"), keyFits("M", "B"), keyFits("M", "M")]).toEqual([
      true,
      true,
      false,
      true,
    ]);
  });

  it.each(["2281", "1980", "2280-S3-X", "2280-", ""])("%j is no type name", (text) => {
    expect(decodeCardSize(text, card)).toBeNull();
  });
});

describe("EIAJ RC-5320A plug classes (secondary; copies disagree on the inner diameter of class 4)", () => {
  it.each([
    [3.15, 1],
    [3.16, 2],
    [6.3, 2],
    [9, 3],
    [12, 4],
    [13.5, 4],
    [16, 5],
    [19, null],
  ])("%d V takes class %s", (volts, number) => {
    expect(plugForVoltage(volts, plug)?.number ?? null).toBe(number);
  });

  it("names a class", () => {
    expect(decodePlug("EIAJ-04", plug)).toMatchObject({ outer_mm: 5.5, inner_mm: [3.3, 3.4], pin_mm: 1 });
    expect(decodePlug("EIAJ-09", plug)).toBeNull();
  });
});

describe("designations in listings", () => {
  const read = (text: string) =>
    readDesignations(text, { lithium, primary, memory, card, plug }).map(
      (each) =>
        `${each.standard}:${text.slice(...each.span)}:${each.quantities.map(({ name, value }) => `${name}=${value}`)}`,
    );

  it("are found with what they state", () => {
    expect(read("Battery 3ICR19/65-2 for PB-1840")).toEqual(["iec-61960:3ICR19/65-2:seriesCells=3,cells=6"]);
    expect(read("pack of ICR18650 cells, CR2032 inside")).toEqual(["iec-61960:ICR18650:", "iec-60086:CR2032:"]);
    expect(read("8GB PC3L-12800S new")).toEqual([
      "jedec-modules:PC3L-12800S:generation=DDR3,transferRate_MTs=1600,supplyVoltage_V=1.35,formFactor=SODIMM,positions=204",
    ]);
    expect(read("SSD M.2 2280 NVMe, M2 2242")).toEqual([
      "m2-cards:2280:width_mm=22,length_mm=80",
      "m2-cards:2242:width_mm=22,length_mm=42",
    ]);
    expect(read("plug EIAJ-03")).toEqual(["eiaj-plugs:EIAJ-03:"]);
  });

  it("are not seen where there are none", () => {
    expect(read("Type 2280 box, PB-1840, LR-1600E, PCB 1234, 2021")).toEqual([]);
  });
});
