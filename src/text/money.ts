/**
 * Money in running text, in any locale that CLDR knows: separators, the kinds of narrow and no-break space,
 * grouping by two (lakh), full-width and native digits, the currency before, after or inside the number, as a
 * sign, an ISO 4217 code or (on request) a name.
 *
 * The text is folded once ({@link foldForMoney}), numbers are scanned in one pass, and each number looks for a
 * currency sign on both of its sides. Nothing is rounded: amounts are decimal text with at least the minor
 * digits of the currency.
 */
import { namesOfCurrencies, type OfferedNames } from "./money-names.ts";
import {
  CURRENCY_SIGNS,
  chooseCurrency,
  currencyOfLanguage,
  isBelievableCode,
  LONGEST_SIGN,
  minorDigits,
} from "./money-symbols.ts";

/** What is known about a text besides the text. */
export interface MoneyOptions {
  /** BCP 47 language of the text: decides separators and shared currency signs. */
  readonly language?: string | undefined;
  /** ISO 4217 code that the page states elsewhere: decides shared signs and serves bare numbers. */
  readonly currency?: string | undefined;
  /**
   * Also knows currencies by what `language` calls them: the region's own, the hint, dollar and euro (`own`), or
   * every one (`all`; tens of milliseconds the first time).
   */
  readonly names?: "own" | "all" | undefined;
  /** Names of currencies that were asked for elsewhere: they change nothing but the time that the first reading takes. */
  readonly offered?: OfferedNames | undefined;
  /** Also returns numbers that no currency stands beside. */
  readonly bare?: boolean | undefined;
}

/** One amount found in a text. */
export interface MoneyRead {
  /** Decimal text without sign, padded to the currency's minor digits, such as `36.00`. */
  readonly amount: string;
  /** ISO 4217 code; null for a bare number. */
  readonly currency: string | null;
  /** False when the currency's sign is shared and nothing else decided. */
  readonly currencyCertain: boolean;
  /** True when the amount can be read two ways and nothing decides ("1.234" of a currency with three decimals). */
  readonly ambiguous: boolean;
  /** True when a minus stands before it: a reduction, not a price. */
  readonly negative: boolean;
  /** Where it stands in the text, currency included (UTF-16, end excluded). */
  readonly start: number;
  readonly end: number;
}

/** Longest text that is read, in UTF-16 code units; the rest is left unread. */
export const MAX_MONEY_TEXT = 20_000;
/** Most digits of a whole part; longer ones are serial numbers or barcodes. */
const MAX_WHOLE_DIGITS = 15;
/** Most decimals that are kept. */
const MAX_DECIMALS = 4;

/** Finds every amount of money in a text, in order. Linear in the text's length; never throws. */
export function readMoney(text: string, options: MoneyOptions = {}): MoneyRead[] {
  if (!ASCII_DIGIT.test(text) && !HAS_DIGIT.test(text)) return [];
  const folded = foldForMoney(text.length > MAX_MONEY_TEXT ? text.slice(0, MAX_MONEY_TEXT) : text);
  const habits = habitsOf(options);
  const found: MoneyRead[] = [];
  let from = 0;
  let taken = 0;
  while (from < folded.text.length) {
    const token = nextNumber(folded.text, from, habits);
    if (token === null) break;
    const read = readOne(folded.text, token, taken, habits);
    from = Math.max(token.end, read?.end ?? 0);
    if (read === null) continue;
    taken = read.end;
    found.push({ ...read, start: folded.at(read.start), end: folded.at(read.end) });
  }
  return found;
}

const ASCII_DIGIT = /\d/;
const HAS_DIGIT = /\p{Nd}/u;
const NEEDS_FOLDING = /[^\t\n\r -~€£¥₹złKčäöüéèßÄÖÜ]/;

/** What the options mean for reading: separators, expected currencies. */
interface Habits {
  readonly hint: string | null;
  readonly regional: string | null;
  readonly decimal: string | null;
  readonly group: string | null;
  /** The language sets the currency before the number; null when that is unknown. */
  readonly leads: boolean | null;
  readonly names: ReadonlyMap<string, readonly string[]> | null;
  readonly longest: number;
  readonly bare: boolean;
  readonly insideDollar: boolean;
}

