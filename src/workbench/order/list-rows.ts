/** The rows of a list, read piece by piece so that a list of any length costs the same memory. */
import { type CsvPiece, csvReader } from "../../desks/csv-rows.ts";
import { ENCODING_HEAD_BYTES, tellEncoding } from "../../desks/encoding.ts";
import type { Reading } from "./order-calls.ts";

/** Bytes that are read at once. */
const PIECE_BYTES = 256 * 1024;

/** A piece of the list, and how far into its bytes it reaches. */
export interface ListPiece extends CsvPiece {
  readonly bytesDone: number;
}

/** The encoding of a list, told from its first bytes. */
export async function encodingOf(content: Blob): Promise<string> {
  const head = new Uint8Array(await content.slice(0, ENCODING_HEAD_BYTES).arrayBuffer());
  return tellEncoding(head, content.size <= ENCODING_HEAD_BYTES);
}

/** Reads a list from its beginning. Bytes that are none of the encoding become U+FFFD. */
export async function* listRows(content: Blob, { encoding, delimiter }: Reading): AsyncGenerator<ListPiece> {
  const decoder = new TextDecoder(encoding);
  const reader = csvReader(delimiter === "" ? undefined : delimiter);
  for (let at = 0; at < content.size; at += PIECE_BYTES) {
    const bytes = await content.slice(at, at + PIECE_BYTES).arrayBuffer();
    const bytesDone = Math.min(content.size, at + PIECE_BYTES);
    yield { ...reader.push(decoder.decode(bytes, { stream: true })), bytesDone };
  }
  const rest = reader.push(decoder.decode());
  yield { ...rest, bytesDone: content.size };
  yield { ...reader.end(), bytesDone: content.size };
}

/** The first rows and what separates their cells. */
export async function firstRows(
  content: Blob,
  reading: Reading,
  most: number,
): Promise<{ rows: (readonly string[])[]; delimiter: string }> {
  const head = content.slice(0, Math.min(content.size, HEAD_BYTES));
  const decoder = new TextDecoder(reading.encoding);
  const text = decoder.decode(await head.arrayBuffer(), { stream: head.size < content.size });
  const reader = csvReader(reading.delimiter === "" ? undefined : reading.delimiter);
  const rows = [reader.push(text), reader.end()].flatMap((piece) => piece.rows.map(({ cells }) => cells));
  // The last row of a list that goes on may be cut through.
  if (head.size < content.size && rows.length > 1) rows.pop();
  return { rows: rows.slice(0, most), delimiter: reader.delimiter() };
}

/** How much of a list is read to tell its layout. */
const HEAD_BYTES = 1024 * 1024;
