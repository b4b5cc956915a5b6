/**
 * A field's tokens read as items: numbers, quantities, dates, phrases, plain words. Every token belongs to one item.
 *
 *   tokens ─▶ known numbers (exact, joined, glued, "1840/1840R") ─▶ quantities, dates ─▶ phrases ─▶ unknown numbers
 */
import type { DateInterval } from "../text/dates.ts";
import { isOtherNumber, type OtherNumberRules } from "../text/other-numbers.ts";
import { canonicalNumber } from "../text/part-number.ts";
import type { StatedQuantity } from "../text/quantities.ts";
import { isGtin, isYearLike, looksLikePartNumber, type Token } from "../text/tokens.ts";
import { doubts, type Field, stopsBehind } from "./fields.ts";
import type { Found, Meaning } from "./lexicon.ts";
import { type KnownNumbers, MAKER_KIND, type Named, TYPE_KIND, type Wording } from "./vocabulary.ts";

/** A date that a text states, as an interval of days. */
export interface StatedDate {
  readonly interval: DateInterval;
  /** Half-open range of the folded text. */
  readonly span: readonly [start: number, end: number];
  /** True where the text says that it is not the device's: warranty, fresh cells, founded. */
  readonly notTheDevice: boolean;
  /** True where a word or a range makes it a date of devices; false for a bare year. */
  readonly told: boolean;
  /** True where it is a single day, so that its digits can be those of a number. */
  readonly isDay: boolean;
}

/** A number that a text names. */
export interface NumberItem {
  readonly type: "number";
  /** Canonical. */
  readonly number: string;
  /** What it is known as; null for a number that nobody knows. */
  readonly named: Named | null;
  /** For an unknown number: true where a cue word, its shape or its neighbours make it a part number for certain. */
  readonly certain: boolean;
  /** True where what a person sees is in doubt. */
  readonly doubtful: boolean;
}

/** One piece of a text. */
export type Item = { readonly first: number; readonly last: number } & (
  | NumberItem
  | { readonly type: "quantity"; readonly quantities: readonly StatedQuantity[] }
  | { readonly type: "date"; readonly date: StatedDate }
  | { readonly type: "phrase"; readonly meanings: readonly Meaning[] }
  | { readonly type: "word" }
);

/** What {@link readItems} needs besides the field. */
export interface ItemSources {
  readonly wording: Wording;
  readonly known: KnownNumbers;
  readonly quantities: readonly StatedQuantity[];
  readonly dates: readonly StatedDate[];
  /** Words that make bare digits something else; none where no numbers are read. */
  readonly otherNumbers?: OtherNumberRules;
  /** Reads the quantity that starts at a token anew, where a number before it took a part of it. */
  quantityAt?(token: number): readonly StatedQuantity[];
}

