import { describe, expect, it } from "vitest";
import { judge } from "../../src/verdict/index.ts";
import { prepare } from "./bench.ts";

const lark = prepare({ modelNumbers: ["PL-20"], boardNumber: "PW-4410-5" });
const pieces = (title: string) => judge({ title }, lark).pieces ?? 1;

describe("the count of a lot", () => {
  it.each([
    ["2x PB-2240 battery Lark 20", 2],
    ["Battery PB-2240 for Lark 20, lot of 3", 3],
    ["PB-2240 Akku Lark 20 4 Stück", 4],
    ["Lot de 2 batteries PB-2240 Lark 20", 2],
    ["5 szt. bateria PB-2240 Pellworm Lark 20", 5],
    ["Coppia batterie PB-2240 Pellworm Lark 20", 2],
    ["3 uds batería PB-2240 Lark 20", 3],
    ["battery PB-2240 x2 Lark 20 handheld", 2],
  ])("is read: %s", (title, count) => {
    expect(pieces(title)).toBe(count);
  });

  it.each([
    "Battery PB-2240 for Lark 20",
    "Battery PB-2240 for Lark 20 with 4 pcs screws and glue strips",
    "PB-2240 battery Lark 20, each, 10 pcs",
    "PB-2240 Akku Lark 20 Stückpreis, 20 Stück",
    "PB-2240 battery Lark 20, 500 pcs",
    "2 pcs or 5 pcs PB-2240 battery Lark 20",
  ])("is not taken from what counts something else or in several ways: %s", (title) => {
    expect(pieces(title)).toBe(1);
  });
});
