/** An invented notebook whose parts bear numbers of every make-up: digits only, days, twins of letters and digits. */
import { makeCatalog, prepare } from "./bench.ts";

const catalog = makeCatalog({
  title: "Numbers of every make-up",
  publisher: "tests",
  published: "2026-11-25",
  license: "CC0-1.0",
  families: [
    {
      id: "corrin",
      maker: "Ovelund",
      name: "Corrin 8 notebook",
      modelNumbers: ["CN-8"],
      revisions: [
        {
          id: "r1",
          name: "first board",
          boardNumbers: ["TM-100A"],
          built: { from: "2018-01", to: "2020-06" },
          years: [2018, 2019, 2020],
          parts: ["cb1", "ba1", "ca1", "se1", "dp1", "kb1"],
        },
        {
          id: "r2",
          name: "second board",
          boardNumbers: ["TM-100B"],
          built: { from: "2020-04" },
          years: [2020, 2021, 2022],
          parts: ["cb2", "ba2", "ca2", "se2", "dp2", "kb2"],
        },
      ],
    },
  ],
  parts: [
    { id: "cb1", type: "control-board", numbers: ["40718826"] },
    { id: "cb2", type: "control-board", numbers: ["40718832"] },
    {
      id: "ba1",
      type: "battery",
      numbers: ["TQB-315"],
      quantities: { nominalVoltage_V: 3.7, energy_Wh: 20 },
      connector: { family: "w", positions: 5, pins: ["supply", "supply", "thermistor", "ground", "ground"] },
    },
    {
      id: "ba2",
      type: "battery",
      numbers: ["TQB-375"],
      quantities: { nominalVoltage_V: 11.1, energy_Wh: 40 },
      connector: {
        family: "w",
        positions: 8,
        pins: ["supply", "supply", "supply", "thermistor", "data", "clock", "ground", "ground"],
      },
    },
    { id: "ca1", type: "cable", numbers: ["20210411"] },
    { id: "ca2", type: "cable", numbers: ["20210412"] },
    { id: "se1", type: "sensor", numbers: ["5820147"] },
    { id: "se2", type: "sensor", numbers: ["5820174"] },
    {
      id: "dp1",
      type: "display-panel",
      numbers: ["KDP-101A"],
      quantities: { diagonal_in: 10.1 },
      connector: { family: "edp", positions: 30 },
    },
    {
      id: "dp2",
      type: "display-panel",
      numbers: ["KDP-IOIA"],
      quantities: { diagonal_in: 11.6 },
      connector: { family: "edp", positions: 40 },
    },
    { id: "kb1", type: "keyboard", numbers: ["CWK-560"], quantities: { layout: "ISO", mounting: "without frame" } },
    { id: "kb2", type: "keyboard", numbers: ["CWK-561"], quantities: { layout: "ANSI", mounting: "with frame" } },
  ],
});

export const corrins = {
  first: prepare({ modelNumbers: ["CN-8"], boardNumber: "TM-100A" }, [catalog]),
  second: prepare({ modelNumbers: ["CN-8"], boardNumber: "TM-100B" }, [catalog]),
} as const;
