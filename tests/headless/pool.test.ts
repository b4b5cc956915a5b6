import { describe, expect, it } from "vitest";
import { mapInOrder } from "../../src/headless/pool.ts";

const wait = (ms: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, ms));

async function* upTo(count: number, seen: { taken: number }): AsyncGenerator<number> {
  for (let i = 0; i < count; i++) {
    seen.taken = i + 1;
    yield i;
  }
}

describe("work in order", () => {
  it("hands results on in the order of the input whichever is ready first", async () => {
    const given: number[] = [];
    await mapInOrder(
      upTo(20, { taken: 0 }),
      5,
      async (item) => {
        await wait(item % 3 === 0 ? 6 : 0);
        return item;
      },
      async (result) => {
        given.push(result);
      },
    );
    expect(given).toEqual(Array.from({ length: 20 }, (_, i) => i));
  });

  it("reads no further ahead than it may, however slow the output is", async () => {
    const seen = { taken: 0 };
    let given = 0;
    let furthest = 0;
    await mapInOrder(
      upTo(50, seen),
      4,
      async (item) => item,
      async () => {
        await wait(0);
        given++;
        furthest = Math.max(furthest, seen.taken - given);
      },
    );
    expect(given).toBe(50);
    expect(furthest).toBeLessThanOrEqual(4);
  });

  it("hands results on while the input is silent", async () => {
    let release = (): void => undefined;
    const held = new Promise<void>((resolve) => {
      release = resolve;
    });
    async function* items(): AsyncGenerator<string> {
      yield "first";
      await held;
      yield "second";
    }
    const given: string[] = [];
    await mapInOrder(
      items(),
      4,
      async (item) => item,
      async (item) => {
        given.push(item);
        release();
      },
    );
    expect(given).toEqual(["first", "second"]);
  });

  it("fails with the first failure, of the work or of the output, and starts nothing more", async () => {
    const seen = { taken: 0 };
    const failing = mapInOrder(
      upTo(1_000, seen),
      3,
      async (item) => {
        if (item === 5) throw new Error("the sixth");
        return item;
      },
      async () => undefined,
    );
    await expect(failing).rejects.toThrow("the sixth");
    expect(seen.taken).toBeLessThan(20);
    const closed = mapInOrder(
      upTo(10, seen),
      3,
      async (item) => item,
      async () => {
        throw new Error("closed");
      },
    );
    await expect(closed).rejects.toThrow("closed");
  });
});
