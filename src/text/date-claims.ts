/**
 * The dates that a listing states: years, ranges, months, ISO weeks, "from", "until", "and later".
 *
 *   tokens ─▶ atoms (one year, month, week or day) ─▶ joined to ranges ─▶ opened by words before or after
 *
 * Words are data (`rules/number-formats/words-*.json`). Whether a date is the device's is only guessed from the words
 * beside it; the caller decides what it amounts to.
 */
import type { NumberFormatRule } from "../formats/number-format-rule.ts";
import { type DateInterval, dayNumber, daysInMonth, intervalOfDateText, isoWeek, yearInterval } from "./dates.ts";
import { plainWord } from "./plain-word.ts";
import { isYearLike, kindOfToken, type Token, tokenise } from "./tokens.ts";

/** One date or range that a text states. */
export interface DateClaim {
  readonly interval: DateInterval;
  /** Half-open range of the folded text, words such as "from" included. */
  readonly span: readonly [start: number, end: number];
  /** How fine the statement is. */
  readonly grain: "day" | "week" | "month" | "season" | "year";
  /** True where a word marks it as a date ("built", "ab", "week", a month); false for a bare year. */
  readonly marked: boolean;
  /** False where the words beside it give it to something else: fresh cells, a warranty, a standard. */
  readonly ofDevice: boolean;
}

type DateWord = "from" | "until" | "after" | "before" | "later" | "earlier" | "through";
type OtherWord = "early" | "mid" | "late" | "firstHalf" | "secondHalf" | "week" | "year" | "notTheDevice";

/** The words of {@link readDateClaims}, prepared once: phrases of one to three lower-case words. */
export interface DateRules {
  readonly phrases: Readonly<Record<DateWord | OtherWord, ReadonlySet<string>>>;
  readonly months: ReadonlyMap<string, number>;
  /** Words that a date may begin with: months and the first words for parts of a year and weeks. */
  readonly beginnings: ReadonlySet<string>;
}

/** Most dates read from one text. With so many found, more may stand there. */
export const MAX_DATES = 100;
const MAX_PHRASE_WORDS = 3;
/** How many words on each side may say that a date is not the device's. */
const NEAR = 3;
const WORDS: readonly (DateWord | OtherWord)[] = [
  ...(["from", "until", "after", "before", "later", "earlier", "through"] as const),
  ...(["early", "mid", "late", "firstHalf", "secondHalf", "week", "year", "notTheDevice"] as const),
];
/** Years that one device of a kind is built in at most, where "04/21" may be a month or a range. Our choice. */
const MAX_YEARS = 6;
/** First and last month that "early", "mid" and "late" in a year may mean: our choice, generous, overlapping. */
const SEASONS = { early: [1, 5], mid: [4, 9], late: [8, 12], firstHalf: [1, 6], secondHalf: [7, 12] } as const;
const SEASON_WORDS = ["early", "mid", "late", "firstHalf", "secondHalf"] as const;

/** Prepares the words of all languages. */
export function prepareDateRules(formats: readonly NumberFormatRule[]): DateRules {
  const sets = Object.fromEntries(WORDS.map((name) => [name, new Set<string>()])) as Record<
    DateWord | OtherWord,
    Set<string>
  >;
  const months = new Map<string, number>();
  for (const rule of formats) {
    if (rule.kind !== "words") continue;
    for (const name of WORDS) for (const phrase of rule.dates[name]) sets[name].add(phraseOf(tokenise(phrase)));
    for (const [i, names] of rule.dates.months.entries()) for (const name of names) months.set(plainWord(name), i + 1);
  }
  const first = (phrase: string) => phrase.split(" ", 1)[0] ?? phrase;
  const phrases = [...SEASON_WORDS, "week" as const].flatMap((name) => [...sets[name]].map(first));
  return { phrases: sets, months, beginnings: new Set([...months.keys(), ...phrases]) };
}

/**
 * Reads every date that a folded text states, in order.
 *
 * @param taken half-open ranges that are something else (part numbers, quantities): no date starts in them
 * @param tokens of the same text, where the caller has them
 */
