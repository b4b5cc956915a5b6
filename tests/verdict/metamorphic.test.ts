/** Changes to a listing that must change no verdict: spelling, noise, spaces, order of words, language. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Listing } from "../../src/formats/listing.ts";
import type { VerdictWord } from "../../src/formats/verdict.ts";
import { canonicalNumber } from "../../src/text/part-number.ts";
import { judge } from "../../src/verdict/index.ts";
import { everyDevice, judged, makeCatalog, prepare } from "./bench.ts";
import {
  type DeviceName,
  type Draft,
  draftFor,
  draws,
  PATIENCE,
  someDevice,
  someDraft,
  vocabularyOf,
  written,
} from "./draws.ts";

const FULL_WIDTH = (text: string): string =>
  text.replace(/[!-~]/g, (sign) => String.fromCharCode(sign.charCodeAt(0) + 0xfee0)).replaceAll(" ", "\u3000");

/** Ways to write one number. */
const spellings: Readonly<Record<string, (number: string) => string>> = {
  "small letters": (number) => number.toLowerCase(),
  "a space for the hyphen": (number) => number.replaceAll("-", " "),
  "no hyphen": (number) => number.replaceAll("-", ""),
  "a stop for the hyphen": (number) => number.replaceAll("-", "."),
  "a bar for the hyphen": (number) => number.replaceAll("-", "_"),
  "a hyphen that does not break": (number) => number.replaceAll("-", "\u2011"),
  "a dash": (number) => number.replaceAll("-", "\u2013"),
  "O for 0": (number) => number.replaceAll("0", "O"),
  "I for 1": (number) => number.replaceAll("1", "I"),
  "l for 1": (number) => number.replaceAll("1", "l"),
  "a space of no width": (number) => number.split("").join("\u200b"),
  "a soft hyphen": (number) => number.split("").join("\u00ad"),
  "full width": FULL_WIDTH,
  "Cyrillic letters": (number) => number.replace("P", "\u0420").replace("B", "\u0412").replace("C", "\u0421"),
};

/** Ways to write a whole listing. */
const rewritings: Readonly<Record<string, (text: string) => string>> = {
  "capital letters": (text) => text.toUpperCase(),
  "small letters": (text) => text.toLowerCase(),
  "full width": FULL_WIDTH,
  "two spaces": (text) => text.replaceAll(" ", "  "),
  "three spaces": (text) => text.replaceAll(" ", "   "),
  tabs: (text) => text.replaceAll(" ", "\t"),
  "spaces that do not break": (text) => text.replaceAll(" ", "\u00a0"),
  "letters and marks apart": (text) => text.normalize("NFD"),
  "a space at the ends": (text) => ` ${text} `,
};

function rewritten(listing: Listing, rewrite: (text: string) => string): Listing {
  return {
    ...listing,
    title: rewrite(listing.title),
    ...(listing.description === undefined ? {} : { description: rewrite(listing.description) }),
    ...(listing.specifics === undefined
      ? {}
      : {
          specifics: Object.fromEntries(Object.entries(listing.specifics).map(([key, text]) => [key, rewrite(text)])),
        }),
  };
}

function verdictOf(draft: Draft, spell?: (number: string) => string): VerdictWord {
  return judge(written(draft, spell), everyDevice[draft.name]).verdict;
}

describe("a verdict is the same", () => {
  it.each(Object.entries(spellings))("with %s in its numbers", PATIENCE, (_, spell) => {
    fc.assert(
      fc.property(someDraft, (draft) => {
        // Only a number that somebody knows can be told in every spelling.
        const { index, fitted, accepted, refused } = everyDevice[draft.name];
        const isKnown = (key: string): boolean =>
          index.resolveNumber(key).known || [fitted, accepted, refused].some((own) => own.has(key));
        const spelled = (number: string): string => (isKnown(canonicalNumber(number)) ? spell(number) : number);
        expect(verdictOf(draft, spelled)).toBe(verdictOf(draft));
      }),
      draws(150),
    );
  });

  it.each(Object.entries(rewritings))("with %s", PATIENCE, (_, rewrite) => {
    fc.assert(
      fc.property(someDraft, (draft) => {
        const listing = written(draft);
        const device = everyDevice[draft.name];
        expect(judge(rewritten(listing, rewrite), device).verdict).toBe(judge(listing, device).verdict);
      }),
      draws(150),
    );
  });

  it("with noise around", PATIENCE, () => {
    // Words of a language may decide in which one an ambiguous word is read: they stand in English listings only.
    const wordless = fc.constantFrom("!!!", "***", "L@@K", "24h", "★★★", "🔋", "100% OK", "=>", "...");
    const words = fc.constantFrom("NEW!!!", "*** free shipping ***", "top seller", "fast & cheap", "wow, look");
    const english = someDevice.chain((name) => draftFor(name, ["en"]));
    const cases = fc.oneof(fc.tuple(someDraft, wordless), fc.tuple(english, words));
    fc.assert(
      fc.property(cases, fc.boolean(), ([draft, extra], first) => {
        const listing = written(draft);
        const noisy = { ...listing, title: first ? `${extra} ${listing.title}` : `${listing.title} ${extra}` };
        expect(judge(noisy, everyDevice[draft.name]).verdict).toBe(judge(listing, everyDevice[draft.name]).verdict);
      }),
      draws(150),
    );
  });

  it("in any order of words where no wording says for or against", PATIENCE, () => {
    const words = ["battery", "new", "original", "black", "tested"];
    const cases = someDevice.chain((name) => {
      const { numbers, models } = vocabularyOf(name);
      const own = models[0] ?? "PL-20";
      const maker = everyDevice[name].family?.maker ?? "Pellworm";
      return fc.tuple(
        fc.constant(name),
        fc
          .constantFrom(...numbers)
          .chain((number) => fc.shuffledSubarray([...words, number, own, maker], { minLength: 3 })),
      );
    });
    fc.assert(
      fc.property(cases, ([name, chosen]) => {
        const device = everyDevice[name];
        expect(judged(chosen.join(" "), device).verdict).toBe(judged([...chosen].sort().join(" "), device).verdict);
      }),
      draws(150),
    );
  });

  it("in every language", PATIENCE, () => {
    const cases = fc.constantFrom(...batteryDevices).chain((name) => {
      const { numbers, models } = vocabularyOf(name);
      const number = fc.constantFrom(...numbers);
      return fc.tuple(fc.constant(name), fc.constantFrom(...sayings), number, number, fc.constantFrom(...models));
    });
    fc.assert(
      fc.property(cases, ([name, texts, one, other, model]) => {
        const said = texts.map(
          (text) => judged(text.replace("#1", one).replace("#2", other).replace("@", model), everyDevice[name]).verdict,
        );
        expect(new Set(said).size, `${said}`).toBe(1);
      }),
      draws(150),
    );
  });
});