const habitCache = new Map<string, Habits>();
const HABITS_KEPT = 64;
let lastOptions: MoneyOptions | null = null;
let lastHabits: Habits | null = null;

/** Habits are worked out once for equal options; the same object again costs a comparison. */
function habitsOf(options: MoneyOptions): Habits {
  if (options === lastOptions && lastHabits !== null) return lastHabits;
  lastHabits = habitsByValue(options);
  lastOptions = options;
  return lastHabits;
}

function habitsByValue(options: MoneyOptions): Habits {
  const key = `${options.language ?? ""}|${options.currency ?? ""}|${options.names ?? ""}|${options.bare === true}`;
  const kept = habitCache.get(key);
  if (kept !== undefined) return kept;
  const separators = separatorsOf(options.language);
  const regional = currencyOfLanguage(options.language);
  const own = [regional, options.currency ?? null, "USD", "EUR"].filter((code) => code !== null);
  const needsNames = options.names === "all" || options.names === "own";
  const names = needsNames
    ? namesOfCurrencies(options.language, options.names === "all" ? null : own, options.offered)
    : null;
  const habits: Habits = {
    hint: options.currency ?? null,
    regional,
    ...separators,
    names: names?.byName ?? null,
    longest: Math.max(LONGEST_SIGN, names?.longest ?? 0),
    bare: options.bare === true,
    insideDollar: options.currency === "CVE" || regional === "CVE",
  };
  if (habitCache.size >= HABITS_KEPT) habitCache.clear();
  habitCache.set(key, habits);
  return habits;
}

/**
 * Decimal and group signs of common languages (CLDR, money formats of their main regions): asking the platform the
 * first time costs ten milliseconds and more, which a page cannot spare.
 */
const COMMON_SEPARATORS: Readonly<Record<string, string>> = {
  ...signsOf(
    ".,",
    "en en-US en-GB en-IE en-AU en-CA en-NZ ja ja-JP zh zh-CN zh-TW ko ko-KR he he-IL en-IN hi hi-IN th th-TH",
  ),
  ...signsOf(",.", "de de-DE es es-ES it it-IT nl nl-NL pt pt-BR da da-DK tr tr-TR ro ro-RO el el-GR id id-ID"),
  ...signsOf(
    ",\u00a0",
    "fr fr-FR pl pl-PL sv sv-SE nb nb-NO cs cs-CZ fi fi-FI ru ru-RU uk uk-UA hu hu-HU sk sk-SK bg bg-BG",
  ),
};

/** Those of them that set the currency before the number. */
const LEADING = /^(?:en|ja|zh|ko|hi|th|nl|pt|tr|id)(?:-|$)/;

/** Common languages' own signs and names of money stand in the table of signs. */
function isCommon(language: string | undefined): boolean {
  return language === undefined || Object.hasOwn(COMMON_SEPARATORS, language);
}

function signsOf(signs: string, tags: string): Record<string, string> {
  return Object.fromEntries(tags.split(" ").map((tag) => [tag, signs]));
}

/** The decimal and group signs of a language as CLDR has them for money; nulls when the language is unknown. */
function separatorsOf(language: string | undefined): Pick<Habits, "decimal" | "group" | "leads"> {
  const unknown = { decimal: null, group: null, leads: null };
  if (language === undefined || language === "") return unknown;
  const common = isCommon(language) ? COMMON_SEPARATORS[language] : undefined;
  if (common !== undefined)
    return { decimal: common.charAt(0), group: common.charAt(1), leads: LEADING.test(language) };
  try {
    if (Intl.NumberFormat.supportedLocalesOf(language).length === 0) return unknown;
    const parts = new Intl.NumberFormat(language, { style: "currency", currency: "USD" }).formatToParts(1234567.5);
    const sign = (type: string) => foldForMoney(parts.find((part) => part.type === type)?.value ?? "").text || null;
    const place = (type: string) => parts.findIndex((part) => part.type === type);
    return { decimal: sign("decimal"), group: sign("group"), leads: place("currency") < place("integer") };
  } catch (error) {
    if (error instanceof RangeError) return unknown; // not a language tag
    throw error;
  }
}

/** A number as it stands in the folded text. */
interface NumberToken {
  readonly start: number;
  readonly end: number;
  readonly groups: readonly string[];
  readonly separators: readonly string[];
}