export function readDateClaims(
  text: string,
  rules: DateRules,
  taken: readonly (readonly [start: number, end: number])[] = [],
  tokens: readonly Token[] = tokenise(text),
): DateClaim[] {
  const reader: Reader = { text, rules, tokens: parted(tokens, rules) };
  const claims: DateClaim[] = [];
  let i = 0;
  while (i < reader.tokens.length && claims.length < MAX_DATES) {
    const read = mayBegin(reader, i, taken) ? claimAt(reader, i) : null;
    if (read !== null) claims.push(read.claim);
    i = read?.next ?? i + 1;
  }
  return claims;
}

function mayBegin(reader: Reader, i: number, taken: readonly (readonly [start: number, end: number])[]): boolean {
  const token = reader.tokens[i];
  if (token === undefined) return false;
  if (token.kind === "letters" && !reader.rules.beginnings.has(plainWord(token.text))) return false;
  const [from] = taken.find(([from, to]) => token.start >= from && token.start < to) ?? [];
  // "Marlow 8 KW 14/21": the week's mark was read as the unit of the number before it.
  return from === undefined || (from < token.start && token.kind === "letters" && weekAt(reader, i) !== null);
}

/** "MY2021", "Bj21", "2021er" parted into the word and its digits. */
function parted(tokens: readonly Token[], { phrases }: DateRules): readonly Token[] {
  if (!tokens.some(({ kind }) => kind === "mixed")) return tokens;
  return tokens.flatMap((token) => {
    const match = token.kind === "mixed" ? WORD_AND_DIGITS.exec(token.text) : null;
    const word = match?.[1] ?? "";
    if (match === null || (word !== "" && !phrases.year.has(plainWord(word)))) return [token];
    const cut = token.start + (word === "" ? 4 : word.length);
    const piece = (text: string, start: number, end: number, gap: string): Token => ({
      ...{ text, start, end, gap },
      kind: kindOfToken(text),
    });
    const [head, tail] = [token.text.slice(0, cut - token.start), token.text.slice(cut - token.start)];
    return [piece(head, token.start, cut, ""), piece(tail, cut, token.end, token.gap)];
  });
}

const WORD_AND_DIGITS = /^(?:(\p{L}{2,8})(?:\d{4}|\d{2})|(?:19|20)\d{2}er)$/u;

interface Reader {
  readonly text: string;
  readonly rules: DateRules;
  readonly tokens: readonly Token[];
}

/** One date, the tokens it covers, and how it was marked. */
interface Atom {
  readonly interval: DateInterval;
  readonly first: number;
  /** One after its last token. */
  readonly next: number;
  readonly grain: DateClaim["grain"];
  readonly marked: boolean;
}

function claimAt(reader: Reader, i: number): { claim: DateClaim; next: number } | null {
  const atom = shortRange(reader, i) ?? atomAt(reader, i);
  if (atom === null) return null;
  const range = rangeFrom(reader, atom);
  const before = wordBefore(reader, atom.first);
  const after = wordAfter(reader, range.next);
  const sign = signBefore(reader, atom.first);
  const opened = range === atom ? open(atom.interval, before?.word ?? after?.word ?? sign) : range.interval;
  const next = after?.next ?? range.next;
  const start = reader.tokens[before?.first ?? atom.first]?.start ?? 0;
  const behind = reader.text.slice(reader.tokens[range.next - 1]?.end ?? 0);
  const plus = after === null && range === atom && /^\+(?![\p{L}\p{N}])/u.test(behind.slice(0, 3));
  const end = (reader.tokens[next - 1]?.end ?? start) + (plus ? 1 : 0);
  const claim: DateClaim = {
    interval: plus ? { from: opened.from, to: null } : opened,
    span: [start, end],
    grain: atom.grain,
    marked:
      plus ||
      range !== atom ||
      atom.marked ||
      before !== null ||
      after !== null ||
      sign !== null ||
      yearBefore(reader, atom.first) > 0,
    ofDevice: isOfDevice(reader, before?.first ?? atom.first, next),
  };
  return { claim, next };
}

