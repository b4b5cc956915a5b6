/**
 * What a language calls the currencies: their signs, narrow signs and names in every plural form, from the
 * platform's own CLDR data. Built the first time a language is asked for; some tens of milliseconds for all of them.
 */
import { allCurrencyCodes, regionOf } from "./money-symbols.ts";

/** Names of currencies in one language, lower case. */
export interface CurrencyNames {
  /** Currencies of a name; several where a language calls them alike. */
  readonly byName: ReadonlyMap<string, readonly string[]>;
  /** Length of the longest name. */
  readonly longest: number;
}

/** Amounts that between them reach every CLDR plural form. */
const PLURAL_SAMPLES = [0, 1, 2, 3, 5, 6, 11, 20, 100, 0.99, 1.5, 1_000_000];
const LANGUAGES_KEPT = 8;
const kept = new Map<string, CurrencyNames>();

/**
 * Every sign and name that `language` has for currencies; empty when the language is unknown.
 *
 * @param codes the currencies wanted; all when null
 * @param offered names that were asked for elsewhere; the platform is asked only for what they lack
 */
export function namesOfCurrencies(
  language: string | undefined,
  codes: readonly string[] | null,
  offered?: OfferedNames,
): CurrencyNames {
  const tag = language ?? "";
  const key = `${tag} ${codes === null ? "" : codes.join(" ")}`;
  const known = kept.get(key);
  if (known !== undefined) return known;
  const built = buildNames(tag, codes ?? allCurrencyCodes(), offered);
  if (kept.size >= LANGUAGES_KEPT) kept.clear();
  kept.set(key, built);
  return built;
}

/** What one language calls some currencies, worked out where there is time for it: asking the platform costs a page 20 ms. */
export interface OfferedNames {
  /** BCP 47; the names serve this language only. */
  readonly language: string;
  readonly byCode: Readonly<Record<string, readonly string[]>>;
}

/** Asks the platform for the names of some currencies, to be offered later. */
export function offerNames(language: string, codes: readonly string[]): OfferedNames {
  const byCode = isSupported(language) ? Object.fromEntries(codes.map((code) => [code, distinct(language, code)])) : {};
  return { language, byCode };
}

function distinct(language: string, code: string): string[] {
  return [...new Set(namesOf(language, code))];
}

function buildNames(language: string, codes: readonly string[], offered: OfferedNames | undefined): CurrencyNames {
  const byName = new Map<string, string[]>();
  const byCode = offered?.language === language ? offered.byCode : {};
  const missing = codes.some((code) => byCode[code] === undefined);
  if (missing && !isSupported(language)) return { byName, longest: 0 };
  const regional = regionOf(language) ?? "";
  for (const code of codes) {
    for (const name of byCode[code] ?? namesOf(language, code)) {
      const key = fold(name);
      const codesOfName = byName.get(key);
      if (key === "") continue;
      if (codesOfName === undefined) byName.set(key, [code]);
      else if (!codesOfName.includes(code)) codesOfName[code.startsWith(regional) ? "unshift" : "push"](code);
    }
  }
  return { byName, longest: Math.max(0, ...[...byName.keys()].map((name) => name.length)) };
}

function isSupported(language: string): boolean {
  try {
    return language !== "" && Intl.NumberFormat.supportedLocalesOf(language).length > 0;
  } catch (error) {
    if (error instanceof RangeError) return false; // not a language tag
    throw error;
  }
}

function namesOf(language: string, currency: string): string[] {
  const names: string[] = [];
  for (const currencyDisplay of ["symbol", "narrowSymbol"] as const) {
    names.push(
      ...currencyParts(new Intl.NumberFormat(language, { style: "currency", currency, currencyDisplay }), [1]),
    );
  }
  const named = new Intl.NumberFormat(language, { style: "currency", currency, currencyDisplay: "name" });
  names.push(...currencyParts(named, PLURAL_SAMPLES));
  return names;
}

function currencyParts(format: Intl.NumberFormat, samples: readonly number[]): string[] {
  return samples.flatMap((sample) =>
    format
      .formatToParts(sample)
      .filter((part) => part.type === "currency")
      .map((part) => part.value),
  );
}

/** The form in which money text is compared: no-break space, no direction marks, lower case. */
function fold(name: string): string {
  return name
    .replace(/[\u202f\u2009]/g, "\u00a0")
    .replace(/[\u200e\u200f\u061c]/g, "")
    .replace(/’/g, "'")
    .toLowerCase()
    .trim();
}
