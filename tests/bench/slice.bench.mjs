// @ts-check
/**
 * Cutting catalogs down to one device: what ten times the parts cost a part (1.0 where the time is linear), once for a
 * device with ten parts and once for one whose family has them all.
 */
import { bigCatalog } from "./big-catalog.mjs";
import { load } from "./load.mjs";

const { sliceFor, checkCatalog } = await load(`
  export { sliceFor } from "./src/catalog/index.ts";
  export { checkCatalog } from "./src/formats/catalog.ts";
`);
/** Parts of one revision at most. */
const LISTED = 5_000;

/** @param {number} numbers */
function catalogOf(numbers) {
  const catalog = bigCatalog(numbers);
  const ids = catalog.parts.map(({ id }) => id);
  const revisions = Array.from({ length: Math.ceil(ids.length / LISTED) }, (_, r) => ({
    id: `r${r}`,
    boardNumbers: [],
    parts: ids.slice(r * LISTED, (r + 1) * LISTED),
  }));
  catalog.families.push({ id: "all", name: "All", modelNumbers: ["MD-ALL"], revisions });
  return checkCatalog(catalog).value;
}

for (const model of ["MD-7", "MD-ALL"]) {
  const device = { id: "d", name: "d", modelNumbers: [model], fitted: [], accept: [], refuse: [] };
  /** @type {number[]} */
  const each = [];
  for (const numbers of [20_000, 200_000]) {
    const catalog = catalogOf(numbers);
    const times = Array.from({ length: 5 }, () => {
      const before = process.cpuUsage();
      sliceFor([catalog], [device]);
      return process.cpuUsage(before).user / 1000;
    });
    const least = Math.min(...times);
    each.push(least / numbers);
    console.log(`${`${model}, ${numbers} numbers`.padEnd(28)} ${least.toFixed(0)} ms of processor time`);
  }
  console.log(`${`${model}, ten times, a number`.padEnd(28)} ${((each[1] ?? 0) / (each[0] ?? 1)).toFixed(2)} ×`);
}
