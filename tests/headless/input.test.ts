import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type LineBatch, lineBatches, MAX_LINE_BYTES } from "../../src/headless/input.ts";

const going = new AbortController().signal;

async function batchesOf(pieces: readonly Uint8Array[], signal: AbortSignal = going): Promise<LineBatch[]> {
  const batches: LineBatch[] = [];
  async function* chunks(): AsyncGenerator<Uint8Array> {
    yield* pieces;
  }
  for await (const batch of lineBatches(chunks(), signal)) batches.push(batch);
  return batches;
}

/** Every line with its number. */
function numbered(batches: readonly LineBatch[]): [number, string][] {
  return batches.flatMap((batch): [number, string][] => {
    if (batch.kind === "too-long") return [[batch.firstLine, "<too long>"]];
    const lines = Buffer.from(batch.bytes).toString("utf8").split("\n");
    if (lines.at(-1) === "") lines.pop();
    return lines.map((line, i) => [batch.firstLine + i, line]);
  });
}

describe("lines", () => {
  it("are the same with the same numbers however the bytes are cut", async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.array(fc.string({ unit: fc.constantFrom("a", "ż", "", "\r"), maxLength: 5 }), { maxLength: 12 }),
        fc.array(fc.nat(100), { maxLength: 8 }),
        fc.boolean(),
        async (lines, cuts, endsWithFeed) => {
          const text = lines.join("\n") + (endsWithFeed ? "\n" : "");
          const bytes = Buffer.from(text, "utf8");
          const places = [...cuts.map((cut) => cut % (bytes.length + 1)), 0, bytes.length].sort((a, b) => a - b);
          const pieces = places.slice(1).map((end, i) => bytes.subarray(places[i], end));
          const expected = text.split("\n");
          if (expected.at(-1) === "") expected.pop();
          expect(numbered(await batchesOf(pieces))).toEqual(expected.map((line, i) => [i + 1, line]));
        },
      ),
    );
  });

  it("that are too long are told of once, not gathered, and counted", async () => {
    const long = Buffer.alloc(MAX_LINE_BYTES, "x");
    const read = await batchesOf([Buffer.from("a\n"), long, long, long, Buffer.from("x\nb\nc")]);
    expect(numbered(read)).toEqual([
      [1, "a"],
      [2, "<too long>"],
      [3, "b"],
      [4, "c"],
    ]);
  });

  it("cut off by an interruption are not taken for whole", async () => {
    const interrupted = new AbortController();
    interrupted.abort();
    expect(numbered(await batchesOf([Buffer.from('a\n{"title":"half')], interrupted.signal))).toEqual([[1, "a"]]);
  });
});