/** A year, month, week, day or part of a year that starts at token `i`. */
function atomAt(reader: Reader, i: number): Atom | null {
  const token = reader.tokens[i];
  if (token === undefined || !(startsFreely(reader.text, token.start) || isLed(reader, i))) return null;
  const found =
    weekAt(reader, i) ??
    seasonAt(reader, i) ??
    quarterAt(reader, i) ??
    monthNameAt(reader, i) ??
    monthInFieldAt(reader, i) ??
    numericAt(reader, i) ??
    yearAt(reader, i);
  return found !== null && endsFreely(reader, found.next) ? found : null;
}

/** "KW 14/2021", "week 14 2021", "W14/21", "2021-W14", "2021 week 14", "2021W14". */
function weekAt(reader: Reader, i: number): Atom | null {
  const joined = /^(\d{4})w(\d{2})$/i.exec(reader.tokens[i]?.text ?? "");
  if (joined !== null) return week(i, i + 1, Number(joined[1]), Number(joined[2]));
  const year = fourDigits(reader, i);
  const yearFirst = year !== null && /^[ /-]$/.test(reader.tokens[i]?.gap ?? "");
  if (year !== null && !yearFirst) return null;
  const led = yearFirst ? weekNumber(reader, i + 1) : weekNumber(reader, i);
  if (led === null) return null;
  if (year !== null) return week(i, led.next, year, led.week);
  const gap = reader.tokens[led.next - 1]?.gap ?? "";
  const long = fourDigits(reader, led.next);
  if (long !== null && /^(?: ?[-/.,] ?| )$/.test(gap)) return week(i, led.next + 1, long, led.week);
  const short =
    /^ ?[/-] ?$/.test(gap) || (gap === " " && endsClause(reader, led.next)) ? twoDigits(reader, led.next) : null;
  if (short !== null) return week(i, led.next + 1, short, led.week);
  const of = fourDigits(reader, led.next + 1);
  return of !== null && (reader.tokens[led.next]?.text.length ?? 9) <= 3 && gap === " "
    ? week(i, led.next + 2, of, led.week)
    : null;
}

/** Nothing that the digits at a token could be the beginning of follows them. */
function endsClause(reader: Reader, i: number): boolean {
  return i + 1 >= reader.tokens.length || /[,;.|)\]\n]/.test(reader.tokens[i]?.gap ?? "");
}

function week(first: number, next: number, year: number, number: number): Atom | null {
  const interval = isoWeek(year, number);
  return interval === null ? null : { interval, first, next, grain: "week", marked: true };
}

/** A week number with its mark: "KW 14", "KW14", "W14", "week 14". */
function weekNumber(reader: Reader, i: number): { week: number; next: number } | null {
  const glued = /^(w|\p{L}{2,8})(\d{1,2})$/iu.exec(reader.tokens[i]?.text ?? "");
  const mark = glued?.[1]?.toLowerCase() ?? "";
  if (glued !== null && (mark === "w" || reader.rules.phrases.week.has(mark)))
    return { week: Number(glued[2]), next: i + 1 };
  const behind = /^\d{1,2}$/.test(reader.tokens[i]?.text ?? "") && /^(?:\. ?| )$/.test(reader.tokens[i]?.gap ?? "");
  if (behind && has(reader, "week", i + 1, 1)) return { week: Number(reader.tokens[i]?.text), next: i + 2 };
  if (!has(reader, "week", i, 1) || !/^[ .:-]{0,2}$/.test(reader.tokens[i]?.gap ?? "")) return null;
  const number = reader.tokens[i + 1]?.text ?? "";
  return /^\d{1,2}$/.test(number) ? { week: Number(number), next: i + 2 } : null;
}

/** "early 2021", "Mitte 2021", "mediados de 2021". */
function seasonAt(reader: Reader, i: number): Atom | null {
  for (const name of SEASON_WORDS) {
    const words = phraseLength(reader, name, i);
    const year = words === 0 ? null : fourDigits(reader, i + words);
    if (year === null) continue;
    const [first, last] = SEASONS[name];
    return { interval: monthsOf(year, first, last), first: i, next: i + words + 1, grain: "season", marked: true };
  }
  return null;
}