/** The next number at or after `from`: digit groups with the separators that may belong to one number. */
function nextNumber(text: string, from: number, habits: Habits): NumberToken | null {
  let start = from;
  while (start < text.length && !isDigit(text.charCodeAt(start))) start++;
  if (start >= text.length) return null;
  const groups: string[] = [];
  const separators: string[] = [];
  let end = start;
  for (;;) {
    const groupStart = end;
    while (end < text.length && isDigit(text.charCodeAt(end))) end++;
    groups.push(text.slice(groupStart, end));
    const separator = text.charAt(end);
    if (!SEPARATORS.includes(separator) || !isDigit(text.charCodeAt(end + 1))) break;
    if (!joins(text, end, groups, separators, habits)) break;
    separators.push(separator);
    end++;
  }
  return { start, end, groups, separators };
}

const SEPARATORS = ".,' ٫٬\u00a0";

/** True when the separator at `at` continues the number begun by `groups`. */
function joins(
  text: string,
  at: number,
  groups: readonly string[],
  separators: readonly string[],
  habits: Habits,
): boolean {
  const separator = text.charAt(at);
  if (separator === "." || separator === "," || separator === "٫" || separator === "٬") return true;
  const previous = separators.at(-1);
  if (previous !== undefined && previous !== separator) return false;
  let next = at + 1;
  while (next < text.length && next - at <= 4 && isDigit(text.charCodeAt(next))) next++;
  if (next - at - 1 !== 3 || (groups[0]?.length ?? 0) > 3) return false;
  if (separator === " " && separators.length === 0 && endsDateOrTime(text, at - (groups[0]?.length ?? 0))) return false;
  return separator !== " " || habits.group === null || habits.group === "\u00a0";
}

/** "2025-03-12 711 kr", "10:30 711 kr": the number before the space closes a date or a time. */
function endsDateOrTime(text: string, start: number): boolean {
  return /\d[-/.]\d{1,2}[-/.]$|\d:$/.test(text.slice(Math.max(0, start - 6), start));
}

/** Reads one number as money: its value, and the currency beside it. */
function readOne(text: string, token: NumberToken, taken: number, habits: Habits): MoneyRead | null {
  if (isGlued(text, token.start) || endsDateOrTime(text, token.start)) return null;
  const tail = inside(text, token, habits) ?? { end: token.end, decimals: null, currency: null };
  const numberEnd = tail.currency === null ? skipDashDecimals(text, token.end) : tail.end;
  const before = tail.currency === null ? signBefore(text, token.start, taken, habits) : null;
  const follows = tail.currency === null ? signAfter(text, numberEnd, habits) : null;
  // "$40$36": a sign that hugs the next number is its own when this number has one before it.
  const after = follows !== null && before !== null && startsNumber(text, follows.at) ? null : follows;
  const sign = choose(before, after) ?? (tail.currency === null ? null : { ...tail.currency, at: tail.end });
  const isDashed = numberEnd > token.end;
  if (sign === null && !habits.bare && !isDashed) return null;
  if (/^ ?%/.test(text.slice(token.end, token.end + 2))) return null;
  const currency = sign?.currency ?? (isDashed ? (habits.hint ?? habits.regional) : null);
  if (currency === null && !habits.bare) return null;
  const value = interpret(token, tail.decimals, currency ?? habits.hint, habits);
  if (value === null) return null;
  const start = before?.at ?? token.start;
  return {
    amount: padded(value.amount, currency ?? habits.hint),
    currency,
    currencyCertain: sign?.certain ?? false,
    ambiguous: value.ambiguous,
    negative: isNegative(text, start) || isNegative(text, token.start),
    start,
    end: Math.max(numberEnd, after?.at ?? 0, tail.end),
  };
}

function startsNumber(text: string, at: number): boolean {
  return isDigit(text.charCodeAt(isSpace(text.charAt(at)) ? at + 1 : at));
}

/** The nearer of two signs; a code or certain sign outranks a shared one ("$19.90 CAD"). */
function choose(before: Sign | null, after: Sign | null): Sign | null {
  if (before === null || after === null) return before ?? after;
  return !before.certain && after.certain ? after : before;
}

