/**
 * Numbers as people write them: `15.6`, `15,6`, `5.200`, `5 200`, `1,234.5`. Where a separator may be a decimal point
 * or group thousands, both values are given and the unit's plausible range decides.
 */

/** A number in a folded text. */
export interface WrittenNumber {
  /** Possible values, the likelier one first. */
  readonly values: readonly number[];
  readonly start: number;
  readonly end: number;
  /** True where it is written with a decimal separator for certain. */
  readonly decimal: boolean;
}

const NUMBER = /\d{1,9}(?:[.,']\d{1,9}){0,3}/y;
const SPACED_GROUP = /\d{1,3}(?: \d{3}){1,2}(?![\d.,'])/y;

/**
 * Reads the number that starts at `start`.
 *
 * @returns `null` where none starts there or where it is none (a version such as `1.2.3`, ten digits and more)
 */
export function readNumberAt(text: string, start: number): WrittenNumber | null {
  NUMBER.lastIndex = start;
  const written = NUMBER.exec(text)?.[0];
  if (written === undefined) return null;
  const end = start + written.length;
  const next = text.charCodeAt(end);
  if (next >= 0x30 && next <= 0x39) return null;
  const reading = valuesOf(written);
  return reading === null ? null : { ...reading, start, end };
}

/** As {@link readNumberAt} where the thousands are set apart by spaces, such as `5 200`. */
export function readSpacedNumberAt(text: string, start: number): WrittenNumber | null {
  SPACED_GROUP.lastIndex = start;
  const written = SPACED_GROUP.exec(text)?.[0];
  if (written === undefined) return null;
  return { values: [Number(written.replaceAll(" ", ""))], start, end: start + written.length, decimal: false };
}

function valuesOf(written: string): Pick<WrittenNumber, "values" | "decimal"> | null {
  const groups = written.split(/[.,']/);
  const separators = [...written].filter((character) => character === "." || character === "," || character === "'");
  const [first = "", last = ""] = [groups[0], groups.at(-1)];
  if (groups.length === 1) return { values: [Number(written)], decimal: false };
  const whole = groups.slice(0, -1).join("");
  const asDecimal = Number(`${whole}.${last}`);
  const asWhole = Number(groups.join(""));
  const grouped = groups.slice(1).every((group) => group.length === 3) && first.length <= 3 && first !== "0";
  if (separators[0] === "'" && groups.length === 2) return grouped ? { values: [asWhole], decimal: false } : null;
  if (groups.length === 2) {
    return grouped ? { values: [asDecimal, asWhole], decimal: false } : { values: [asDecimal], decimal: true };
  }
  const same = separators.every((separator) => separator === separators[0]);
  if (same) return grouped ? { values: [asWhole], decimal: false } : null;
  const leading = groups.slice(1, -1).every((group) => group.length === 3) && first.length <= 3;
  const leadingSame = separators.slice(0, -1).every((separator) => separator === separators[0]);
  return leading && leadingSame ? { values: [asDecimal], decimal: true } : null;
}
