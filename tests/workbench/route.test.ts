import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { actOf, hrefOf, idOf, readPlace } from "../../src/workbench/route.ts";

describe("addresses of places", () => {
  it("name a desk, then things and what to do with them", () => {
    const place = readPlace("#bench/my%20lark/:edit");
    expect(place.desk).toBe("bench");
    expect(place.steps.map((step) => [idOf(step), actOf(step)])).toEqual([
      ["my lark", undefined],
      [undefined, "edit"],
    ]);
    expect(hrefOf("bench", { id: "my lark" }, { act: "edit" })).toBe("#bench/my%20lark/:edit");
  });

  it("are read back for any id, whatever stands in it", () => {
    fc.assert(
      fc.property(fc.string({ minLength: 1, unit: "grapheme" }), (id) => {
        const steps = [{ id }, { act: "edit" }, { id: `:${id}` }];
        expect(readPlace(hrefOf("catalogs", ...steps))).toEqual({ desk: "catalogs", steps });
      }),
    );
  });

  it("never throw", () => {
    fc.assert(
      fc.property(fc.string(), (hash) => {
        expect(typeof readPlace(`#${hash}`).desk).toBe("string");
      }),
    );
    expect(readPlace("#bench/100%").steps).toEqual([{ id: "100%" }]);
    expect(readPlace("")).toEqual({ desk: "", steps: [] });
  });

  it("know the names by which other parts open a desk", () => {
    expect(readPlace("#title-check").desk).toBe("title");
    expect(readPlace("#order-check").desk).toBe("order");
  });
});
