/** A list that has been handed over but not checked yet: where it came from, how it begins, how it will be read. */
import type { TableShape } from "../../desks/columns.ts";
import { type ColumnWord, columnWords } from "../../formats/column-names.ts";
import type { Layout, LayoutStore } from "../../store/layouts.ts";
import type { ListSource } from "../../store/lists.ts";
import type { Tools } from "../tools.tsx";
import type { Look, Reading } from "./order-calls.ts";

/** A list before its check. */
export interface Draft {
  readonly source: ListSource;
  readonly look: Look;
  /** How it will be read: told from the list, remembered, or laid down by the person. */
  readonly shape: TableShape;
  /** The person has read a list with this heading in this way before. */
  readonly remembered: boolean;
  /** The person has changed how it is read. */
  readonly corrected: boolean;
}

/** What a column of an order or a stock list can be read as; a catalog's columns are none of these. */
export const orderColumns: readonly ColumnWord[] = [
  "number",
  "title",
  "quantity",
  "unitPrice",
  "total",
  "currency",
  "job",
  "model",
  "board",
  "year",
  "fits",
  "condition",
  "description",
  "supplier",
  "stockNumber",
  "url",
];

/** What is known before a list is read. */
interface KnownOfList {
  readonly reading?: Reading;
  /** How its columns are read; told from the list where absent. */
  readonly shape?: TableShape;
  /** Where corrected layouts are remembered. */
  readonly layouts?: LayoutStore;
}

/** Reads the beginning of a list. */
export async function draftOf(source: ListSource, work: Tools["work"], known: KnownOfList): Promise<Draft> {
  const look = await work.listLook({ content: source.content, ...known.reading });
  const told = orderOnly(look.shape);
  if (known.shape !== undefined) return { source, look, shape: known.shape, remembered: false, corrected: false };
  const layout = await known.layouts?.find(told.heading);
  const shape = layout === undefined ? told : withLayout(told, layout);
  return { source, look, shape, remembered: layout !== undefined, corrected: false };
}

/** Columns that only a catalog has are left unread. */
function orderOnly(shape: TableShape): TableShape {
  const columns = Object.entries(shape.columns).filter(([word]) => isOrderColumn(word));
  return { ...shape, columns: Object.fromEntries(columns) };
}

function isOrderColumn(word: string): boolean {
  return orderColumns.some((each) => each === word);
}

function withLayout(shape: TableShape, { columns, decimalMark, currency }: Layout): TableShape {
  const known = Object.entries(columns).filter(([word]) => isOrderColumn(word));
  return { ...shape, columns: Object.fromEntries(known), decimalMark, currency };
}

/** The layout to remember of a shape. */
export function layoutOf({ heading, columns, decimalMark, currency }: TableShape): Layout {
  return { heading, columns: { ...columns }, decimalMark, currency };
}

/** The shape with one column read as something else; nothing else is read from two columns. */
export function withColumn(shape: TableShape, column: number, word: ColumnWord | null): TableShape {
  const columns: Partial<Record<ColumnWord, number>> = {};
  for (const each of columnWords) {
    const place = shape.columns[each];
    if (place !== undefined && place !== column && each !== word) columns[each] = place;
  }
  if (word !== null) columns[word] = column;
  return { ...shape, columns };
}

/** What a column is read as. */
export function wordOfColumn(shape: TableShape, column: number): ColumnWord | null {
  return columnWords.find((word) => shape.columns[word] === column) ?? null;
}

/** A list needs a number or a title to say anything about. */
export function canBeChecked({ columns }: TableShape): boolean {
  return columns.number !== undefined || columns.title !== undefined;
}

/** First bytes of files that are no lists of text. */
const OTHER_FILES: readonly { readonly kind: OtherFile; readonly bytes: readonly number[] }[] = [
  { kind: "spreadsheet", bytes: [0x50, 0x4b, 0x03, 0x04] },
  { kind: "spreadsheet", bytes: [0xd0, 0xcf, 0x11, 0xe0] },
  { kind: "document", bytes: [0x25, 0x50, 0x44, 0x46] },
];

/** A file that holds a list but not as text. */
export type OtherFile = "spreadsheet" | "document";

/** Tells spreadsheet files and print documents from lists of text. */
export async function otherFileOf(content: Blob): Promise<OtherFile | null> {
  const head = new Uint8Array(await content.slice(0, 4).arrayBuffer());
  return OTHER_FILES.find(({ bytes }) => bytes.every((byte, i) => head[i] === byte))?.kind ?? null;
}
