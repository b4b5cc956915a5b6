/**
 * Exact decimal arithmetic on money texts such as `36.00`. No floating point: amounts become scaled integers.
 *
 * A decimal text is an optional minus sign, 1–30 digits and at most 18 decimals (`-4.50`, `0`, `1234.5`).
 * Functions return `null` for any other text, so that a bad amount is never mistaken for zero.
 */

interface Scaled {
  readonly units: bigint;
  /** Number of decimals. */
  readonly scale: number;
}

const DECIMAL = /^(-?)(\d{1,30})(?:\.(\d{1,18}))?$/;

/** True for a text that this module can reckon with. */
export function isDecimal(text: string): boolean {
  return parse(text) !== null;
}

/** `a + b`, with as many decimals as the finer of the two. */
export function addDecimal(a: string, b: string): string | null {
  return combine(a, b, (x, y) => x + y);
}

/** `a - b`, with as many decimals as the finer of the two. */
export function subtractDecimal(a: string, b: string): string | null {
  return combine(a, b, (x, y) => x - y);
}

/** Negative where `a < b`, zero where equal in value (`1.0` and `1.00`), positive where `a > b`. */
export function compareDecimal(a: string, b: string): number | null {
  const pair = align(a, b);
  if (pair === null) return null;
  const [x, y] = pair;
  return x < y ? -1 : x > y ? 1 : 0;
}

/**
 * `amount × count`, exact.
 *
 * @param count a whole number of pieces, zero or more
 */
export function multiplyDecimal(amount: string, count: number): string | null {
  const value = parse(amount);
  if (value === null || !Number.isSafeInteger(count) || count < 0) return null;
  return print({ units: value.units * BigInt(count), scale: value.scale });
}

/**
 * `amount ÷ count`, rounded half up (away from zero) to `decimals`.
 *
 * @param count a whole number of pieces, at least 1
 * @param decimals 0–18; as many as the amount has (two at least) when left out
 */
export function divideDecimal(amount: string, count: number, decimals?: number): string | null {
  const value = parse(amount);
  if (value === null || !Number.isSafeInteger(count) || count < 1) return null;
  const scale = decimals ?? Math.max(2, value.scale);
  if (!Number.isInteger(scale) || scale < 0 || scale > 18) return null;
  const negative = value.units < 0n;
  const numerator = (negative ? -value.units : value.units) * 10n ** BigInt(scale);
  const denominator = 10n ** BigInt(value.scale) * BigInt(count);
  const quotient = (numerator * 2n + denominator) / (denominator * 2n);
  return print({ units: negative ? -quotient : quotient, scale });
}

/**
 * Compares `a ÷ countA` with `b ÷ countB` exactly, without rounding either.
 *
 * @returns as {@link compareDecimal}; `null` for a bad amount or count
 */
export function compareQuotients(a: string, countA: number, b: string, countB: number): number | null {
  if (![countA, countB].every((count) => Number.isSafeInteger(count) && count >= 1)) return null;
  const pair = align(a, b);
  if (pair === null) return null;
  const left = pair[0] * BigInt(countB);
  const right = pair[1] * BigInt(countA);
  return left < right ? -1 : left > right ? 1 : 0;
}

function combine(a: string, b: string, how: (x: bigint, y: bigint) => bigint): string | null {
  const pair = align(a, b);
  return pair === null ? null : print({ units: how(pair[0], pair[1]), scale: pair[2] });
}

function align(a: string, b: string): readonly [bigint, bigint, number] | null {
  const x = parse(a);
  const y = parse(b);
  if (x === null || y === null) return null;
  const scale = Math.max(x.scale, y.scale);
  return [x.units * 10n ** BigInt(scale - x.scale), y.units * 10n ** BigInt(scale - y.scale), scale];
}

function parse(text: string): Scaled | null {
  const match = DECIMAL.exec(text);
  if (match === null) return null;
  const decimals = match[3] ?? "";
  const units = BigInt(`${match[2]}${decimals}`);
  return { units: match[1] === "-" ? -units : units, scale: decimals.length };
}

function print({ units, scale }: Scaled): string {
  const digits = (units < 0n ? -units : units).toString().padStart(scale + 1, "0");
  const whole = digits.slice(0, digits.length - scale);
  const text = scale === 0 ? whole : `${whole}.${digits.slice(digits.length - scale)}`;
  return units < 0n ? `-${text}` : text;
}
