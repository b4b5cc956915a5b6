import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { verdictLineSchema } from "../../src/formats/verdict.ts";
import { makeWords } from "../../src/text/words.ts";
import { concernsDevice, verdictLine } from "../../src/verdict/index.ts";
import { judged, larks, makeListing } from "./bench.ts";

const languages = ["en", "de", "fr", "es", "it", "pl"];
const words = languages.map((language) => {
  const path = new URL(`../../manifest/_locales/${language}/messages.json`, import.meta.url);
  const messages = JSON.parse(readFileSync(path, "utf8")) as Record<string, { message: string }>;
  return makeWords(language, Object.fromEntries(Object.entries(messages).map(([key, { message }]) => [key, message])));
});

describe("a verdict's reasons", () => {
  it("name the number and the text that it stands in", () => {
    const title = "Battery PB-2240 for PL-20";
    const [reason] = judged(title, larks.early).reasons;
    expect(reason).toMatchObject({
      code: "number-other-revision",
      values: { number: "PB-2240", revisions: ["late board"] },
    });
    expect(reason?.spans.map(([start, end]) => title.slice(start, end))).toEqual(["PB-2240"]);
  });

  it("name both numbers where they are one character apart", () => {
    const { reasons } = judged("Battery PB-1860 for PL-20", larks.early);
    expect(reasons[0]).toMatchObject({ code: "number-near", values: { number: "PB-1860", known: "PB-1840" } });
  });

  it("name the weakest link first", () => {
    expect(judged("Battery for PL-20 built 2019", larks.early).reasons[0]?.code).toBe("only-date");
    expect(judged("Battery for PL-20 board PW-4410-2", larks.early).reasons[0]?.code).toBe("only-board");
  });

  it("tell that the device's own evidence contradicts itself", () => {
    const codes = judged("Battery PB-1840", larks.mixed).reasons.map(({ code }) => code);
    expect(codes.some((code) => code.startsWith("resolver-"))).toBe(true);
  });

  it.each(words.map((each) => [each.language, each] as const))("become whole sentences in %s", (_, each) => {
    for (const title of [
      "Battery PB-2240",
      "Battery for PL-20",
      "PB-1840 7.4V",
      "Cable for battery PB-1840",
      "PB-1860 battery",
    ]) {
      const listing = makeListing(title);
      const line = verdictLine(listing, 7, judged(title, larks.early), each);
      expect(verdictLineSchema.parse(line)).toEqual(line);
      for (const { text } of line.reasons) expect(text).toMatch(/^[^[{]+[.!]$/u);
    }
  });
});

describe("hazards", () => {
  it("come with a wrong part, worst first", () => {
    const { hazards } = judged("Battery PB-2240", larks.early);
    expect(hazards[0]).toMatchObject({ effect: "burns", signal: "WARNING" });
  });

  it("come with nothing that fits, and with nothing that is not a part", () => {
    expect(judged("Battery PB-1840", larks.early).hazards).toEqual([]);
    expect(judged("Cable for battery PB-2240", larks.early).hazards).toEqual([]);
  });
});

describe("the line", () => {
  it("echoes the listing's id and price, or counts lines", () => {
    const [english] = words;
    if (english === undefined) throw new Error("no words");
    const price = { amount: "36.00", currency: "USD" };
    const line = verdictLine(makeListing({ id: "x", title: "a", price }), 3, judged("a", larks.early), english);
    expect(line).toMatchObject({ id: "x", price, verdict: "unrelated", tier: "none" });
    expect(line).not.toHaveProperty("line");
    expect(verdictLine(makeListing("a"), 3, judged("a", larks.early), english)).toMatchObject({ line: 3 });
  });
});

describe("a listing concerns a device", () => {
  it.each([
    ["Battery PB-2240", true],
    ["Cable for battery PB-1840", true],
    ["Case for PL-20E", true],
    ["Mainboard PW-4410-5", true],
    ["Battery OF-B216 for MV300", false],
    ["Wooden chair", false],
  ])("%s: %s", (title, concerned) => {
    expect(concernsDevice(makeListing(title), larks.early)).toBe(concerned);
  });
});
