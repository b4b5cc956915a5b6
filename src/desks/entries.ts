/** Rows of an order or stock list as entries, and entries as listings that the matcher can read. */
import type { ColumnWord } from "../formats/column-names.ts";
import type { Listing } from "../formats/listing.ts";
import { multiplyDecimal } from "../text/decimal.ts";
import { readMoney } from "../text/money.ts";
import type { TableShape } from "./columns.ts";

/** One row of a list, read. */
export interface Entry {
  /** One-based row of the list, the heading counted. */
  readonly row: number;
  readonly number: string;
  readonly title: string;
  readonly description: string;
  readonly stockNumber: string;
  /** Whole pieces; 1 where no quantity is stated or it cannot be read. */
  readonly quantity: number;
  /** False where a quantity is stated that cannot be read. */
  readonly quantityRead: boolean;
  /** Decimal text; null where none is stated or it cannot be read. */
  readonly unitPrice: string | null;
  readonly total: string | null;
  /** ISO 4217 code; null where none is stated. */
  readonly currency: string | null;
  readonly job: string;
  readonly supplier: string;
  readonly condition: string;
  readonly model: string;
  readonly board: string;
  readonly fits: string;
  readonly year: string;
  readonly url: string;
}

/** Longest cell that is read, in UTF-16 code units; the rest of it is left unread. */
const MAX_CELL_CHARS = 20_000;
/** Most pieces of one row. */
const MAX_QUANTITY = 1_000_000_000;

/**
 * Reads a row.
 *
 * @param row one-based row of the list
 * @returns null for a row with neither number nor title
 */
export function readEntry(cells: readonly string[], row: number, shape: TableShape): Entry | null {
  const cell = (word: ColumnWord): string => {
    const place = shape.columns[word];
    return place === undefined ? "" : (cells[place] ?? "").slice(0, MAX_CELL_CHARS).trim();
  };
  const number = cell("number");
  const title = cell("title");
  if (number === "" && title === "") return null;
  const stated = cell("currency").toUpperCase();
  const fallback = /^[A-Z]{3}$/.test(stated) ? stated : shape.currency;
  const unitPrice = readAmount(cell("unitPrice"), shape, fallback);
  const total = readAmount(cell("total"), shape, fallback);
  const quantity = readQuantity(cell("quantity"), shape);
  return {
    row,
    number,
    title,
    description: cell("description"),
    stockNumber: cell("stockNumber"),
    quantity: quantity ?? 1,
    quantityRead: quantity !== null,
    unitPrice: unitPrice?.amount ?? null,
    total: total?.amount ?? (unitPrice && quantity !== null ? multiplyDecimal(unitPrice.amount, quantity) : null),
    currency: unitPrice?.currency ?? total?.currency ?? fallback,
    job: cell("job"),
    supplier: cell("supplier"),
    condition: cell("condition"),
    model: cell("model"),
    board: cell("board"),
    fits: cell("fits"),
    year: cell("year"),
    url: cell("url"),
  };
}

/** Languages whose way of writing decimals stands for the mark. */
const LANGUAGE_OF_MARK = { ",": "de", ".": "en" } as const;

function readAmount(
  cell: string,
  { decimalMark }: TableShape,
  currency: string | null,
): { amount: string; currency: string | null } | null {
  if (cell === "") return null;
  const language = LANGUAGE_OF_MARK[decimalMark];
  const [only, ...others] = readMoney(cell, { language, bare: true, ...(currency === null ? {} : { currency }) });
  if (only === undefined || others.length > 0 || only.negative) return null;
  return { amount: only.amount, currency: only.currency ?? currency };
}

/**
 * Whole pieces: `2`, `2 Stk`, `1.200` with a decimal comma; null for anything else, fractions included. An empty
 * cell is one piece.
 */
function readQuantity(cell: string, { decimalMark }: TableShape): number | null {
  if (cell === "") return 1;
  const match = /^(\d{1,10}|\d{1,3}(?:[.,' \u00a0\u202f]\d{3}){1,3})(?:([.,])0{1,4})?\s*[\p{L}.]{0,12}$/u.exec(
    cell.slice(0, 40),
  );
  if (match === null || (match[2] !== undefined && match[2] !== decimalMark)) return null;
  const digits = match[1] ?? "";
  if (digits.includes(decimalMark)) return null;
  const value = Number(digits.replace(/\D/g, ""));
  return value <= MAX_QUANTITY ? value : null;
}

/** The entry as a listing: the number column says which part it is, the title what is said about it. */
export function entryListing(entry: Entry): Listing {
  const { number, title } = entry;
  const specifics = Object.fromEntries(
    [
      ["MPN", title === "" ? "" : number],
      ["Model", entry.model],
      ["Board number", entry.board],
      ["Compatible with", entry.fits],
      ["Year", entry.year],
    ].filter(([, value]) => value !== ""),
  );
  return {
    id: String(entry.row),
    title: title === "" ? number : title,
    ...(entry.unitPrice !== null && entry.currency !== null
      ? { price: { amount: entry.unitPrice, currency: entry.currency } }
      : {}),
    ...(entry.condition === "" ? {} : { condition: entry.condition }),
    ...(Object.keys(specifics).length === 0 ? {} : { specifics }),
    ...(entry.description === "" ? {} : { description: entry.description }),
    ...(entry.url === "" ? {} : { url: entry.url }),
  };
}
