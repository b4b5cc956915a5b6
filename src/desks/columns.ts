/**
 * What the columns of an order or stock list hold: told from their headings in any language that has a file in
 * `rules/column-names/`, from what stands in them where the headings say nothing, or laid down by the person.
 */
import { type ColumnNames, type ColumnWord, columnWords } from "../formats/column-names.ts";
import { CURRENCY_SIGNS, isCurrencyCode } from "../text/money-symbols.ts";
import { canonicalNumber } from "../text/part-number.ts";

/** How a list is laid out. Plain data: it can be stored and used again for the next list of the same shop. */
export interface TableShape {
  /** Column of each word, zero-based. */
  readonly columns: Readonly<Partial<Record<ColumnWord, number>>>;
  /** Rows before the first entry: title rows and the heading. */
  readonly skip: number;
  /** What the heading row says, for recognising the same layout again; `""` without one. */
  readonly heading: string;
  /** Language of the headings, or null. */
  readonly language: string | null;
  readonly decimalMark: "," | ".";
  /** ISO 4217 code named in a price heading, or null. */
  readonly currency: string | null;
}

/** How many rows are looked at. */
export const SAMPLE_ROWS = 200;
/** How many rows may stand before the heading. */
const MAX_ROWS_BEFORE_HEADING = 20;
/** Columns beyond this are not looked at. */
const MAX_COLUMNS = 300;
const MAX_HEADING_CHARS = 120;

interface Reading {
  readonly columns: Partial<Record<ColumnWord, number>>;
  readonly language: string | null;
  /** How many headings were understood. */
  readonly understood: number;
}

/**
 * Tells the layout of a list from its first rows.
 *
 * @param rows the first rows, {@link SAMPLE_ROWS} or fewer
 * @param names the column names of every language
 * @param delimiter what separates the cells, where known; a semicolon speaks for a decimal comma
 */
export function tellColumns(
  rows: readonly (readonly string[])[],
  names: readonly ColumnNames[],
  delimiter = ",",
): TableShape {
  const dictionary = buildDictionary(names);
  const found = findHeading(rows, dictionary);
  const body = rows.slice(found ? found.row + 1 : 0, SAMPLE_ROWS);
  const heading = found ? (rows[found.row] ?? []) : [];
  const columns = found ? found.reading.columns : columnsByContent(body);
  const language = found?.reading.language ?? null;
  return {
    columns,
    skip: found ? found.row + 1 : 0,
    heading: headingText(heading),
    language,
    decimalMark: tellDecimalMark(body, columns, delimiter, language),
    currency: currencyOfHeadings(heading, columns),
  };
}

/** A heading row as one text; equal texts mean equal layouts. */
function headingText(cells: readonly string[]): string {
  return cells.slice(0, MAX_COLUMNS).map(headingKey).join("|");
}

/**
 * The layout with columns that a person laid down, such as `number=3` (one-based) or `title=Artikel` (by heading).
 *
 * @returns the new layout, or what is wrong: an unknown word, or a column that is not there
 */
export function withColumns(
  shape: TableShape,
  heading: readonly string[],
  laidDown: readonly (readonly [string, string])[],
): { shape: TableShape } | { unknownWord: string } | { unknownColumn: string } {
  const columns = { ...shape.columns };
  for (const [word, column] of laidDown) {
    if (!isColumnWord(word)) return { unknownWord: word };
    const place = /^\d{1,3}$/.test(column)
      ? Number(column) - 1
      : heading.findIndex((cell) => headingKey(cell) === headingKey(column));
    if (place < 0) return { unknownColumn: column };
    for (const other of columnWords) if (columns[other] === place) delete columns[other];
    columns[word] = place;
  }
  return { shape: { ...shape, columns } };
}

function isColumnWord(word: string): word is ColumnWord {
  return columnWords.some((each) => each === word);
}

/** Heading text without case, accents, punctuation and bracketed remarks: `Teile-Nr. (lt. Etikett)` → `teilenr`. */
function headingKey(cell: string): string {
  return cell
    .slice(0, MAX_HEADING_CHARS)
    .replace(/[([{][^([{)\]}]*[)\]}]/g, " ")
    .normalize("NFKD")
    .toLowerCase()
    .replaceAll("ł", "l")
    .replaceAll("ß", "ss")
    .replace(/[^\p{L}\p{N}]/gu, "");
}

