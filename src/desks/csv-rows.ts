/**
 * Rows of a CSV or TSV text (RFC 4180), read piece by piece with bounded memory; the parsing is papaparse's.
 *
 * What is added here: the separator is told from the text, a quotation mark that is never closed costs its own row
 * and not the rest of the list, and a row of absurd length is skipped.
 */
import Papa from "papaparse";

/** One row with its number: one-based, rows that hold nothing counted, as a spreadsheet counts them. */
export interface CsvRow {
  readonly row: number;
  readonly cells: readonly string[];
}

/** Something wrong with a row; the row is still given, except when it is too long. */
export interface CsvFault {
  readonly row: number;
  readonly kind: "unclosed-quote" | "stray-quote" | "row-too-long";
}

/** What came of a piece of text. */
export interface CsvPiece {
  readonly rows: readonly CsvRow[];
  readonly faults: readonly CsvFault[];
}

/** Reads text piece by piece. */
export interface CsvReader {
  push(text: string): CsvPiece;
  /** Gives what is left; nothing may be pushed afterwards. */
  end(): CsvPiece;
  /** What separates the cells: known once the first row has been given. */
  delimiter(): string;
}

/** Separators told apart. */
export const delimiters = [",", ";", "\t", "|"] as const;
/** Longest row, in UTF-16 code units. */
export const MAX_ROW_CHARS = 4 * 1024 * 1024;
/** How much text is gathered before the separator is told. */
const SAMPLE_CHARS = 64 * 1024;
const SAMPLE_ROWS = 50;
/** Unclosed quotation marks that are mended one by one; after so many, quotation marks are ordinary characters. */
const MAX_MENDED = 50;

interface Parsed {
  readonly data: string[][];
  readonly errors: readonly { readonly code: string; readonly row?: number }[];
  readonly meta: { readonly cursor: number };
}

/**
 * @param delimiter what separates the cells; told from the text when absent
 */
export function csvReader(delimiter?: string): CsvReader {
  let separator = delimiter ?? "";
  let newline: "\n" | "\r" = "\n";
  let waiting = "";
  let started = false;
  let row = 0;
  let mended = 0;
  let skipping = false;

  const parse = (text: string, last: boolean, quotes: boolean): Parsed =>
    new Papa.Parser({ delimiter: separator, newline, quoteChar: quotes ? '"' : "\0" }).parse(text, 0, !last) as Parsed;

  const start = (): void => {
    started = true;
    const sample = waiting.replace(/^\ufeff/, "");
    const declared = /^sep=(.)\r?\n/.exec(sample);
    waiting = declared ? sample.slice(declared[0].length) : sample;
    if (declared) row++;
    newline = waiting.includes("\n") || !waiting.includes("\r") ? "\n" : "\r";
    if (separator === "") separator = declared?.[1] ?? tellDelimiter(waiting.slice(0, SAMPLE_CHARS), newline);
  };

  const takeRows = (last: boolean): CsvPiece => {
    const rows: CsvRow[] = [];
    const faults: CsvFault[] = [];
    const give = ({ data, errors, meta }: Parsed): void => {
      for (const error of errors) faults.push({ row: row + 1 + (error.row ?? 0), kind: "stray-quote" });
      for (const cells of data) rows.push({ row: ++row, cells: newline === "\n" ? withoutReturn(cells) : cells });
      waiting = waiting.slice(meta.cursor);
    };
    for (;;) {
      give(parse(waiting, false, mended < MAX_MENDED));
      if (waiting === "" || (!last && waiting.length <= MAX_ROW_CHARS)) break;
      const rest = parse(waiting, true, mended < MAX_MENDED);
      const unclosed = rest.errors.some(({ code }) => code === "MissingQuotes");
      if (last && !unclosed) {
        give(rest);
        break;
      }
      const end = waiting.indexOf(newline);
      if (end < 0 && waiting.length > MAX_ROW_CHARS) {
        faults.push({ row: ++row, kind: "row-too-long" });
        waiting = "";
        skipping = true;
        break;
      }
      // The quotation mark is taken for an ordinary character, in this one line.
      mended++;
      faults.push({ row: row + 1, kind: "unclosed-quote" });
      const line = end < 0 ? waiting : waiting.slice(0, end + 1);
      give(parse(line, end < 0, false));
    }
    return { rows, faults };
  };

  return {
    push(text) {
      let rest = text;
      if (skipping) {
        const end = rest.indexOf(newline);
        if (end < 0) return { rows: [], faults: [] };
        rest = rest.slice(end + 1);
        skipping = false;
      }
      waiting += rest;
      if (!started && waiting.length < SAMPLE_CHARS) return { rows: [], faults: [] };
      if (!started) start();
      return takeRows(false);
    },
    end() {
      if (!started) start();
      return waiting === "" ? { rows: [], faults: [] } : takeRows(true);
    },
    delimiter: () => separator,
  };
}

/** The carriage return of a CR LF line end. */
function withoutReturn(cells: string[]): string[] {
  const last = cells.length - 1;
  const cell = cells[last];
  if (cell?.endsWith("\r")) cells[last] = cell.slice(0, -1);
  return cells;
}

/** The separator that cuts the most rows into the same number of cells; of equals, the one that cuts more. */
function tellDelimiter(sample: string, newline: "\n" | "\r"): string {
  let best: { readonly delimiter: string; readonly score: number } = { delimiter: ",", score: 0 };
  for (const delimiter of delimiters) {
    const parser = new Papa.Parser({ delimiter, newline, quoteChar: '"', preview: SAMPLE_ROWS });
    const { data } = parser.parse(sample, 0, false) as Parsed;
    const widths = data.filter((cells) => cells.length > 1).map((cells) => cells.length);
    const usual = mostFrequent(widths);
    const score = (widths.filter((width) => width === usual).length / Math.max(1, data.length)) * (1 + usual / 100);
    if (widths.length > 0 && score > best.score) best = { delimiter, score };
  }
  return best.delimiter;
}

function mostFrequent(values: readonly number[]): number {
  const counts = new Map<number, number>();
  for (const value of values) counts.set(value, (counts.get(value) ?? 0) + 1);
  return [...counts].sort((a, b) => b[1] - a[1] || b[0] - a[0])[0]?.[0] ?? 0;
}