/** "Q4 2020", "H2/2020", "2020-Q1". */
function quarterAt(reader: Reader, i: number): Atom | null {
  const year = fourDigits(reader, i);
  const at = year === null ? i : i + 1;
  const [, letter = "", digit = ""] = /^([QH])([1-4])$/i.exec(reader.tokens[at]?.text ?? "") ?? [];
  const other = year ?? fourDigits(reader, i + 1);
  if (letter === "" || other === null || !/^ ?[-/.]? ?$/.test(reader.tokens[i]?.gap ?? "")) return null;
  const months = letter.toUpperCase() === "Q" ? 3 : 6;
  const last = Number(digit) * months;
  if (last > 12) return null;
  return { interval: monthsOf(other, last - months + 1, last), first: i, next: i + 2, grain: "season", marked: true };
}

/** "built 04/21": a month where the two would make a range of too many years. */
function monthInFieldAt(reader: Reader, i: number): Atom | null {
  const [month, year] = [Number(reader.tokens[i]?.text), twoDigits(reader, i + 1)];
  if (twoDigits(reader, i) === null || year === null || !(month >= 1 && month <= 12)) return null;
  if (!/^[-/.]$/.test(reader.tokens[i]?.gap ?? "") || yearBefore(reader, i) === 0) return null;
  if (year >= 2000 + month && year - (2000 + month) <= MAX_YEARS) return null;
  return { interval: monthsOf(year, month, month), first: i, next: i + 2, grain: "month", marked: true };
}

/** "May 2021", "Mai '21" is none: a month's name with a year of four digits, in either order. */
function monthNameAt(reader: Reader, i: number): Atom | null {
  const name = (at: number) => reader.rules.months.get(plainWord(reader.tokens[at]?.text ?? ""));
  const led = name(i);
  if (led !== undefined) {
    const of = fourDigits(reader, i + 2);
    if (of !== null && /^(?:de|del|of)$/i.test(reader.tokens[i + 1]?.text ?? ""))
      return { interval: monthsOf(of, led, led), first: i, next: i + 3, grain: "month", marked: true };
    const short = reader.tokens[i]?.gap === "-" || yearBefore(reader, i) > 0 ? twoDigits(reader, i + 1) : null;
    if (short !== null && /^[ -]$/.test(reader.tokens[i]?.gap ?? ""))
      return { interval: monthsOf(short, led, led), first: i, next: i + 2, grain: "month", marked: true };
  }
  const year = led === undefined ? fourDigits(reader, i) : fourDigits(reader, i + 1);
  const month = led ?? name(i + 1);
  if (
    year === null ||
    month === undefined ||
    !(led === undefined ? /^[ -]$/ : /^[ .,/-]{1,2}$/).test(reader.tokens[i]?.gap ?? "")
  )
    return null;
  return { interval: monthsOf(year, month, month), first: i, next: i + 2, grain: "month", marked: true };
}

/** "2021-05-17", "2021-05", "05/2021", "17.05.2021". */
function numericAt(reader: Reader, i: number): Atom | null {
  const [a, b, c] = [reader.tokens[i], reader.tokens[i + 1], reader.tokens[i + 2]];
  if (a === undefined || b === undefined || !/^[-/.]$/.test(a.gap)) return null;
  const three = c !== undefined && b.gap === a.gap;
  if (three) {
    const day =
      intervalOfDateText(`${a.text}-${b.text}-${c.text}`) ?? intervalOfDateText(`${c.text}-${b.text}-${a.text}`);
    if (day !== null) return { interval: day, first: i, next: i + 3, grain: "day", marked: true };
  }
  // "2010-12" may be a month or the range 2010 to 2012: left to the range, which holds both.
  const yearFirst = isYearLike(a.text) && 2000 + Number(b.text) <= Number(a.text);
  const text = yearFirst ? `${a.text}-${b.text}` : `${b.text}-${a.text.padStart(2, "0")}`;
  const month = yearFirst || (isYearLike(b.text) && a.text.length <= 2) ? intervalOfDateText(text) : null;
  return month === null ? null : { interval: month, first: i, next: i + 2, grain: "month", marked: true };
}

