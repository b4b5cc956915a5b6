/** The invariants of the verdict rules, for any text that the generators come up with. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { buildIndex } from "../../src/catalog/index.ts";
import type { Listing } from "../../src/formats/listing.ts";
import type { Verdict } from "../../src/formats/verdict.ts";
import { canonicalNumber, lookalikeKey } from "../../src/text/part-number.ts";
import { judge, type PreparedDevice } from "../../src/verdict/index.ts";
import { demoCatalog, judged, larks, makeCatalog, prepare, rules } from "./bench.ts";

const names = Object.keys(larks) as (keyof typeof larks)[];
const someDevice = fc.constantFrom(...names);
/** Pieces that listings are made of, with and without meaning for the devices. */
const pieces = [
  ..."PB-1840 PB1840-R PB-2240 PB-2240A QK-77A ZZ-9001 PC-0520 OF-B216 XR-7712 PB-1860 PL-20 PL-20E MV300 PW-4410-2 PW-4410-5".split(
    " ",
  ),
  ..."battery Akku batterie batería batteria bateria charger cable cover handheld 2019 2021 2022 3.7V 17.1Wh 7.4V 5-pin".split(
    " ",
  ),
  ..."for für pour para per do fits passt replaces ersetzt remplace not nicht pas no non nie only nur or oder and , . ( ) / - : ! ?".split(
    " ",
  ),
  ...[
    "early board",
    "late board",
    "not for",
    "does not fit",
    "replaced by",
    "compatible with",
    "all models",
    "probably",
  ],
  ...["like", "same connector as", "choose", "defective", "without", "with", "wanted", "new", "original", "2 pcs"],
];
const title = fc.array(fc.constantFrom(...pieces), { minLength: 1, maxLength: 14 }).map((words) => words.join(" "));
const listing: fc.Arbitrary<Listing> = fc.record(
  {
    title,
    description: title,
    condition: fc.constantFrom("New", "Used", "for parts", "defekt"),
    specifics: fc.dictionary(fc.constantFrom("MPN", "Part number", "Compatible with", "Modell", "SKU"), title, {
      maxKeys: 2,
    }),
  },
  { requiredKeys: ["title"] },
);
const RUNS = { numRuns: 1_500 };

function numbersIn({ title: text, description = "", specifics = {} }: Listing): string {
  return lookalikeKey([text, description, ...Object.values(specifics)].join(" "));
}

