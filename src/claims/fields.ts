/** A listing's texts as fields, each folded to what a person sees. */
import type { Listing } from "../formats/listing.ts";
import type { Span } from "../formats/verdict.ts";
import { type FoldedText, foldVisible, isDoubtful, originalSpan } from "../text/fold.ts";
import { plainWord } from "../text/plain-word.ts";
import { type Token, tokenise } from "../text/tokens.ts";

/** One text of a listing. Specifics are read together with their name ("Compatible with: …"). */
export interface Field {
  /** `title`, `condition`, `description`, `specifics.MPN`, … as spans name it. */
  readonly name: string;
  readonly part: "title" | "specifics" | "condition" | "description";
  readonly folded: FoldedText;
  /** The text before folding. */
  readonly original: string;
  readonly tokens: readonly Token[];
  /** One word a token as phrases are compared; `""` where the token belongs to the word before ("don't"). */
  readonly words: readonly string[];
  /** How many characters of the read text stand before the field's own text. */
  readonly lead: number;
  /** True where a part of the text was not read: it may say anything. */
  readonly unread: boolean;
}

/** Longest text of one field that is read, in UTF-16 code units; what comes after holds every `fits` back. */
const MAX_FIELD_CHARS = 20_000;
/** Most specifics that are read. */
const MAX_SPECIFICS = 200;

/** Title, specifics, condition, description, in this order. */
export function fieldsOf(listing: Listing): Field[] {
  const fields = [makeField("title", "title", "", listing.title)];
  for (const [name, value] of Object.entries(listing.specifics ?? {}).slice(0, MAX_SPECIFICS)) {
    fields.push(makeField(`specifics.${name}`, "specifics", `${name}: `, value));
  }
  if (listing.condition !== undefined) fields.push(makeField("condition", "condition", "", listing.condition));
  if (listing.description !== undefined) fields.push(makeField("description", "description", "", listing.description));
  return fields;
}

/** True where a listing has more specifics than are read. */
export function hasMoreSpecifics({ specifics }: Listing): boolean {
  return specifics !== undefined && Object.keys(specifics).length > MAX_SPECIFICS;
}

/** Reads one text as a field. */
export function makeField(name: string, part: Field["part"], lead: string, text: string): Field {
  const clipped = text.length > MAX_FIELD_CHARS ? text.slice(0, MAX_FIELD_CHARS) : text;
  const original = lead + clipped;
  const folded = foldVisible(original);
  const tokens = tokenise(folded.text);
  const unread = clipped.length < text.length;
  return { name, part, folded, original, tokens, words: wordsOf(tokens), lead: lead.length, unread };
}

/** Endings that an apostrophe ties to the word before it. */
const TIED = new Set(["t", "s", "re", "ll", "ve", "d", "m"]);

function wordsOf(tokens: readonly Token[]): string[] {
  const words = tokens.map((token) => plainWord(token.text));
  for (let i = 0; i + 1 < words.length; i++) {
    const next = words[i + 1] ?? "";
    const word = words[i] ?? "";
    if (tokens[i]?.gap !== "'" || word.length < 2 || !TIED.has(next)) continue;
    words[i] = word + next;
    words[i + 1] = "";
  }
  return words;
}

/** Words before a full stop that end no sentence. */
const ABBREVIATIONS = new Set(
  "nr no art inkl incl ca z b bzw evtl bj ref approx vs ser prod tel max min orig rev ver v n p s kat num cod rif pos str vgl ggf u o a m d e g i inc excl exkl est mfg vermutl wahrsch wahrscheinl mögl mogl evt poss prob zzgl geb gebr gepr def kompl pasuj prawd mod mag wew wewn kat cat lager inv int magaz alm parti".split(
    " ",
  ),
);

/** True where a full stop behind the token ends a sentence: not behind "inkl." or a single letter. */
export function stopsBehind(field: Field, token: number): boolean {
  const gap = field.tokens[token]?.gap ?? "";
  if (gap === "." || !/\.(?:\s|$)/.test(gap)) return false;
  const word = field.words[token] ?? "";
  if (word.length === 1) return endsNumber(field, token);
  return word.length > 1 && !ABBREVIATIONS.has(word) && !NUMBER_SIGN.test(word);
}

/** "Lagernr." and the like, whatever stands before. */
const NUMBER_SIGN = /(?:nr|num|cod|kat)$/;

/** "PW-4410-2. Akku …": the digit ends a number and is no abbreviation. */
function endsNumber(field: Field, token: number): boolean {
  return field.tokens[token]?.kind === "digits" && /^[-_./]$/.test(field.tokens[token - 1]?.gap ?? "");
}

/** The place in the listing's own text of a half-open range of the folded text. */
export function spanOf(field: Field, start: number, end: number): Span {
  const plain = field.folded.text === field.original;
  const [from, to] = plain ? [start, end] : originalSpan(field.folded, start, end);
  return [Math.max(0, from - field.lead), Math.max(0, to - field.lead), field.name];
}

/** True where the range could not be folded safely to what a person sees. */
export function doubts(field: Field, start: number, end: number): boolean {
  return field.folded.doubtful.length > 0 && isDoubtful(field.folded, start, end);
}
