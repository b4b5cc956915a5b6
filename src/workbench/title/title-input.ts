/** What a seller has typed, and the listing that it makes. */
import { DEFAULT_LIMIT } from "../../desks/compose.ts";
import type { Listing } from "../../formats/listing.ts";

/** What is typed and chosen. */
export interface TitleInput {
  readonly title: string;
  readonly description: string;
  /** One `Name: value` a line. */
  readonly specifics: string;
  /** Id of the part that is sold; null lets the catalogs find it. */
  readonly part: string | null;
  /** Longest composed title, in characters. */
  readonly limit: number;
  /** Language of composed titles; empty for the page's own. */
  readonly language: string;
  /** The field on a page that the text was read from. */
  readonly field: { readonly tab: number; readonly frame: number } | null;
}

/** Nothing typed. */
export const EMPTY_INPUT: TitleInput = {
  title: "",
  description: "",
  specifics: "",
  part: null,
  limit: DEFAULT_LIMIT,
  language: "",
  field: null,
};

/** Narrowest and widest limit of a composed title, in characters. */
export const LIMITS = { least: 20, most: 500 } as const;
/** Longest name and value of a field, and most fields that are read. */
const MAX_NAME_CHARS = 200;
const MAX_VALUE_CHARS = 5_000;
const MAX_SPECIFICS = 200;

/** A text taken over from a field: its first line is the title, what follows the description. */
export function inputOfText(text: string, before: TitleInput): TitleInput {
  const trimmed = text.trim();
  const end = trimmed.search(/[\r\n]/);
  const title = end < 0 ? trimmed : trimmed.slice(0, end);
  const description = end < 0 ? "" : trimmed.slice(end).trim();
  return { ...before, title, description, specifics: "", part: null, field: null };
}

/** The input that shows a listing of a list. */
export function inputOfListing({ title, description = "", specifics = {} }: Listing, before: TitleInput): TitleInput {
  const lines = Object.entries(specifics).map(([name, value]) => `${name}: ${value}`);
  return { ...before, title, description, specifics: lines.join("\n"), part: null, field: null };
}

/** The listing as a buyer would see it. */
export function listingOf({ title, description, specifics }: TitleInput): Listing {
  const fields = specificsOf(specifics);
  return {
    title,
    ...(Object.keys(fields).length === 0 ? {} : { specifics: fields }),
    ...(description.trim() === "" ? {} : { description }),
  };
}

/** Fields out of lines such as `MPN: PB-1840`; a line without a colon is no field. */
export function specificsOf(text: string): Record<string, string> {
  const fields: [string, string][] = [];
  for (const line of text.split(/\r\n|\r|\n/, MAX_SPECIFICS)) {
    const colon = line.search(/[:\t\uff1a]/);
    const name = line.slice(0, Math.max(0, colon)).trim().slice(0, MAX_NAME_CHARS);
    const value = line
      .slice(colon + 1)
      .trim()
      .slice(0, MAX_VALUE_CHARS);
    if (colon > 0 && name !== "" && value !== "") fields.push([name, value]);
  }
  return Object.fromEntries(fields);
}

/** The limit that a person typed, kept within what makes sense. */
export function limitOf(text: string): number {
  const value = Number.parseInt(text, 10);
  if (!Number.isFinite(value)) return DEFAULT_LIMIT;
  return Math.min(LIMITS.most, Math.max(LIMITS.least, value));
}

/** Length as people and marketplaces count it, in characters (Unicode code points). */
export function lengthOf(text: string): number {
  return [...text].length;
}