describe("a verdict", () => {
  it("is never `fits` without a number in the text that fits", () => {
    fc.assert(
      fc.property(listing, someDevice, (each, name) => {
        const verdict = judge(each, larks[name]);
        if (verdict.verdict !== "fits") return;
        const text = numbersIn(each);
        const right = rightNumbers(larks[name]);
        expect(right.some((number) => text.includes(lookalikeKey(number)))).toBe(true);
      }),
      RUNS,
    );
  });

  it("does not move toward `go` when another revision's number is added as what it is for", () => {
    fc.assert(
      fc.property(
        title,
        fc.constantFrom(". For PB-2240", " | Fits PB-2240", " | PB-2240", ". Replaces PB-2240"),
        (text, more) => {
          const before = judged(text, larks.early);
          const after = judged(text + more, larks.early);
          if (after.tier === "go") expect(before.tier).toBe("go");
        },
      ),
      RUNS,
    );
  });

  it("does not become `go` when less is known of the device", () => {
    fc.assert(
      fc.property(listing, fc.constantFrom("early" as const, "late" as const), (each, name) => {
        if (judge(each, larks.open).tier === "go") expect(judge(each, larks[name]).tier).toBe("go");
        if (judge(each, larks.changeover).tier === "go") expect(judge(each, larks[name]).tier).toBe("go");
      }),
      RUNS,
    );
  });

  it("does not become `go` when the number is dropped", () => {
    fc.assert(
      fc.property(title, someDevice, (text, name) => {
        const without = text.replace(/\b(?:PB|QK|ZZ|PC|OF|XR)-?[A-Z0-9]+(?:-R)?\b/g, "");
        expect(judged(without, larks[name]).tier).not.toBe("go");
      }),
      RUNS,
    );
  });

  it("is the same for every spelling of its numbers", () => {
    const spelled = fc.constantFrom(
      (number: string) => number.toLowerCase(),
      (number: string) => number.replaceAll("-", " "),
      (number: string) => number.replaceAll("-", ""),
      (number: string) => number.replaceAll("-", "."),
      (number: string) => number.replaceAll("-", "_"),
      (number: string) => number.replaceAll("0", "O"),
      (number: string) => number.replaceAll("1", "I"),
      (number: string) => number.replaceAll("1", "l"),
      (number: string) => number.replaceAll("-", "\u2011"),
      (number: string) => number.split("").join("\u200b"),
      (number: string) => number.replace(/[!-~]/g, (sign) => String.fromCharCode(sign.charCodeAt(0) + 0xfee0)),
      (number: string) => number.replace("P", "\u0420").replace("B", "\u0412"),
    );
    const frame = fc.constantFrom(
      "Battery # for PL-20",
      "# battery",
      "Akku # nicht PB-2240",
      "Battery for #",
      "PL-20: # (new)",
    );
    const number = fc.constantFrom("PB-1840", "PB-2240", "PC-0520", "PB-1860");
    fc.assert(
      fc.property(frame, number, spelled, someDevice, (text, each, spell, name) => {
        // Only a number that somebody knows, or nearly knows, can be told in every spelling.
        fc.pre(name !== "bare" || each !== "PC-0520");
        const plain = judged(text.replace("#", each), larks[name]);
        expect(judged(text.replace("#", spell(each)), larks[name]).verdict).toBe(plain.verdict);
      }),
      RUNS,
    );
  });

  it("does not depend on the order of words where no wording says for or against", () => {
    const words = ["PB-1840", "battery", "Pellworm", "PL-20", "new", "original", "4000mAh", "black"];
    fc.assert(
      fc.property(fc.shuffledSubarray(words, { minLength: 3 }), someDevice, (chosen, name) => {
        const ordered = words.filter((word) => chosen.includes(word));
        expect(judged(chosen.join(" "), larks[name]).verdict).toBe(judged(ordered.join(" "), larks[name]).verdict);
      }),
      RUNS,
    );
  });

  it("takes a number that differs in any other character for another part", () => {
    const changed = fc.tuple(fc.nat(5), fc.constantFrom(..."ABCDEFGHJKMNPQRSTUVWXYZ23456789")).map(([at, sign]) => {
      const number = "PB1840";
      return number.slice(0, at) + sign + number.slice(at + 1);
    });
    fc.assert(
      fc.property(changed, (number) => {
        fc.pre(lookalikeKey(number) !== lookalikeKey("PB1840"));
        expect(judged(`Battery ${number} for PL-20`, larks.early).tier).not.toBe("go");
      }),
      RUNS,
    );
  });

  it("stays what it is with noise around", () => {
    const noise = fc.constantFrom(
      "NEW!!!",
      "*** free shipping ***",
      "L@@K",
      "24h",
      "top seller",
      "\u2605\u2605\u2605",
      "fast & cheap",
      "🔋",
    );
    const base = fc.constantFrom(
      "Battery PB-1840 for PL-20",
      "Battery PB-2240 for PL-20",
      "Battery for PL-20",
      "Battery PB-1840 or PB-2240, choose",
      "Cable for battery PB-1840",
    );
    fc.assert(
      fc.property(base, noise, fc.boolean(), someDevice, (text, extra, first, name) => {
        const noisy = first ? `${extra} ${text}` : `${text} ${extra}`;
        expect(judged(noisy, larks[name]).verdict).toBe(judged(text, larks[name]).verdict);
      }),
      RUNS,
    );
  });

  it("is the same in every language", () => {
    const same = fc.constantFrom(
      [
        "Battery PB-1840 for PL-20",
        "Akku PB-1840 für PL-20",
        "Batterie PB-1840 pour PL-20",
        "Batería PB-1840 para PL-20",
        "Batteria PB-1840 per PL-20",
        "Bateria PB-1840 do PL-20",
      ],
      [
        "Battery for PL-20, not PB-1840",
        "Akku für PL-20, nicht PB-1840",
        "Batterie pour PL-20, pas PB-1840",
        "Batería para PL-20, no PB-1840",
        "Batteria per PL-20, non PB-1840",
        "Bateria do PL-20, nie PB-1840",
      ],
      [
        "XY-55 replaces PB-1840",
        "XY-55 ersetzt PB-1840",
        "XY-55 remplace PB-1840",
        "XY-55 sustituye a PB-1840",
        "XY-55 sostituisce PB-1840",
        "XY-55 zastępuje PB-1840",
      ],
      [
        "Battery for PL-20, probably PB-1840",
        "Akku für PL-20, vermutlich PB-1840",
        "Batterie pour PL-20, probablement PB-1840",
        "Batería para PL-20, probablemente PB-1840",
        "Batteria per PL-20, probabilmente PB-1840",
        "Bateria do PL-20, prawdopodobnie PB-1840",
      ],
      [
        "Cable for battery PB-1840",
        "Kabel für Akku PB-1840",
        "Câble pour batterie PB-1840",
        "Cable para batería PB-1840",
        "Cavo per batteria PB-1840",
        "Kabel do baterii PB-1840",
      ],
      [
        "Battery PB-1840 for all models PL-20",
        "Akku PB-1840 für alle Modelle PL-20",
        "Batterie PB-1840 pour tous les modèles PL-20",
        "Batería PB-1840 para todos los modelos PL-20",
        "Batteria PB-1840 per tutti i modelli PL-20",
        "Bateria PB-1840 do wszystkich modeli PL-20",
      ],
    );
    fc.assert(
      fc.property(same, someDevice, (texts, name) => {
        const verdicts = new Set(texts.map((text) => judged(text, larks[name]).verdict));
        expect([...verdicts]).toHaveLength(1);
      }),
      { numRuns: 300 },
    );
  });

  it("points with every span into the field it names", () => {
    fc.assert(
      fc.property(listing, someDevice, (each, name) => {
        for (const { spans } of judge(each, larks[name]).reasons) {
          for (const [start, end, field] of spans) {
            const text = field.startsWith("specifics.")
              ? each.specifics?.[field.slice("specifics.".length)]
              : each[field as "title" | "description" | "condition"];
            expect(text).toBeTypeOf("string");
            expect(start).toBeLessThanOrEqual(end);
            expect(end).toBeLessThanOrEqual(text?.length ?? 0);
          }
        }
      }),
      RUNS,
    );
  });

  it("names a reason whenever it is given", () => {
    fc.assert(
      fc.property(listing, someDevice, (each, name) => {
        expect(judge(each, larks[name]).reasons.length).toBeGreaterThan(0);
      }),
      RUNS,
    );
  });
});

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

