/** The invariants of the verdict rules (design section 4), for any text that the generators come up with. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { buildIndex } from "../../src/catalog/index.ts";
import type { Listing } from "../../src/formats/listing.ts";
import type { Tier, Verdict } from "../../src/formats/verdict.ts";
import { canonicalNumber, lookalikeKey } from "../../src/text/part-number.ts";
import { judge, type PreparedDevice } from "../../src/verdict/index.ts";
import { demoCatalog, everyDevice, judged, prepare, rules } from "./bench.ts";
import {
  draftFor,
  draws,
  lessKnown,
  looseListing,
  numbersStanding,
  PATIENCE,
  pieces,
  someDevice,
  someDraft,
  written,
} from "./draws.ts";

function textsOf({ title: text, description = "", specifics = {} }: Listing): string {
  return lookalikeKey([text, description, ...Object.values(specifics)].join(" "));
}

/** Listings of either kind, with the device they are judged for. */
const anyListing = fc.oneof(
  fc.tuple(looseListing, someDevice),
  someDraft.map((draft) => [written(draft), draft.name] as const),
);

/** Nearer to `go`: from a stop to a question, from anything to `go`. */
function isNearer(after: Tier, before: Tier): boolean {
  return after === "go" ? before !== "go" : after === "check" && before === "stop";
}

/** A listing that also says that it is for a number. */
function alsoFor(listing: Listing, number: string, how: string): Listing {
  if (how === "MPN") {
    const { MPN, ...others } = listing.specifics ?? {};
    return { ...listing, specifics: { ...others, MPN: MPN === undefined ? number : `${MPN}, ${number}` } };
  }
  const text = how.slice(1).replace("#", number);
  if (how.startsWith("d")) return { ...listing, description: `${listing.description ?? ""}${text}` };
  return { ...listing, title: `${listing.title}${text}` };
}

/** Ways to add a number that speak no language: a word more may decide in which language an ambiguous one is read. */
const WORDLESS = ["t | #", "t, #", "t; #", "MPN"];
const ENGLISH = [...WORDLESS, "t. For #", "t | Fits #", "t. Replaces #", "t, compatible with #", "d. Fits #."];

