import { describe, expect, it } from "vitest";
import { contrastRatio } from "../../src/ui/contrast.ts";
import { dark, light, type Scheme, themeCss } from "../../src/ui/theme.ts";

type Pair = readonly [keyof Scheme, keyof Scheme];

/** Text on its ground: 4.5:1 at least (WCAG 2.2, 1.4.3). */
const TEXT: readonly Pair[] = [
  ["ink", "surface"],
  ["ink", "raised"],
  ["ink", "sunken"],
  ["soft", "surface"],
  ["soft", "raised"],
  ["soft", "sunken"],
  ["accent", "surface"],
  ["accent", "raised"],
  ["accent", "sunken"],
  ["accent", "accentWash"],
  ["ink", "accentWash"],
  ["accentInk", "accent"],
  ["goInk", "goFace"],
  ["checkInk", "checkFace"],
  ["stopInk", "stopFace"],
  ["surface", "ink"],
];

/** Outlines of controls, signs and drawings: 3:1 at least (WCAG 2.2, 1.4.11). */
const SHAPES: readonly Pair[] = [
  ["edge", "surface"],
  ["edge", "raised"],
  ["edge", "sunken"],
  ["goEdge", "surface"],
  ["goEdge", "raised"],
  ["goEdge", "goFace"],
  ["checkEdge", "surface"],
  ["checkEdge", "raised"],
  ["checkEdge", "checkFace"],
  ["checkEdge", "sunken"],
  ["stopEdge", "surface"],
  ["stopEdge", "raised"],
  ["stopEdge", "sunken"],
];

describe("contrast", () => {
  it("is computed by the published formula", () => {
    // Values of the notes on standards, section 9: #767676 4.542, #777777 4.478, #959595 2.995 on white.
    expect(contrastRatio("#ffffff", "#000000")).toBeCloseTo(21, 10);
    expect(contrastRatio("#767676", "#ffffff")).toBeCloseTo(4.542, 3);
    expect(contrastRatio("#ffffff", "#777777")).toBeCloseTo(4.478, 3);
    expect(contrastRatio("#959595", "#ffffff")).toBeCloseTo(2.995, 3);
  });

  describe.each([
    ["light", light],
    ["dark", dark],
  ])("of the %s scheme", (_name, scheme) => {
    it.each(TEXT)("%s on %s is enough for text", (ink, ground) => {
      expect(contrastRatio(scheme[ink], scheme[ground])).toBeGreaterThanOrEqual(4.5);
    });
    it.each(SHAPES)("%s on %s is enough for shapes", (shape, ground) => {
      expect(contrastRatio(scheme[shape], scheme[ground])).toBeGreaterThanOrEqual(3);
    });
  });
});

describe("tiers", () => {
  // Machado, Oliveira and Fernandes 2009, severity 1.0: matrices on linear RGB (from memory).
  const sights = {
    "all three cones": [1, 0, 0, 0, 1, 0, 0, 0, 1],
    "no red cones": [0.152286, 1.052583, -0.204868, 0.114503, 0.786281, 0.099216, -0.003882, -0.048116, 1.051998],
    "no green cones": [0.367322, 0.860646, -0.227968, 0.280085, 0.672501, 0.047413, -0.01182, 0.04294, 0.968881],
    "no blue cones": [1.255528, -0.076749, -0.178779, -0.078411, 0.930809, 0.147602, 0.004733, 0.691367, 0.3039],
  } as const;

  it.each(Object.entries(sights))("stay apart for an eye with %s", (_name, matrix) => {
    for (const scheme of [light, dark]) {
      const seen = [scheme.goFace, scheme.checkFace, scheme.stopFace].map((colour) => lab(seenColour(colour, matrix)));
      for (const [i, one] of seen.entries()) {
        for (const other of seen.slice(i + 1)) expect(distance(one, other)).toBeGreaterThan(10);
      }
    }
  });
});

describe("tokens", () => {
  it("follow the system, and a person's word over the system", () => {
    const css = themeCss(":root");
    expect(css).toContain('@media (prefers-color-scheme:dark){:root:not([data-scheme="light"]){');
    expect(css).toContain(`:root[data-scheme="dark"]{color-scheme:dark;--ff-surface:${dark.surface};`);
    expect(css).toContain("--ff-check-face:");
  });
});

type Triple = [number, number, number];

function seenColour(colour: string, m: readonly number[]): Triple {
  const [r, g, b] = [1, 3, 5].map((at) => {
    const value = Number.parseInt(colour.slice(at, at + 2), 16) / 255;
    return value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4;
  }) as Triple;
  const row = (i: number) => Math.min(1, Math.max(0, (m[i] ?? 0) * r + (m[i + 1] ?? 0) * g + (m[i + 2] ?? 0) * b));
  return [row(0), row(3), row(6)];
}

/** CIE 1976 L*a*b* of linear sRGB, white D65. */
function lab([r, g, b]: Triple): Triple {
  const f = (t: number) => (t > 0.008856 ? Math.cbrt(t) : 7.787 * t + 16 / 116);
  const x = f((0.4124 * r + 0.3576 * g + 0.1805 * b) / 0.9505);
  const y = f(0.2126 * r + 0.7152 * g + 0.0722 * b);
  const z = f((0.0193 * r + 0.1192 * g + 0.9505 * b) / 1.089);
  return [116 * y - 16, 500 * (x - y), 200 * (y - z)];
}

function distance(a: Triple, b: Triple): number {
  return Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);
}
