/** What the page looks like, so that the overlay does not glare on it: its ground and whether that is dark. */
import { linear } from "../ui/contrast.ts";

/** Ground below which a page counts as dark, as relative luminance. */
const DARK_BELOW = 0.2;

/** The page's ground as a CSS colour, and whether it is dark. */
export interface PageLook {
  readonly ground: string;
  readonly dark: boolean;
}

/** Looks at body and root: the first that has an opaque ground decides; a page without one shows the browser's. */
export function pageLook(document: Document): PageLook {
  for (const element of [document.body, document.documentElement]) {
    const ground = element && getComputedStyle(element).backgroundColor;
    const channels = ground ? opaqueChannels(ground) : null;
    if (ground && channels) return { ground, dark: luminance(channels) < DARK_BELOW };
  }
  const dark = getComputedStyle(document.documentElement).colorScheme.includes("dark") && prefersDark(document);
  return { ground: "Canvas", dark };
}

function prefersDark(document: Document): boolean {
  return document.defaultView?.matchMedia("(prefers-color-scheme: dark)").matches ?? false;
}

/** Red, green and blue of a computed colour, 0 to 255; `null` for one that lets something shine through. */
function opaqueChannels(colour: string): [number, number, number] | null {
  const numbers = colour.match(/[\d.]+/g)?.map(Number) ?? [];
  const [red, green, blue, alpha = 1] = numbers;
  if (!colour.startsWith("rgb") || red === undefined || green === undefined || blue === undefined) return null;
  return alpha >= 0.5 ? [red, green, blue] : null;
}

function luminance([red, green, blue]: [number, number, number]): number {
  return 0.2126 * linear(red / 255) + 0.7152 * linear(green / 255) + 0.0722 * linear(blue / 255);
}
