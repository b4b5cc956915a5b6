import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { standings } from "../../src/desks/order-check.ts";
import { effectWords } from "../../src/formats/verdict.ts";
import { kindOf, standingOfKind } from "../../src/workbench/order/kept.ts";
import { linePlaces, standingOrder } from "../../src/workbench/order/line-places.ts";

const standing = fc.constantFrom(...standings);
const line = fc.record({ standing, effect: fc.option(fc.constantFrom(...effectWords)) });
const lines = fc.array(line, { maxLength: 300 });

describe("places of lines", () => {
  it("are those of a stable sort by standing, then by effect; one byte a line tells both", () => {
    fc.assert(
      fc.property(lines, fc.subarray([...standings]), (all, wanted) => {
        const kinds = Uint8Array.from(all, (each) => kindOf(each.standing, each.effect));
        expect(Array.from(kinds, standingOfKind)).toEqual(all.map((each) => each.standing));
        const shown = all.map((each, place) => ({ ...each, place })).filter((each) => wanted.includes(each.standing));
        const rank = ({ standing: word, effect }: (typeof all)[number]) =>
          standingOrder.indexOf(word) * 100 + (effect === null ? effectWords.length : effectWords.indexOf(effect));
        const sorted = [...shown].sort((a, b) => rank(a) - rank(b) || a.place - b.place);
        expect([...linePlaces(kinds, wanted, "worst-first")]).toEqual(sorted.map(({ place }) => place));
        expect([...linePlaces(kinds, wanted, "as-listed")]).toEqual(shown.map(({ place }) => place));
      }),
    );
  });
});
