/** How numbers are named: for, against, in passing; one sentence at a time, in six languages. */
import { describe, expect, it } from "vitest";
import { readListing } from "../../src/claims/index.ts";
import { larks } from "../verdict/bench.ts";

const { reading, known, types } = larks.early;

function read(title: string) {
  return readListing({ title }, reading, known, (type) => types.has(type));
}

/** `PB1840:plain PB2240:against` */
function stances(title: string): string {
  return read(title)
    .claims.flatMap((claim) => (claim.kind === "number" ? [`${claim.number}:${claim.stance}`] : []))
    .join(" ");
}

describe("the scope of a negation", () => {
  it.each([
    ["not for PL-20E, PL-20 or PW-4410-5", "PL20E:against PL20:against PW44105:against"],
    ["PB-1840 not for PL-20E. For PL-20", "PB1840:plain PL20E:against PL20:for"],
    ["PB-1840 (not PB-2240) for PL-20", "PB1840:plain PB2240:against PL20:for"],
    ["not for PL-20E but for PL-20", "PL20E:against PL20:for"],
    ["nicht für PL-20E, sondern für PL-20", "PL20E:against PL20:for"],
    ["not only for PL-20 but also PL-20E", "PL20:for PL20E:for"],
    ["PB-1840 not compatible, PB-2240 ok", "PB1840:against PB2240:plain"],
    ["für PL-20E nicht geeignet, für PL-20", "PL20E:against PL20:for"],
    ["no returns, PB-1840", "PB1840:plain"],
    ["not incompatible with PB-1840", "PB1840:for"],
    ["Battery No PB-1840", "PB1840:plain"],
    ["does not fit / passt nicht PB-2240", "PB2240:against"],
    ["ne convient pas à PL-20E; convient à PL-20", "PL20E:against PL20:for"],
    ["no compatible con PB-2240", "PB2240:against"],
    ["non adatto a PB-2240", "PB2240:against"],
    ["nie pasuje do PB-2240", "PB2240:against"],
  ])("%s", (title, expected) => {
    expect(stances(title)).toBe(expected);
  });
});

describe("what is named besides", () => {
  it.each([
    ["PB-1840, replaced by PB-2240", "PB1840:plain PB2240:successor"],
    ["QK-77A replaces PB-1840", "QK77A:plain PB1840:replaces"],
    ["same connector as PB-1840", "PB1840:passing"],
    ["PB-1840-style", "PB1840:passing"],
    ["we also sell PB-2240", "PB2240:elsewhere"],
    ["PB-2240 instead of PB-1840", "PB2240:plain PB1840:against"],
    ["tanto PB-1840 como PB-2240", "PB1840:plain PB2240:plain"],
  ])("%s", (title, expected) => {
    expect(stances(title)).toBe(expected);
  });

  it("keeps spans in the text as it was written", () => {
    const title = "Akku ＰＢ－１８４０ für PL-20";
    const [number] = read(title).claims;
    expect(number?.span).toEqual([5, 12, "title"]);
    expect(title.slice(5, 12)).toBe("ＰＢ－１８４０");
  });
});

describe("numbers in the wild", () => {
  const numbers = (title: string) =>
    read(title).claims.flatMap((claim) => (claim.kind === "number" ? [claim.number] : []));

  it.each([
    ["BatteryPB-1840", ["PB1840"]],
    ["PB1840Akku", ["PB1840"]],
    ["PB 1840 R", ["PB1840R"]],
    ["PB-1840/1840R", ["PB1840", "PB1840R"]],
    ["PB-1840/2240", ["PB1840", "PB2240"]],
    ["PB-1840X", ["PB1840X"]],
    ["PB-1840-EU", ["PB1840EU"]],
    ["PB-1840-new", ["PB1840"]],
    ["PB-1840 Grade A", ["PB1840"]],
    ["PB-1840 C", ["PB1840C"]],
    ["EAN 4006381333931 PB-1840", ["PB1840"]],
    ["PB-1840 3.7V 4000mAh 2021", ["PB1840"]],
  ])("%s", (title, expected) => {
    expect(numbers(title)).toEqual(expected);
  });

  it("takes a stock number for no part number", () => {
    const [claim] = read("SKU: XR-7712").claims;
    expect(claim).toMatchObject({ kind: "number", stock: true });
  });
});

describe("what is sold", () => {
  it.each([
    ["Battery PB-1840", "part"],
    ["Cable for battery PB-1840", "accessory"],
    ["Akkudeckel PL-20", "accessory"],
    ["Pellworm PL-20 handheld with battery", "device"],
    ["Battery repair service", "service"],
    ["Wanted: battery PB-1840", "wanted"],
    ["Empty box battery PB-1840", "nothing"],
    ["PL-20 without battery", "without"],
  ])("%s: %s", (title, sold) => {
    expect(read(title).subject.sold).toBe(sold);
  });
});

describe("revisions named by a code", () => {
  it.each([
    ["battery for board B", "B"],
    ["compatible con placas R1, R2 y R4", "R1 R2 R4"],
    ["für Platinen R1 und R2", "R1 R2"],
  ])("%s", (title, codes) => {
    const letters = read(title).claims.flatMap((claim) =>
      claim.kind === "revision" && claim.revision.how === "letter" ? [claim.revision.letter] : [],
    );
    expect(letters.join(" ")).toBe(codes);
  });
});
