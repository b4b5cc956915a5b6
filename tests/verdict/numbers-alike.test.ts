/** Numbers that differ only in O and 0, I and 1; other scripts; trailing letters, grades and revisions. */
import { describe, expect, it } from "vitest";
import type { VerdictWord } from "../../src/formats/verdict.ts";
import { judged, shelf } from "./bench.ts";
import { corrins } from "./corrins.ts";

const devices = { ...shelf, ...corrins };

const cases: readonly (readonly [
  device: keyof typeof devices,
  verdict: VerdictWord,
  listings: readonly (string | object)[],
])[] = [
  [
    "first",
    "fits",
    [
      "screen KDP-101A Corrin 8",
      "screen kdp-101a Corrin 8",
      "screen Kdp-101A Corrin 8",
      "screen KDP101A Corrin 8",
      "screen KDP 101A Corrin 8",
      "screen ＫＤＰ－１０１Ａ Corrin 8",
      "Akku ТQВ-315 Corrin 8",
      "Akku ΤQΒ-315 Corrin 8",
      "Akku ТQВ-З15 Corrin 8",
    ],
  ],
  [
    "second",
    "fits",
    [
      "screen KDP-IOIA Corrin 8",
      "screen kdp-ioia Corrin 8",
      "screen Kdp-Ioia Corrin 8",
      "screen KDP IOIA Corrin 8",
      "screen KDPIOIA Corrin 8",
      "screen ＫＤＰ－ＩＯＩＡ Corrin 8",
      "Display KDP-IOIA",
      "MATRYCA KDP-IOIA CORRIN 8",
      "screen КDР-ІОІА Corrin 8",
    ],
  ],
  [
    "first",
    "other-revision",
    ["screen KDP-IOIA Corrin 8", "screen kdp-ioia Corrin 8", "screen KDP IOIA Corrin 8", "screen КDР-ІОІА Corrin 8"],
  ],
  ["second", "other-revision", ["screen KDP-101A Corrin 8", "screen kdp-101a Corrin 8", "screen KDP 101A Corrin 8"]],
  ["first", "unknown-part", ["screen KDP-1O1A Corrin 8", "screen KDP-IO1A Corrin 8"]],
  ["second", "unknown-part", ["screen KDP-1O1A Corrin 8", "screen KDP-I01A Corrin 8"]],
  [
    "early",
    "fits",
    [
      "Akku РВ-1840 Lark 20",
      "Akku ΡΒ-1840 Lark 20",
      "Akku РВ 1840 Lark 20",
      "Akku PВ-184О Lark 20",
      "Akku PB-184Ο Lark 20",
      "Akku PB-1840 Lark 20",
      "Akku PB‐I84O Lark 20",
      "Akku pb-l840 Lark 20",
      "Akku PB-184o Lark 20",
      "Akku 𝗣𝗕-𝟭𝟴𝟰𝟬 Lark 20",
      "Akku P​B-1840 Lark 20",
      "Akku PB­-1840 Lark 20",
      "PB1840-R battery",
      "PB 1840 R battery",
      "PB-1840R battery",
    ],
  ],
  [
    "late",
    "unknown-part",
    [
      "PB-2240B battery Lark 20",
      "PB-2240-B battery Lark 20",
      "PB-2240 B battery Lark 20",
      "PB-2240X battery Lark 20",
      "PB-2240-R2 battery Lark 20",
    ],
  ],
  [
    "late",
    "fits",
    [
      "PB-2240 grade B battery Lark 20",
      "PB-2240 B-Ware Akku Lark 20",
      "PB-2240 B grade battery Lark 20",
      "PB-2240 A+ grade battery Lark 20",
      "PB-2240 Grade A battery Lark 20",
      "PB-2240, grado A, batería Lark 20",
      "PB-2240 klasa A bateria Lark 20",
      "PB-2240 stan B bateria Lark 20",
      "PB-2240 classe A batteria Lark 20",
      "PB-2240 état B batterie Lark 20",
      "PB-2240A battery Lark 20",
      "PB-2240 A battery Lark 20",
      "PB-2240 Rev. A battery Lark 20",
      "PB-2240 rev A battery Lark 20",
      "PB-2240 Rev.A battery Lark 20",
      "PB-2240 V2.1 battery Lark 20",
      "PB-2240 V1 battery Lark 20",
      "PB-2240 ver. 1.0 battery Lark 20",
      "PB-2240 Ver 2 battery Lark 20",
      "PB-2240 version 2 battery Lark 20",
    ],
  ],
  ["early", "other-revision", ["PB-2240 Rev. A battery Lark 20", "PB-2240 V2.1 battery Lark 20"]],
  [
    "late",
    "other-revision",
    [
      "PB-1840 Rev B battery Lark 20",
      "PB-1840 V2 battery Lark 20",
      "PB-1840-R battery Lark 20",
      "PB-1840 R battery Lark 20",
    ],
  ],
];

describe.each(cases)("%s: %s", (device, verdict, listings) => {
  it.each(listings.map((listing) => [JSON.stringify(listing), listing] as const))("%s", (_, listing) => {
    expect(judged(listing, devices[device]).verdict).toBe(verdict);
  });
});
