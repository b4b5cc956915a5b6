/** Quantities that no part type's rule names: what a listing states is held against whatever measures the same. */
import { describe, expect, it } from "vitest";
import type { VerdictWord } from "../../src/formats/verdict.ts";
import { judged, makeCatalog, prepare } from "./bench.ts";

const TYPES: readonly (readonly [type: string, early: object, late: object])[] = [
  [
    "capacitor",
    { id: "TCX-A", quantities: { capacitance_uF: 12 } },
    { id: "TCX-B", quantities: { capacitance_uF: 16 } },
  ],
  ["valve", { id: "TVX-A", quantities: { supplyVoltage_V: 24 } }, { id: "TVX-B", quantities: { supplyVoltage_V: 36 } }],
  ["castor", { id: "TKX-A", quantities: { diameter_mm: 75 } }, { id: "TKX-B", quantities: { diameter_mm: 100 } }],
  ["gear", { id: "TGX-A", quantities: { teeth: 31 } }, { id: "TGX-B", quantities: { teeth: 37 } }],
  ["operating-panel", { id: "TPX-A", quantities: { buttons: 12 } }, { id: "TPX-B", quantities: { buttons: 14 } }],
  [
    "camera-module",
    { id: "TMX-A", quantities: { resolution_Mpx: 8 } },
    { id: "TMX-B", quantities: { resolution_Mpx: 12 } },
  ],
  [
    "thermal-fuse",
    { id: "TFX-A", quantities: { temperature_C: 152 } },
    { id: "TFX-B", quantities: { temperature_C: 172 } },
  ],
  ["hose", { id: "THX-A", quantities: { length_m: 2 } }, { id: "THX-B", quantities: { length_m: 3 } }],
  ["heating-element", { id: "TEX-A", quantities: { power_W: 600 } }, { id: "TEX-B", quantities: { power_W: 620 } }],
  [
    "toner-cartridge",
    { id: "TTX-A", quantities: { yield_pages: 1500 } },
    { id: "TTX-B", quantities: { yield_pages: 3500 } },
  ],
  ["sensor", { id: "TSX-A", quantities: { resistance_kOhm: 5 } }, { id: "TSX-B", quantities: { resistance_kOhm: 10 } }],
  [
    "speed-controller",
    { id: "TOX-A", quantities: { outputCurrent_A: 20 } },
    { id: "TOX-B", quantities: { outputCurrent_A: 30 } },
  ],
  [
    "fuser",
    { id: "TUX-A", quantities: { supplyVoltage_V: 230 } },
    { id: "TUX-B", quantities: { supplyVoltage_V: 230, power_W: 780 } },
  ],
  ["kneading-blade", { id: "TBX-A", quantities: { shaft_mm: 8 } }, { id: "TBX-B", quantities: { shaft_mm: 10 } }],
  [
    "seal",
    { id: "TLX-A", quantities: { diameter_mm: 14, thickness_mm: 2 } },
    { id: "TLX-B", quantities: { diameter_mm: 16, thickness_mm: 2 } },
  ],
  [
    "gasket",
    { id: "TNX-A", quantities: { length_mm: 1160, width_mm: 540 } },
    { id: "TNX-B", quantities: { length_mm: 1180, width_mm: 540 } },
  ],
  [
    "charging-socket-board",
    { id: "TYX-A", connector: { family: "micro USB", positions: 5 } },
    { id: "TYX-B", connector: { family: "USB-C", positions: 24 } },
  ],
  ["touch-panel", { id: "TZX-A", quantities: { touch: false } }, { id: "TZX-B", quantities: { touch: true } }],
  ["laser-unit", { id: "TXX-A", connector: { positions: 12 } }, { id: "TXX-B", connector: { positions: 14 } }],
];

const parts = TYPES.flatMap(([type, early, late]) =>
  [early, late].map((part) => ({ ...part, type, numbers: [(part as { id: string }).id] })),
);
const ids = (side: "-A" | "-B"): string[] =>
  parts.flatMap(({ numbers }) => numbers.filter((each) => each.endsWith(side)));
