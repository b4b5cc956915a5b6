// @ts-check
/** A made-up catalog of any size, the same in every run: families of two revisions, parts of two numbers, lists. */

const LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ";
const TYPES = ["battery", "fan", "keyboard", "display-panel", "charger"];
/** Parts of each revision. */
const PARTS = 5;

/**
 * @param {number} numbers how many different part numbers, a multiple of 20
 * @param {string} [format]
 */
export function bigCatalog(numbers, format = "falsefit-catalog/1") {
  const parts = Array.from({ length: numbers / 2 }, (_, i) => ({
    id: `p${i}`,
    type: TYPES[i % TYPES.length] ?? "",
    numbers: [partNumber(2 * i), partNumber(2 * i + 1)],
  }));
  const families = Array.from({ length: parts.length / PARTS / 2 }, (_, f) => ({
    id: `f${f}`,
    name: `Model ${f}`,
    modelNumbers: [`MD-${f}`],
    revisions: ["early", "late"].map((id, r) => ({
      id,
      boardNumbers: [`BD-${f}-${r}`],
      parts: parts.slice((2 * f + r) * PARTS, (2 * f + r + 1) * PARTS).map((part) => part.id),
    })),
  }));
  const every = (/** @type {number} */ step) => parts.filter((_, i) => i % step === 0);
  return {
    format,
    families,
    parts,
    interchange: every(10).map(({ numbers: [first = ""] }, i) => ({ numbers: [first, `XC${i}Q`] })),
    supersession: every(20).map(({ numbers: [first = ""] }, i) => ({ old: first, new: `SS${i}Z` })),
  };
}

/** @param {number} i */
export function partNumber(i) {
  const letter = (/** @type {number} */ n) => LETTERS[n % LETTERS.length] ?? "";
  return `${letter(i)}${letter(i >> 3)}-${String(i).padStart(6, "0")}${i % 3 === 0 ? "" : letter(i >> 5)}`;
}
