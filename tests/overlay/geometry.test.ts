import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Box, isClear, panelSpot, spotsFor, within } from "../../src/overlay/geometry.ts";

const box = (left: number, top: number, width: number, height: number): Box => ({
  left,
  top,
  right: left + width,
  bottom: top + height,
});
const mark = { width: 100, height: 24 };
const card = box(100, 100, 240, 320);

describe("a mark's spot", () => {
  it("is the lower start corner of a picture that has room", () => {
    const [first] = spotsFor(
      { card, picture: box(112, 112, 216, 160), lastLine: null, titleBlock: null, rightToLeft: false },
      mark,
    );
    expect(first).toEqual({ name: "picture", x: 118, y: 242 });
  });

  it("mirrors where text runs from right to left", () => {
    const boxes = { card, picture: box(112, 112, 216, 160), lastLine: null, titleBlock: null, rightToLeft: true };
    expect(spotsFor(boxes, mark)[0]).toEqual({ name: "picture", x: 222, y: 242 });
  });

  it("is behind the last word of the title where the picture is only a thumbnail", () => {
    const boxes = {
      card: box(0, 0, 900, 100),
      picture: box(0, 0, 96, 72),
      lastLine: box(120, 20, 300, 18),
      titleBlock: box(120, 20, 700, 18),
      rightToLeft: false,
    };
    expect(spotsFor(boxes, mark)[0]).toEqual({ name: "behind", x: 428, y: 17 });
    expect(spotsFor({ ...boxes, rightToLeft: true, lastLine: box(300, 20, 300, 18) }, mark)[0]).toEqual({
      name: "behind",
      x: 192,
      y: 17,
    });
  });

  it("is an empty corner of the card, else across its upper edge, where there is no room for anything else", () => {
    const boxes = {
      card,
      picture: box(112, 112, 60, 60),
      lastLine: box(112, 200, 200, 18),
      titleBlock: box(112, 200, 216, 18),
      rightToLeft: false,
    };
    const spots = spotsFor(boxes, mark);
    expect(spots).toEqual([
      { name: "lower", x: 236, y: 392 },
      { name: "upper", x: 236, y: 104 },
      { name: "edge", x: 108, y: 88 },
    ]);
    expect(spotsFor({ ...boxes, rightToLeft: true }, mark)[0]).toEqual({ name: "lower", x: 104, y: 392 });
    const words = [box(112, 200, 200, 18), box(112, 395, 130, 18)];
    expect(spots.map((spot) => isClear(spot, mark, words))).toEqual([false, true, true]);
  });

  it("is moved into the bounds", () => {
    expect(within({ x: -5, y: 990 }, mark, box(0, 0, 800, 1000))).toEqual({ x: 0, y: 976 });
  });
});

describe("a panel's spot", () => {
  const window = box(0, 0, 1000, 800);
  const panel = { width: 400, height: 500 };

  it("is below its mark, else above it, else beside it", () => {
    expect(panelSpot(box(100, 100, 100, 24), panel, window, false)).toEqual({ x: 100, y: 132 });
    expect(panelSpot(box(100, 700, 100, 24), panel, window, false)).toEqual({ x: 100, y: 192 });
    expect(panelSpot(box(100, 400, 100, 24), panel, window, false)).toEqual({ x: 208, y: 288 });
    expect(panelSpot(box(800, 400, 100, 24), panel, window, false)).toEqual({ x: 392, y: 288 });
  });

  it("never leaves the window where it fits into it, and covers its mark only where nothing else is possible", () => {
    const place = fc.record({ x: fc.integer({ min: 0, max: 900 }), y: fc.integer({ min: 0, max: 776 }) });
    const size = fc.record({ width: fc.integer({ min: 50, max: 976 }), height: fc.integer({ min: 50, max: 776 }) });
    fc.assert(
      fc.property(place, size, fc.boolean(), ({ x, y }, large, rightToLeft) => {
        const own = box(x, y, 100, 24);
        const spot = panelSpot(own, large, window, rightToLeft);
        expect(spot.x).toBeGreaterThanOrEqual(12);
        expect(spot.y).toBeGreaterThanOrEqual(12);
        expect(spot.x + large.width).toBeLessThanOrEqual(988);
        expect(spot.y + large.height).toBeLessThanOrEqual(788);
        const roomUpOrDown = own.bottom + 8 + large.height <= 788 || own.top - 8 - large.height >= 12;
        const covers =
          spot.y < own.bottom &&
          spot.y + large.height > own.top &&
          spot.x < own.right &&
          spot.x + large.width > own.left;
        expect(roomUpOrDown && covers).toBe(false);
      }),
    );
  });
});
