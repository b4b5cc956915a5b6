/** Judging for a whole bench at once gives what judging for each of its devices gives. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { buildIndex } from "../../src/catalog/index.ts";
import { judgeForAll, shareDevices } from "../../src/desks/shared-devices.ts";
import { checkBench, type Device } from "../../src/formats/bench.ts";
import type { Listing } from "../../src/formats/listing.ts";
import { readFor } from "../../src/verdict/chosen-type.ts";
import { judge, prepareDevice, SharedSieve } from "../../src/verdict/index.ts";
import { concerns, namesOfListing } from "../../src/verdict/names.ts";
import { demoCatalog, rules, scrubberCatalogs } from "../verdict/bench.ts";
import { draws, looseListing, PATIENCE, someDraft, written } from "../verdict/draws.ts";

const index = buildIndex([demoCatalog, ...scrubberCatalogs]);
const families = index.families.filter(({ modelNumbers }) => modelNumbers.length > 0);

/** What may be known of a device, of any family or of none. */
const knowledge = fc.constantFrom(...families).chain(({ modelNumbers, revisions }) =>
  fc.record(
    {
      modelNumbers: fc.subarray([...modelNumbers, "XX-9"], { minLength: 1 }),
      boardNumber: fc.constantFrom(...revisions.flatMap(({ boardNumbers }) => boardNumbers), "UNKNOWN-1"),
      buildDate: fc.constantFrom("2019-W20", "2021-W08", "2021-W09", "2021", "2022-05"),
      fitted: fc.constantFrom(
        [{ type: "battery", numbers: ["PB-2240A"], source: "label" }],
        [{ type: "motor", numbers: ["CM-79X"], source: "readout" }],
        [{ type: "battery", numbers: ["EX-77"], source: "photo" }],
      ),
      accept: fc.constantFrom([{ number: "ZZ-9001" }], [{ number: "QK-77A" }]),
      refuse: fc.constantFrom([{ number: "PB-1840" }], [{ number: "CB-5022" }]),
    },
    { requiredKeys: ["modelNumbers"] },
  ),
);

const benches = fc.array(knowledge, { minLength: 1, maxLength: 12 }).map((all): readonly Device[] => {
  const read = checkBench({ format: "falsefit-bench/1", devices: all.map((each, i) => ({ id: `d${i}`, ...each })) });
  if (!read.ok) throw new Error(JSON.stringify(read.faults));
  return read.value.devices;
});

const strange = fc.constantFrom("🔋", "ＰＢ－１８４０", "Ж", "РВ-1840", "²", "é", "\u200b", "Pellworm  battery PB-19");
const listings: fc.Arbitrary<Listing> = fc
  .tuple(
    fc.oneof(
      looseListing,
      someDraft.map((draft) => written(draft)),
    ),
    fc.option(strange),
  )
  .map(([listing, extra]) => (extra === null ? listing : { ...listing, title: `${listing.title} ${extra}` }));

describe("a whole bench at once", () => {
  it("gets the verdicts of each device judged for itself", PATIENCE, () => {
    fc.assert(
      fc.property(benches, fc.array(listings, { minLength: 1, maxLength: 6 }), (devices, all) => {
        const together = judgeForAll(shareDevices(devices, index, rules));
        const prepared = devices.map((device) => prepareDevice(device, index, rules));
        for (const listing of all) {
          const alone = prepared.map((device) => judge(listing, device));
          const expected = alone.filter(({ verdict }) => verdict !== "unrelated");
          expect(together(listing).map(({ verdict }) => verdict)).toEqual(expected);
        }
      }),
      draws(40),
    );
  });

  it("passes over no device that a listing concerns", PATIENCE, () => {
    fc.assert(
      fc.property(benches, listings, (devices, listing) => {
        const prepared = devices.map((device) => prepareDevice(device, index, rules));
        const found = new SharedSieve(prepared.map(({ needles }) => needles)).find(listing);
        for (const [place, device] of prepared.entries()) {
          const said = readFor(listing, device);
          const { numbers, models } = namesOfListing(said, device);
          if (!concerns(numbers, models, said, device)) continue;
          expect(device.sieve.mayConcern(listing)).toBe(true);
          expect(found).toContain(place);
        }
      }),
      draws(100),
    );
  });
});
