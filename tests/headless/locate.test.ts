import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { linesOfFields } from "../../src/headless/locate.ts";

const text = `{
  "format": "falsefit-catalog/1",
  "families": [
    { "id": "one", "revisions": [] },
    {
      "id": "two \\"quoted\\", [odd]",
      "revisions": [
        { "id": "a" },
        { "id": "b",
          "built": { "from": "x" } }
      ]
    }
  ],
  "parts": []
}`;

describe("the line of a field", () => {
  it.each([
    ["format", 2],
    ["families[0].id", 4],
    ["families[1].id", 6],
    ["families[1].revisions[1].built.from", 10],
    ["parts", 14],
    // Not there: the nearest value around it.
    ["families[1].revisions[1].built.to", 10],
    ["families[1].revisions[0].name", 8],
    ["title", 1],
    ["", 1],
  ])("%s is %i", (field, line) => {
    expect(linesOfFields(text, [field])).toEqual([line]);
  });

  it("are found together in one pass, in the order of asking", () => {
    expect(linesOfFields(text, ["parts", "format", "families[1]"])).toEqual([14, 2, 5]);
  });

  it("never throws on any JSON", () => {
    fc.assert(
      fc.property(fc.json(), fc.string(), (json, path) => {
        expect(linesOfFields(json, [path])).toEqual([1]);
      }),
    );
  });
});
