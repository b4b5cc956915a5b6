/** Units: their words as rules hold them, and the one that follows a number. */
import type { NumberFormatOf, NumberFormatRule } from "../formats/number-format-rule.ts";
import { plainWord } from "./plain-word.ts";
import type { WrittenNumber } from "./written-number.ts";

export type Unit = NumberFormatOf<"units">["units"][number];

/** The rules of {@link readQuantities}, prepared once. */
export interface QuantityRules {
  /** Units by their lower-case words, of one or two words. */
  readonly units: ReadonlyMap<string, Unit>;
  readonly byId: ReadonlyMap<string, Unit>;
  /** Units by the lower-case words of a field's name that tell them. */
  readonly labels: ReadonlyMap<string, Unit>;
  /** First words of units that are written in two words. */
  readonly firstWords: ReadonlySet<string>;
  /** Roles by their lower-case cue words, and what a quantity is called in each role. */
  readonly roles: ReadonlyMap<string, string>;
  readonly roleNames: ReadonlyMap<string, Readonly<Record<string, string>>>;
  readonly pictures: ReadonlyMap<string, readonly (readonly [width: number, height: number])[]>;
  /** First words of the names of picture sizes, and words for two. */
  readonly beginnings: ReadonlySet<string>;
  /** Counts by their plain words ("six"), and counted units by both run together ("sechszellig"). */
  readonly numerals: ReadonlyMap<string, number>;
  readonly compounds: ReadonlyMap<string, { readonly unit: Unit; readonly count: number }>;
  readonly lotsBefore: ReadonlySet<string>;
  readonly counts: ReadonlyMap<string, number>;
  readonly prefixes: ReadonlySet<string>;
}

/** What is counted in words. */
export const COUNTED: ReadonlySet<string> = new Set(["cells", "positions"]);

