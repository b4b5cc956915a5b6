/**
 * How sellers in six languages say that something else is sold, that a number is another offer's, or that a word of
 * doubt, a fault or a year is not the part's. Judged for the handheld with the late board; invented listings.
 */
import { describe, expect, it } from "vitest";
import type { VerdictWord } from "../../src/formats/verdict.ts";
import { judged, larks } from "./bench.ts";

const phrasings: Readonly<Record<string, readonly (readonly [VerdictWord, readonly (string | object)[]])[]>> = {
  "something that goes with the part": [
    [
      "unrelated",
      [
        "battery PB-2240 cable only",
        "PB-2240 label sticker",
        "PB-2240 battery cover",
        "Akku PB-2240 nur Kabel",
        "Akkubox für 4x PB-2240",
        "Portabatterie PB-2240",
        "Verpackung für Akku PB-2240",
        "PB-2240 packaging",
        "Battery PB-2240 datasheet",
        "Akku PB-2240 Anleitung",
        "PB-2240 3D print file",
      ],
    ],
  ],
  "the whole device": [
    [
      "unrelated",
      [
        "Lark 20 komplett mit Akku PB-2240, läuft einwandfrei, ganzes Gerät",
        "Lark 20 complete unit with battery PB-2240, works great",
        "Vends Lark 20 avec batterie PB-2240, appareil complet",
        "PL-20 handheld + battery PB-2240",
      ],
    ],
    ["fits", ["Battery PB-2240 complete unit for Lark 20"]],
  ],
  "wanted ads, and questions to the reader": [
    [
      "unrelated",
      [
        "I'm looking for a battery PB-2240",
        "I am after a PB-2240 battery",
        "Suche Akku PB-2240",
        "Necesito batería PB-2240",
        "Ho bisogno di batteria PB-2240",
      ],
    ],
    [
      "fits",
      [
        "Looking for a battery for your Lark 20? Here is PB-2240, brand new",
        "Auf der Suche nach Akku für Lark 20? Hier: PB-2240 neu",
        "¿Busca batería para Lark 20? Aquí está PB-2240 nueva",
        "Cerchi batteria per Lark 20? Ecco PB-2240 nuova",
      ],
    ],
  ],
  "another offer of the seller": [
    [
      "fits",
      [
        "Akku PB-2240 für Lark 20. Auch PB-1840 vorrätig, siehe andere Angebote.",
        "PB-2240 battery for Lark 20. Please note: units with PW-4410-2 need PB-1840, which we sell separately.",
        "Batterie PB-2240 pour Lark 20. Les appareils avec PW-4410-2 ont besoin de PB-1840.",
        "Batería PB-2240 para Lark 20. Los equipos con PW-4410-2 necesitan PB-1840.",
        "Batteria PB-2240 per Lark 20. Gli apparecchi con PW-4410-2 richiedono PB-1840.",
        "Bateria PB-2240 do Lark 20. Urządzenia z PW-4410-2 wymagają PB-1840.",
        { title: "Akku PB-2240", description: "Falls Sie PW-4410-2 haben, nehmen Sie bitte PB-1840." },
      ],
    ],
    [
      "ambiguous",
      [
        "Battery for Lark 20. For PB-2240 see our other listing.",
        "Akku für Lark 20. PB-2240 finden Sie in unseren anderen Angeboten.",
      ],
    ],
  ],
  "denials by sign, by answer, by copula, with slips": [
    [
      "fits",
      [
        "battery PB-2240 Lark 20 ❌PW-4410-2❌",
        "battery PB-2240 ✔ PW-4410-5 ✘ PW-4410-2",
        "battery PB-2240: PW-4410-5 ✔ PW-4410-2 ✘",
        "Akku PB-2240: PW-4410-5 ja, PW-4410-2 nein",
        "battery PB-2240 Lark 20, wont work with PW-4410-2",
        "battery PB-2240 Lark 20, dosent fit PW-4410-2",
        "Akku PB-2240 Lark 20 nix für PW-4410-2",
        "Akku PB-2240 Lark 20, wer PW-4410-2 hat, bitte nicht kaufen",
        "Batería PB-2240 Lark 20, no instalar en PW-4410-2",
        "Battery PB-2240 does not fit PL-20 with board PW-4410-2",
        { title: "Batterie PB-2240 Lark 20", description: "Incompatible :\n- PW-4410-2" },
      ],
    ],
    [
      "other-revision",
      [
        "battery for Lark 20, won't work in place of PB-2240",
        "Batterie pour Lark 20, ce n'est pas PB-2240",
        "Batería para Lark 20, no es PB-2240",
        "Batteria per Lark 20, non è PB-2240",
      ],
    ],
    ["conflicting", ["PB-2240 not for PL-20", "PB-2240 do całej serii Lark 20 bateria"]],
  ],
  "doubt and faults": [
    [
      "ambiguous",
      [
        "battery PB-2240, compatibility with Lark 20 unknown",
        "Akku PB-2240, Kompatibilität mit Lark 20 unbekannt",
        "battery PB-2240 Lark 20 as spares, has a fault",
        { title: "Batería PB-2240 Lark 20", condition: "Para desguace" },
        { title: "Battery PB-2240 Lark 20", description: "No longer functional." },
      ],
    ],
    [
      "fits",
      [
        "Batterie PB-2240 compatible Lark 20 sans aucun doute",
        "Batería PB-2240 compatible Lark 20 sin duda",
        "Sostituisce batteria rotta PB-2240 Lark 20",
        "battery PB-2240 Lark 20, repairs faults such as no power and dead unit",
        "battery PB-2240 Lark 20 box damaged",
        "battery PB-2240 Lark 20, may be shipped today",
        "Akku PB-2240 Lark 20, Privatverkauf, keine Garantie, kein Umtausch",
      ],
    ],
  ],
  "years of the shop and of new wares": [
    [
      "fits",
      [
        "Akku PB-2240 Lark 20, Ihr Fachhändler seit 2019",
        "battery PB-2240 Lark 20 © 2019",
        "Batterie PB-2240, garantie 2 ans, expédition 24h, 2019",
        "Batteria PB-2240 Lark 20, specialisti dal 2019",
      ],
    ],
    ["ambiguous", ["Batterie pour Lark 20 neuf 2019", "Bateria do Lark 20 nowa 2019"]],
    ["conflicting", ["Battery PB-2240 for PL-20 (2019)", "Batterie PB-2240 Lark 20, garantie 2 ans, 2019"]],
  ],
  "without a number": [
    ["unconfirmed", ["Battery for PL-20 17.1 Wh 3.8 V"]],
    ["ambiguous", ["Battery for PL-20 14.8 Wh 3.7 V", "Battery   for   Lark   20"]],
    ["unrelated", ["Display for Lark 20"]],
  ],
};

describe.each(Object.entries(phrasings))("%s", (_, groups) => {
  describe.each(groups)("%s", (verdict, listings) => {
    it.each(listings)("%j", (listing) => {
      const { verdict: said, reasons } = judged(listing, larks.late);
      expect([said, reasons.map(({ code }) => code)]).toEqual([verdict, expect.arrayContaining([expect.any(String)])]);
    });
  });
});
