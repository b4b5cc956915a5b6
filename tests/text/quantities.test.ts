import rules from "falsefit:rules";
import { describe, expect, it } from "vitest";
import { foldVisible } from "../../src/text/fold.ts";
import { prepareQuantityRules, readLabelledQuantity, readQuantities } from "../../src/text/quantities.ts";

const prepared = prepareQuantityRules(rules.numberFormats);

/** "name=value|alternatives" of every quantity. */
function read(text: string): string[] {
  return readQuantities(foldVisible(text).text, prepared).map(
    ({ name, value, alternatives }) => `${name}=${[value, ...alternatives].join("|")}`,
  );
}

describe("quantities in listings", () => {
  it.each([
    ["Battery 11.1V 5200mAh 57.7Wh 6 cell", "nominalVoltage_V=11.1 capacity_Ah=5.2 energy_Wh=57.7 cells=6"],
    ["Ersatzakku 11,1 V 5.200 mAh 58 Wh 6-Zellen", "nominalVoltage_V=11.1 capacity_Ah=5.2 energy_Wh=58 cells=6"],
    ["Batterie 14,4V 2,5Ah 4 cellules", "nominalVoltage_V=14.4 capacity_Ah=2.5 cells=4"],
    ["BATTERY 11.1V 5200MAH 58WH", "nominalVoltage_V=11.1 capacity_Ah=5.2 energy_Wh=58"],
    ["akumulator 21,6 V 2500 mAh 6 ogniw", "nominalVoltage_V=21.6 capacity_Ah=2.5 cells=6"],
    ["bateria 25,2 voltios 7 celdas", "nominalVoltage_V=25.2 cells=7"],
    ["batteria 18 volt 5 celle", "nominalVoltage_V=18 cells=5"],
    ["fits 11.1V/10.8V", "nominalVoltage_V=11.1|10.8"],
    ["11.1/10.8 V", "nominalVoltage_V=11.1|10.8"],
    ["10.8V-11.1V", "nominalVoltage_V=10.8|11.1"],
    ["3S2P pack", "seriesCells=3 cells=6"],
    ["5 200 mAh", "capacity_Ah=5.2"],
    ["5,200mAh 5'200 mAh", "capacity_Ah=5.2 capacity_Ah=5.2"],
    ["2.600 Ah", "capacity_Ah=2.6"],
    ["11.1V5200mAh", "nominalVoltage_V=11.1 capacity_Ah=5.2"],
    ["Akku-11,1V DC12V", "nominalVoltage_V=11.1 nominalVoltage_V=12"],
    ["6 watt hours, 48 watt-hours", "energy_Wh=6 energy_Wh=48"],
    [
      'LCD 15.6" FHD 1920x1080 30 pin 60Hz',
      "diagonal_in=15.6 width_px=1920 height_px=1080 width_px=1920 height_px=1080 positions=30 refresh_Hz=60",
    ],
    ["Display 15,6 Zoll 40-polig 1366 × 768", "diagonal_in=15.6 positions=40 width_px=1366 height_px=768"],
    ["dalle 14 pouces 30 broches Full HD", "diagonal_in=14 positions=30 width_px=1920 height_px=1080"],
    ["pantalla de 13,3 pulgadas 40 pines", "diagonal_in=13.3 positions=40"],
    ["schermo 15,6 pollici 30 poli", "diagonal_in=15.6 positions=30"],
    ["matryca 15,6 cala 30 pinów", "diagonal_in=15.6 positions=30"],
    ["ekran 14 cali 40 pin", "diagonal_in=14 positions=40"],
    ["15.6in LED, 2 in 1, 6 in stock", "diagonal_in=15.6"],
    ["14 inch HD panel 30/40 pin", "diagonal_in=14 width_px=1366|1280 height_px=768|720 positions=30|40"],
    ["4K 144 Hz QHD+", "width_px=3840|4096 height_px=2160|2400 refresh_Hz=144 width_px=3200 height_px=1800"],
    [
      "Input: 100-240V~1.5A 50/60Hz Output: 19V 3.42A 65W",
      "inputVoltage_V=100|240 inputCurrent_A=1.5 inputFrequency_Hz=50|60 outputVoltage_V=19 outputCurrent_A=3.42 power_W=65",
    ],
    ["Netzteil 19,5 V 4,62 A 90 Watt", "nominalVoltage_V=19.5 current_A=4.62 power_W=90"],
    ["charging voltage 12.6V", "chargeVoltage_V=12.6"],
    ["16GB DDR4 3200MHz, 3200 MT/s, 25.6GB/s", "capacity_GB=16 transferRate_MTs=3200 transferRate_MTs=3200"],
    ["SSD 1TB, 512 Go, 1To", "capacity_GB=1000 capacity_GB=512 capacity_GB=1000"],
    ["2x8GB kit", "lotCount=2 capacity_GB=8"],
    ["Lüfter 80x80x15mm, cable 0.5mm pitch 30 cm", "size_mm=80x80x15 pitch_mm=0.5 length_mm=300"],
    ["fan 12V 500mA 2 pcs", "nominalVoltage_V=12 current_A=0.5 lotCount=2"],
    ["2x Akku", "lotCount=2"],
    ["pack, 6 x cells, 21.6V", "cells=6 nominalVoltage_V=21.6"],
    ["ventola 12V a 4 fili, 3-wire fan", "nominalVoltage_V=12 positions=4 positions=3"],
    ["2 x battery", "lotCount=2"],
    ["filter belt x2", "lotCount=2"],
    ["lot of 3 fans", "lotCount=3"],
    ["lot de 4 ventilateurs", "lotCount=4"],
    ["5 Stück, 3 szt., 2 pezzi, 4 uds", "lotCount=5 lotCount=3 lotCount=2 lotCount=4"],
    ["2er-Pack, 2-pack", "lotCount=2 lotCount=2"],
    ["1 pair of hinges", "lotCount=2"],
    ["2.4kV 800mA", "nominalVoltage_V=2400 current_A=0.8"],
    ["84 keys, 84 Tasten", "keys=84 keys=84"],
  ])("%s", (text, expected) => {
    expect(read(text).join(" ")).toBe(expected);
  });

  it.each([
    "PB-1840 R",
    "PB-77A new",
    "QK77A",
    "Rev. 2 w 1 sztuce",
    "od 5 a 10",
    "2019 A 2021",
    "del 2022 ma anche 2023",
    "version 1.2.3 V",
    "Marlow 300 battery",
    "Lark 20 pack",
    "12345678901 mAh",
    "serial 5200 mAhNEW",
    "5000 V1",
    "0 V, 0 mAh",
    "",
  ])("reads no quantity in %j", (text) => {
    expect(read(text)).toEqual([]);
  });

  it("gives the span of each in the folded text", () => {
    const text = "Akku 11.1V/10.8V, 2x8GB";
    expect(readQuantities(text, prepared).map(({ span }) => text.slice(...span))).toEqual(["11.1V/10.8V", "2", "8GB"]);
  });

  it("reads a bare number under a label that names the unit", () => {
    expect(readLabelledQuantity("Voltage (V)", " 11,1 ", prepared)).toMatchObject({
      name: "nominalVoltage_V",
      value: 11.1,
      span: [1, 5],
    });
    expect(readLabelledQuantity("Anzahl Zellen", "6", prepared)).toMatchObject({ name: "cells", value: 6 });
    expect(readLabelledQuantity("Spannung", "24", prepared)).toMatchObject({ name: "nominalVoltage_V", value: 24 });
    expect(readLabelledQuantity("Polzahl", "40", prepared)).toMatchObject({ name: "positions", value: 40 });
    expect(readLabelledQuantity("MPN", "1840", prepared)).toBeNull();
    expect(readLabelledQuantity("Volt", "PB-1840", prepared)).toBeNull();
  });
});
