/**
 * Contrast of two colours by WCAG 2.2: (L1 + 0.05) / (L2 + 0.05) with the relative luminance of sRGB.
 * Source: WCAG 2.2, definitions "contrast ratio" and "relative luminance".
 */

/** Contrast ratio of two opaque colours `#rrggbb`, 1 to 21. */
export function contrastRatio(one: string, other: string): number {
  const [darker, lighter] = [relativeLuminance(one), relativeLuminance(other)].sort((a, b) => a - b);
  return ((lighter ?? 0) + 0.05) / ((darker ?? 0) + 0.05);
}

/** Relative luminance of an opaque colour `#rrggbb`, 0 (black) to 1 (white). */
function relativeLuminance(colour: string): number {
  const channel = (at: number) => linear(Number.parseInt(colour.slice(at, at + 2), 16) / 255);
  return 0.2126 * channel(1) + 0.7152 * channel(3) + 0.0722 * channel(5);
}

/** One sRGB channel, 0 to 1, without its gamma. */
export function linear(value: number): number {
  return value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4;
}