describe("no text", () => {
  it("throws or hangs, whatever it holds", () => {
    const anything = fc.oneof(
      fc.string({ unit: "binary", maxLength: 300 }),
      fc.string({ unit: "grapheme", maxLength: 200 }),
      fc
        .array(fc.constantFrom(...pieces, "\u200b", "\u202e", "\ud800", "×", "½", "①"), { maxLength: 60 })
        .map((all) => all.join("")),
    );
    fc.assert(
      fc.property(anything, anything, someDevice, (text, more, name) => {
        judge({ title: text, description: more, specifics: { [more.slice(0, 20)]: text } }, larks[name]);
      }),
      { numRuns: 20_000 },
    );
  });

  it("of a catalog or device stops the matcher", () => {
    const name = fc.string({ unit: "binary", minLength: 1, maxLength: 30 });
    fc.assert(
      fc.property(name, name, name, (model, number, board) => {
        const catalog = {
          ...demoCatalog,
          families: [
            {
              id: "x",
              modelNumbers: [model],
              revisions: [{ id: "r", name: number, boardNumbers: [board], parts: ["p"] }],
            },
          ],
          parts: [{ id: "p", type: "battery", name: model, numbers: [number, model] }],
          interchange: [{ numbers: [number, board] }],
          supersession: [{ old: number, new: board }],
        };
        const device = prepare({ modelNumbers: ["M"] }, buildIndex([catalog]));
        const listing = { title: `battery ${number} for ${model} (${board})` };
        expect(judge(listing, device).device).toBe("d");
      }),
      { numRuns: 1_000 },
    );
  });
});

describe("rules that are not understood", () => {
  it("keep everything from `fits` and say so", () => {
    const strange = {
      ...rules,
      wording: [...rules.wording, { format: "falsefit-wording/9", language: "xx" } as never],
    };
    const device = prepare({ modelNumbers: ["PL-20"], boardNumber: "PW-4410-2" }, [demoCatalog], strange);
    const verdict: Verdict = judged("Battery PB-1840 for PL-20", device);
    expect(verdict.verdict).toBe("ambiguous");
    expect(verdict.reasons[0]?.code).toBe("rule-not-understood");
  });
});

/** Canonical numbers that fit a device for certain, by the catalog's own words. */
function rightNumbers({ device, possible, index }: PreparedDevice): string[] {
  const listed = index.families
    .flatMap(({ revisions }) => revisions)
    .filter(({ id }) => possible.has(id))
    .flatMap(({ parts }) => parts.flatMap((id) => index.part(id)?.numbers ?? []));
  const own = [...device.fitted.flatMap(({ numbers }) => numbers), ...device.accept.map(({ number }) => number)];
  return [...listed, ...own].flatMap((number) => index.related(number)).map(canonicalNumber);
}