const UNIT =
  /( ?-? ?)(["']{1,2}|°[cC]|\p{L}[\p{L}\p{M}]{0,23}(?:[./]\p{L}{1,8}\d?|[23](?:\/h)?(?![\p{L}\p{N}]))?|[vV]=)/uy;
const SECOND_WORD = /[ -]([\p{L}][\p{L}\p{M}]{0,23})/uy;
/** Prepares the rules for {@link readQuantities}. */
export function prepareQuantityRules(formats: readonly NumberFormatRule[]): QuantityRules {
  const byId = new Map<string, Unit>();
  const units = new Map<string, Unit>();
  const labels = new Map<string, Unit>();
  const roles = new Map<string, string>();
  const roleNames = new Map<string, Readonly<Record<string, string>>>();
  const pictures = new Map<string, [number, number][]>();
  const numerals = new Map<string, number>();
  const compounds = new Map<string, { unit: Unit; count: number }>();
  const lotsBefore = new Set<string>();
  const counts = new Map<string, number>();
  const prefixes = new Set<string>();
  const add = (unit: Unit | undefined, words: readonly string[]) => {
    for (const word of words) if (unit !== undefined) units.set(word, unit);
  };
  for (const rule of formats) {
    if (rule.kind !== "units") continue;
    for (const unit of rule.units) {
      byId.set(unit.id, unit);
      if (unit.roles !== undefined) roleNames.set(unit.name, { ...roleNames.get(unit.name), ...unit.roles });
      add(unit, unit.words);
    }
    for (const prefix of rule.prefixes) prefixes.add(prefix);
  }
  for (const rule of formats) {
    if (rule.kind === "words") {
      for (const [id, words] of Object.entries(rule.units)) add(byId.get(id), words);
      for (const [id, words] of Object.entries(rule.labels)) {
        const unit = byId.get(id);
        for (const word of words) if (unit !== undefined) labels.set(word, unit);
      }
      for (const [role, words] of Object.entries(rule.roles)) for (const word of words) roles.set(word, role);
      for (const [count, words] of Object.entries(rule.counts)) {
        for (const word of words) numerals.set(plainWord(word), Number(count));
        for (const [id, unitWords] of Object.entries(rule.units)) {
          const unit = byId.get(id);
          if (unit === undefined || !COUNTED.has(unit.dimension)) continue;
          for (const word of words)
            for (const end of unitWords) compounds.set(plainWord(word + end), { unit, count: Number(count) });
        }
      }
      for (const word of rule.lots.before) lotsBefore.add(word);
      for (const word of rule.lots.pair) counts.set(word, 2);
      for (const word of rule.lots.each) counts.set(word, 1);
      add(byId.get("pack"), rule.lots.after);
    } else if (rule.kind === "resolutions") {
      for (const { words, pixels } of rule.names) for (const word of words) pictures.set(word, pixels);
    }
  }
  const firstWords = new Set([...units.keys()].filter((word) => /[ -]/.test(word)).map(firstWord));
  const beginnings = new Set(
    [...[...pictures.keys()].map(firstWord), ...counts.keys(), ...numerals.keys(), ...compounds.keys()].map(plainWord),
  );
  return {
    ...{ units, byId, labels, firstWords, roles, roleNames, pictures, beginnings },
    ...{ counts, numerals, compounds, lotsBefore, prefixes },
  };
}

export interface FoundUnit {
  readonly unit: Unit;
  readonly end: number;
}

/** The unit that stands after a number, with at most a space and a hyphen between. */
export function unitAt(
  text: string,
  rules: QuantityRules,
  at: number,
  number: WrittenNumber | undefined,
): FoundUnit | null {
  UNIT.lastIndex = at;
  const match = UNIT.exec(text);
  if (match === null) return null;
  const gap = match[1] ?? "";
  const written = match[2] ?? "";
  const start = at + gap.length;
  for (const [word, end] of unitReadings(text, rules, written, start)) {
    const unit = rules.units.get(word.toLowerCase());
    if (unit !== undefined && mayFollow(text, unit, { word, gap, end }, number)) return { unit, end };
  }
  return null;
}

/** The longest reading first: two words, the whole sign, the letters before a slash or point. */
function* unitReadings(
  text: string,
  rules: QuantityRules,
  written: string,
  start: number,
): Generator<readonly [word: string, end: number]> {
  const end = start + written.length;
  if (rules.firstWords.has(written.toLowerCase())) {
    SECOND_WORD.lastIndex = end;
    const second = SECOND_WORD.exec(text);
    if (second !== null) {
      yield [`${written} ${second[1] ?? ""}`, end + second[0].length];
      yield [`${written}-${second[1] ?? ""}`, end + second[0].length];
    }
  }
  yield [written, end];
  const letters = written.split(/[./]/, 1)[0] ?? "";
  if (letters !== "" && letters !== written && !/^[./][sh]$/i.test(written.slice(letters.length)))
    yield [letters, start + letters.length];
}

/** Whether a unit word after a number is one there: nothing glued behind it, no common word mistaken for a sign. */
function mayFollow(
  text: string,
  unit: Unit,
  { word, gap, end }: { word: string; gap: string; end: number },
  number: WrittenNumber | undefined,
): boolean {
  const decimal = number?.decimal ?? false;
  if (/[\p{L}\p{M}]/u.test(text.slice(end, end + 1))) return false;
  const gluedTo = isDigit(text, end);
  if (gluedTo && (/[ -]/.test(word) || (!decimal && word.length < 3))) return false;
  if (unit.glued === true && gap !== "" && gap !== "-" && !decimal) return false;
  // "2022 ma anche" is a year and a word; "2 w 1" and "5 a 10" are words of a sentence.
  const lowerCase = word === word.toLowerCase() && gap !== "";
  if (lowerCase && word.length <= 2 && unit.scale < 1 && !decimal && (number?.values[0] ?? 0) > 1900) return false;
  // "3 m" is a length, "size 3 M" is none.
  if (word === "M" && gap !== "") return false;
  const lowerLetter = word.length === 1 && gap !== "" && word === word.toLowerCase() && !decimal;
  return (
    !lowerLetter || word === "v" || word === "m" || word === "ω" || (word === "w" && (number?.values[0] ?? 0) >= 10)
  );
}

/** The values of a number that the unit can have. */
export function plausible(unit: Unit, number: WrittenNumber): number[] {
  const [low, high] = unit.plausible;
  return number.values.filter(
    (value) => value >= low && value <= high && (unit.whole !== true || Number.isInteger(value)),
  );
}

export function isDigit(text: string, at: number): boolean {
  const unit = text.charCodeAt(at);
  return unit >= 0x30 && unit <= 0x39;
}

function firstWord(words: string): string {
  return words.split(/[ +-]/, 1)[0] ?? words;
}

/** Takes the dust of binary fractions off: 0.001 × 5200 is 5.2. */
export function tidy(value: number): number {
  return Number(value.toPrecision(12));
}