type Dictionary = ReadonlyMap<string, ReadonlyMap<string, ColumnWord>>;

/** Language → heading key → what it holds. */
function buildDictionary(names: readonly ColumnNames[]): Dictionary {
  return new Map(
    names.map(({ language, columns }) => {
      const keys = new Map<string, ColumnWord>();
      for (const word of columnWords) {
        for (const name of columns[word]) {
          const key = headingKey(name);
          if (key !== "" && !keys.has(key)) keys.set(key, word);
        }
      }
      return [language, keys];
    }),
  );
}

function findHeading(
  rows: readonly (readonly string[])[],
  dictionary: Dictionary,
): { row: number; reading: Reading } | null {
  let best: { row: number; reading: Reading } | null = null;
  for (const [row, cells] of rows.slice(0, MAX_ROWS_BEFORE_HEADING).entries()) {
    const reading = readHeading(cells, dictionary);
    const named = reading.columns.number !== undefined || reading.columns.title !== undefined;
    if (!named || reading.understood < Math.min(2, cells.length)) continue;
    if (best === null || reading.understood > best.reading.understood) best = { row, reading };
  }
  return best;
}

/** Reads a row as headings: in the language that understands most of it, then in the others for what is left. */
function readHeading(cells: readonly string[], dictionary: Dictionary): Reading {
  const keys = cells.slice(0, MAX_COLUMNS).map(headingKey);
  const ranked = [...dictionary]
    .map(([language, words]) => ({ language, words, hits: keys.filter((key) => words.has(key)).length }))
    .sort((a, b) => b.hits - a.hits);
  const columns: Partial<Record<ColumnWord, number>> = {};
  const taken = new Set<number>();
  const take = (match: (words: ReadonlyMap<string, ColumnWord>, key: string) => ColumnWord | undefined): void => {
    for (const { words } of ranked) {
      for (const [place, key] of keys.entries()) {
        const word = taken.has(place) || key === "" ? undefined : match(words, key);
        if (word === undefined || columns[word] !== undefined) continue;
        columns[word] = place;
        taken.add(place);
      }
    }
  };
  take((words, key) => words.get(key));
  const exact = taken.size;
  if (exact > 0) take(longestStart);
  return { columns: withTitle(columns), language: ranked[0]?.hits ? ranked[0].language : null, understood: taken.size };
}

/** Shortest heading that may stand for a longer one that starts with it (`preisproeinheit…` by `preis`). */
const MIN_START_CHARS = 4;

function longestStart(words: ReadonlyMap<string, ColumnWord>, key: string): ColumnWord | undefined {
  for (let length = key.length - 1; length >= MIN_START_CHARS; length--) {
    const word = words.get(key.slice(0, length));
    if (word !== undefined) return word;
  }
  return undefined;
}

/** A list with a description but no title has its title in the description. */
function withTitle(columns: Partial<Record<ColumnWord, number>>): Partial<Record<ColumnWord, number>> {
  const { title, description, ...others } = columns;
  return title === undefined && description !== undefined ? { ...others, title: description } : columns;
}

/** Columns told by what stands in them, for lists without headings. */
function columnsByContent(body: readonly (readonly string[])[]): Partial<Record<ColumnWord, number>> {
  const width = Math.min(MAX_COLUMNS, Math.max(0, ...body.map((row) => row.length)));
  const profiles = Array.from({ length: width }, (_, place) => profile(body.map((row) => row[place] ?? "")));
  const columns: Partial<Record<ColumnWord, number>> = {};
  const taken = new Set<number>();
  const take = (word: ColumnWord, score: (of: Profile) => number): void => {
    let best = -1;
    for (const [place, each] of profiles.entries()) {
      const current = profiles[best];
      if (taken.has(place) || score(each) <= 0) continue;
      if (current === undefined || score(each) > score(current)) best = place;
    }
    if (best < 0) return;
    columns[word] = best;
    taken.add(best);
  };
  take("number", ({ numbers }) => (numbers > 0.5 ? numbers : 0));
  take("unitPrice", ({ amounts }) => (amounts > 0.5 ? amounts : 0));
  take("quantity", ({ counts }) => (counts > 0.8 ? counts : 0));
  take("title", ({ words, length }) => (words > 0.3 ? length : 0));
  return columns;
}

