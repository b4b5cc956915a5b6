/** Tables of listings by the device that they are judged for and the verdict that they must get. */
import { describe, expect, it } from "vitest";
import type { VerdictWord } from "../../src/formats/verdict.ts";
import { judged, shelf } from "./bench.ts";
import { corrins } from "./corrins.ts";

const devices = { ...shelf, ...corrins };

/** Rows of a table: device, verdict, and the titles or listings that must get it. */
export type Wordings = readonly (readonly [
  device: keyof typeof devices,
  verdict: VerdictWord,
  listings: readonly (string | object)[],
])[];

/** One test a listing. */
export function hold(wordings: Wordings): void {
  describe.each(wordings)("%s: %s", (device, verdict, listings) => {
    it.each(listings.map((listing) => [JSON.stringify(listing), listing] as const))("%s", (_, listing) => {
      expect(judged(listing, devices[device]).verdict).toBe(verdict);
    });
  });
}