const batteryDevices: readonly DeviceName[] = [
  "early",
  "late",
  "open",
  "changeover",
  "later",
  "settled",
  "mixed",
  "bare",
  "six",
  "seven",
  "scrubA",
  "scrubB",
  "scrubBC",
  "scrubOpen",
];

/** The same said in English, German, French, Spanish, Italian and Polish. */
const sayings: readonly (readonly string[])[] = [
  [
    "Battery #1 for @",
    "Akku #1 für @",
    "Batterie #1 pour @",
    "Batería #1 para @",
    "Batteria #1 per @",
    "Bateria #1 do @",
  ],
  [
    "Battery for @, not #1",
    "Akku für @, nicht #1",
    "Batterie pour @, pas #1",
    "Batería para @, no #1",
    "Batteria per @, non #1",
    "Bateria do @, nie #1",
  ],
  [
    "XY-55 replaces #1",
    "XY-55 ersetzt #1",
    "XY-55 remplace #1",
    "XY-55 sustituye a #1",
    "XY-55 sostituisce #1",
    "XY-55 zastępuje #1",
  ],
  [
    "Battery for @, probably #1",
    "Akku für @, vermutlich #1",
    "Batterie pour @, probablement #1",
    "Batería para @, probablemente #1",
    "Batteria per @, probabilmente #1",
    "Bateria do @, prawdopodobnie #1",
  ],
  [
    "Cable for battery #1",
    "Kabel für Akku #1",
    "Câble pour batterie #1",
    "Cable para batería #1",
    "Cavo per batteria #1",
    "Kabel do baterii #1",
  ],
  [
    "Battery #1 for all models @",
    "Akku #1 für alle Modelle @",
    "Batterie #1 pour tous les modèles @",
    "Batería #1 para todos los modelos @",
    "Batteria #1 per tutti i modelli @",
    "Bateria #1 do wszystkich modeli @",
  ],
  [
    "Battery #1 or #2, please choose",
    "Akku #1 oder #2, bitte wählen",
    "Batterie #1 ou #2, à choisir",
    "Batería #1 o #2, a elegir",
    "Batteria #1 o #2, a scelta",
    "Bateria #1 lub #2, do wyboru",
  ],
  [
    "Battery #1 fits #2",
    "Akku #1 passend für #2",
    "Batterie #1 compatible avec #2",
    "Batería #1 compatible con #2",
    "Batteria #1 compatibile con #2",
    "Bateria #1 pasuje do #2",
  ],
  [
    "Battery #1 instead of #2",
    "Akku #1 anstelle von #2",
    "Batterie #1 au lieu de #2",
    "Batería #1 en lugar de #2",
    "Batteria #1 al posto di #2",
    "Bateria #1 zamiast #2",
  ],
  [
    "Battery for @, defective",
    "Akku für @, defekt",
    "Batterie pour @, défectueuse",
    "Batería para @, defectuosa",
    "Batteria per @, difettosa",
    "Bateria do @, uszkodzona",
  ],
];

describe("look-alike letters", () => {
  it("are not folded where folding would make two parts one", () => {
    const catalog = makeCatalog({
      families: [
        {
          id: "f",
          modelNumbers: ["HD-5"],
          revisions: [
            { id: "a", parts: ["oh"] },
            { id: "b", parts: ["zero"] },
          ],
        },
      ],
      parts: [
        { id: "oh", type: "print-head", numbers: ["QHO-118"] },
        { id: "zero", type: "print-head", numbers: ["QH0-118"] },
      ],
    });
    const a = prepare({ modelNumbers: ["HD-5"], revision: "a" }, [catalog]);
    expect(judged("Print head QHO-118", a).verdict).toBe("fits");
    expect(judged("Print head QH0-118", a).verdict).toBe("other-revision");
    expect(judged("Print head QHO-ll8 for HD-5", a).tier).not.toBe("go");
  });
});