/** Shares of a column's filled cells that look like something, and their mean length. */
interface Profile {
  readonly numbers: number;
  readonly amounts: number;
  readonly counts: number;
  readonly words: number;
  readonly length: number;
}

function profile(cells: readonly string[]): Profile {
  const filled = cells.map((cell) => cell.trim()).filter((cell) => cell !== "");
  const share = (test: (cell: string) => boolean): number => filled.filter(test).length / Math.max(1, filled.length);
  return {
    numbers: share(looksLikePartNumber),
    amounts: share((cell) => /^\D{0,4}\d{1,9}[.,]\d{2}\D{0,4}$/.test(cell)),
    counts: share((cell) => /^\d{1,5}$/.test(cell)),
    words: share((cell) => wordCount(cell.slice(0, MAX_HEADING_CHARS)) > 1),
    length: filled.reduce((sum, cell) => sum + cell.length, 0) / Math.max(1, filled.length),
  };
}

function wordCount(text: string): number {
  return text.split(/\s+/).filter((word) => /\p{L}{2}/u.test(word)).length;
}

function looksLikePartNumber(cell: string): boolean {
  if (cell.length > 40 || /\s\S+\s/.test(cell)) return false;
  const canonical = canonicalNumber(cell);
  return (
    canonical.length >= 4 && /\d/.test(canonical) && !/^\d{1,5}$/.test(canonical) && !/^\d+[.,]\d{1,4}$/.test(cell)
  );
}

const AMOUNT_WORDS = ["unitPrice", "total"] as const;
/** Languages of our headings that write decimals with a point. */
const POINT_LANGUAGES = new Set(["en"]);

/** The decimal mark: from amounts that can be read one way only, else from the separator and the language. */
function tellDecimalMark(
  body: readonly (readonly string[])[],
  columns: Readonly<Partial<Record<ColumnWord, number>>>,
  delimiter: string,
  language: string | null,
): "," | "." {
  let commas = 0;
  let points = 0;
  for (const row of body) {
    for (const word of AMOUNT_WORDS) {
      const place = columns[word];
      const mark = place === undefined ? null : certainDecimalMark(row[place] ?? "");
      if (mark === ",") commas++;
      if (mark === ".") points++;
    }
  }
  if (commas !== points) return commas > points ? "," : ".";
  if (language !== null && !POINT_LANGUAGES.has(language)) return ",";
  return delimiter === ";" ? "," : ".";
}

/** The decimal mark of an amount that can be read one way only; null for whole or doubtful ones. */
function certainDecimalMark(cell: string): "," | "." | null {
  const digits = cell.slice(0, 40).replace(/[^\d.,]/g, "");
  const last = Math.max(digits.lastIndexOf(","), digits.lastIndexOf("."));
  if (last < 0) return null;
  const mark = digits[last] === "," ? "," : ".";
  const decimals = digits.length - last - 1;
  const other = mark === "," ? "." : ",";
  if (digits.indexOf(mark) !== last) return null;
  return decimals !== 3 || digits.includes(other) ? mark : null;
}

/** The currency that a price heading names, such as `Preis (EUR)` or `Cena [zł]`. */
function currencyOfHeadings(
  heading: readonly string[],
  columns: Readonly<Partial<Record<ColumnWord, number>>>,
): string | null {
  for (const word of AMOUNT_WORDS) {
    const text = heading[columns[word] ?? -1] ?? "";
    const code = /(?:^|[^A-Za-z])([A-Z]{3})(?:[^A-Za-z]|$)/.exec(text)?.[1];
    const signs = [...CURRENCY_SIGNS].find(([sign, [, second]]) => !second && isSign(sign) && text.includes(sign));
    const bySign = signs?.[1][0];
    if (bySign !== undefined) return bySign;
    if (code !== undefined && isCurrencyCode(code)) return code;
  }
  return null;
}

/** Signs made of letters stand inside ordinary words too, except this one. */
function isSign(sign: string): boolean {
  return sign === "zł" || /^\p{Sc}$/u.test(sign);
}
