/** CSV and TSV lists from disk or standard input: decoded, cut into rows, their layout told. */
import columnNames from "falsefit:column-names";
import { SAMPLE_ROWS, type TableShape, tellColumns, withColumns } from "../desks/columns.ts";
import { type CsvFault, type CsvPiece, type CsvReader, type CsvRow, csvReader } from "../desks/csv-rows.ts";
import { ENCODING_HEAD_BYTES, tellEncoding } from "../desks/encoding.ts";
import type { Arguments } from "./arguments.ts";
import { exits, Stop } from "./exits.ts";
import { bytesOf, shownName } from "./input.ts";
import type { Shell } from "./shell.ts";

/** A list opened for reading. */
export interface OpenList {
  readonly shape: TableShape;
  readonly heading: readonly string[];
  /** Every row after the heading, with the faults of its piece before it. */
  readonly rows: AsyncIterable<CsvPiece>;
  readonly delimiter: string;
}

/**
 * Opens a list; `--columns`, `--delimiter` and `--encoding` lay down what else is told from the list.
 *
 * @throws Stop when an option makes no sense or the file cannot be read
 */
export async function openList(file: string, given: Arguments, shell: Shell): Promise<OpenList> {
  const reader = csvReader(delimiterOf(given, shell));
  const pieces = piecesOf(textOf(file, given, shell), reader);
  const sample: CsvPiece[] = [];
  let rows = 0;
  let ended = false;
  while (rows < SAMPLE_ROWS && !ended) {
    const { value, done } = await pieces.next();
    if (value) sample.push(value);
    rows += value?.rows.length ?? 0;
    ended = done === true;
  }
  const head = sample.flatMap((piece) => piece.rows.map(({ cells }) => cells)).slice(0, SAMPLE_ROWS);
  const told = tellColumns(head, columnNames, reader.delimiter());
  const heading = told.skip > 0 ? (head[told.skip - 1] ?? []) : (head[0] ?? []);
  const shape = laidDown(told, heading, given, shell);
  return {
    shape,
    heading,
    rows: afterHeading(sample, pieces, head.length > 0 ? told.skip : 0),
    delimiter: reader.delimiter(),
  };
}

/** What was wrong with a row, as `file:row: sentence`. */
export function csvFaultText(file: string, { row, kind }: CsvFault, shell: Shell): string {
  return `${shownName(file)}:${row}: ${csvFaultSentence(kind, shell)}`;
}

/** What was wrong with a row, in words. */
export function csvFaultSentence(kind: CsvFault["kind"], { words }: Shell): string {
  return words.say(`command_csv_${kind.replaceAll("-", "_")}`);
}

async function* piecesOf(texts: AsyncIterable<string>, reader: CsvReader): AsyncGenerator<CsvPiece> {
  for await (const text of texts) yield reader.push(text);
  yield reader.end();
}

/** Rows beyond the first `skip` of the list. */
async function* afterHeading(
  sample: readonly CsvPiece[],
  rest: AsyncIterable<CsvPiece>,
  skip: number,
): AsyncGenerator<CsvPiece> {
  let left = skip;
  const cut = ({ rows, faults }: CsvPiece): CsvPiece => {
    const kept: readonly CsvRow[] = rows.slice(left);
    left = Math.max(0, left - rows.length);
    return { rows: kept, faults };
  };
  for (const piece of sample) yield cut(piece);
  for await (const piece of rest) yield cut(piece);
}

function laidDown(told: TableShape, heading: readonly string[], given: Arguments, { words }: Shell): TableShape {
  const text = given.value("columns");
  if (text === undefined) return told;
  const pairs = text.split(",").map((pair): [string, string] => {
    const [word = "", column = ""] = pair.split("=", 2);
    return [word.trim(), column.trim()];
  });
  const laid = withColumns(told, heading, pairs);
  if ("shape" in laid) return laid.shape;
  const message =
    "unknownWord" in laid
      ? words.say("command_unknown_column_word", { word: laid.unknownWord })
      : words.say("command_unknown_column", { column: laid.unknownColumn });
  throw new Stop(exits.usage, [`--columns: ${message}`]);
}

const NAMED_DELIMITERS: Readonly<Record<string, string>> = {
  tab: "\t",
  "\\t": "\t",
  comma: ",",
  semicolon: ";",
  pipe: "|",
};

function delimiterOf(given: Arguments, { words }: Shell): string | undefined {
  const text = given.value("delimiter");
  if (text === undefined) return undefined;
  const delimiter = NAMED_DELIMITERS[text] ?? text;
  if (delimiter.length === 1 && !/["\r\n]/.test(delimiter)) return delimiter;
  throw new Stop(exits.usage, [
    words.say("command_not_one_of", { option: "--delimiter", value: text, known: Object.keys(NAMED_DELIMITERS) }),
  ]);
}

async function* textOf(file: string, given: Arguments, shell: Shell): AsyncGenerator<string> {
  const named = given.value("encoding");
  let decoder: TextDecoder | null = named === undefined ? null : decoderNamed(named, shell);
  let held: Buffer[] = [];
  const decodeHeld = (whole: boolean): string => {
    const head = Buffer.concat(held);
    held = [];
    decoder ??= new TextDecoder(tellEncoding(head.subarray(0, ENCODING_HEAD_BYTES), whole));
    return decoder.decode(head, { stream: true });
  };
  for await (const chunk of bytesOf(file, shell.signal, shell.words, "raw")) {
    held.push(chunk);
    if (decoder === null && held.reduce((sum, each) => sum + each.length, 0) < ENCODING_HEAD_BYTES) continue;
    yield decodeHeld(false);
  }
  yield decodeHeld(true);
  if (decoder) yield (decoder as TextDecoder).decode();
}

function decoderNamed(name: string, { words }: Shell): TextDecoder {
  try {
    return new TextDecoder(name);
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    const known = ["utf-8", "utf-16le", "windows-1252", "windows-1250"];
    throw new Stop(exits.usage, [words.say("command_not_one_of", { option: "--encoding", value: name, known })]);
  }
}
