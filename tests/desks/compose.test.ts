import rules from "falsefit:rules";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { buildIndex, type CatalogIndex } from "../../src/catalog/index.ts";
import { buyersLike, buyersOf } from "../../src/desks/buyers.ts";
import { type Composition, DEFAULT_LIMIT } from "../../src/desks/compose.ts";
import { openTitleDesk } from "../../src/desks/title-check.ts";
import type { Catalog } from "../../src/formats/catalog.ts";
import { languages, loadWords } from "../../src/headless/say.ts";
import { judge, prepareDevice } from "../../src/verdict/index.ts";
import { randomCatalog, shippedCatalogs } from "./catalogs.ts";

const english = await loadWords("en");

/** How every imagined buyer of the part's families reads a title: `family/revision verdict`, wrong ones only. */
function misreadings(title: string, partId: string, index: CatalogIndex): string[] {
  const right = new Set(index.revisionsOf(partId).map(({ revision }) => revision));
  const families = new Set(index.revisionsOf(partId).map(({ family }) => family));
  return [...families].flatMap(buyersOf).flatMap((buyer) =>
    buyersLike(buyer).flatMap(({ device }) => {
      const { verdict } = judge({ title }, prepareDevice(device, index, rules));
      const expected = right.has(buyer.revision) ? "fits" : "other-revision";
      return verdict === expected ? [] : [`${buyer.family.id}/${buyer.revision.id} reads ${verdict} in: ${title}`];
    }),
  );
}

/** Parts that a title can tell: one of their numbers is theirs alone, and some revision takes them. */
function tellable(catalog: Catalog, index: CatalogIndex): string[] {
  return catalog.parts
    .filter(
      ({ id, numbers }) =>
        index.revisionsOf(id).length > 0 &&
        numbers.some((number) => {
          const { candidates } = index.resolveNumber(number);
          return candidates.length === 1 && candidates[0]?.own?.id === id && candidates[0].serves.length === 1;
        }),
    )
    .map(({ id }) => id);
}

function composeAll(
  catalog: Catalog,
  words = english,
  limit?: number,
): { id: string; index: CatalogIndex; composed: Composition }[] {
  const index = buildIndex([catalog]);
  const desk = openTitleDesk(index, rules, words);
  return tellable(catalog, index).map((id) => ({ id, index, composed: desk.compose(id, limit) }));
}

describe("composed titles", () => {
  it.each(shippedCatalogs)("%s: every part gets titles that every buyer reads rightly", (_name, catalog) => {
    for (const { id, index, composed } of composeAll(catalog)) {
      expect(composed.problem, id).toBeNull();
      expect(composed.titles.length, id).toBeGreaterThan(0);
      for (const { text, length } of composed.titles) {
        expect(length).toBeLessThanOrEqual(DEFAULT_LIMIT);
        expect(length).toBe([...text].length);
        expect(misreadings(text, id, index)).toEqual([]);
      }
    }
  });

  it("hold for random catalogs", () => {
    fc.assert(
      fc.property(randomCatalog, (catalog) => {
        for (const { id, index, composed } of composeAll(catalog)) {
          expect(composed.problem, id).toBeNull();
          for (const { text } of composed.titles) expect(misreadings(text, id, index)).toEqual([]);
        }
      }),
      { numRuns: 40 },
    );
  });

  it.each(languages)("hold in %s", async (language) => {
    const words = await loadWords(language);
    // Every catalog in one of the languages, the first in all: in English all of them were tried above.
    const turn = languages.indexOf(language);
    for (const [, catalog] of shippedCatalogs.filter((_each, at) => at === 0 || at % languages.length === turn)) {
      for (const { id, index, composed } of composeAll(catalog, words)) {
        expect(composed.titles.length, id).toBeGreaterThan(0);
        for (const { text } of composed.titles) expect(misreadings(text, id, index)).toEqual([]);
        for (const sentence of composed.warning) expect(sentence).not.toMatch(/\[[a-z_]+\]|\{[a-z]+\}/i);
      }
    }
  });

  it("say the number first of all, then the type, then board, and what it is not for", () => {
    const [, demo] = shippedCatalogs[0] ?? [];
    if (!demo) throw new Error("no demo catalog");
    const desk = openTitleDesk(buildIndex([demo]), rules, english);
    const [best] = desk.compose("pb-18").titles;
    expect(best?.text).toMatch(/^PB-1840 Pellworm battery for PL-20 \/ PL-20E, board PW-4410-2/);
    expect(best?.text).toMatch(/not for PW-4410-5$/);
  });

  it("within a limit that is too narrow, say so and give the shortest that is not", () => {
    const [, demo] = shippedCatalogs[0] ?? [];
    if (!demo) throw new Error("no demo catalog");
    const desk = openTitleDesk(buildIndex([demo]), rules, english);
    const composed = desk.compose("pb-18", 10);
    expect(composed.titles).toEqual([]);
    expect(composed.problem).toBe("limit");
    expect(composed.shortest?.length).toBeGreaterThan(10);
    const again = desk.compose("pb-18", composed.shortest?.length);
    expect(again.problem).toBeNull();
    expect(desk.compose("pb-18", (composed.shortest?.length ?? 0) - 1).problem).toBe("limit");
  });

  it("say why there is none", () => {
    const index = buildIndex([
      {
        format: "falsefit-catalog/1",
        families: [{ id: "f", modelNumbers: ["XQ-1"], revisions: [{ id: "a", boardNumbers: [], parts: ["two"] }] }],
        parts: [
          { id: "one", type: "fan", numbers: ["AB-1234"] },
          { id: "two", type: "fan", numbers: [] },
        ],
        interchange: [],
        supersession: [],
      },
    ]);
    const desk = openTitleDesk(index, rules, english);
    expect(desk.compose("none").problem).toBe("no-such-part");
    expect(desk.compose("one").problem).toBe("fits-nothing");
    expect(desk.compose("two").problem).toBe("no-number-of-its-own");
  });

  it("come with a warning that names the revisions, how to tell them apart, what a wrong one does, and the caution", () => {
    const [, demo] = shippedCatalogs[0] ?? [];
    if (!demo) throw new Error("no demo catalog");
    const { warning } = openTitleDesk(buildIndex([demo]), rules, english).compose("pb-18");
    const text = warning.join("\n");
    expect(text).toContain(
      "PB-1840 (battery) is for: Lark 20 handheld, early board (PW-4410-2; built 2019-W06 to 2021-W14).",
    );
    expect(text).toContain("How to tell: number in white print beside the card slot.");
    expect(text).toMatch(/PB-1840 does not fit Lark 20 handheld, late board .*WARNING: /);
    expect(text).toContain(english.say("caution_lithium"));
  });
});
