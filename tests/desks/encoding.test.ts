import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { tellEncoding } from "../../src/desks/encoding.ts";

const bytes = (...values: number[]): Uint8Array => Uint8Array.from(values);
const latin = (text: string): Uint8Array => Uint8Array.from(Buffer.from(text, "latin1"));

describe("the encoding of a list", () => {
  it.each([
    ["a byte order mark", bytes(0xef, 0xbb, 0xbf, 0x61), "utf-8"],
    ["a byte order mark", bytes(0xff, 0xfe, 0x61, 0), "utf-16le"],
    ["a byte order mark", bytes(0xfe, 0xff, 0, 0x61), "utf-16be"],
    ["zero bytes", Uint8Array.from(Buffer.from("Teil;Menge\r\nPB-1840;1", "utf16le")), "utf-16le"],
    ["zero bytes", Uint8Array.from(Buffer.from("Teil;Menge\r\nPB-1840;1", "utf16le").swap16()), "utf-16be"],
    ["plain text", latin("number,qty\n"), "utf-8"],
    ["German", latin("Stück;Währung;für"), "windows-1252"],
    ["Spanish", latin("Año;tamaño pequeño;¿Qué?;ñandú"), "windows-1252"],
    ["French with ligature", Uint8Array.from([...latin("c"), 0x9c, ...latin("ur;tête;pièce;côté")]), "windows-1252"],
    ["cubic centimetres", latin("5 cm\u00b3;pi\u00e8ce"), "windows-1252"],
    // "część;ilość;żółty;płyta" in windows-1250.
    [
      "Polish",
      bytes(0x63, 0x7a, 0xea, 0x9c, 0xe6, 0x3b, 0xbf, 0xf3, 0xb3, 0x74, 0x79, 0x3b, 0x70, 0xb3, 0x79, 0x74, 0x61),
      "windows-1250",
    ],
  ])("%s: %#", (_what, head, encoding) => {
    expect(tellEncoding(head, true)).toBe(encoding);
  });

  it("takes any UTF-8 text for UTF-8, even when the head ends inside a character", () => {
    const text = fc.string({ unit: fc.constantFrom("a", "ż", "€", "𝛑", ";", "\n"), minLength: 1, maxLength: 20 });
    fc.assert(
      fc.property(text, fc.nat(3), (each, cut) => {
        const whole = Uint8Array.from(Buffer.from(each, "utf8"));
        expect(tellEncoding(whole, true)).toBe("utf-8");
        expect(tellEncoding(whole.subarray(0, Math.max(1, whole.length - cut)), false)).toBe("utf-8");
      }),
    );
  });

  it.each([
    ["an overlong form", bytes(0xc0, 0xaf)],
    ["an overlong form", bytes(0xe0, 0x80, 0x80)],
    ["a surrogate", bytes(0xed, 0xa0, 0x80)],
    ["beyond Unicode", bytes(0xf4, 0x90, 0x80, 0x80)],
    ["a lone continuation", bytes(0x80)],
    ["a character cut off at the end of the whole", bytes(0x61, 0xe2, 0x82)],
  ])("%s is not UTF-8: %#", (_what, head) => {
    expect(tellEncoding(head, true)).not.toBe("utf-8");
  });
});
