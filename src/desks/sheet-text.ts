/**
 * CSV that a spreadsheet shows as it stands: RFC 4180 quoting, and cells that a spreadsheet would run as a formula
 * are made plain text (OWASP, "CSV Injection").
 */

/** Characters that make a spreadsheet take a cell for a formula; the last four are the full-width forms. */
const FORMULA_STARTS = new Set(["=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠"]);
/** A plain negative number is what it looks like, and runs nothing. */
const NEGATIVE_NUMBER = /^-\d{1,18}(?:[.,]\d{1,9})?$/;

/** The cell's text with an apostrophe before it where a spreadsheet would otherwise run it. */
export function plainCell(text: string): string {
  return FORMULA_STARTS.has(text.slice(0, 1)) && !NEGATIVE_NUMBER.test(text) ? `'${text}` : text;
}

/**
 * One CSV record, ended by CR LF.
 *
 * @param delimiter one character; cells that hold it, a quotation mark or a line break are quoted
 */
export function csvRecord(cells: readonly string[], delimiter: string = ","): string {
  return `${cells.map((cell) => quoted(plainCell(cell), delimiter)).join(delimiter)}\r\n`;
}

function quoted(text: string, delimiter: string): string {
  const plain = !text.includes(delimiter) && !/["\r\n]/.test(text) && text === text.trim();
  return plain ? text : `"${text.replaceAll('"', '""')}"`;
}
