import columnNames from "falsefit:column-names";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { tellColumns, withColumns } from "../../src/desks/columns.ts";
import { columnNamesSchema, columnWords } from "../../src/formats/column-names.ts";

const tell = (rows: string[][], delimiter?: string) => tellColumns(rows, columnNames, delimiter);

describe("column names", () => {
  it("are there in six languages, for every column, each meaning one thing in its language", () => {
    expect(columnNames.map(({ language }) => language).sort()).toEqual(["de", "en", "es", "fr", "it", "pl"]);
    for (const file of columnNames) {
      expect(columnNamesSchema.safeParse(file).success).toBe(true);
      const all = columnWords.flatMap((word) => file.columns[word]);
      const twice = all.filter((name, i) => all.indexOf(name) !== i);
      expect(twice, file.language).toEqual([]);
      for (const word of columnWords) expect(file.columns[word].length, `${file.language} ${word}`).toBeGreaterThan(0);
    }
  });
});

describe("columns told from their headings", () => {
  it.each([
    ["en", ["Job", "Part No.", "Description", "Qty", "Unit price", "Currency"]],
    ["de", ["Auftrag", "Teile-Nr.", "Bezeichnung", "Menge", "Einzelpreis", "Währung"]],
    ["fr", ["Intervention", "N° de pièce", "Désignation", "Qté", "Prix unitaire", "Devise"]],
    ["es", ["Orden de trabajo", "Nº de pieza", "Artículo", "Cant.", "Precio unitario", "Moneda"]],
    ["it", ["Commessa", "Codice ricambio", "Denominazione", "Q.tà", "Prezzo unitario", "Valuta"]],
    ["pl", ["Zlecenie", "Nr części", "Nazwa towaru", "Ilość", "Cena jednostkowa", "Waluta"]],
  ])("%s", (language, heading) => {
    const shape = tell([heading, ["A1", "PB-1840", "Battery", "1", "5", "EUR"]]);
    expect(shape.language).toBe(language);
    expect(shape.columns).toEqual({ job: 0, number: 1, title: 2, quantity: 3, unitPrice: 4, currency: 5 });
    expect(shape.skip).toBe(1);
  });

  it("finds the heading under title rows", () => {
    const shape = tell([["Spring order"], [""], ["", "Page 1"], ["MPN", "Title"], ["PB-1840", "Battery"]]);
    expect(shape.skip).toBe(4);
    expect(shape.columns).toEqual({ number: 0, title: 1 });
  });

  it("reads variable names, remarks in brackets and longer headings", () => {
    const shape = tell([["part_number", "ItemTitle", "Price (EUR, net)", "Quantity ordered today"]]);
    expect(shape.columns).toEqual({ number: 0, title: 1, unitPrice: 2, quantity: 3 });
    expect(shape.currency).toBe("EUR");
  });

  it("keeps a seller's stock number apart from the number on the part", () => {
    expect(tell([["Artikelnummer", "Herstellernummer", "Bezeichnung"]]).columns).toEqual({
      stockNumber: 0,
      number: 1,
      title: 2,
    });
  });

  it("takes a description for the title where there is no other", () => {
    expect(tell([["Part number", "Description"]]).columns).toEqual({ number: 0, title: 1 });
  });

  it("tells columns by what stands in them where no heading helps", () => {
    const rows = [
      ["1", "PB-1840", "Battery for Lark 20", "12,50"],
      ["2", "PB-2240", "Battery for Lark 20 late board", "36,00"],
    ];
    const shape = tell(rows, ";");
    expect(shape).toMatchObject({ skip: 0, columns: { number: 1, title: 2, unitPrice: 3, quantity: 0 } });
  });

  it("never throws on any rows", () => {
    fc.assert(
      fc.property(fc.array(fc.array(fc.string(), { maxLength: 6 }), { maxLength: 6 }), (rows) => {
        const { skip } = tell(rows);
        expect(skip).toBeLessThanOrEqual(rows.length);
      }),
    );
  });
});

describe("the decimal mark", () => {
  it.each([
    [["Part number", "Price"], ["a1b2", "1,234.50"], "."],
    [["Part number", "Price"], ["a1b2", "1.234,50"], ","],
    [["Part number", "Price"], ["a1b2", "12,5"], ","],
    // Three digits after a mark can be read both ways: language and separator decide.
    [["Teilenummer", "Preis"], ["a1b2", "1.234"], ","],
    [["Part number", "Price"], ["a1b2", "1,234"], "."],
  ])("%j %j", (heading, row, mark) => {
    expect(tell([heading, row]).decimalMark).toBe(mark);
  });

  it("follows the separator where nothing else decides", () => {
    expect(tell([["x7y8", "Some thing", "5"]], ";").decimalMark).toBe(",");
  });
});

describe("columns laid down by hand", () => {
  const heading = ["Foo", "Teilenummer", "Bar"];
  const shape = tell([heading]);

  it("by place or by heading, taking the column away from what it was told to be", () => {
    const laid = withColumns(shape, heading, [
      ["number", "3"],
      ["title", "teilenummer"],
    ]);
    expect(laid).toHaveProperty("shape.columns", { number: 2, title: 1 });
  });

  it("say what is wrong", () => {
    expect(withColumns(shape, heading, [["colour", "1"]])).toEqual({ unknownWord: "colour" });
    expect(withColumns(shape, heading, [["title", "Baz"]])).toEqual({ unknownColumn: "Baz" });
    expect(withColumns(shape, heading, [["title", "0"]])).toEqual({ unknownColumn: "0" });
  });
});