describe("a verdict", () => {
  it("is never `fits` without a number in the text that fits", PATIENCE, () => {
    fc.assert(
      fc.property(anyListing, ([each, name]) => {
        const verdict = judge(each, everyDevice[name]);
        if (verdict.verdict !== "fits") return;
        const text = textsOf(each);
        expect(rightNumbers(everyDevice[name]).some((number) => text.includes(lookalikeKey(number)))).toBe(true);
      }),
      draws(500),
    );
  });

  it("does not move toward `go` when another revision's number is added as what it is for", PATIENCE, () => {
    const english = someDevice
      .chain((name) => draftFor(name, ["en"]))
      .map((draft) => [written(draft), draft.name] as const);
    const added = fc
      .oneof(fc.tuple(anyListing, fc.constantFrom(...WORDLESS)), fc.tuple(english, fc.constantFrom(...ENGLISH)))
      .chain(([[each, name], how]) => {
        const others = numbersStanding(name, "other");
        return others.length === 0
          ? fc.constant(null)
          : fc.tuple(fc.constant(each), fc.constant(name), fc.constantFrom(...others), fc.constant(how));
      });
    fc.assert(
      fc.property(added, (drawn) => {
        if (drawn === null) return;
        const [each, name, { number, types }, how] = drawn;
        const before = judge(each, everyDevice[name]);
        fc.pre(before.partType === null || types.includes(before.partType));
        const after = judge(alsoFor(each, number, how), everyDevice[name]);
        const nearer = isNearer(after.tier, before.tier) ? `${before.verdict} → ${after.verdict}` : "no nearer";
        expect(nearer).toBe("no nearer");
      }),
      draws(500),
    );
  });

  it("does not become `go` when less is known of the device", PATIENCE, () => {
    const cases = fc.constantFrom(...lessKnown).chain(([less, more]) =>
      fc.tuple(
        fc.constant([less, more] as const),
        fc.oneof(
          looseListing,
          draftFor(less).map((draft) => written(draft)),
        ),
      ),
    );
    fc.assert(
      fc.property(cases, ([[less, more], each]) => {
        if (judge(each, everyDevice[less]).tier === "go") expect(judge(each, everyDevice[more]).tier).toBe("go");
      }),
      draws(500),
    );
  });

  it("does not become `go` when the numbers are dropped", PATIENCE, () => {
    fc.assert(
      fc.property(someDraft, (draft) => {
        expect(
          judge(
            written(draft, () => ""),
            everyDevice[draft.name],
          ).tier,
        ).not.toBe("go");
      }),
      draws(500),
    );
  });

  it("does not become `go` when the words for the part are of another part", PATIENCE, () => {
    fc.assert(
      fc.property(
        someDraft,
        fc.constantFrom("Sleeve for ", "Wanted: ", "Empty box of ", "Schutzhülle für "),
        (draft, words) => {
          const each = written(draft);
          const alone = { title: `${words}${each.title.replace(/[\n.;|].*/s, "")}` };
          expect(judge(alone, everyDevice[draft.name]).tier).not.toBe("go");
        },
      ),
      draws(500),
    );
  });

  it("takes a number that differs in any character but look-alikes for another part", PATIENCE, () => {
    const changed = someDevice.chain((name) =>
      fc.tuple(
        fc.constant(name),
        fc.constantFrom(
          ...[...numbersStanding(name, "fits"), { number: "PB-1840" }].map(({ number }) => canonicalNumber(number)),
        ),
        fc.nat(7),
        fc.constantFrom(..."ABCDEFGHJKMNPQRSTUVWXYZ23456789"),
      ),
    );
    fc.assert(
      fc.property(changed, ([name, number, at, sign]) => {
        const other = number.slice(0, at) + sign + number.slice(at + 1);
        const device = everyDevice[name];
        const known = rightNumbers(device).map(lookalikeKey);
        fc.pre(!known.includes(lookalikeKey(other)));
        expect(judged(`${other} for ${device.device.modelNumbers[0]}`, device).tier).not.toBe("go");
      }),
      draws(500),
    );
  });

  it("points with every span into the field it names", PATIENCE, () => {
    fc.assert(
      fc.property(anyListing, ([each, name]) => {
        for (const { spans } of judge(each, everyDevice[name]).reasons) {
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
      draws(500),
    );
  });

  it("names a reason whenever it is given", PATIENCE, () => {
    fc.assert(
      fc.property(anyListing, ([each, name]) => {
        expect(judge(each, everyDevice[name]).reasons.length).toBeGreaterThan(0);
      }),
      draws(500),
    );
  });

  it("that stops names a hazard, if only that it is not known", PATIENCE, () => {
    fc.assert(
      fc.property(anyListing, ([each, name]) => {
        const verdict = judge(each, everyDevice[name]);
        if (verdict.tier === "stop" && verdict.partType !== null) expect(verdict.hazards.length).toBeGreaterThan(0);
      }),
      draws(500),
    );
  });
});

describe("no text", () => {
  it("throws or hangs, whatever it holds", PATIENCE, () => {
    const anything = fc.oneof(
      fc.string({ unit: "binary", maxLength: 300 }),
      fc.string({ unit: "grapheme", maxLength: 200 }),
      fc
        .array(fc.constantFrom(...pieces, "\u200b", "\u202e", "\ud800", "×", "½", "①"), { maxLength: 60 })
        .map((all) => all.join("")),
    );
    fc.assert(
      fc.property(anything, anything, someDevice, (text, more, name) => {
        judge({ title: text, description: more, specifics: { [more.slice(0, 20)]: text } }, everyDevice[name]);
      }),
      draws(3_000),
    );
  });

  it("of a catalog or device stops the matcher", PATIENCE, () => {
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
      draws(500),
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