/** A number stuck to Latin letters or to a hyphen after them is part of a word such as "PB-1840". */
function isGlued(text: string, start: number): boolean {
  let at = start - 1;
  if (at < 0) return false;
  if (text.charAt(at) === "-" || text.charAt(at) === "/" || text.charAt(at) === "_") at--;
  if (at === start - 2 && at < 0) return false;
  const unit = text.charCodeAt(at);
  const isLatin = (unit >= 65 && unit <= 90) || (unit >= 97 && unit <= 122);
  if (!isLatin)
    return at === start - 1 && (text.charAt(at) === "." || text.charAt(at) === ",") && hasDigitBefore(text, at);
  return at === start - 2 || !endsWithSign(text, start);
}

function hasDigitBefore(text: string, at: number): boolean {
  return at > 0 && isDigit(text.charCodeAt(at - 1));
}

function endsWithSign(text: string, end: number): boolean {
  for (let length = 1; length <= LONGEST_SIGN && length <= end; length++) {
    const start = end - length;
    const piece = text.slice(start, end);
    if (!CURRENCY_SIGNS.has(piece) && !/^[A-Z]{3}$/.test(piece)) continue;
    if (start === 0 || !LETTER.test(text.charAt(start - 1))) return true;
  }
  return false;
}

/** "1234$50" and "19€90": the currency in the place of the decimal sign. */
function inside(
  text: string,
  token: NumberToken,
  habits: Habits,
): { end: number; decimals: string; currency: Sign } | null {
  const edge = text.charAt(token.end) === " " ? token.end + 1 : token.end;
  const sign = text.charAt(edge);
  if (sign !== "€" && !(sign === "$" && habits.insideDollar)) return null;
  if (token.separators.includes(",") && token.groups.at(-1)?.length !== 3) return null;
  const decimals = text.slice(edge + 1, edge + 3);
  let end = edge + 3;
  if (!/^\d\d$/.test(decimals) || isDigit(text.charCodeAt(end)) || /[.,]\d/.test(text.slice(end, end + 2))) return null;
  if (sign === "$" && text.startsWith("\u200b", end)) end++;
  const follows = sign === "$" ? signAfter(text, end, habits) : null;
  const own = { currency: sign === "€" ? "EUR" : "CVE", certain: true, at: end };
  return { end: follows?.at ?? end, decimals, currency: follows ?? own };
}

/** "19,-", "19.–", "19:-", "19,--": a dash in the place of no cents. */
function skipDashDecimals(text: string, end: number): number {
  const dash = /^ ?[.,:] ?(?:-{1,2}|–|—)(?![\d-])/.exec(text.slice(end, end + 5));
  return dash === null ? end : end + dash[0].length;
}

/** A currency found beside a number. `at` is its outer edge. */
interface Sign {
  readonly currency: string;
  readonly certain: boolean;
  readonly at: number;
}

const LETTER = /\p{L}/u;

/** The longest currency sign that ends where the number starts, not reaching back over `taken`. */
function signBefore(text: string, start: number, taken: number, habits: Habits): Sign | null {
  let edge = start;
  if (/[-+−]/.test(text.charAt(edge - 1))) edge--;
  for (let spaces = 0; spaces < 2 && isSpace(text.charAt(edge - 1)); spaces++) edge--;
  if (edge <= taken) return null;
  for (let length = Math.min(habits.longest, edge - taken); length > 0; length--) {
    const at = edge - length;
    if (at > 0 && isLetterAt(text, at) && isLetterAt(text, at - 1)) continue;
    const sign = currencyOf(text.slice(at, edge), habits);
    if (sign !== null) return { ...sign, at };
  }
  return null;
}

/** The longest currency sign that begins where the number ends. */
function signAfter(text: string, end: number, habits: Habits): Sign | null {
  let edge = end;
  for (let spaces = 0; spaces < 2 && isSpace(text.charAt(edge)); spaces++) edge++;
  for (let length = Math.min(habits.longest, text.length - edge); length > 0; length--) {
    const at = edge + length;
    if (isLetterAt(text, at - 1) && isLetterAt(text, at)) continue;
    const sign = currencyOf(text.slice(edge, at), habits);
    if (sign !== null) return isSignOfNext(text, at, length, habits) ? null : { ...sign, at };
  }
  return null;
}

/**
 * A sign between two numbers belongs to the next one when it hugs that and not this one ("10 $20"), or when the
 * language sets signs first and none follows the next number ("12.03. CHF 27.99").
 */