/** A bare year of four digits, or of two behind an apostrophe or a word for year. */
function yearAt(reader: Reader, i: number): Atom | null {
  const token = reader.tokens[i];
  const apostrophe = reader.text[(token?.start ?? 0) - 1] === "'";
  const year = fourDigits(reader, i) ?? (apostrophe || yearBefore(reader, i) > 0 ? twoDigits(reader, i) : null);
  if (year === null) return null;
  return { interval: yearInterval(year), first: i, next: i + 1, grain: "year", marked: apostrophe };
}

/** "19/20", "19-21" behind a word for year. */
function shortRange(reader: Reader, i: number): Atom | null {
  const from = twoDigits(reader, i);
  const to = twoDigits(reader, i + 1);
  if (from === null || to === null || to < from || to - from > MAX_YEARS || yearBefore(reader, i) === 0) return null;
  if (!/^ ?[-/] ?$/.test(reader.tokens[i]?.gap ?? "")) return null;
  const interval = { from: yearInterval(from).from, to: yearInterval(to).to };
  return { interval, first: i, next: i + 2, grain: "year", marked: true };
}

/** The range that an atom begins: "2019-2021", "2019 to 2021", "2019-21"; the atom itself where none does. */
function rangeFrom(reader: Reader, atom: Atom): Atom {
  const gap = reader.tokens[atom.next - 1]?.gap ?? "";
  const short = gap === "-" && atom.grain === "year" ? twoDigits(reader, atom.next) : null;
  const year = short === null ? null : yearInterval(short);
  if (year !== null && ordered(atom.interval, year))
    return joined(atom, { ...atom, interval: year, next: atom.next + 1 });
  if (/^ ?- ?$/.test(gap)) return joinedWith(reader, atom, atom.next);
  if (!/^ +$/.test(gap)) return atom;
  const through = Math.max(phraseLength(reader, "through", atom.next), phraseLength(reader, "until", atom.next));
  return through === 0 ? atom : joinedWith(reader, atom, atom.next + through);
}

function joinedWith(reader: Reader, atom: Atom, at: number): Atom {
  const start = at + yearWordsAt(reader, at);
  const end =
    weekAt(reader, start) ??
    seasonAt(reader, start) ??
    monthNameAt(reader, start) ??
    numericAt(reader, start) ??
    yearAt(reader, start);
  return end !== null && ordered(atom.interval, end.interval) ? joined(atom, end) : atom;
}

function joined(first: Atom, last: Atom): Atom {
  return { ...first, interval: { from: first.interval.from, to: last.interval.to }, next: last.next };
}

function ordered(a: DateInterval, b: DateInterval): boolean {
  return a.from !== null && b.from !== null && a.from <= b.from;
}

/** Opens a date to one side, as the word beside it says. */
function open({ from, to }: DateInterval, word: DateWord | null): DateInterval {
  if (word === "from" || word === "later") return { from, to: null };
  if (word === "until" || word === "earlier") return { from: null, to };
  if (word === "after") return { from: to === null ? null : to + 1, to: null };
  if (word === "before") return { from: null, to: from === null ? null : from - 1 };
  return { from, to };
}

const SIGNS: Readonly<Record<string, DateWord>> = {
  "<": "before",
  ">": "after",
  "<=": "until",
  ">=": "from",
  "≤": "until",
  "≥": "from",
};

/** "<2020", ">= 2021". */
function signBefore(reader: Reader, first: number): DateWord | null {
  const start = reader.tokens[first]?.start ?? 0;
  const sign = /(?:^|[^-<>=])([<>≤≥]=?) ?$/.exec(reader.text.slice(Math.max(0, start - 4), start))?.[1] ?? "";
  return Object.hasOwn(SIGNS, sign) ? (SIGNS[sign] ?? null) : null;
}

/** The word that opens a date from the front, a word for year between them or not: "ab Bj. 2021". */
function wordBefore(reader: Reader, first: number): { word: DateWord; first: number } | null {
  const at = first - yearBefore(reader, first);
  for (let words = MAX_PHRASE_WORDS; words > 0; words--) {
    for (const word of ["from", "until", "after", "before"] as const) {
      if (has(reader, word, at - words, words) && !/[;\n]/.test(reader.tokens[at - 1]?.gap ?? ""))
        return { word, first: at - words };
    }
  }
  return null;
}

