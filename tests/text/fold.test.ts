import { describe, expect, it } from "vitest";
import { foldVisible, isDoubtful, originalSpan } from "../../src/text/fold.ts";

const seen = (text: string) => foldVisible(text).text;
const doubted = (text: string) => {
  const folded = foldVisible(text);
  return folded.doubtful.map(([start, end]) => folded.text.slice(start, end));
};

describe("what a person sees", () => {
  it.each([
    ["plain text stays", "Battery PB-1840, 11.1 V", "Battery PB-1840, 11.1 V"],
    ["full width", "ＰＢ－１８４０Ｒ", "PB-1840R"],
    ["zero-width characters", "PB\u200b-18\u200d40\ufeff", "PB-1840"],
    ["soft hyphen", "PB-18\u00ad40", "PB-1840"],
    ["variation selectors and tag characters", "PB\ufe0f-1840\u{e0041}", "PB-1840"],
    ["every dash", "PB‐1840 PB–1840 PB—1840 PB−1840 PB﹣1840 PB‑1840", Array(6).fill("PB-1840").join(" ")],
    ["spaces that do not break", "PB\u00a01840\u202f\u30001840", "PB 1840 1840"],
    ["wide gaps", "PB  1840\t \t36   V", "PB 1840 36 V"],
    ["line ends", "a\r\nb\u2028c", "a\n\nb\nc"],
    ["quotes and inches", "15.6″ 15.6” 15.6’’ „LCD“ `x´", "15.6\" 15.6\" 15.6'' \"LCD\" 'x'"],
    ["units in one character", "5000㎃h 13㎜ №7 ½", "5000mAh 13mm No7 ½"],
    ["trade marks are no letters", "PB-1840™ PB-1840®", "PB-1840 PB-1840 "],
    ["letters with marks composed", "e\u0301cran A\u030akku", "écran Åkku"],
    ["keypad digits", "1\ufe0f\u20e38\u20e3", "18"],
    ["multiplication sign", "1920×1080", "1920x1080"],
    ["Cyrillic look-alikes in a number", "РВ-1840 pасk", "PB-1840 pack"],
    ["a word of look-alikes alone", "сор РВ 1840", "cop PB 1840"],
    ["Greek look-alikes", "ΡΒ-184Ο", "PB-184O"],
    ["Cyrillic text stays Cyrillic", "не для модели РВ-1840", "не для модели PB-1840"],
    ["micro and ohm", "100µF 10Ω", "100μF 10Ω"],
    ["lone surrogates", "PB\ud800-1840", "PB\ud800-1840"],
  ])("%s", (_, original, expected) => {
    expect(seen(original)).toBe(expected);
  });

  it("turns forced right-to-left text into the order the eye reads, brackets too", () => {
    expect(seen("Battery \u202e0481-BP\u202c new")).toBe("Battery PB-1840 new");
    expect(seen("Battery \u202e0481-BP")).toBe("Battery PB-1840");
    expect(seen("\u202e(0481)\u202c")).toBe("(1840)");
    expect(seen("\u202d1840\u202c \u2066PB-1840\u2069 \u2068PB-1840\u2069")).toBe("1840 PB-1840 PB-1840");
    expect(doubted("Battery \u202e0481-BP\u202c new \u2066PB-1840\u2069 \u2068PB-1840\u2069")).toEqual([]);
  });

  it.each([
    ["nested overrides", "\u202ePB\u202d18\u202c40\u202c", ["PB1840"]],
    ["right-to-left embedding", "\u202b1840-PB\u202c", ["1840-PB"]],
    ["right-to-left isolate", "x \u20671840-PB\u2069 y", ["1840-PB"]],
    ["right-to-left mark", "a PB\u200f-1840 c d", ["a PB-1840 c"]],
    ["numbers after Hebrew", "סוללה 1840-PB new", ["1840-PB"]],
    ["struck-through digits", "PB-1\u03368\u03364\u03360\u0336", ["1840"]],
    ["raised digits", "PB-1840²", ["2"]],
    ["circled digits", "PB-①", ["1"]],
    ["letters of a third script in a number", "PB-184ꓳ", ["184ꓳ"]],
    ["Cyrillic that has no Latin twin in a number", "БР-1840", ["БР"]],
    ["dotless i", "PB-ı840", ["ı840"]],
    ["a prefix that may be Latin in a Cyrillic text", "аккумулятор РВ 1840", ["РВ 1840"]],
  ])("doubts %s", (_, original, expected) => {
    expect(doubted(original)).toEqual(expected);
  });

  it.each(["Akku für PB-1840", "電池PB-1840", 'écran LCD 15,6"', "résumé"])("does not doubt %s", (original) => {
    expect(doubted(original)).toEqual([]);
  });
});

describe("offsets", () => {
  const spanOf = (original: string, found: string) => {
    const folded = foldVisible(original);
    const start = folded.text.indexOf(found);
    const [from, to] = originalSpan(folded, start, start + found.length);
    return original.slice(from, to);
  };

  it("lead back to the original", () => {
    expect(spanOf("new PB\u200b-1840\u200b ok", "PB-1840")).toBe("PB\u200b-1840");
    expect(spanOf("ok ＰＢ－１８４０ ok", "PB-1840")).toBe("ＰＢ－１８４０");
    expect(spanOf("e\u0301cran 5㎃h", "écran")).toBe("e\u0301cran");
    expect(spanOf("5000㎃h", "A")).toBe("㎃");
    expect(spanOf("x \u202e0481-BP\u202c y", "PB-1840")).toBe("0481-BP");
    expect(spanOf("x \u202e0481-BP\u202c y", "PB")).toBe("BP");
    expect(spanOf("plain PB-1840", "PB-1840")).toBe("PB-1840");
  });

  it("are clamped to the text", () => {
    const folded = foldVisible("ＡＢ");
    expect(originalSpan(folded, -5, 99)).toEqual([0, 2]);
    expect(originalSpan(folded, 2, 2)).toEqual([2, 2]);
    expect(originalSpan(foldVisible(""), 0, 1)).toEqual([0, 0]);
    expect(isDoubtful(foldVisible("PB-1840² x"), 0, 7)).toBe(false);
    expect(isDoubtful(foldVisible("PB-1840² x"), 0, 8)).toBe(true);
  });

  it("survive long plain texts after short ones", () => {
    const long = "x".repeat(5000);
    expect(originalSpan(foldVisible(long), 4000, 5000)).toEqual([4000, 5000]);
  });
});

describe("bounded work", () => {
  const size = 1_000_000;
  it.each([
    ["Cyrillic", "батарея РВ 1840 "],
    ["one long token of right-to-left marks", "P\u200f"],
    ["direction controls that never end", "\u202eP\u2067B"],
    ["closed overrides with doubtful digits", "\u202e²P\u202c"],
    ["marks on marks", "\u0336\u0301"],
    ["full width", "ＰＢ－１８４０"],
    ["expanding ligatures", "\ufdfa"],
  ])("folds a megabyte of %s", (_, piece) => {
    const text = piece.repeat(Math.ceil(size / piece.length));
    const start = performance.now();
    const folded = foldVisible(text);
    expect(folded.at.length).toBe(folded.text.length + 1);
    expect(performance.now() - start).toBeLessThan(5_000);
  });
});