/** How many tokens one number may be split into; letters and digits spelt out one by one are one more each. */
const MAX_JOINED = 5;
const MAX_SPELT = 24;
const MIN_SPELT = 5;
/** Most small l's of a number that are tried as both L and 1. */
const MAX_SMALL_L = 3;
const ASCII = /^[\n\x20-\x7e\u00b7]*$/;
/** Longest number as written. */
const MAX_NUMBER_CHARS = 60;
/** How many tokens an unknown number may be tied together of. */
const MAX_TIED = 8;
/** What may stand inside a number that is written apart. */
const JOINT = /^(?: ?(?:[-_.·:~+=']{1,2}|\/) ?| |-?\n)$/;
/** What ties two tokens into one number however unknown. */
const TIE = /^[-_./]$/;
/** "NRB-C9X": a number though one digit only is in it. */
const SINGLE_DIGIT = /^[A-Z]{3,}[-_][A-Z]*\d[A-Z]+$/;
/** Several quantities run together, such as 24V5A. */
const QUANTITIES_ONLY = /^(?:\d{1,5}(?:V|A|W|AH|MAH|WH|HZ|MM|GB)){2,4}$/;

/** How many items a pair of numbers and the word for the part may take. */
const PAIR_REACH = 8;
/** What stands between the numbers of "not 1987 but 1988". */
const BETWEEN_NUMBERS = new Set(["not", "against", "but", "asserts", "only", "sent", "filler", "instead"]);

/** Reads a field's tokens as items, in order. */
export function readItems(field: Field, sources: ItemSources): Item[] {
  return new ItemReader(field, sources).read();
}

class ItemReader {
  readonly #field: Field;
  readonly #text: string;
  readonly #tokens: readonly Token[];
  readonly #sources: ItemSources;
  readonly #items: Item[] = [];
  readonly #allCapitals: boolean;
  #quantityAt = 0;
  #dateAt = 0;

  constructor(field: Field, sources: ItemSources) {
    this.#field = field;
    this.#text = field.folded.text;
    this.#tokens = field.tokens;
    this.#sources = sources;
    this.#allCapitals = this.#text === this.#text.toUpperCase();
  }

  read(): Item[] {
    for (let i = 0; i < this.#tokens.length; ) {
      const items = this.#readAt(i);
      this.#items.push(...items);
      i = items.at(-1)?.last ?? i + 1;
    }
    return this.#items;
  }

  #readAt(i: number): Item[] {
    const known = this.#knownAt(i) ?? this.#toldAt(i);
    if (known !== null) return [known];
    const measured = this.#measuredAt(i);
    if (measured !== null) return [measured];
    const continued = this.#continuedAt(i);
    if (continued !== null) return [continued];
    const token = this.#tokens[i];
    const phrase = this.#phraseAt(i);
    if (phrase !== null && !(token?.kind === "letters" && this.#isPrefix(i))) return [phrase];

    return [this.#unknownAt(i) ?? phrase ?? { type: "word", first: i, last: i + 1 }];
  }

  /** The longest known number that starts at a token and is not part of a longer unknown one. */
  #knownAt(i: number): Item | null {
    if (!this.#mayBegin(i)) return null;
    let found: { named: Named; last: number } | null = null;
    let digits = false;
    let pieces = 0;
    let length = 0;
    const longest = this.#sources.known.longest();
    for (let last = i + 1; last <= Math.min(i + MAX_SPELT, this.#tokens.length); last++) {
      if (last > i + 1 && !JOINT.test(this.#gap(last - 2))) break;
      const spelt = this.#tokens[last - 1]?.text.length === 1 && this.#tokens[last - 2]?.text.length === 1;
      if (!spelt && ++pieces > MAX_JOINED) break;
      length += this.#tokens[last - 1]?.text.length ?? 0;
      if (length > longest) break;
      digits ||= this.#tokens[last - 1]?.kind !== "letters";
      const named = this.#look(i, last, digits);
      if (named === null || !this.#mayJoin(i, last, named.number)) continue;
      if (found === null || !this.#isSmallWord(last - 1)) found = { named, last };
    }
    if (found === null) return null;
    const { named, last } = found;
    if (!this.#inContext(i, last, named) || this.#isOverlapped(i, last, named)) return null;
    const [first, end] = this.#extent(i, last, named.part);
    if (first < i || end > last) {
      const number = canonicalNumber(this.#written(i, end));
      if (first < i) return null;
      return { type: "number", first: i, last: end, number, named: null, certain: true, doubtful: this.#doubt(i, end) };
    }
    return {
      type: "number",
      first: i,
      last,
      number: named.number,
      named,
      certain: true,
      doubtful: this.#doubt(i, last),
    };
  }

  /** "Isenholt Ravel 2": the maker's "Isenholt Ravel" is another one than the "Ravel 2" that begins inside of it. */
  #isOverlapped(first: number, last: number, { number, part }: Named): boolean {
    if (part || /\d/.test(number)) return false;
    for (let i = first + 1; i < last; i++) {
      for (let end = last + 1; end <= Math.min(last + 2, this.#tokens.length); end++) {
        if (!JOINT.test(this.#gap(end - 2))) break;
        if (this.#look(i, end, true)?.model === true) return true;
      }
    }
    return false;
  }

  /** "PB-2240 a bit worn": a small vowel behind a space is a word, where the number is known without it. */
  #isSmallWord(i: number): boolean {
    return this.#gap(i - 1) === " " && /^[aeiouy]$/.test(this.#tokens[i]?.text ?? "");
  }

  #mayBegin(i: number): boolean {
    return this.#sources.known.mayBegin(this.#text, this.#tokens[i]?.start ?? 0);
  }

  #look(first: number, last: number, digits: boolean): Named | null {
    const { known } = this.#sources;
    const written = this.#written(first, last);
    if (written.length > MAX_NUMBER_CHARS) return null;
    // Folding every word with an accent again, to find that it is no number, would be wasted.
    if (!known.odd && !ASCII.test(written)) return null;
    const canonical = canonicalNumber(written);
    if (!digits && !known.hasLetters(canonical)) return null;
    return known.look(canonical, written) ?? (written.includes("l") ? this.#lookSmallL(written) : null);
  }

  /** "qc55l8l": each small l may be a 1 or an L; where only one known number comes of it, that is meant. */
  #lookSmallL(written: string): Named | null {
    const places = [...written].flatMap((letter, i) => (letter === "l" ? [i] : []));
    if (places.length > MAX_SMALL_L) return null;
    const found = new Map<string, Named>();
    for (let mask = 1; mask < 2 ** places.length; mask++) {
      const letters = [...written];
      for (const [bit, place] of places.entries()) if (mask & (1 << bit)) letters[place] = "L";
      const spelled = letters.join("");
      const named = this.#sources.known.look(canonicalNumber(spelled.replaceAll("l", "1")), spelled);
      if (named !== null) found.set(named.number, named);
    }
    const [only] = found.values();
    return found.size === 1 && only !== undefined ? only : null;
  }

  /** Digits right behind a word for part numbers ("codice ricambio 1996") are one, whatever they look like. */
  #toldAt(i: number): Item | null {
    const token = this.#tokens[i];
    const before = this.#items.at(-1);
    if (token?.kind !== "digits" || token.text.length < 4 || before?.type !== "phrase" || before.last !== i)
      return null;
    if (!before.meanings.some(({ kind }) => kind === "numberCue") || this.#quantityStartsAt(token.start)) return null;
    if (before.meanings.some(({ kind }) => kind === "dateCue" || kind === "stockCue")) return null;
    if (isGtin(token.text) && token.text.length > 8) return null;
    const last = this.#runEnd(i);
    const number = canonicalNumber(this.#written(i, last));
    return /^\d+$/.test(number) && !this.#isOther(i, last) ? this.#number(i, last, number, null, true) : null;
  }

  /** Single letters and digits that merely stand side by side are no number ("5 W 7 pin"). */
  #mayJoin(first: number, last: number, number: string): boolean {
    if (last === first + 1) return true;
    let spaced = false;
    for (let i = first; i + 1 < last; i++) if (this.#gap(i) === " ") spaced = true;
    if (!spaced) return true;
    if (/^\d+$/.test(number)) return number.length >= 6;
    const head = this.#tokens[first]?.text ?? "";
    return number.length >= 4 || (head.length >= 2 && head === head.toUpperCase());
  }

  /** How far the number reaches when letters and digits tied to it are taken in. */
  #extent(first: number, last: number, mayLengthen: boolean): [number, number] {
    let from = first;
    if (first > 0 && /^[-_]$/.test(this.#gap(first - 1)) && !this.#standsAlone(first - 1, true)) from = first - 1;
    let end = last;
    end = this.#tiedEnd(end);
    if (end === last && mayLengthen && this.#isSuffix(last)) end = last + 1;
    return [from, end];
  }

  /** Whether the tie before a token parts it from the number rather than making it longer. */
  #separates(next: number): boolean {
    const gap = this.#gap(next - 1);
    const token = this.#tokens[next];
    if (token === undefined) return true;
    if (gap === ".") return token.kind === "letters" && token.text.length > 1;
    if (gap === "/" && this.#beginsNumber(next)) return true;
    if (gap === "/" && this.#goesOn(next)) return false;
    if (gap === "/")
      return token.kind !== "letters" || token.text.length > 2 || this.#isWord(next) || this.#variant(next);
    return this.#standsAlone(next, false);
  }

  /** "PB-2240/PB-2240A": letters tied to digits begin another number. */
  #beginsNumber(i: number): boolean {
    const [token, next] = [this.#tokens[i], this.#tokens[i + 1]];
    return token?.kind === "letters" && TIE.test(token.gap) && next !== undefined && next.kind !== "letters";
  }

  /** "PZ/240/18": slashes are the separators of a number that begins with letters before one, as known ones do. */
  #goesOn(next: number): boolean {
    if (this.#tokens[next]?.kind === "letters") return false;
    let first = next - 1;
    while (this.#tokens[first]?.kind !== "letters" && first > 0 && this.#gap(first - 1) === "/") first--;
    const head = this.#tokens[first];
    if (head?.kind !== "letters" || head.text !== head.text.toUpperCase()) return false;
    return this.#sources.known.resembles(canonicalNumber(this.#written(first, next + 1)));
  }

  /** "31.207.18A/B": the letter stands for the last one of a known number before it. */
  #variant(next: number): boolean {
    const letters = this.#tokens[next]?.text.toUpperCase() ?? "";
    const whole = canonicalNumber(this.#written(next - 1, next));
    for (let first = next - 1; first >= Math.max(0, next - MAX_JOINED); first--) {
      const number = first === next - 1 ? whole : canonicalNumber(this.#written(first, next));
      const other = number.slice(0, -letters.length) + letters;
      if (number.length > 3 && this.#sources.known.look(other, other)?.part === true) return true;
    }
    return this.#items.at(-1)?.type === "number" && next > 1 && this.#gap(next - 2) === "/";
  }

  /** A word of the language, a quantity or a number of its own, tied to a number by a hyphen only. */
  #standsAlone(i: number, before: boolean): boolean {
    const token = this.#tokens[i];
    if (token === undefined) return true;
    if (token.kind === "letters") return this.#isWord(i) && (token.text.length > 2 || this.#isTrait(i));
    if (before) return this.#items.at(-1)?.type !== "word" && this.#items.at(-1)?.last === i + 1;
    return this.#knownStartsAt(i) || this.#quantityStartsAt(token.start);
  }

  #knownStartsAt(i: number): boolean {
    if (!this.#mayBegin(i)) return false;
    for (let last = i + 1; last <= Math.min(i + 3, this.#tokens.length); last++) {
      const named = this.#look(i, last, this.#tokens[last - 1]?.kind !== "letters");
      if (named !== null && named.number.length > 3) return true;
    }
    return false;
  }

  #quantityStartsAt(start: number): boolean {
    return this.#sources.quantities.some(({ span }) => span[0] === start);
  }

  #isWord(i: number): boolean {
    return this.#phraseFrom(i) !== null;
  }

  readonly #phrases: (Found | null | undefined)[] = [];

  /** The longest phrase from a token on; looked up once. */
  #phraseFrom(i: number): Found | null {
    const known = this.#phrases[i];
    if (known !== undefined) return known;
    const found = this.#sources.wording.lexicon.find(this.#field.words, i, this.#stretchEnd(i));
    this.#phrases[i] = found;
    return found;
  }

  #isTrait(i: number): boolean {
    return this.#means(i, "trait");
  }

  #means(i: number, kind: string): boolean {
    return this.#phraseFrom(i)?.meanings.some((meaning) => meaning.kind === kind) ?? false;
  }

  /**
   * A single letter after a space belongs to the number ("PB 1840 R") unless it is a grade ("PB-1840 B grade"), a
   * word of one letter or a unit.
   */
  #isSuffix(i: number): boolean {
    const token = this.#tokens[i];
    if (token === undefined || token.text.length !== 1 || token.kind !== "letters" || this.#gap(i - 1) !== " ")
      return false;
    if (!/^[\s,;.:)\]!?/|-]?$/.test(this.#text[token.end] ?? "")) return false;
    if (this.#means(i - 1, "grade") || this.#means(i + 1, "grade") || this.#means(i + 1, "trait")) {
      if (!(this.#means(i + 1, "trait") && this.#gap(i) === " " && !this.#means(i + 1, "grade"))) return false;
    }
    const found = this.#phraseFrom(i);
    if (found !== null && (found.length > 1 || this.#allCapitals || token.text === token.text.toLowerCase()))
      return false;
    if (/^[xvw]$/i.test(token.text)) return false;
    // "c/ marco", "SSD-64-M M.2": shortened or tied to what follows.
    if (/^(?:\/ |[-.]$)/.test(this.#gap(i))) return false;
    const lower = token.text === token.text.toLowerCase();
    return !lower || !/[aeiouyz]/.test(token.text);
  }

  /** Digits alone, and numbers that read like a year, need a word or their length to be a number. */
  #inContext(first: number, last: number, { number, part }: Named): boolean {
    if (!/^\d+$/.test(number)) return !this.#coversQuantity(first, last, number);
    if (this.#quantityWithin(first, last) || this.#isOther(first, last)) return false;
    if (this.#isWrittenDay(first, last) && !this.#cuedAt(first)) return false;
    return (
      number.length >= 5 ||
      (part &&
        (this.#cuedAt(first) || this.#leadsTo(first, last) || this.#isSetAgainst(first) || this.#isAsserted(first)))
    );
  }

  /** "6042 brake …": a title that opens with four digits and the word for a part, and no year. */
  #leadsTo(first: number, last: number): boolean {
    const opening = this.#tokens[first]?.text ?? "";
    if (this.#field.part !== "title" || first > 0 || opening.length < 4 || isYearLike(opening)) return false;
    const next = this.#gap(last - 1) === " " ? this.#phraseAt(last) : null;
    return next?.type === "phrase" && next.meanings.some(({ kind }) => kind.startsWith(TYPE_KIND));
  }

  /** "motor, not 1987 but 1988": the part is named, and of two numbers one is denied. */
  #isSetAgainst(first: number): boolean {
    let k = this.#items.length - 1;
    if (this.#items[k]?.last !== first) return false;
    let denied = false;
    for (const end = k - PAIR_REACH; k >= Math.max(0, end); k--) {
      const item = this.#items[k];
      if (item?.type === "number" && item.named?.part === true) continue;
      if (item?.type !== "phrase") return false;
      const kinds = item.meanings.map(({ kind }) => kind);
      if (kinds.some((kind) => kind.startsWith(TYPE_KIND) || kind === MAKER_KIND)) return denied;
      if (kinds.some((kind) => kind === "dateCue" || kind === "for")) return false;
      denied ||= kinds.some((kind) => kind === "not" || kind === "against");
      if (!kinds.some((kind) => BETWEEN_NUMBERS.has(kind))) return false;
    }
    return false;
  }

  /** "It is the 6042": no year, and nothing else that it could be. */
  #isAsserted(first: number): boolean {
    if (isYearLike(this.#tokens[first]?.text ?? "")) return false;
    const [before, further] = [this.#items.at(-1), this.#items.at(-2)];
    if (before?.last !== first) return false;
    const asserts = (item: Item | undefined): boolean =>
      item?.type === "phrase" && item.meanings.some(({ kind }) => kind === "asserts");
    const article = before.type === "phrase" && before.meanings.some(({ kind }) => kind === "filler");
    return asserts(before) || (article && asserts(further));
  }

  /** A telephone, an invoice, a count of sales. */
  #isOther(first: number, last: number): boolean {
    const { otherNumbers } = this.#sources;
    return otherNumbers !== undefined && isOtherNumber(this.#text, this.#tokens, first, last, otherNumbers);
  }

  /** "2021-04-12", though a number of the same digits is known. */
  #isWrittenDay(first: number, last: number): boolean {
    if (last < first + 3) return false;
    const [start, end] = [this.#tokens[first]?.start ?? 0, this.#tokens[last - 1]?.end ?? 0];
    return this.#sources.dates.some(({ isDay, span }) => isDay && span[0] < end && span[1] >= end && span[1] > start);
  }

  /** "24V5" is a number where it is known; "3.7 V" that happens to read like one is not. */
  #coversQuantity(first: number, last: number, number: string): boolean {
    if (last === first + 1 || number.length > 5) return false;
    return !this.#isCode(first, last) && this.#quantityWithin(first, last);
  }

  /** "CM-770 CM-780": letters tied to digits by a hyphen, or before another number, which the unit would be a part of. */
  #isCode(first: number, last: number): boolean {
    if (this.#tokens[first]?.kind !== "letters") return false;
    return this.#gap(first) === "-" || this.#knownStartsAt(last);
  }

  /** A quantity begins in the number and reaches beyond it ("2500 mAh"), or holds it whole. */
  #quantityWithin(first: number, last: number): boolean {
    const start = this.#tokens[first]?.start ?? 0;
    const end = this.#tokens[last - 1]?.end ?? 0;
    return this.#sources.quantities.some(({ span }) => span[0] < end && span[1] > start && span[1] > end);
  }

  /** A word for numbers or a part-type word stands directly before, or a "#". */
  #cuedAt(i: number): boolean {
    if (this.#field.part === "specifics" && i > 0 && this.#text[this.#field.lead - 2] === ":") {
      if (this.#saysNumber(0, i)) return true;
    }
    if (/#\s?$/.test(this.#text.slice(0, this.#tokens[i]?.start ?? 0).slice(-2))) return true;
    const before = this.#items.at(-1);
    if (before?.type === "number") return before.named?.part === true && before.last === i;
    if (before?.type !== "phrase" || before.last !== i) return false;
    if (before.meanings.some(({ kind }) => kind === "numberCue" || kind.startsWith(TYPE_KIND))) return true;
    return before.meanings.some(({ kind }) => kind === MAKER_KIND) && !isYearLike(this.#tokens[i]?.text ?? "");
  }

  #saysNumber(from: number, to: number): boolean {
    for (let i = from; i < to; i++) if (this.#means(i, "numberCue")) return true;
    return false;
  }

  #measuredAt(i: number): Item | null {
    const token = this.#tokens[i];
    if (token === undefined) return null;
    const { quantities, dates } = this.#sources;
    while ((quantities[this.#quantityAt]?.span[1] ?? Number.POSITIVE_INFINITY) <= token.start) this.#quantityAt++;
    while ((dates[this.#dateAt]?.span[1] ?? Number.POSITIVE_INFINITY) <= token.start) this.#dateAt++;
    const date = dates[this.#dateAt];
    if (date !== undefined && date.span[0] < token.end)
      return { type: "date", first: i, last: this.#past(date.span), date };
    let quantity = quantities[this.#quantityAt];
    if (quantity === undefined || quantity.span[0] >= token.end) return null;
    if (quantity.span[0] < token.start) {
      const anew = this.#sources.quantityAt?.(i) ?? [];
      quantity = anew[0];
      if (quantity === undefined || quantity.span[0] !== token.start) return null;
      return { type: "quantity", first: i, last: Math.max(i + 1, this.#past(quantity.span)), quantities: anew };
    }
    // "works in each PL-20": no price by the piece.
    if (quantity.dimension === "count" && token.kind === "letters" && this.#knownStartsAt(i + 1)) return null;
    const together = quantities.filter(({ span }) => span[0] === quantity.span[0]);
    return { type: "quantity", first: i, last: Math.max(i + 1, this.#past(quantity.span)), quantities: together };
  }

  #past(span: readonly [number, number]): number {
    let i = 0;
    let end = this.#tokens.length;
    while (i < end) {
      const middle = (i + end) >> 1;
      if ((this.#tokens[middle]?.start ?? 0) < span[1]) i = middle + 1;
      else end = middle;
    }
    return i;
  }

  /** "PB-1840/1840R", "QV7142R/43R": the second number shares its beginning with the first. */
  #continuedAt(i: number): Item | null {
    const before = this.#items.at(-1);
    const token = this.#tokens[i];
    if (before?.type !== "number" || before.last !== i || token === undefined) return null;
    if (before.named !== null && !before.named.part) return null;
    const gap = this.#gap(i - 1);
    if (!/^(?: ?[/&|] ?|, ?)$/.test(gap) || (token.kind === "letters" && token.text.length > 2)) return null;
    // "…, a nie …": a small letter behind a comma is a word.
    if (gap.includes(",") && token.kind === "letters" && token.text === token.text.toLowerCase()) return null;
    const short = canonicalNumber(token.text);
    const letters = /^[A-Z]+/.exec(before.number)?.[0] ?? "";
    const whole = [letters + short, before.number.slice(0, Math.max(0, before.number.length - short.length)) + short];
    for (const number of whole) {
      const named = number === before.number ? null : this.#sources.known.look(number, number);
      if (named?.part === true) return this.#number(i, i + 1, named.number, named, true);
    }
    if (letters === "" || !/^ ?\/ ?$/.test(gap) || !/^\d{3,}[A-Z]{0,2}$/.test(short)) return null;
    const digits = before.number.length - letters.length;
    return short.length >= digits ? this.#number(i, i + 1, letters + short, null, true) : null;
  }

  #number(first: number, last: number, number: string, named: Named | null, certain: boolean): Item {
    return { type: "number", first, last, number, named, certain, doubtful: this.#doubt(first, last) };
  }

  #phraseAt(i: number): Item | null {
    const { known } = this.#sources;
    const own = known.revisionNames.find(this.#field.words, i, this.#stretchEnd(i));
    const found = this.#phraseFrom(i);
    if (own === null && found === null) return null;
    const length = Math.max(own?.length ?? 0, found?.length ?? 0);
    const meanings = [own, found].flatMap((each) => (each?.length === length ? each.meanings : []));
    return { type: "phrase", first: i, last: i + length, meanings };
  }

  /** No phrase reaches over a comma, a bracket or the end of a sentence. */
  #stretchEnd(i: number): number {
    for (let end = i + 1; end < this.#tokens.length && end < i + 13; end++) {
      const gap = this.#gap(end - 1);
      if (gap === " " || gap === "-" || gap === "'") continue;
      if (/[!?;|\n,()]/.test(gap)) return end;
      if (stopsBehind(this.#field, end - 1)) return end;
    }
    return this.#tokens.length;
  }

  /** Letters that begin a number written apart ("XR 67"), however much they read like a word. */
  #isPrefix(i: number): boolean {
    const token = this.#tokens[i];
    const next = this.#tokens[i + 1];
    if (token === undefined || next === undefined || !TIE.test(token.gap) || token.gap === ".") return false;
    if (next.kind === "letters") return false;
    if (this.#sources.known.resembles(canonicalNumber(this.#written(i, i + 2)))) return true;
    if (this.#phraseFrom(i)?.meanings.some(({ kind }) => kind.startsWith(TYPE_KIND)) === true) return false;
    const digits = next.text.match(/\d/g)?.length ?? 0;
    return token.gap === "-" && token.text.length <= 4 && digits >= 3 && !this.#quantityStartsAt(next.start);
  }

  /** Letters and digits with the make-up of a part number that nobody knows. */
  #unknownAt(i: number): Item | null {
    const last = this.#groupsEnd(i) ?? this.#speltEnd(i) ?? this.#runEnd(i);
    const written = this.#written(i, last);
    const number = canonicalNumber(written);
    if (QUANTITIES_ONLY.test(number)) return null;
    const cued = this.#cuedAt(i) && this.#items.at(-1)?.type === "phrase" && !this.#typeCued(i);
    if (/^\d+$/.test(number)) return this.#unknownDigits(i, last, number, cued);
    const resembles = this.#sources.known.resembles(number) || this.#sources.known.near(written).length > 0;
    if (!looksLikePartNumber(number)) {
      const isPair = number.length === 2 && this.#cuedAt(i) && this.#sources.known.near(written).length > 0;
      if (isPair && /^[A-Z]\d$/.test(number)) return this.#number(i, last, number, null, true);
      const short = number.length >= 3 && /\d/.test(number) && /[A-Z]/.test(number);
      const told = cued || resembles || (this.#cuedAt(i) && last > i + 1);
      return short && told ? this.#number(i, last, number, null, true) : null;
    }
    if (!resembles && !cued && !this.#drawnLikeNumber(written, number)) return null;
    return this.#number(i, last, number, null, cued || resembles);
  }

  #typeCued(i: number): boolean {
    const before = this.#items.at(-1);
    return before?.type === "phrase" && before.last === i && !before.meanings.some(({ kind }) => kind === "numberCue");
  }

  #unknownDigits(first: number, last: number, number: string, cued: boolean): Item | null {
    if (number.length > 24 || this.#isOther(first, last) || this.#isWrittenDay(first, last)) return null;
    // One in ten numbers of eight digits passes as a GTIN-8, which small packs only bear.
    if (isGtin(number) && number.length > 8) return null;
    if (cued && number.length >= 4) return this.#number(first, last, number, null, true);
    if (number.length < 5) return null;
    const alike = this.#sources.known.resembles(number) || this.#sources.known.near(number).length > 0;
    return alike ? this.#number(first, last, number, null, true) : null;
  }

  /** At least two digits, letters in capitals or tied by a separator. */
  #drawnLikeNumber(written: string, number: string): boolean {
    const digits = number.match(/\d/g)?.length ?? 0;
    if (digits < 2) return digits === 1 && !this.#allCapitals && SINGLE_DIGIT.test(written);
    return written === written.toUpperCase() || /[-_/.]|\d{3}/.test(written);
  }

  /** "board 5512 0077": groups of digits set apart by spaces that together are as long as known numbers. */
  #groupsEnd(i: number): number | null {
    if (this.#tokens[i]?.kind !== "digits") return null;
    let end = i + 1;
    while (end < i + MAX_JOINED && this.#gap(end - 1) === " " && this.#isGroup(end)) end++;
    if (end === i + 1 || !this.#isGroup(i) || !/^[\s,;.)\]]?$/.test(this.#text[this.#tokens[end - 1]?.end ?? 0] ?? ""))
      return null;
    const written = this.#written(i, end);
    const { known } = this.#sources;
    if (!known.resembles(canonicalNumber(written))) return null;
    return this.#cuedAt(i) || known.near(written).length > 0 ? end : null;
  }

  #isGroup(i: number): boolean {
    const token = this.#tokens[i];
    if (token?.kind !== "digits" || token.text.length < 2 || isYearLike(token.text)) return false;
    return !this.#quantityStartsAt(token.start) && !this.#sources.dates.some(({ span }) => span[0] === token.start);
  }

  /** "T Q B - 3 1 7": letters and digits spelt out one by one. */
  #speltEnd(i: number): number | null {
    let end = i;
    while (end < i + MAX_SPELT && this.#tokens[end]?.text.length === 1 && (end === i || JOINT.test(this.#gap(end - 1))))
      end++;
    const number = end >= i + MIN_SPELT ? canonicalNumber(this.#written(i, end)) : "";
    return looksLikePartNumber(number) && /\d.*\d/.test(number) ? end : null;
  }

  /** The end of the tokens tied together from `i` on; a capital word before digits is taken along ("XR 67P"). */
  #runEnd(i: number): number {
    let end = i + 1;
    end = this.#tiedEnd(end);
    if (end > i + 1) return this.#isSuffix(end) ? end + 1 : end;
    const token = this.#tokens[i];
    const next = this.#tokens[i + 1];
    const apart =
      token?.kind === "letters" &&
      token.text.length <= 5 &&
      token.text === token.text.toUpperCase() &&
      token.gap === " " &&
      next !== undefined &&
      next.kind !== "letters" &&
      !this.#quantityStartsAt(next.start) &&
      !this.#sources.dates.some(({ span }) => span[0] === next.start) &&
      !this.#knownStartsAt(i + 1) &&
      (next.text.match(/\d/g)?.length ?? 0) >= 2 &&
      !this.#isWord(i);
    if (apart && this.#mayBeApart(i)) return this.#tiedEnd(i + 2);
    return this.#isSuffix(end) && token?.kind === "mixed" ? end + 1 : end;
  }

  /** In a text of capitals only a known beginning, or letters too few for a word, make two tokens one number. */
  #mayBeApart(i: number): boolean {
    if (!this.#allCapitals || (this.#tokens[i]?.text.length ?? 9) <= 3) return true;
    return this.#sources.known.resembles(canonicalNumber(this.#written(i, i + 2)));
  }

  #tiedEnd(end: number): number {
    let last = end;
    const most = Math.min(this.#tokens.length, end + MAX_TIED);
    while (last < most && TIE.test(this.#gap(last - 1)) && !this.#separates(last)) last++;
    return last;
  }

  #gap(i: number): string {
    return this.#tokens[i]?.gap ?? "";
  }

  #written(first: number, last: number): string {
    return this.#text.slice(this.#tokens[first]?.start ?? 0, this.#tokens[last - 1]?.end ?? 0);
  }

  #doubt(first: number, last: number): boolean {
    return doubts(this.#field, this.#tokens[first]?.start ?? 0, this.#tokens[last - 1]?.end ?? 0);
  }
}