/** The words that open a date from behind: "2021 and later". */
function wordAfter(reader: Reader, next: number): { word: DateWord; next: number } | null {
  for (const word of ["later", "earlier"] as const) {
    const words = phraseLength(reader, word, next);
    if (words > 0) return { word, next: next + words };
  }
  return null;
}

/** How many tokens before `i` are a word for year ("Bj.", "model year"); 0 for none. */
function yearBefore(reader: Reader, i: number): number {
  for (let words = MAX_PHRASE_WORDS; words > 0; words--) if (has(reader, "year", i - words, words)) return words;
  return 0;
}

function yearWordsAt(reader: Reader, i: number): number {
  return phraseLength(reader, "year", i);
}

/** False where a word beside the date gives it to something else, or a standard's number stands before it. */
function isOfDevice(reader: Reader, first: number, next: number): boolean {
  const start = reader.tokens[first]?.start ?? 0;
  if (/\d:$/.test(reader.text.slice(Math.max(0, start - 2), start))) return false;
  for (let i = first - 1; i >= Math.max(0, first - NEAR); i--) {
    if (/[,;.|()\n]/.test(reader.tokens[i]?.gap ?? "")) break;
    if (phraseLength(reader, "notTheDevice", i) > 0) return false;
  }
  for (let i = next; i < next + NEAR; i++) {
    if (/[,;.|()\n]/.test(reader.tokens[i - 1]?.gap ?? "")) break;
    if (phraseLength(reader, "notTheDevice", i) > 0) return false;
  }
  return true;
}

/** How many tokens from `i` on make a phrase of the kind, the longest one; 0 for none. */
function phraseLength(reader: Reader, kind: DateWord | OtherWord, i: number): number {
  for (let words = MAX_PHRASE_WORDS; words > 0; words--) if (has(reader, kind, i, words)) return words;
  return 0;
}

function has(reader: Reader, kind: DateWord | OtherWord, i: number, words: number): boolean {
  if (i < 0 || i + words > reader.tokens.length || reader.tokens[i]?.kind === "digits") return false;
  return reader.rules.phrases[kind].has(phraseOf(reader.tokens.slice(i, i + words)));
}

function phraseOf(tokens: readonly Token[]): string {
  return tokens.map((token) => plainWord(token.text)).join(" ");
}

function fourDigits(reader: Reader, i: number): number | null {
  const text = reader.tokens[i]?.text ?? "";
  return isYearLike(text) ? Number(text) : null;
}

/** Two digits as a year: 80 to 99 of the last century, 00 to 39 of this one. */
function twoDigits(reader: Reader, i: number): number | null {
  const text = reader.tokens[i]?.text ?? "";
  if (!/^\d{2}$/.test(text)) return null;
  const year = Number(text);
  return year >= 80 ? 1900 + year : year < 40 ? 2000 + year : null;
}

function monthsOf(year: number, first: number, last: number): DateInterval {
  return { from: dayNumber(year, first, 1), to: dayNumber(year, last, daysInMonth(year, last)) };
}

/** "Bj.21", "pre-2020": tied to a word of dates. */
function isLed(reader: Reader, i: number): boolean {
  const gap = reader.tokens[i - 1]?.gap ?? "";
  if (gap === "." || gap === "") return yearBefore(reader, i) > 0;
  return gap === "-" && (has(reader, "before", i - 1, 1) || has(reader, "after", i - 1, 1));
}

/** Not glued to a longer code: "PB-2021", "x2021", "1.2021" begin no date. */
function startsFreely(text: string, start: number): boolean {
  return !/[\p{L}\p{N}][-._]$|[-_#]$/u.test(text.slice(Math.max(0, start - 2), start));
}

/** Nor is what follows glued to it: "2021-PB" is a code. */
function endsFreely(reader: Reader, next: number): boolean {
  const last = reader.tokens[next - 1];
  const follower = reader.tokens[next];
  if (last === undefined || follower === undefined || !/^[-_]$/.test(last.gap)) return true;
  if (last.gap === "-" && /^>/.test(reader.text.slice(last.end + 1))) return true;
  return follower.kind === "digits" || weekNumber(reader, next) !== null || phraseLength(reader, "through", next) > 0;
}
