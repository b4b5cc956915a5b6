/**
 * Part numbers: their canonical form, what may be mistaken for one, and what never is one.
 *
 * The canonical form holds letters and digits only, upper case, as a person sees them: `PB 1840 R`, `PB-1840/R` and
 * `ＰＢ－１８４０Ｒ` are all `PB1840R`. A letter that looks like no Latin one stays as it is, so that a number of
 * another script never turns into a shorter Latin one.
 */
import { foldVisible } from "./fold.ts";
import { LOOK_ALIKES } from "./look-alikes.ts";

/** Longest printed number that is canonicalised; the formats allow 80 characters. */
const MAX_NUMBER_CHARS = 200;

const SEPARATOR = /[\s\p{P}+|~^`$<>=\u00b7]/u;

/**
 * The canonical form of a printed number; `""` where nothing is left of it.
 *
 * @param printed as printed or as a listing writes it; only the first 200 characters count
 */
export function canonicalNumber(printed: string): string {
  return canonical(printed, false);
}

/**
 * The key under which numbers that differ only in O/0 and I/l/1 meet.
 *
 * A small l is drawn like 1 and I, a capital L is not: hand in the number as it is written where that is known. A
 * canonical number is fine too; its L stays L.
 */
export function lookalikeKey(number: string): string {
  return canonical(number, true).replaceAll("O", "0").replaceAll("I", "1");
}

function canonical(printed: string, smallLIsOne: boolean): string {
  const clipped = printed.length > MAX_NUMBER_CHARS ? printed.slice(0, MAX_NUMBER_CHARS) : printed;
  let kept = "";
  let start = 0;
  for (let i = 0; i < clipped.length; i++) {
    const unit = clipped.charCodeAt(i);
    if (unit > 0x7e) return canonicalFolded(foldVisible(clipped).text, smallLIsOne);
    if (isAlphanumeric(unit)) continue;
    kept += clipped.slice(start, i);
    start = i + 1;
  }
  const letters = start === 0 ? clipped : kept + clipped.slice(start);
  return (smallLIsOne ? letters.replaceAll("l", "1") : letters).toUpperCase();
}

function isAlphanumeric(unit: number): boolean {
  return (unit >= 0x30 && unit <= 0x39) || (unit >= 0x41 && unit <= 0x5a) || (unit >= 0x61 && unit <= 0x7a);
}

function canonicalFolded(folded: string, smallLIsOne: boolean): string {
  let result = "";
  for (const character of folded) {
    if (SEPARATOR.test(character)) continue;
    if (smallLIsOne && character === "l") result += "1";
    else result += upperCase(character);
  }
  return result;
}

/** Upper case, but a letter outside ASCII never becomes an ASCII one or its twin (ı is not I, κ is not K). */
function upperCase(character: string): string {
  const upper = character.toUpperCase();
  // Some letters become two: ῳ is ΩΙ in capitals, and that iota is a twin of I.
  const latin = /[A-Z]/.test(upper) || [...upper].some((each) => LOOK_ALIKES.has(each.charCodeAt(0)));
  return character.charCodeAt(0) > 0x7e && latin ? character : upper;
}

/**
 * True where one substitution, insertion, deletion or swap of neighbours turns `a` into `b`: optimal string alignment
 * distance exactly 1. Equal strings are not one character apart.
 */
export function oneCharacterApart(a: string, b: string): boolean {
  const [short, long] = a.length <= b.length ? [a, b] : [b, a];
  if (long.length - short.length > 1) return false;
  let at = 0;
  while (at < short.length && short[at] === long[at]) at++;
  if (long.length > short.length) return short.slice(at) === long.slice(at + 1);
  if (at === long.length) return false;
  if (short.slice(at + 1) === long.slice(at + 1)) return true;
  return short[at] === long[at + 1] && short[at + 1] === long[at] && short.slice(at + 2) === long.slice(at + 2);
}