function isSignOfNext(text: string, at: number, length: number, habits: Habits): boolean {
  const isApart = isSpace(text.charAt(at - length - 1));
  if (isDigit(text.charCodeAt(at))) return isApart;
  if (habits.leads !== true || !isApart || !startsNumber(text, at)) return false;
  let end = at + 1;
  while (end < text.length && /[\d.,'’]/.test(text.charAt(end))) end++;
  return signAfter(text, end, { ...habits, leads: null }) === null;
}

function currencyOf(piece: string, habits: Habits): { currency: string; certain: boolean } | null {
  if (piece.length === 3 && /^[A-Z]{3}$/.test(piece)) {
    if (isBelievableCode(piece, habits.hint, habits.regional)) return { currency: piece, certain: true };
    if (habits.names === null) return null;
  }
  const sign = chooseCurrency(piece, habits.hint, habits.regional);
  if (sign !== null) return sign;
  const bare = piece.replace(/^(US|A|AU|C|CA|NZ|HK) \$$/, "$1$");
  if (bare !== piece) return chooseCurrency(bare, habits.hint, habits.regional);
  const named = habits.names?.get(piece.toLowerCase());
  const code = named?.find((one) => one === habits.hint) ?? named?.[0];
  return code === undefined ? null : { currency: code, certain: true };
}

/** Digit groups and separators as a decimal amount; null when they make no number ("12.05.2024"). */
function interpret(
  token: NumberToken,
  insideDecimals: string | null,
  currency: string | null,
  habits: Habits,
): { amount: string; ambiguous: boolean } | null {
  const { groups, separators } = token;
  const last = groups.at(-1) ?? "";
  const separator = separators.at(-1);
  if (insideDecimals !== null) return whole(groups, insideDecimals, false);
  if (separator === undefined) return whole(groups, "", false);
  const isPoint = separator === "." || separator === "," || separator === "٫";
  const isRepeated = separators.indexOf(separator) !== separators.length - 1;
  if (!isPoint || isRepeated) return whole(groups, "", false, separator);
  if (separators.length > 1 || separator === "٫") return whole(groups.slice(0, -1), last, false);
  if (last.length !== 3 || isZeroOrLong(groups[0] ?? "")) return whole(groups.slice(0, -1), last, false);
  return threeAfterOnePoint(groups, separator, currency, habits);
}

/** "1.234": grouping, unless the currency has three decimals or none is known; then the language decides. */
function threeAfterOnePoint(groups: readonly string[], separator: string, currency: string | null, habits: Habits) {
  const couldBeDecimals = currency === null || minorDigits(currency) >= 3;
  if (couldBeDecimals && habits.decimal === separator) return whole(groups.slice(0, -1), groups.at(-1) ?? "", false);
  const isUndecided = couldBeDecimals && habits.group !== separator;
  return whole(groups, "", isUndecided);
}

function isZeroOrLong(first: string): boolean {
  return first.length > 3 || first.startsWith("0");
}

function whole(groups: readonly string[], decimals: string, ambiguous: boolean, separator = ",") {
  if (groups.length > 1 && !areGroups(groups, separator)) return null;
  const digits = groups.join("").replace(/^0+(?=\d)/, "");
  if (digits.length > MAX_WHOLE_DIGITS || decimals.length > MAX_DECIMALS) return null;
  return { amount: decimals === "" ? digits : `${digits}.${decimals}`, ambiguous };
}

/** Groups by three, or by two before a last three (lakh and crore), or by four (East Asia). */
function areGroups(groups: readonly string[], separator: string): boolean {
  const [first = "", ...rest] = groups;
  const last = rest.at(-1) ?? "";
  const middle = rest.slice(0, -1);
  const by = (size: number) =>
    last.length === (size === 2 ? 3 : size) && middle.every((group) => group.length === size);
  if (by(3)) return first.length <= 3;
  if (separator === ".") return false;
  return (by(2) && first.length <= 2) || (by(4) && first.length <= 4 && rest.length > 1);
}

/** Pads to the minor digits of the currency and drops zeros beyond them. */
function padded(amount: string, currency: string | null): string {
  const digits = currency === null ? 2 : minorDigits(currency);
  const [wholePart = "0", decimals = ""] = amount.split(".");
  let kept = decimals.padEnd(digits, "0");
  while (kept.length > digits && kept.endsWith("0")) kept = kept.slice(0, -1);
  return kept === "" ? wholePart : `${wholePart}.${kept}`;
}

/** A minus that belongs to the number: stuck to it, or after a colon or bracket; other dashes only separate. */
function isNegative(text: string, start: number): boolean {
  const isApart = isSpace(text.charAt(start - 1));
  const at = isApart ? start - 2 : start - 1;
  if (text.charAt(at) !== "-") return false;
  const before = text.slice(0, at).trimEnd();
  if (isApart) return /[([:]$/.test(before);
  return !/[\d\p{Sc}\p{L}.,]$/u.test(before);
}

function isDigit(unit: number): boolean {
  return unit >= 48 && unit <= 57;
}

function isSpace(character: string): boolean {
  return character === " " || character === "\u00a0";
}

function isLetterAt(text: string, at: number): boolean {
  const unit = text.charCodeAt(at);
  if (Number.isNaN(unit) || unit < 65) return false;
  if (unit < 128) return (unit >= 65 && unit <= 90) || (unit >= 97 && unit <= 122);
  if (isUnspaced(unit)) return false;
  return LETTER.test(text.charAt(at));
}

/** Scripts that write words without spaces: a sign beside such a letter is still a sign of its own. */
function isUnspaced(unit: number): boolean {
  return (unit >= 0x3040 && unit <= 0x30ff) || (unit >= 0x3400 && unit <= 0x9fff) || (unit >= 0x0e00 && unit <= 0x0eff);
}

/** A text with digits, spaces and separators in one form, and the way back to the original places. */
interface FoldedMoney {
  readonly text: string;
  at(index: number): number;
}

/** Native and full-width digits to ASCII, space kinds to space or no-break space, invisible marks dropped. */
function foldForMoney(text: string): FoldedMoney {
  if (!NEEDS_FOLDING.test(text)) return { text, at: (index) => index };
  let folded = "";
  const places: number[] = [];
  let at = 0;
  for (const character of text) {
    const replacement = foldCharacter(character);
    for (let i = 0; i < replacement.length; i++) places.push(at);
    folded += replacement;
    at += character.length;
  }
  places.push(text.length);
  return { text: folded, at: (index) => endOf(places, index, text.length) };
}

function endOf(places: readonly number[], index: number, length: number): number {
  return places[Math.min(index, places.length - 1)] ?? length;
}

function foldCharacter(character: string): string {
  const unit = character.codePointAt(0) ?? 0;
  if (unit < 128) return character === "\t" || character === "\n" || character === "\r" ? " " : character;
  const simple = FOLDS.get(unit);
  if (simple !== undefined) return simple;
  if (HAS_DIGIT.test(character)) return String(digitValue(unit));
  if (unit >= 0xff01 && unit <= 0xff5e) return String.fromCharCode(unit - 0xfee0);
  return character;
}

const FOLDS: ReadonlyMap<number, string> = new Map<number, string>([
  ...[0xa0, 0x202f, 0x2007, 0x2009, 0x200a, 0x2008, 0x2002, 0x2003, 0x3000].map((unit): [number, string] => [
    unit,
    "\u00a0",
  ]),
  ...[0x200e, 0x200f, 0x061c, 0x2066, 0x2067, 0x2068, 0x2069, 0x202a, 0x202b, 0x202c, 0x00ad, 0x2060, 0xfeff].map(
    (unit): [number, string] => [unit, ""],
  ),
  ...[0x2019, 0x2018, 0x02bc, 0x00b4, 0xff07].map((unit): [number, string] => [unit, "'"]),
  [0x2212, "-"],
  [0xfe63, "-"],
  [0xff0d, "-"],
  [0xffe5, "¥"],
  [0xffe0, "¢"],
  [0xffe1, "£"],
  [0xffe6, "₩"],
  [0xff0e, "."],
  [0xff0c, ","],
  [0x060c, ","],
  [0x2e41, ","],
  [0x066a, "%"],
]);

/** The value of a decimal digit of any script: such digits stand in unbroken tens. */
function digitValue(codePoint: number): number {
  let runStart = codePoint;
  while (runStart > 0 && codePoint - runStart < 60 && HAS_DIGIT.test(String.fromCodePoint(runStart - 1))) runStart--;
  return (codePoint - runStart) % 10;
}
