// @vitest-environment jsdom
import { describe, expect, it } from "vitest";
import { makeWords } from "../../src/text/words.ts";
import { connectorPair, pinRows } from "../../src/ui/connector-pair.ts";
import { dateBar, layDates } from "../../src/ui/date-bar.ts";
import { drawn, toDom } from "../../src/ui/drawn.ts";
import { poseOfTier, signOf } from "../../src/ui/sign.ts";
import { wordsOf } from "./words.ts";

const english = wordsOf("en");
const day = (text: string) => Date.parse(`${text}T00:00:00Z`) / 86_400_000;

describe("a drawn tree", () => {
  it("becomes nodes; text is never markup; empty children are left out", () => {
    const node = toDom(document, drawn("p", { class: "a" }, "<b>&amp;", null, "", drawn("em", {}, "x")));
    expect(node.outerHTML).toBe('<p class="a">&lt;b&gt;&amp;amp;<em>x</em></p>');
  });

  it("is SVG below an svg", () => {
    const node = toDom(document, signOf("crossed", 12));
    expect(node.namespaceURI).toBe("http://www.w3.org/2000/svg");
    expect([...node.children].every((child) => child.namespaceURI === node.namespaceURI)).toBe(true);
    expect(node.getAttribute("width")).toBe("12");
  });
});

describe("the sign", () => {
  it("has one pose a tier, each drawn differently in one colour, silent to screen readers", () => {
    expect(poseOfTier).toEqual({ go: "aligned", check: "apart", stop: "crossed", none: "apart" });
    const drawings = (["aligned", "apart", "crossed"] as const).map((pose) => JSON.stringify(signOf(pose)));
    expect(new Set(drawings).size).toBe(3);
    for (const drawing of drawings) {
      expect(drawing).toContain('"aria-hidden":"true"');
      expect(drawing.match(/"stroke":"([^"]+)"/g)).toEqual(['"stroke":"currentColor"']);
    }
  });
});

describe("the connector pair", () => {
  const late = ["ground", "ground", "thermistor", "supply", "supply"];
  const early = ["supply", "supply", "thermistor", "ground", "ground"];

  it("names every pin of both sides and marks those that differ", () => {
    const table = toDom(
      document,
      connectorPair({ name: "PB-1840", pins: early }, { name: "PB-2240", pins: late }, english),
    );
    expect(table.querySelector("caption")?.textContent).toBe("4 pins differ.");
    const rows = [...table.querySelectorAll("tbody tr")].map(
      (row) => `${row.className} ${[...row.children].map((cell) => cell.textContent).join("|")}`,
    );
    expect(rows).toEqual([
      "ff-differs 1|supply||ground",
      "ff-differs 2|supply||ground",
      "ff-equal 3|temperature sensor||temperature sensor",
      "ff-differs 4|ground||supply",
      "ff-differs 5|ground||supply",
    ]);
  });

  it("folds long runs of equal pins and bounds what it draws", () => {
    const forty = Array.from({ length: 40 }, (_, i) => `signal:lane ${i}`);
    const other = forty.map((pin, i) => (i === 20 ? "ground" : pin));
    expect(pinRows(forty, other).map(({ from, to, differs }) => [from, to, differs])).toEqual([
      [1, 20, false],
      [21, 21, true],
      [22, 40, false],
    ]);
    const all = forty.map(() => "ground");
    const table = toDom(document, connectorPair({ name: "a", pins: forty }, { name: "b", pins: all }, english));
    expect(table.querySelectorAll("tbody tr")).toHaveLength(12);
    expect(table.querySelector("tfoot")?.textContent).toBe("28 more pins differ.");
  });

  it("says when one side has fewer pins", () => {
    expect(pinRows(["supply"], ["supply", "ground"])[1]).toMatchObject({
      from: 2,
      offered: "",
      yours: "ground",
      differs: true,
    });
  });

  it("says pins in the language and leaves free names as they are", () => {
    const sides = [
      { name: "a", pins: ["signal:eDP lane 0", "speed-control", "brake"] },
      { name: "b", pins: ["ground"] },
    ] as const;
    const table = toDom(document, connectorPair(sides[0], sides[1], wordsOf("de")));
    const cells = [...table.querySelectorAll(".ff-half")].map((cell) => cell.textContent);
    expect(cells).toEqual([
      "Signal (eDP lane 0)",
      "Masse",
      "Drehzahlregelung",
      "kein Kontakt",
      "brake",
      "kein Kontakt",
    ]);
  });
});

describe("the build-date bar", () => {
  const early = { name: "early board", from: day("2019-02-04"), to: day("2021-04-11") };
  const late = { name: "late board", from: day("2021-01-11"), to: null };

  it("lays out lanes, the changeover and the device's own date", () => {
    const own = { from: day("2021-02-01"), to: day("2021-02-28") };
    const layout = layDates([early, late], own);
    expect(layout?.overlaps).toHaveLength(1);
    const [over] = layout?.overlaps ?? [];
    expect(over?.start).toBeCloseTo(layout?.lanes[1]?.start ?? -1, 10);
    expect(over?.end).toBeCloseTo(layout?.lanes[0]?.end ?? -1, 10);
    expect(layout?.lanes[1]?.end).toBe(1);
    expect(layout?.device?.start).toBeGreaterThan(over?.start ?? 1);
  });

  it("says in words what it draws", () => {
    const own = { from: day("2021-02-01"), to: day("2021-02-28") };
    const bar = dateBar([early, late], own, english);
    const text = bar && toDom(document, bar).querySelector("figcaption")?.textContent;
    expect(text).toBe(
      "Both were made from Jan 2021 to Apr 2021: there the date does not decide. Yours, Feb 2021, lies in that time.",
    );
    const later = dateBar([early, late], { from: day("2023-05-01"), to: null }, english);
    expect(later && toDom(document, later).querySelector("figcaption")?.textContent).toContain(
      "Yours: since May 2023.",
    );
  });

  it("hatches one changeover where lanes only touch in part, and none where they do not", () => {
    const lanes = [
      { name: "a", from: 0, to: 100 },
      { name: "b", from: 101, to: 200 },
      { name: "c", from: 150, to: 300 },
      { name: "d", from: 160, to: 170 },
    ];
    expect(layDates(lanes, null)?.overlaps).toHaveLength(1);
    expect(layDates(lanes.slice(0, 2), null)?.overlaps).toEqual([]);
  });

  it("draws nothing when no date is known", () => {
    expect(dateBar([{ name: "a", from: null, to: null }], null, makeWords("en", {}))).toBeNull();
  });
});
