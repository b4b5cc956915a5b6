import fc from "fast-check";
import { describe, expect, it } from "vitest";
import * as decimal from "../../src/text/decimal.ts";

const { addDecimal, compareDecimal, compareQuotients, divideDecimal, isDecimal, subtractDecimal } = decimal;

describe("exact money", () => {
  it("adds, subtracts and compares without floating point", () => {
    expect(addDecimal("0.10", "0.20")).toBe("0.30");
    expect(addDecimal("36", "4.5")).toBe("40.5");
    expect(subtractDecimal("36.00", "19.90")).toBe("16.10");
    expect(subtractDecimal("1.00", "1.01")).toBe("-0.01");
    expect(addDecimal("-0.50", "0.50")).toBe("0.00");
    expect(compareDecimal("1.0", "1.00")).toBe(0);
    expect(compareDecimal("9.99", "10")).toBe(-1);
    expect(compareDecimal("10", "9.999")).toBe(1);
    expect(addDecimal("999999999999999.9999", "0.0001")).toBe("1000000000000000.0000");
  });

  it("divides for lots, half up", () => {
    expect(divideDecimal("10.00", 3)).toBe("3.33");
    expect(divideDecimal("20.00", 3)).toBe("6.67");
    expect(divideDecimal("1", 8)).toBe("0.13");
    expect(divideDecimal("-1", 8)).toBe("-0.13");
    expect(divideDecimal("1000", 3, 0)).toBe("333");
    expect(divideDecimal("1.000", 4)).toBe("0.250");
    expect(compareQuotients("10", 3, "3.33", 1)).toBe(1);
    expect(compareQuotients("9", 3, "3.00", 1)).toBe(0);
  });

  it.each(["", "1,5", "1.", ".5", "1e3", "NaN", " 1", "1.2.3", "9".repeat(31), "--1"])("refuses %j", (text) => {
    expect(isDecimal(text)).toBe(false);
    expect([addDecimal(text, "1"), subtractDecimal("1", text), compareDecimal(text, text)]).toEqual([null, null, null]);
    expect([divideDecimal(text, 2), compareQuotients(text, 1, "1", 1)]).toEqual([null, null]);
  });

  it.each([0, -1, 1.5, Number.NaN, 2 ** 60])("refuses to divide by %d", (count) => {
    expect(divideDecimal("10", count)).toBeNull();
    expect(compareQuotients("10", count, "1", 1)).toBeNull();
  });

  it("refuses decimals out of range", () => {
    expect([divideDecimal("1", 2, -1), divideDecimal("1", 2, 19), divideDecimal("1", 2, 0.5)]).toEqual([
      null,
      null,
      null,
    ]);
  });

  it("agrees with whole cents", () => {
    const cents = fc.integer({ min: -1_000_000, max: 1_000_000 });
    const text = (n: number) => {
      const digits = String(Math.abs(n)).padStart(3, "0");
      return `${n < 0 ? "-" : ""}${digits.slice(0, -2)}.${digits.slice(-2)}`;
    };
    fc.assert(
      fc.property(cents, cents, (a, b) => {
        expect(addDecimal(text(a), text(b))).toBe(text(a + b));
        expect(subtractDecimal(text(a), text(b))).toBe(text(a - b));
        expect(compareDecimal(text(a), text(b))).toBe(Math.sign(a - b));
      }),
    );
  });
});