const catalog = makeCatalog({
  title: "Wend",
  families: [
    {
      id: "wend",
      maker: "Tollgrave",
      name: "Wend 4",
      modelNumbers: ["TGW-4"],
      revisions: [
        { id: "early", name: "first board", boardNumbers: ["TGM-10"], parts: ids("-A") },
        { id: "late", name: "second board", boardNumbers: ["TGM-20"], parts: ids("-B") },
      ],
    },
  ],
  parts,
});
const devices = {
  early: prepare({ modelNumbers: ["TGW-4"], boardNumber: "TGM-10" }, [catalog]),
  late: prepare({ modelNumbers: ["TGW-4"], boardNumber: "TGM-20" }, [catalog]),
};

const cases: readonly (readonly [keyof typeof devices, VerdictWord, readonly (string | object)[]])[] = [
  [
    "early",
    "conflicting",
    [
      "TCX-A capacitor 16uF Tollgrave",
      "Kondensator TCX-A 16 µF Tollgrave",
      "Kondensator TCX-A 16 Mikrofarad Tollgrave",
      "condensateur TCX-A 16MFD Tollgrave",
      "condensatore TCX-A 16 microfarad Tollgrave",
      "kondensator TCX-A 16 mikrofaradów Tollgrave",
      "TVX-A gas valve 36V Tollgrave",
      "TKX-A castor diameter 100 mm Tollgrave",
      "Lenkrolle TKX-A 100 mm Durchmesser Tollgrave",
      "roulette TKX-A diamètre 10 cm Tollgrave",
      "TGX-A gear 37 teeth Tollgrave",
      "Zahnrad TGX-A 37 Zähne Tollgrave",
      "engrenage TGX-A 37 dents Tollgrave",
      "engranaje TGX-A 37 dientes Tollgrave",
      "ingranaggio TGX-A 37 denti Tollgrave",
      "zębatka TGX-A 37 zębów Tollgrave",
      "operating panel TPX-A 14 buttons Tollgrave",
      "Bedienfeld TPX-A 14 Tasten Tollgrave",
      "panneau TPX-A 14 touches Tollgrave",
      "panel TPX-A 14 botones Tollgrave",
      "pannello TPX-A 14 pulsanti Tollgrave",
      "panel TPX-A 14 przycisków Tollgrave",
      "camera module TMX-A 12 MP Tollgrave",
      "Kamera TMX-A 12 Megapixel Tollgrave",
      "caméra TMX-A 12 mégapixels Tollgrave",
      "cámara TMX-A 12 Mpx Tollgrave",
      "thermal fuse TFX-A 172°C Tollgrave",
      "Thermosicherung TFX-A 172 °C Tollgrave",
      "hose THX-A 3 m Tollgrave",
      "heating element TEX-A 620 W Tollgrave",
      "sensor TSX-A 10 kΩ Tollgrave",
      "sensor TSX-A 10k ohm Tollgrave",
      "Regler TOX-A 30A Tollgrave",
      "fuser TUX-A 110 V Tollgrave",
      "kneading blade TBX-A 10 mm shaft Tollgrave",
      "Knethaken TBX-A Welle 10 mm Tollgrave",
      "seal TLX-A 16 mm Tollgrave",
      "laser unit TXX-A 14 pin Tollgrave",
      "charging socket board TYX-A USB-C Tollgrave",
      "Ladebuchse TYX-A USB Typ C Tollgrave",
      "door gasket TNX-A 1180x540 mm Tollgrave",
      "Lasereinheit TXX-A 14-polig Tollgrave",
      { title: "TCX-A capacitor Tollgrave", specifics: { Capacitance: "16 µF" } },
      { title: "TGX-A gear Tollgrave", specifics: { Teeth: "37" } },
      { title: "TOX-A Tollgrave", description: "Gives 30 A." },
    ],
  ],
  [
    "early",
    "fits",
    [
      "TCX-A capacitor 12uF 450V Tollgrave",
      "TCX-A capacitor 12.0 µF ±5% Tollgrave",
      "TVX-A gas valve 24V DC Tollgrave",
      "TKX-A castor 7.5 cm Tollgrave",
      "TKX-A castor 75 mm with M8 thread 25 mm long Tollgrave",
      "TKX-A castor, load 50 kg, Tollgrave",
      "TGX-A gear 31 teeth 40 mm Tollgrave",
      "operating panel TPX-A 12 buttons, 2 buttons worn, Tollgrave",
      "thermal fuse TFX-A 152 °C 10A 250V Tollgrave",
      "hose THX-A 200 cm Tollgrave",
      "hose THX-A 2 m, box 30 x 20 x 10 cm Tollgrave",
      "heating element TEX-A 600W 230V Tollgrave",
      "toner TTX-A 2000 pages Tollgrave",
      "toner TTX-A Tollgrave, printer ran 3500 pages",
      "sensor TSX-A 5k Tollgrave",
      "sensor TSX-A 5000 ohm Tollgrave, 2 m cable included",
      "fuser TUX-A 220V Tollgrave",
      "fuser TUX-A 240 V Tollgrave",
      "fuser TUX-A 220-240V Tollgrave",
      "Regler TOX-A 20A Tollgrave Versand 24/48h",
      "Regler TOX-A Tollgrave Garantie 24 Monate, Paket 2 kg",
      "seal TLX-A 14 x 2 mm Tollgrave",
      "seal TLX-A 14 mm Tollgrave",
      "seal TLX-A 20 mm inside Tollgrave",
      "laser unit TXX-A 12 pin Tollgrave",
      "charging socket board TYX-A micro USB Tollgrave",
      "charging socket board TYX-A micro-USB, not USB-C, Tollgrave",
      { title: "charging socket board TYX-A Tollgrave", description: "A USB-C cable can be had too." },
      "door gasket TNX-A 116 x 54 cm Tollgrave",
      "door gasket TNX-A Tollgrave, box 1500 x 300 x 50 mm",
      { title: "TVX-A gas valve Tollgrave", description: "From a machine with 230 V, 2100 W. Parcel 1 kg." },
      { title: "TOX-A controller Tollgrave", description: "Charger 12 V 2 A not part of the offer. Delivery in 48 h." },
      { title: "TKX-A castor Tollgrave", description: "Screws M8 x 40 mm are in the box." },
      { title: "TKX-A castor Tollgrave", specifics: { "Package size": "30 x 20 x 10 cm", Weight: "450 g" } },
    ],
  ],
  [
    "early",
    "other-revision",
    [
      "capacitor 16uF for Tollgrave Wend 4 TGW-4",
      "Gasventil 36V Tollgrave TGW-4",
      "castor 100 mm Tollgrave TGW-4",
      "charging socket board USB-C Tollgrave TGW-4",
      "gear 37 teeth Tollgrave TGW-4",
      "gasket 1180 x 540 mm Tollgrave TGW-4",
      "operating panel 14 buttons Tollgrave TGW-4",
      "camera module 12 MP Tollgrave TGW-4",
      "sensor 10 kΩ Tollgrave TGW-4",
      "thermal fuse 172°C Tollgrave TGW-4",
    ],
  ],
  [
    "late",
    "unconfirmed",
    [
      "capacitor 16uF Tollgrave TGW-4",
      "Gasventil 36V Tollgrave TGW-4",
      "castor 10 cm Tollgrave TGW-4",
      "gear 37 teeth Tollgrave TGW-4",
      "membrane, operating panel 14 buttons Tollgrave TGW-4",
      "toner cartridge 3500 pages Tollgrave TGW-4",
      "laser unit 14 pin Tollgrave TGW-4",
      "placa conector USB-C Tollgrave TGW-4",
    ],
  ],
  ["late", "ambiguous", ["capacitor 450V Tollgrave TGW-4", "fuser 230V Tollgrave TGW-4", "gear 40 mm Tollgrave TGW-4"]],
];

describe.each(cases)("%s: %s", (device, verdict, listings) => {
  it.each(listings.map((listing) => [JSON.stringify(listing), listing] as const))("%s", (_, listing) => {
    expect(judged(listing, devices[device]).verdict).toBe(verdict);
  });
});
