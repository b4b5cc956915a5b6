import { describe, expect, it } from "vitest";
import type { TableShape } from "../../src/desks/columns.ts";
import { type Entry, entryListing, readEntry } from "../../src/desks/entries.ts";
import { checkAgainst } from "../../src/formats/common.ts";
import { listingSchema } from "../../src/formats/listing.ts";

const shape: TableShape = {
  columns: { number: 0, title: 1, quantity: 2, unitPrice: 3, total: 4, currency: 5, model: 6 },
  skip: 1,
  heading: "",
  language: "en",
  decimalMark: ".",
  currency: null,
};
const german: TableShape = { ...shape, decimalMark: ",", language: "de", currency: "EUR" };

function entry(cells: string[], of: TableShape = shape): Entry {
  const read = readEntry(cells, 7, of);
  if (read === null) throw new Error("no entry");
  return read;
}

describe("a row as an entry", () => {
  it("reads number, title, pieces and money", () => {
    expect(entry(["PB-1840", "Battery", "3", "12.10", "", "usd"])).toMatchObject({
      row: 7,
      number: "PB-1840",
      quantity: 3,
      unitPrice: "12.10",
      total: "36.30",
      currency: "USD",
    });
  });

  it("reads decimal commas, grouped thousands and currency signs", () => {
    expect(entry(["a", "b", "2", "1.234,50"], german)).toMatchObject({ unitPrice: "1234.50", total: "2469.00" });
    expect(entry(["a", "b", "1", "1,234.50"])).toMatchObject({ unitPrice: "1234.50" });
    expect(entry(["a", "b", "1", "12,50 €"], { ...german, currency: null })).toMatchObject({ currency: "EUR" });
  });

  it("prefers a stated line total to a computed one", () => {
    expect(entry(["a", "b", "3", "10.00", "27.00"]).total).toBe("27.00");
  });

  it.each([
    ["", 1, true],
    ["4", 4, true],
    ["4 pcs", 4, true],
    ["2.0", 2, true],
    ["1,200", 1200, true],
    ["1.5", 1, false],
    ["many", 1, false],
    ["-3", 1, false],
    ["99999999999", 1, false],
  ])("reads %j as %i pieces (%s)", (cell, quantity, quantityRead) => {
    expect(entry(["a", "b", cell])).toMatchObject({ quantity, quantityRead });
  });

  it("counts by the list's own decimal mark", () => {
    expect(entry(["a", "b", "1.200"], german).quantity).toBe(1200);
    expect(entry(["a", "b", "2,0"], german).quantity).toBe(2);
  });

  it("leaves out money that cannot be read one way", () => {
    expect(entry(["a", "b", "1", "about 5 or 6"]).unitPrice).toBeNull();
    expect(entry(["a", "b", "1", "-5.00"]).unitPrice).toBeNull();
    expect(entry(["a", "b", "1", "free"]).total).toBeNull();
  });

  it("is none without number and title", () => {
    expect(readEntry(["", "  ", "3", "1.00"], 2, shape)).toBeNull();
    expect(readEntry([], 2, shape)).toBeNull();
  });
});

describe("an entry as a listing", () => {
  it("gives the number as the part number of the item, beside what is said", () => {
    expect(entryListing(entry(["PB-1840", "Battery", "1", "9.00", "", "USD", "PL-20"]))).toEqual({
      id: "7",
      title: "Battery",
      price: { amount: "9.00", currency: "USD" },
      specifics: { MPN: "PB-1840", Model: "PL-20" },
    });
  });

  it("is titled by its number where nothing is said, and passes the listing schema", () => {
    const listing = entryListing(entry(["PB-1840", ""]));
    expect(listing).toEqual({ id: "7", title: "PB-1840" });
    expect(checkAgainst(listingSchema, listing).ok).toBe(true);
  });
});
